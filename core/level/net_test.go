package level_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"undersod/core/level"
	"undersod/core/site"
	"undersod/core/unit"
)

// rodSD is the standard deviation of every rod reading in these tests.
const rodSD = unit.Inch / 16

// sd takes the stated deviation of a reading, else the default of these tests.
func sd(r site.Reading) unit.Length {
	switch r := r.(type) {
	case site.Rod:
		if r.SD != nil {
			return *r.SD
		}
		return rodSD
	case site.Depth:
		return unit.Inch / 2
	}
	return 0
}

// feet is a length as read from a rod in decimals of a foot.
func feet(v float64) unit.Written {
	return unit.Written{Text: fmt.Sprintf("%.2f", v), Length: unit.Length(v) * unit.Foot, Form: unit.DecimalFeet}
}

func rod(setup, point site.Name, on site.RodOn, v float64) site.Rod {
	id := site.ReadingID(fmt.Sprintf("rod %s > %s %s", setup, point, on))
	return site.Rod{Taken: site.Taken{ID: id}, Setup: setup, Point: point, On: on, Read: feet(v)}
}

// ground is a rod reading on the ground.
func ground(setup, point site.Name, v float64) site.Rod {
	return rod(setup, point, site.OnGround, v)
}

func on(point site.Name) level.Key { return level.Key{Point: point, On: site.OnGround} }

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %v, not %v", what, got, want)
	}
}

// rise returns the height of a over b in feet.
func rise(t *testing.T, n *level.Net, a, b site.Name) float64 {
	t.Helper()
	d, _, ok := n.Difference(on(a), on(b))
	if !ok {
		t.Fatalf("%s and %s cannot be compared", a, b)
	}
	return d.Feet()
}

// fieldNotes is a run from bench mark Mil out to bench mark Oak and back: each
// set-up reads back to the last point, then on to the next (Ghilani and Wolf,
// Elementary Surveying, chapter 5, figure of the field notes of differential
// levelling, from memory; the sums 40.24 and 40.21 ft and the misclosure of
// 0.03 ft follow from the readings themselves).
func fieldNotes() []site.Reading {
	points := []site.Name{"Mil", "TP1", "TP2", "TP3", "Oak", "TP4", "TP5", "Mil"}
	back := []float64{1.33, 0.22, 0.96, 0.46, 11.95, 12.55, 12.77}
	fore := []float64{8.37, 7.91, 11.72, 8.71, 2.61, 0.68, 0.21}
	var out []site.Reading
	for i := range back {
		setup := site.Name(fmt.Sprint("set-up ", i+1))
		out = append(out, ground(setup, points[i], back[i]), ground(setup, points[i+1], fore[i]))
	}
	return out
}

// The notes carry Mil at 2053.18 ft and Oak at 2019.44 ft; spreading the
// misclosure evenly over seven set-ups gives Oak 2019.42 ft.
func TestFieldNotesOfDifferentialLevelling(t *testing.T) {
	n := level.Adjust(fieldNotes(), sd)
	near(t, "Oak", 2053.18+rise(t, n, "Oak", "Mil"), 2019.44-0.03*4/7, 1e-9)
	near(t, "TP1", 2053.18+rise(t, n, "TP1", "Mil"), 2046.14-0.03/7, 1e-9)
	if n.Freedom() != 1 {
		t.Errorf("freedom %d", n.Freedom())
	}
	near(t, "statistic", n.Statistic(), math.Pow(0.03*12*16, 2)/14, 1e-6)
	list := n.Closures()
	if len(list) != 1 || len(list[0].Through) != 7 || len(list[0].By) != 7 {
		t.Fatalf("closures %+v", list)
	}
	c := list[0]
	near(t, "misclosure", c.Misclosed.Feet(), 40.24-40.21, 1e-9)
	for i, setup := range c.Through {
		if want := site.Name(fmt.Sprint("set-up ", i+1)); setup != want {
			t.Errorf("%s comes where %s should", setup, want)
		}
	}
	near(t, "allowed", c.Allowed.Inches(), 1.959964*math.Sqrt(14)/16, 1e-6)
	if !c.Closes || c.Through[0] != "set-up 1" || !strings.Contains(c.Words, "closes within 0.030 ft") {
		t.Errorf("closure %+v", c)
	}
	if len(n.Doubts()) != 0 || len(n.Unchecked()) != 0 {
		t.Errorf("doubts %+v, unchecked %v", n.Doubts(), n.Unchecked())
	}
	for _, r := range n.Readings() {
		near(t, "redundancy", r.Redundancy, 1.0/14, 1e-9)
		near(t, "standardized residual", math.Abs(r.Standard), 0.03*12*16/math.Sqrt(14), 1e-6)
	}
}

// A levelling network of seven lines between two bench marks and three new
// points (Ghilani and Wolf, Adjustment Computations, chapter 12, first example,
// from memory; worked by hand from the normal equations 3A - B = 210.94,
// -A + 3B - C = 102.12, -B + 3C = 214.08: B = 731.38/7).
func TestLevellingNetwork(t *testing.T) {
	exact, line := 1e-6*unit.Metre, unit.Foot/100
	var list []site.Reading
	add := func(from, to site.Name, up float64, sd unit.Length) {
		setup := site.Name(fmt.Sprint("line ", len(list)))
		a, b := ground(setup, from, 10), ground(setup, to, 10-up)
		a.SD, b.SD = &sd, &sd
		list = append(list, a, b)
	}
	add("X", "Y", 7.50, exact)
	add("X", "A", 5.10, line)
	add("A", "Y", 2.34, line)
	add("Y", "C", -1.25, line)
	add("C", "X", -6.13, line)
	add("A", "B", -0.68, line)
	add("Y", "B", -3.00, line)
	add("B", "C", 1.70, line)
	n := level.Adjust(list, sd)
	near(t, "B", 100+rise(t, n, "B", "X"), 731.38/7, 1e-5)
	near(t, "A", 100+rise(t, n, "A", "X"), (210.94+731.38/7)/3, 1e-5)
	near(t, "C", 100+rise(t, n, "C", "X"), (214.08+731.38/7)/3, 1e-5)
	if n.Freedom() != 4 || len(n.Closures()) != 4 {
		t.Errorf("freedom %d, %d loops", n.Freedom(), len(n.Closures()))
	}
}

// Raising the level at one set-up by any amount changes nothing but its line of
// sight; and the order of the readings changes nothing but that of the answers.
func TestHeightsDoNotDependOnTheInstrumentOrTheOrder(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		list := fieldNotes()
		want := level.Adjust(list, sd)
		for i, r := range list {
			if x := r.(site.Rod); x.Setup == "set-up 3" {
				x.Read.Length += 5
				list[i] = x
			}
		}
		rnd.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		got := level.Adjust(list, sd)
		near(t, "statistic", got.Statistic(), want.Statistic(), 1e-6)
		for _, a := range want.Heights() {
			d, s, ok := got.Difference(a.Key, on("Mil"))
			if !ok {
				t.Fatalf("%v is not known", a.Key)
			}
			near(t, "height of "+string(a.Point), d.Metres(), a.At.Metres(), 1e-9)
			near(t, "its deviation", s.Metres(), a.SD.Metres(), 1e-9)
		}
		c, w := got.Closures(), want.Closures()
		near(t, "misclosure", c[0].Misclosed.Abs().Metres(), w[0].Misclosed.Abs().Metres(), 1e-9)
	}
}

func TestOnlyOneGroupIsCompared(t *testing.T) {
	n := level.Adjust([]site.Reading{
		ground("one", "A", 5), ground("one", "B", 4),
		ground("two", "C", 5), ground("two", "D", 4),
		site.Depth{Point: "D", Read: feet(0)},
		site.Tie{From: "A", To: "C", Read: feet(10)}, nil,
	}, sd)
	if _, _, ok := n.Difference(on("A"), on("C")); ok {
		t.Error("two groups are compared")
	}
	if _, _, ok := n.Difference(on("A"), on("nowhere")); ok {
		t.Error("an unknown point is compared")
	}
	groups := ""
	for _, h := range n.Heights() {
		groups += fmt.Sprintf("%s %d %.3f; ", h.Point, h.Group, h.At.Feet())
	}
	if groups != "A 0 0.000; B 0 1.000; C 1 0.000; D 1 1.000; D 1 1.000; " {
		t.Errorf("heights %s", groups)
	}
	if len(n.Unchecked()) != 5 || !strings.Contains(n.Words(), "Nothing checks") {
		t.Errorf("%v, %q", n.Unchecked(), n.Words())
	}
}

func TestWhatCannotBeUsedIsSaid(t *testing.T) {
	none, some := unit.Length(0), unit.Inch
	aside := ground("one", "F", 3)
	aside.SetAside = "the rod slipped"
	bad := []site.Reading{
		ground("one", "A", 0), ground("one", "B", -1), ground("one", "C", math.NaN()), ground("one", "D", 1e6),
		site.Rod{Setup: "one", Point: "E", Read: feet(4), SD: &none},
		site.Depth{Point: "E", Read: feet(-1)}, aside,
	}
	n := level.Adjust(append(bad, site.Rod{Setup: "one", Point: "G", Read: feet(4), SD: &some}), sd)
	list := n.Readings()
	if len(list) != len(bad)+1 || list[7].Why != "" || len(n.Heights()) != 1 {
		t.Fatalf("readings %+v", list)
	}
	for _, r := range list[:7] {
		if r.Why == "" || r.Redundancy != 0 || r.Standard != 0 || !math.IsInf(float64(r.Detectable), 1) {
			t.Errorf("%+v", r)
		}
	}
	if list[6].Why != "the rod slipped" {
		t.Errorf("why %q", list[6].Why)
	}
}

func TestEmptyNets(t *testing.T) {
	var nothing *level.Net
	for _, n := range []*level.Net{nothing, level.Adjust(nil, nil), level.Adjust([]site.Reading{ground("one", "A", 4)}, nil)} {
		wrong, open := n.Trouble()
		if _, _, ok := n.Difference(on("A"), on("A")); ok || n.Err() != nil || n.Freedom() != 0 || n.Statistic() != 0 ||
			n.Critical() != 0 || len(n.Heights())+len(n.Closures())+len(n.Doubts())+len(n.Unchecked())+len(wrong)+len(open) > 0 || n.Words() != "" {
			t.Errorf("an empty net tells %+v", n)
		}
	}
	if len(nothing.Readings()) != 0 {
		t.Error("readings of nothing")
	}
}

// A long run is solved with a sparse matrix: 400 set-ups out and back.
func TestALongRunClosesToo(t *testing.T) {
	var list []site.Reading
	const count = 400
	name := func(i int) site.Name { return site.Name(fmt.Sprint("TP", i%count)) }
	for i := range count {
		setup := site.Name(fmt.Sprint("s", i))
		list = append(list, ground(setup, name(i), 5), ground(setup, name(i+1), 5))
	}
	n := level.Adjust(list, sd)
	c := n.Closures()
	if n.Err() != nil || len(c) != 1 || len(c[0].Through) != count || !c[0].Closes {
		t.Fatalf("%v, %d closures", n.Err(), len(c))
	}
	_, s, ok := n.Difference(on("TP0"), on("TP200"))
	// Two ways of 200 set-ups each: σ √(2·200/2).
	near(t, "deviation half-way", float64(s/rodSD), math.Sqrt(200), 1e-6)
	if !ok {
		t.Error("not compared")
	}
}
