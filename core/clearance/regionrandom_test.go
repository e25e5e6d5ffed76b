package clearance_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

// yard is a lot drawn at random with what stands on it and what shall.
type yard struct {
	Ground clearance.Ground
	Foot   clearance.Footprint
	Turn   unit.Angle
}

// randomYard is a lot of any shape, about 30 to 120 m across, with obstacles of
// all kinds: some overlap, some share a side or a corner, some lie partly
// outside.
func randomYard(rnd *rand.Rand, obstacles int) yard {
	size := 20 + 40*rnd.Float64()
	y := yard{Turn: unit.Angle(rnd.Float64() * 2 * math.Pi), Foot: randomFoot(rnd)}
	middle := at(100*rnd.Float64(), 100*rnd.Float64())
	if rnd.IntN(2) == 0 {
		y.Ground.Lot = convexRing(rnd, 3+rnd.IntN(6), size, middle)
	} else {
		y.Ground.Lot = starRing(rnd, 3+rnd.IntN(12), 1.5*size, middle)
	}
	y.Ground.Setback = randomSetback(rnd)
	var last clearance.Shape
	for i := range obstacles {
		s := randomObstacle(rnd, size, middle)
		if i > 0 && rnd.IntN(6) == 0 {
			s = beside(rnd, last)
		}
		last = s
		y.Ground.Obstacles = append(y.Ground.Obstacles, clearance.Obstacle{Name: "a thing", Shape: s, Setback: randomSetback(rnd)})
	}
	return y
}

func randomSetback(rnd *rand.Rand) unit.Length {
	return []unit.Length{0, 5 * unit.Foot, 10 * unit.Foot, 25 * unit.Foot, unit.Length(6 * rnd.Float64())}[rnd.IntN(5)]
}

func randomFoot(rnd *rand.Rand) clearance.Footprint {
	switch rnd.IntN(4) {
	case 0:
		return clearance.Point()
	case 1:
		f, _ := clearance.Convex(convexRing(rnd, 3+rnd.IntN(5), 1+4*rnd.Float64(), at(rnd.Float64(), rnd.Float64())))
		return f
	}
	f, _ := clearance.Rectangle(unit.Length(1+8*rnd.Float64()), unit.Length(1+5*rnd.Float64()))
	return f
}

// convexRing has its corners on a circle.
func convexRing(rnd *rand.Rand, n int, radius float64, middle planar.Vec) []planar.Vec {
	ring := make([]planar.Vec, n)
	for i := range ring {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.8*rnd.Float64()) / float64(n))
		ring[i] = middle.Plus(at(radius*c, radius*s))
	}
	return ring
}

func randomObstacle(rnd *rand.Rand, size float64, middle planar.Vec) clearance.Shape {
	p := func() planar.Vec { return middle.Plus(at(size*(2*rnd.Float64()-1), size*(2*rnd.Float64()-1))) }
	a := p()
	near := func(by float64) planar.Vec {
		return a.Plus(at(by*(2*rnd.Float64()-1), by*(2*rnd.Float64()-1)))
	}
	switch rnd.IntN(5) {
	case 0:
		return clearance.Shape{Points: []planar.Vec{a}, Radius: unit.Length(rnd.Float64())}
	case 1:
		return clearance.Shape{Points: []planar.Vec{a, near(15), near(15), near(15)}}
	case 2:
		return clearance.Shape{Points: []planar.Vec{a, near(15), near(15)}, HalfWidth: unit.Length(0.2 + rnd.Float64())}
	case 3:
		return clearance.Shape{Points: starRing(rnd, 3+rnd.IntN(10), 6, a), Closed: true}
	}
	e, n := float64(a.East), float64(a.North)
	return box(e, n, e+1+8*rnd.Float64(), n+1+8*rnd.Float64())
}

// beside is a shape moved so that it touches or overlaps where it was.
func beside(rnd *rand.Rand, s clearance.Shape) clearance.Shape {
	step := planar.Vec{}
	if len(s.Points) > 1 {
		step = s.Points[1].Minus(s.Points[0]).Times([]float64{0, 1, 0.5, -1}[rnd.IntN(4)])
	}
	out := s
	out.Points = make([]planar.Vec, len(s.Points))
	for i, p := range s.Points {
		out.Points[i] = p.Plus(step)
	}
	return out
}

func (y yard) least(at planar.Vec) float64 {
	least := math.Inf(1)
	for _, m := range clearance.Margins(y.Ground, y.Foot, clearance.Placement{At: at, Turn: y.Turn}) {
		least = math.Min(least, float64(m.Margin))
	}
	return least
}

// extent is a box about the lot.
func (y yard) extent() (lo, hi planar.Vec) {
	lo, hi = y.Ground.Lot[0], y.Ground.Lot[0]
	for _, c := range y.Ground.Lot {
		lo = planar.Vec{East: min(lo.East, c.East), North: min(lo.North, c.North)}
		hi = planar.Vec{East: max(hi.East, c.East), North: max(hi.North, c.North)}
	}
	return lo, hi
}

// TestRegionBreaksNoSetback asks the margins, which know nothing of regions: at
// every corner of the region and at places inside none is negative, and an
// allowed place outside has something within its setback and the tolerance.
func TestRegionBreaksNoSetback(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 12))
	pieces, holes, empty, outside := 0, 0, 0, 0
	for n := range 150 {
		y := randomYard(rnd, rnd.IntN(12))
		tolerance := []float64{0.001, 0.01, 0.1}[rnd.IntN(3)]
		r, err := clearance.Allowed(y.Ground, y.Foot, y.Turn, unit.Length(tolerance))
		if err != nil {
			t.Fatal(err)
		}
		checkRings(t, r)
		if len(r.Pieces) == 0 {
			empty++
		}
		for _, p := range r.Pieces {
			pieces, holes = pieces+1, holes+len(p.Holes)
			for _, ring := range append([]planar.Ring{p.Outer}, p.Holes...) {
				for i, c := range ring {
					if m := y.least(c); m < -1e-9 {
						t.Fatalf("yard %d: corner %d at %v breaks a setback by %v", n, i, c, m)
					}
				}
			}
		}
		lo, hi := y.extent()
		for range 60 {
			v := at(float64(lo.East)+rnd.Float64()*float64(hi.East-lo.East), float64(lo.North)+rnd.Float64()*float64(hi.North-lo.North))
			m, in := y.least(v), r.Contains(v)
			if in && m < -1e-9 {
				t.Fatalf("yard %d: %v is in the region and breaks a setback by %v", n, v, m)
			}
			if !in && m > float64(r.Tolerance) {
				t.Fatalf("yard %d: %v has %v to spare and is not in the region, tolerance %v", n, v, m, r.Tolerance)
			}
			if m > 0 && !in {
				outside++
			}
		}
	}
	t.Logf("%d pieces, %d holes, %d regions without a piece, %d allowed places lost to the tolerance", pieces, holes, empty, outside)
	if pieces < 100 || holes < 25 || empty > 75 {
		t.Error("the yards are too much alike")
	}
}
