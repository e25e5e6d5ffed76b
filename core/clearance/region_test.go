package clearance_test

import (
	"math"
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

func rectangle(t testing.TB, length, width float64) clearance.Footprint {
	t.Helper()
	f, err := clearance.Rectangle(unit.Length(length), unit.Length(width))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func allowed(t testing.TB, g clearance.Ground, f clearance.Footprint, turn, tolerance float64) clearance.Region {
	t.Helper()
	r, err := clearance.Allowed(g, f, unit.Angle(turn)*unit.Degree, unit.Length(tolerance))
	if err != nil {
		t.Fatal(err)
	}
	checkRings(t, r)
	return r
}

// checkRings holds what the type promises of any region.
func checkRings(t testing.TB, r clearance.Region) {
	t.Helper()
	sum := 0.0
	last := math.Inf(1)
	for _, p := range r.Pieces {
		a := shoelace(p.Outer)
		if a <= 0 || a > last {
			t.Errorf("a piece of %v after one of %v", a, last)
		}
		last, sum = a, sum+a
		for _, h := range p.Holes {
			if a := shoelace(h); a >= 0 {
				t.Errorf("a hole has %v", a)
			} else {
				sum += a
			}
			if !p.Outer.Contains(h[0]) {
				t.Errorf("a hole at %v lies outside its piece", h[0])
			}
		}
	}
	if math.Abs(sum-float64(r.Area)) > 1e-9*(1+sum) {
		t.Errorf("the area is %v, its rings have %v", r.Area, sum)
	}
}

func shoelace(r planar.Ring) float64 {
	sum := 0.0
	for i, a := range r {
		sum += float64(a.Minus(r[0]).Cross(r[(i+1)%len(r)].Minus(r[0]))) / 2
	}
	return sum
}

// TestAreasByPencil compares with closed forms.
func TestAreasByPencil(t *testing.T) {
	shed := rectangle(t, 6, 4)
	disc := clearance.Obstacle{Name: "tree", Shape: clearance.Shape{Points: []planar.Vec{at(20, 15)}, Radius: 1}, Setback: 4}
	wall := clearance.Obstacle{Name: "wall", Shape: clearance.Shape{Points: []planar.Vec{at(20, -5), at(20, 35)}, HalfWidth: 1}, Setback: 2}
	ell := []planar.Vec{at(0, 0), at(40, 0), at(40, 10), at(10, 10), at(10, 30), at(0, 30)}
	s, c := math.Sincos(30 * math.Pi / 180)
	for _, test := range []struct {
		name          string
		ground        clearance.Ground
		foot          clearance.Footprint
		turn          float64
		area          float64
		pieces, holes int
	}{
		{"the whole lot", clearance.Ground{Lot: box(0, 0, 40, 30).Points}, clearance.Point(), 0, 1200, 1, 0},
		{"a setback all around", clearance.Ground{Lot: box(0, 0, 40, 30).Points, Setback: 3}, clearance.Point(), 0, 34 * 24, 1, 0},
		{"clockwise", clearance.Ground{Lot: []planar.Vec{at(0, 0), at(0, 30), at(40, 30), at(40, 0)}, Setback: 3}, clearance.Point(), 0, 34 * 24, 1, 0},
		{"less a disc", clearance.Ground{Lot: box(0, 0, 40, 30).Points, Obstacles: []clearance.Obstacle{disc}}, clearance.Point(), 0, 1200 - 25*math.Pi, 1, 1},
		{"less a disc and a shed's size: the disc grows by the rounded shed", clearance.Ground{Lot: box(0, 0, 40, 30).Points, Obstacles: []clearance.Obstacle{disc}}, shed, 0,
			36*24 - (25*math.Pi + 6*4 + 2*5*10), 1, 1},
		{"a shed along north", clearance.Ground{Lot: box(0, 0, 40, 30).Points, Setback: 3}, shed, 0, (34 - 4) * (24 - 6), 1, 0},
		{"a shed along east", clearance.Ground{Lot: box(0, 0, 40, 30).Points, Setback: 3}, shed, 90, (34 - 6) * (24 - 4), 1, 0},
		{"a shed turned by 30 degrees", clearance.Ground{Lot: box(0, 0, 40, 30).Points, Setback: 3}, shed, 30, (34 - (4*c + 6*s)) * (24 - (6*c + 4*s)), 1, 0},
		{"turned back by 30 degrees", clearance.Ground{Lot: box(0, 0, 40, 30).Points, Setback: 3}, shed, -30, (34 - (4*c + 6*s)) * (24 - (6*c + 4*s)), 1, 0},
		// Inside the ell with setback 2: 36 x 6 and above it 6 x 20; the reflex
		// corner at (10, 10) is round: the square 2 x 2 beside it keeps 4 - π.
		{"round reflex corner", clearance.Ground{Lot: ell, Setback: 2}, clearance.Point(), 0, 36*6 + 6*20 + 2*2 - math.Pi, 1, 0},
		{"two pieces", clearance.Ground{Lot: box(0, 0, 40, 30).Points, Obstacles: []clearance.Obstacle{wall}}, clearance.Point(), 0, 2 * 17 * 30, 2, 0},
		{"nothing left", clearance.Ground{Lot: box(0, 0, 10, 10).Points, Setback: 3}, shed, 0, 0, 0, 0},
		{"no play at all", clearance.Ground{Lot: box(0, 0, 10, 10).Points, Setback: 2}, shed, 0, 0, 0, 0},
	} {
		r := allowed(t, test.ground, test.foot, test.turn, 1e-5)
		holes := 0
		for _, p := range r.Pieces {
			holes += len(p.Holes)
		}
		if math.Abs(float64(r.Area)-test.area) > 1e-3 || len(r.Pieces) != test.pieces || holes != test.holes {
			t.Errorf("%s: %.5f m², %d pieces, %d holes; want %.5f, %d, %d", test.name, r.Area, len(r.Pieces), holes, test.area, test.pieces, test.holes)
		}
	}
}
