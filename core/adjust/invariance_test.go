package adjust_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"sort"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// mirrored returns the job of a random network with its truth mirrored, and its
// hints with it. Distances and footages stay as read; what counts right of
// something changes sides.
func mirrored(y *yard) *site.Job {
	job := y.job
	job.Site.Points = append([]site.Point(nil), job.Site.Points...)
	for i := range job.Site.Points {
		p := &job.Site.Points[i]
		p.Sides = append([]site.Side(nil), p.Sides...)
		for k := range p.Sides {
			p.Sides[k].Kind = site.RightOf // they are all LeftOf
		}
	}
	job.Visit.Readings = append([]site.Reading(nil), job.Visit.Readings...)
	for i, r := range job.Visit.Readings {
		switch r := r.(type) {
		case site.Offset:
			r.Right.Length = -r.Right.Length
			job.Visit.Readings[i] = r
		case site.Bearing:
			r.Read.Angle = (-r.Read.Angle).Turn()
			job.Visit.Readings[i] = r
		}
	}
	return &job
}

// sameFit holds residuals, shares and the sizes of ellipses of two plans alike.
func sameFit(t *testing.T, p, q *adjust.Plan) {
	t.Helper()
	for i, r := range p.Readings {
		for k, c := range r.Components {
			d := q.Readings[i].Components[k]
			// What counts right or clockwise changes its sign in a mirror.
			wantNear(t, string(r.ID)+" residual", math.Abs(d.Residual), math.Abs(c.Residual), 5e-8)
			wantNear(t, string(r.ID)+" share", d.Redundancy, c.Redundancy, 1e-7)
		}
	}
	for i, a := range p.Points {
		b := q.Points[i]
		if a.State != b.State {
			t.Errorf("%s: state %v and %v", a.Name, a.State, b.State)
		}
		wantNear(t, string(a.Name)+" major", float64(b.Ellipse.Major), float64(a.Ellipse.Major), 5e-8)
		wantNear(t, string(a.Name)+" minor", float64(b.Ellipse.Minor), float64(a.Ellipse.Minor), 1e-7)
	}
}

func TestAMirroredYardFitsAlike(t *testing.T) {
	for seed := range uint64(20) {
		y := randomNetwork(seed)
		p := adjust.Solve(&y.job, adjust.Settings{})
		q := adjust.Solve(mirrored(y), adjust.Settings{})
		sameFit(t, p, q)
		wantNear(t, "statistic", q.Global.Statistic, p.Global.Statistic, 1e-7)
		if seed%2 == 1 { // without bearings both lie along east
			for i, a := range p.Points {
				wantNear(t, "mirrored north", float64(q.Points[i].At.North), -float64(a.At.North), 1e-7)
			}
		}
	}
}

// Where the datum lies and how it is turned changes no fit and no ellipse size.
func TestAMovedAndTurnedDatumFitsAlike(t *testing.T) {
	for seed := uint64(1); seed < 20; seed += 2 {
		y := randomNetwork(seed)
		p := y.solve()
		az := unit.Angle(seed)
		y.job.Datum = site.Datum{Kind: site.DatumBaseline, Mark: "A", Toward: "B", East: -300, North: 7000, Azimuth: &az}
		q := y.solve()
		sameFit(t, p, q)
		for i, a := range p.Points {
			want := a.At.Clockwise(q.Frame.Azimuth - p.Frame.Azimuth).Plus(planar.Vec{East: -300, North: 7000})
			wantNear(t, string(a.Name), float64(q.Points[i].At.Minus(want).Length()), 0, 1e-7)
		}
	}
}

func TestTheOrderOfReadingsDoesNotMatter(t *testing.T) {
	for seed := range uint64(20) {
		y := randomNetwork(seed)
		p := y.solve()
		r := rand.New(rand.NewPCG(seed, 99))
		for range 3 {
			r.Shuffle(len(y.job.Visit.Readings), reflect.Swapper(y.job.Visit.Readings))
			q := y.solve()
			for i, a := range p.Points {
				// The sum of squares, some tens, is known to 1e-15 of itself; a move of
				// the square root of that, in standard deviations of a point (0.1 m at
				// the weakest), does not show in it.
				wantNear(t, fmt.Sprint("network ", seed, ": ", a.Name), float64(q.Points[i].At.Minus(a.At).Length()), 0, 5e-8)
			}
			if a, b := accusedSet(p), accusedSet(q); !reflect.DeepEqual(a, b) {
				t.Errorf("network %d: accused %v and %v", seed, a, b)
			}
		}
	}
}

func accusedSet(p *adjust.Plan) []string {
	var out []string
	for _, a := range p.Search.Accused {
		for _, id := range a.Readings {
			out = append(out, string(id))
		}
	}
	sort.Strings(out)
	return out
}

// TestDeterminism solves the same job twice and wants deeply equal plans.
func TestDeterminism(t *testing.T) {
	for seed := range uint64(8) {
		y := demo(seed, 1)
		probed(y, probes, seed%2 == 0, seed%3 == 0, 1, 1)
		y.put("once", site.RolePart, at(10, -30))
		y.perfect("F", "once")
		y.put("twice", site.RolePart, at(-10, 5))
		y.perfect("F", "twice")
		y.perfect("A", "twice")
		if seed%2 == 1 {
			y.lengthen("tie E > D-box", ft(1))
		}
		if a, b := y.solve(), y.solve(); !reflect.DeepEqual(a, b) {
			t.Errorf("yard %d: two plans of one job differ", seed)
		}
	}
}
