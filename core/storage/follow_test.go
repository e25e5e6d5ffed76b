package storage_test

import (
	"math"
	"testing"

	"undersod/core/storage"
	"undersod/core/unit"
)

const (
	gpdft = unit.GallonPerDayPerSquareFoot
	hour  = 3600.0
)

func near(t *testing.T, what string, got, want, part float64) {
	t.Helper()
	if !(math.Abs(got-want) <= part*math.Abs(want)) {
		t.Errorf("%s: got %.15g, want %.15g", what, got, want)
	}
}

// trench is 20 m by 1 m with 0.3 m of stone of porosity 0.4.
func trench(name string) storage.Trench {
	return storage.Trench{Name: name, Length: 20, Width: 1, Height: 0.3, Porosity: 0.4, Bottom: true, Rate: unit.Loading(20e-3 / 86400)}
}

// even is a day of steady inflow.
func even() []float64 {
	h := make([]float64, 24)
	for i := range h {
		h[i] = 1
	}
	return h
}

func follow(t *testing.T, r storage.Run) storage.Result {
	t.Helper()
	out, err := storage.Follow(r)
	if err != nil {
		t.Fatal(err)
	}
	closes(t, r, out)
	return out
}

// closes checks what holds of every result.
func closes(t *testing.T, r storage.Run, out storage.Result) {
	t.Helper()
	if c := math.Abs(float64(out.Closure)); c > 1e-9*float64(r.Daily) && c > 1e-15 {
		t.Fatalf("closure %g of a day of %g", c, r.Daily)
	}
	near(t, "inflow", float64(out.Inflow), float64(r.Daily)*float64(r.Days), 1e-9)
	if len(out.Courses) != len(r.Trenches) {
		t.Fatalf("%d courses", len(out.Courses))
	}
	sent := float64(out.Backed)
	for i, c := range out.Courses {
		tr := r.Trenches[i]
		sent += float64(c.Inflow)
		if len(c.Level) != out.Steps || c.Name != tr.Name {
			t.Fatalf("%s: %d levels of %d", c.Name, len(c.Level), out.Steps)
		}
		for _, l := range c.Level {
			if !(l >= 0 && l <= tr.Height && l <= c.Highest+1e-12) {
				t.Fatalf("%s: level %g, highest %g", c.Name, l, c.Highest)
			}
		}
		held := float64(tr.Length*tr.Width) * tr.Porosity
		near(t, "end", float64(c.End), held*float64(c.Level[len(c.Level)-1]), 1e-9)
		if math.Abs(float64(c.Inflow+c.Start-c.End-c.Soaked)) > 1e-9*float64(r.Daily)+1e-15 {
			t.Fatalf("%s: %+v does not add up", c.Name, c)
		}
		if c.Full != (c.Highest == tr.Height) || c.Soaked < 0 || tr.OutOfUse && c.Inflow != 0 {
			t.Fatalf("%+v", c)
		}
	}
	near(t, "sent", sent, float64(out.Inflow), 1e-9)
}

// The bottom takes 20 m² × 20 mm/day = 0.4 m³ a day; 1.2 m³ a day fill the
// 8 m² of voids at 0.1 m a day: a straight line.
func TestFollowBottomOnlyRisesInALine(t *testing.T) {
	r := storage.Run{Trenches: []storage.Trench{trench("A")}, Daily: 1.2, Hours: even(), Days: 2, Step: 600}
	out := follow(t, r)
	for k, l := range out.Courses[0].Level {
		near(t, "level", float64(l), 0.1*float64(k+1)*600/86400, 1e-12)
	}
	near(t, "soaked", float64(out.Courses[0].Soaked), 0.8, 1e-12)
	near(t, "highest at", float64(out.Courses[0].HighestAt), 2*86400, 1e-12)
	if out.Backed != 0 || out.Courses[0].Full || out.Steps != 288 {
		t.Errorf("%+v", out)
	}

	// On the third day it reaches the top, and the rest backs up.
	r.Days = 4
	out = follow(t, r)
	c := out.Courses[0]
	near(t, "full at", float64(c.FullAt), 3*86400, 1e-9)
	near(t, "full for", float64(c.FullFor), 86400, 1e-9)
	near(t, "backed", float64(out.Backed), 0.8, 1e-9)
	near(t, "backed at", float64(out.BackAt), 3*86400, 1e-9)
	near(t, "highest", float64(c.Highest), 0.3, 1e-15)
}

// Bottom and sides: void dy/dt = q − r(LW + 2(L+W) y) approaches its rest
// exponentially.
func TestFollowSidesApproachTheirRest(t *testing.T) {
	tr := trench("A")
	tr.Side = true
	for _, start := range []unit.Length{0, 0.25} {
		tr.Start = start
		out := follow(t, storage.Run{Trenches: []storage.Trench{tr}, Daily: 0.52, Hours: even(), Days: 30, Step: 3600})
		rest := (0.52 - 0.4) / (0.02 * 42) // m
		fade := 0.02 * 42 / (20 * 0.4)     // per day
		if rest > 0.3 || rest < 0.1 {
			t.Fatal("the case is not what it should be")
		}
		for k, l := range out.Courses[0].Level {
			days := float64(k+1) / 24
			near(t, "level", float64(l), rest+(float64(start)-rest)*math.Exp(-fade*days), 1e-11)
		}
	}
}

// The number worked in docs/method.md: 60 ft by 3 ft with stone of porosity 0.4
// and 0.3 gpd/sq ft, steadily given 75 gal a day, tends to 6.7 in of water and
// has 3.4 in after ten days.
func TestFollowWorkedNumber(t *testing.T) {
	out := follow(t, storage.Run{Hours: even(), Daily: 75 * unit.Gallon, Days: 10, Step: 86400, Trenches: []storage.Trench{{
		Name: "Line 1", Length: 60 * unit.Foot, Width: 3 * unit.Foot, Height: unit.Foot, Porosity: 0.4,
		Bottom: true, Side: true, Rate: 0.3 * gpdft,
	}}})
	if got := out.Courses[0].Level[9].Inches(); math.Abs(got-3.4) > 0.05 {
		t.Errorf("%.3f in after ten days", got)
	}
}

// With no inflow a trench that soaks at its bottom alone falls in a line until
// it is dry, one that soaks at bottom and sides is dry after
// ln(1 + wall y/floor)/fade, and one that soaks at its sides alone never is.
func TestFollowEmpties(t *testing.T) {
	a, b, c := trench("A"), trench("B"), trench("C")
	b.Side = true
	c.Bottom, c.Side = false, true
	for _, tr := range []*storage.Trench{&a, &b, &c} {
		tr.Start = 0.11
	}
	out := follow(t, storage.Run{Trenches: []storage.Trench{a, b, c}, Hours: even(), Days: 3, Step: 360})
	fade := 0.02 * 42 / 8
	dryB := math.Log(1+42*0.11/20) / fade
	for k := range out.Steps {
		days := float64(k+1) * 360 / 86400
		for i, want := range []float64{
			max(0, 0.11-0.05*days),
			max(0, (0.11+20.0/42)*math.Exp(-fade*days)-20.0/42),
			0.11 * math.Exp(-fade*days),
		} {
			if got := float64(out.Courses[i].Level[k]); math.Abs(got-want) > 1e-13 {
				t.Fatalf("trench %d after %g days: level %g, want %g", i, days, got, want)
			}
		}
	}
	if dryB < 1 || dryB > 2.9 || out.Courses[1].End != 0 || out.Courses[0].End != 0 || out.Courses[2].End == 0 {
		t.Errorf("dry after %g days: %+v", dryB, out)
	}
}

// A trickle that the bottom takes leaves no water standing; a surge above it
// stands and goes again.
func TestFollowDryAndWetInTurn(t *testing.T) {
	hours := make([]float64, 24)
	hours[6] = 1
	out := follow(t, storage.Run{Trenches: []storage.Trench{trench("A")}, Daily: 0.2, Hours: hours, Days: 1, Step: 3600})
	c := out.Courses[0]
	// 0.2 m³ in the hour less the 1/60 m³ that soaks stand on 8 m² of voids, and
	// are gone at 0.05 m a day.
	peak := (0.2 - 0.4/24) / 8
	near(t, "highest", float64(c.Highest), peak, 1e-12)
	near(t, "highest at", float64(c.HighestAt), 7*hour, 1e-12)
	near(t, "an hour later", float64(c.Level[7]), peak-0.05/24, 1e-12)
	near(t, "soaked", float64(c.Soaked), 0.2, 1e-12)
	if c.Level[5] != 0 || c.Level[18] != 0 || c.End != 0 {
		t.Errorf("%v", c.Level)
	}
}

// One of two trenches is half as long: under equal shares it fills first, takes
// what it soaks, and the other takes the rest.
func TestFollowSendsTheRestOn(t *testing.T) {
	a, b := trench("A"), trench("B")
	a.Length = 10
	r := storage.Run{Trenches: []storage.Trench{a, b}, Daily: 1.2, Hours: even(), Days: 4, Step: 3600}
	out := follow(t, r)
	// A: 0.6 − 0.2 = 0.4 m³ a day on 4 m² of voids, full after 3 days. B: 0.2 m³ a
	// day on 8 m², then with what A leaves 1.0 − 0.4 = 0.6.
	near(t, "A full at", float64(out.Courses[0].FullAt), 3*86400, 1e-9)
	near(t, "A full for", float64(out.Courses[0].FullFor), 86400, 1e-9)
	near(t, "A takes", float64(out.Courses[0].Inflow), 3*0.6+0.2, 1e-9)
	near(t, "B at the end", float64(out.Courses[1].Level[95]), 3*0.025+0.075, 1e-9)
	if out.Backed != 0 {
		t.Errorf("%+v", out.Backed)
	}

	// Out of use, A takes nothing, and what stands in it soaks away.
	r.Trenches[0].OutOfUse, r.Trenches[0].Start = true, 0.05
	out = follow(t, r)
	if out.Courses[0].Inflow != 0 || out.Courses[0].End != 0 {
		t.Errorf("%+v", out.Courses[0])
	}
	near(t, "B takes", float64(out.Courses[1].Inflow)+float64(out.Backed), 4.8, 1e-9)
}

// Nothing soaks: two trenches fill, one after the other, then all backs up.
func TestFollowTightSoil(t *testing.T) {
	a, b := trench("A"), trench("B")
	a.Rate, b.Rate, b.Length = 0, 0, 40
	out := follow(t, storage.Run{Trenches: []storage.Trench{a, b}, Daily: 4.8, Hours: even(), Days: 2, Step: 60})
	near(t, "A full at", float64(out.Courses[0].FullAt), 86400, 1e-9)
	near(t, "B full at", float64(out.Courses[1].FullAt), 86400*1.5, 1e-9)
	near(t, "backed", float64(out.Backed), 2.4, 1e-9)
	near(t, "backed at", float64(out.BackAt), 86400*1.5, 1e-9)
}

func TestFollowFullFromTheStart(t *testing.T) {
	a := trench("A")
	a.Start = a.Height
	hours := make([]float64, 24)
	hours[1] = 1
	out := follow(t, storage.Run{Trenches: []storage.Trench{a}, Daily: 1, Hours: hours, Days: 1, Step: 3600})
	c := out.Courses[0]
	if !c.Full || c.FullAt != 0 || c.HighestAt != 0 {
		t.Errorf("%+v", c)
	}
	// It falls for an hour, fills again within the next, and then the rest backs up.
	near(t, "full for", float64(c.FullFor), hour-0.4/24/(1-0.4/24)*hour, 1e-9)
	near(t, "backed", float64(out.Backed), 1-2*0.4/24, 1e-9)
}

func TestFollowAsksTheBox(t *testing.T) {
	a, b, c := trench("A"), trench("B"), trench("C")
	c.OutOfUse = true
	a.Height = 0.01
	calls := 0
	r := storage.Run{Trenches: []storage.Trench{a, b, c}, Daily: 1.2, Hours: even(), Days: 1, Step: 3600}
	r.Divide = func(inflow unit.Flow, full []bool) []float64 {
		calls++
		if !full[2] || inflow <= 0 {
			t.Errorf("asked with %g, %v", inflow, full)
		}
		if full[0] {
			near(t, "rest", float64(inflow)*86400, 0.8, 1e-9)
			full[1] = true // what the box does with its list stays with it
			return []float64{0, 1, 0}
		}
		return []float64{0.75, 0.25, 0}
	}
	out := follow(t, r)
	near(t, "A full at", float64(out.Courses[0].FullAt), 86400*0.08/0.5, 1e-9)
	if calls < 24 || calls > 60 {
		t.Errorf("%d calls", calls)
	}

	// A box whose other outlet is blocked sends nothing on: it backs up.
	r.Divide = func(_ unit.Flow, full []bool) []float64 {
		if full[0] {
			return []float64{0, 0, 0}
		}
		return []float64{1, 0, 0}
	}
	out = follow(t, r)
	if out.Courses[1].Inflow != 0 || out.Backed == 0 {
		t.Errorf("%+v", out)
	}
}

// Against small steps of the plain kind, each level by what goes in and out in
// a second: they come to the exact course as the step shrinks.
func TestFollowAgainstSmallSteps(t *testing.T) {
	a := trench("A")
	a.Side, a.Height, a.Rate = true, 0.04, unit.Loading(1e-6)
	run := storage.Run{Trenches: []storage.Trench{a}, Daily: 2, Days: 1, Step: 60}
	out := follow(t, run)
	hours := storage.DefaultHours()
	worst := func(dt float64) float64 {
		y, off := 0.0, 0.0
		n := int(60 / dt)
		for k := range out.Steps {
			for range n {
				q := 2 * hours[k/60] / 3600
				y += dt * (q - 1e-6*(20+42*y)) / 8
				y = max(0, min(y, 0.04))
			}
			off = max(off, math.Abs(y-float64(out.Courses[0].Level[k])))
		}
		return off
	}
	coarse, fine := worst(4), worst(1)
	if coarse > 1e-5 || fine > coarse/3 {
		t.Errorf("small steps are off by %g, smaller ones by %g", coarse, fine)
	}
	if !out.Courses[0].Full {
		t.Error("the case should pond to the top")
	}
}
