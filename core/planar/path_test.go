package planar_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/planar"
	"undersod/core/unit"
)

func v(e, n float64) planar.Vec { return planar.Vec{East: unit.Length(e), North: unit.Length(n)} }

func TestDistanceToASegment(t *testing.T) {
	for _, c := range []struct {
		at, a, b planar.Vec
		want     float64
	}{
		{v(0, 3), v(-1, 0), v(1, 0), 3}, {v(4, 4), v(0, 0), v(1, 0), 5}, {v(-3, 4), v(0, 0), v(1, 0), 5},
		{v(3, 4), v(0, 0), v(0, 0), 5}, {v(0.5, 0), v(0, 0), v(1, 0), 0},
	} {
		if got := float64(c.at.ToSegment(c.a, c.b)); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("from %v to %v-%v: %v, want %v", c.at, c.a, c.b, got, c.want)
		}
	}
}

func TestWalkAlongABentPath(t *testing.T) {
	p := planar.Path{v(0, 0), v(3, 0), v(3, 4)}
	for _, c := range []struct {
		station float64
		want    planar.Vec
		leg     int
	}{{-1, v(0, 0), 0}, {0, v(0, 0), 0}, {2, v(2, 0), 0}, {3, v(3, 0), 1}, {5, v(3, 2), 1}, {7, v(3, 4), 1}, {9, v(3, 4), 1}} {
		at, leg := p.At(unit.Length(c.station))
		if !near(at, c.want) || leg != c.leg {
			t.Errorf("at %v: %v on leg %d, want %v on %d", c.station, at, leg, c.want, c.leg)
		}
	}
	if at, leg := (planar.Path)(nil).At(3); at != (planar.Vec{}) || leg != 0 {
		t.Error("an empty path has a place")
	}
	back := p.Between(5, 1)
	if len(back) != 3 || !near(back[0], v(3, 2)) || !near(back[1], v(3, 0)) || !near(back[2], v(1, 0)) {
		t.Errorf("the piece backwards is %v", back)
	}
}

// TestPieceIsAsLongAsItsStationsAreApart is a property of any path.
func TestPieceIsAsLongAsItsStationsAreApart(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		var p planar.Path
		for range 2 + r.IntN(6) {
			p = append(p, v(r.Float64()*30, r.Float64()*30))
		}
		l := float64(p.Length())
		a, b := unit.Length(r.Float64()*l), unit.Length(r.Float64()*l)
		if got := p.Between(a, b).Length(); math.Abs(float64(got-(b-a).Abs())) > 1e-9 {
			t.Fatalf("between %v and %v of %v: %v", a, b, p, got)
		}
	}
}

func TestPathsAndAreas(t *testing.T) {
	ell := planar.Ring{v(0, 0), v(4, 0), v(4, 2), v(2, 2), v(2, 4), v(0, 4)}
	for _, c := range []struct {
		path planar.Path
		want float64
	}{
		{planar.Path{v(1, 1)}, 0}, {planar.Path{v(3, 3)}, 1}, {planar.Path{v(7, 1)}, 3},
		{planar.Path{v(-1, 1), v(5, 1)}, 0}, {planar.Path{v(7, 6), v(4, 5)}, math.Hypot(2, 1)},
	} {
		if got := float64(ell.Distance(c.path)); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v lies %v off, want %v", c.path, got, c.want)
		}
	}
	if d := (planar.Path{v(0, 0), v(2, 2)}).DistanceTo(planar.Path{v(0, 2), v(2, 0)}); d != 0 {
		t.Errorf("crossing paths lie %v apart", d)
	}
	if d := (planar.Path{}).DistanceTo(planar.Path{v(0, 2)}); !math.IsInf(float64(d), 1) {
		t.Errorf("nothing lies %v off", d)
	}
}

func TestLineThroughAnArea(t *testing.T) {
	ell := planar.Ring{v(0, 0), v(4, 0), v(4, 2), v(2, 2), v(2, 4), v(0, 4)}
	for _, c := range []struct {
		what string
		a, b planar.Vec
		want float64
	}{
		{"along a wall from its corner", v(0, 0), v(9, 0), 0},
		{"away from a corner", v(4, 0), v(9, -9), 0},
		{"straight through", v(-1, 1), v(6, 1), 4},
		{"from a corner through the house", v(0, 0), v(8, 4), math.Hypot(4, 2)},
		{"across the inner corner, in the open", v(4, 2), v(2, 4), 0},
		{"through both wings", v(5, 1.5), v(-1, 4.5), 0}, // filled in below by sampling
		{"nearly along a wall", v(0, 0.01), v(4, 0.01), 0},
	} {
		if c.what == "through both wings" {
			c.want = sampled(ell, c.a, c.b)
		}
		if got := float64(ell.Through(c.a, c.b, 0.05)); math.Abs(got-c.want) > 0.01 {
			t.Errorf("%s: %v runs through, want %v", c.what, got, c.want)
		}
	}
}

// sampled measures by many places how much of a line lies inside.
func sampled(r planar.Ring, a, b planar.Vec) float64 {
	const n = 20000
	in := 0
	for i := range n {
		if r.Contains(a.Plus(b.Minus(a).Times((float64(i) + 0.5) / n))) {
			in++
		}
	}
	return float64(b.Minus(a).Length()) * float64(in) / n
}

// TestBoundIsNeverTooSmall draws dependent steps and compares the variance of
// their sum in every direction with the bound.
func TestBoundIsNeverTooSmall(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 100 {
		n := 1 + r.IntN(4)
		var steps []planar.Spread
		var mix []planar.Matrix // step i is mix[i] times one shared pair of numbers
		for range n {
			m := planar.Matrix{East: v(r.NormFloat64(), r.NormFloat64()), North: v(r.NormFloat64(), r.NormFloat64())}
			mix, steps = append(mix, m), append(steps, m.Of(planar.Spread{East: 1, North: 1}))
		}
		var sum planar.Matrix
		for _, m := range mix {
			sum = sum.Plus(m)
		}
		truth, bound := sum.Of(planar.Spread{East: 1, North: 1}), planar.Bound(steps...)
		for d := range 36 {
			u := planar.Polar(unit.Angle(d)*5*unit.Degree, 1)
			if truth.Along(u) > bound.Along(u)*(1+1e-9) {
				t.Fatalf("along %d°: %v is above the bound %v", 5*d, truth.Along(u), bound.Along(u))
			}
		}
	}
	if (planar.Bound() != planar.Spread{}) || (planar.Bound(planar.Spread{}) != planar.Spread{}) {
		t.Error("nothing has a spread")
	}
}

func TestSpreadOfASingleStep(t *testing.T) {
	s := planar.SpreadAlong(planar.Polar(30*unit.Degree, 1), 2)
	if got := s.Along(planar.Polar(30*unit.Degree, 1)); math.Abs(float64(got)-2) > 1e-12 {
		t.Errorf("along itself %v", got)
	}
	if got := s.Along(planar.Polar(120*unit.Degree, 1)); got > 1e-7 {
		t.Errorf("across itself %v", got)
	}
}
