package adjust_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// yard is an invented property with known true places, from which readings
// with known errors are made.
type yard struct {
	truth map[site.Name]planar.Vec
	job   site.Job
	rand  *rand.Rand
}

func ft(v float64) unit.Length { return unit.Length(v) * unit.Foot }

func at(east, north float64) planar.Vec { return planar.Vec{East: ft(east), North: ft(north)} }

func newYard(seed uint64) *yard {
	return &yard{truth: map[site.Name]planar.Vec{}, rand: rand.New(rand.NewPCG(seed, 7))}
}

// put adds a point with its true place.
func (y *yard) put(name site.Name, role site.Role, v planar.Vec, sides ...site.Side) {
	y.truth[name] = v
	y.job.Site.Points = append(y.job.Site.Points, site.Point{Name: name, Role: role, Sides: sides})
	if role == site.RolePart {
		y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: name, Kind: site.Lid})
	}
}

// house adds the demo's house with an ell, 44 ft by 28 ft and 14 ft by 12 ft.
func (y *yard) house(noise float64) {
	corners := []site.Name{"A", "B", "C", "D", "E", "F"}
	places := []planar.Vec{at(0, 28), at(44, 28), at(44, -12), at(30, -12), at(30, 0), at(0, 0)}
	for i, c := range corners {
		y.put(c, site.RoleCorner, places[i])
	}
	b := site.Building{Name: "House", Corners: corners,
		Turns: []site.BuildingTurn{1, 1, 1, 1, -1, 1}}
	for i := range corners {
		d := places[i].Minus(places[(i+1)%6]).Length()
		b.Sides = append(b.Sides, y.feetInches(d+unit.Length(noise*y.rand.NormFloat64())*adjust.SideDeviation))
	}
	y.job.Site.Buildings = append(y.job.Site.Buildings, b)
}

// feetInches writes a length to the quarter inch.
func (y *yard) feetInches(l unit.Length) unit.Written {
	text := unit.Style{Form: unit.FeetInches, Denominator: 4}.Format(l)
	return mustLength(text)
}

func mustLength(text string) unit.Written {
	w, err := unit.ParseLength(text, unit.DecimalFeet)
	if err != nil {
		panic(err)
	}
	return w
}

func (y *yard) tie(from, to site.Name, sd unit.Length, noise float64) *site.Tie {
	d := y.truth[from].Minus(y.truth[to]).Length()
	w := y.feetInches(d + sd*unit.Length(noise*y.rand.NormFloat64()))
	return y.tieRead(from, to, w, sd)
}

func (y *yard) tieRead(from, to site.Name, w unit.Written, sd unit.Length) *site.Tie {
	t := site.Tie{From: from, To: to, Read: w, SD: &sd,
		Taken: site.Taken{ID: site.ReadingID(fmt.Sprintf("tie %s > %s", from, to))}}
	y.job.Visit.Readings = append(y.job.Visit.Readings, t)
	return &t
}

var lawn = site.Side{Kind: site.Outside, From: "E", To: "F"}

// demo lays out a yard of the demo's kind.
func demo(seed uint64, noise float64) *yard {
	y := newYard(seed)
	y.house(noise)
	sd := unit.Inch / 4
	y.put("Pole", site.RoleMark, at(72, -52), site.Side{Kind: site.Outside, From: "C", To: "D"})
	for _, m := range []site.Name{"B", "C", "D", "E"} {
		y.tie(m, "Pole", sd, noise)
	}
	parts := []struct {
		name  site.Name
		place planar.Vec
		marks []site.Name
	}{
		{"inlet lid", at(13, -12.4), []site.Name{"F", "E", "D"}},
		{"outlet lid", at(18.6, -12.4), []site.Name{"F", "E", "D", "C"}},
		{"D-box", at(24, -31.18), []site.Name{"F", "E", "D", "C", "Pole"}},
		{"bend 1", at(20, -36), []site.Name{"F", "E", "D", "Pole"}},
		{"end 1", at(-33.7, -36), []site.Name{"F", "E", "D", "A"}},
		{"bend 2", at(20, -45), []site.Name{"F", "E", "D", "Pole"}},
		{"end 2", at(-25.6, -45), []site.Name{"F", "E", "D", "A"}},
		{"bend 3", at(20, -54), []site.Name{"F", "E", "D", "Pole"}},
		{"end 3", at(-11.6, -54), []site.Name{"F", "E", "D", "C"}},
	}
	for _, p := range parts {
		y.put(p.name, site.RolePart, p.place, lawn)
		for _, m := range p.marks {
			y.tie(m, p.name, sd, noise)
		}
	}
	return y
}

// aligned turns a true place into the plan's frame: the datum's mark at the
// origin and its direction along the plan's azimuth.
func (y *yard) aligned(f adjust.Frame, v planar.Vec) planar.Vec {
	o := y.truth[f.Mark]
	was := y.truth[f.Toward].Minus(o).Azimuth()
	return v.Minus(o).Clockwise(f.Azimuth - was)
}

func find(t *testing.T, p *adjust.Plan, name site.Name) adjust.Point {
	t.Helper()
	for _, q := range p.Points {
		if q.Name == name {
			return q
		}
	}
	t.Fatalf("no point %s in the plan", name)
	return adjust.Point{}
}

func TestPlanFindsTheTruePlaces(t *testing.T) {
	y := demo(1, 0)
	p := adjust.Solve(&y.job, adjust.Settings{})
	for name, v := range y.truth {
		q := find(t, p, name)
		if q.State != adjust.Determined {
			t.Errorf("%s: state %v, %s", name, q.State, q.Why)
			continue
		}
		// Readings are written to the quarter inch, so places are good to about that.
		if d := q.At.Minus(y.aligned(p.Frame, v)).Length(); d > unit.Inch/2 {
			t.Errorf("%s lies %.3f in from its true place", name, d.Inches())
		}
	}
	if p.Verdict.Fill != adjust.FillYes {
		t.Errorf("verdict %v: %s %q", p.Verdict.Fill, p.Verdict.Words, p.Verdict.Reasons)
	}
	if !p.Global.Passed || len(p.Search.Accused) > 0 {
		t.Errorf("a clean yard is accused: %+v", p.Search)
	}
}

func TestTenthsWrittenForInchesIsFoundAndExplained(t *testing.T) {
	y := demo(3, 1)
	spoil(y, "tie E > D-box", mustLength("31.9 ft"))
	p := adjust.Solve(&y.job, adjust.Settings{})
	if len(p.Search.Accused) != 1 {
		t.Fatalf("accused %+v", p.Search.Accused)
	}
	a := p.Search.Accused[0]
	if !a.Located || a.Readings[0] != "tie E > D-box" {
		t.Fatalf("accused %v located %v", a.Readings, a.Located)
	}
	if h := a.Hypotheses[0]; h.Kind != adjust.SlipTenths || h.Corrected != `31' 9"` || !h.Explains {
		t.Errorf("first hypothesis %+v", h)
	}
	if p.Verdict.Fill != adjust.FillNo {
		t.Errorf("verdict %v", p.Verdict)
	}
}

// spoil replaces what a tie reads.
func spoil(y *yard, id site.ReadingID, w unit.Written) {
	for i, r := range y.job.Visit.Readings {
		if t, ok := r.(site.Tie); ok && t.ID == id {
			t.Read = w
			y.job.Visit.Readings[i] = t
			return
		}
	}
	panic("no reading " + id)
}

func TestRedundanciesSumToTheDegreesOfFreedom(t *testing.T) {
	p := adjust.Solve(&demo(5, 1).job, adjust.Settings{})
	sum := 0.0
	for _, r := range p.Readings {
		for _, c := range r.Components {
			sum += c.Redundancy
		}
	}
	if math.Abs(sum-float64(p.Global.Freedom)) > 1e-6 {
		t.Errorf("shares sum to %v, degrees of freedom %d", sum, p.Global.Freedom)
	}
}
