package planar_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/planar"
	"undersod/core/unit"
)

func square(w, s, size float64) []planar.Vec {
	return []planar.Vec{v(w, s), v(w+size, s), v(w+size, s+size), v(w, s+size)}
}

func signed(r []planar.Vec) float64 {
	sum := 0.0
	for i, a := range r {
		sum += float64(a.Cross(r[(i+1)%len(r)])) / 2
	}
	return sum
}

func TestUnionOfConvex(t *testing.T) {
	for _, test := range []struct {
		name     string
		outlines [][]planar.Vec
		area     float64
		rings    int
	}{
		{"nothing", nil, 0, 0},
		{"one", [][]planar.Vec{square(0, 0, 2)}, 4, 1},
		{"two apart", [][]planar.Vec{square(0, 0, 2), square(5, 1, 3)}, 13, 2},
		{"two that overlap", [][]planar.Vec{square(0, 0, 2), square(1, 1, 2)}, 7, 1},
		{"one inside another", [][]planar.Vec{square(0, 0, 9), square(1, 1, 2)}, 81, 1},
		{"a frame with a hole", [][]planar.Vec{
			{v(0, 0), v(9, 0), v(9, 2), v(0, 2)}, {v(7, -1), v(8.5, -1), v(8.5, 10), v(7, 10)},
			{v(-1, 7), v(10, 7), v(10, 9), v(-1, 9)}, {v(1, -1), v(2, -1), v(2, 10), v(1, 10)},
		}, 18 + 16.5 + 22 + 11 - 3 - 2 - 3 - 2, 2},
	} {
		rings, err := planar.UnionOfConvex(test.outlines)
		if err != nil {
			t.Fatalf("%s: %v", test.name, err)
		}
		sum := 0.0
		for _, r := range rings {
			sum += signed(r)
		}
		if len(rings) != test.rings || math.Abs(sum-test.area) > 1e-12 {
			t.Errorf("%s: %d rings of %v, want %d of %v", test.name, len(rings), sum, test.rings, test.area)
		}
	}
	if _, err := planar.UnionOfConvex([][]planar.Vec{{v(0, 0), v(1, 0)}}); !errors.Is(err, planar.ErrContradiction) {
		t.Errorf("an outline of two corners: %v", err)
	}
}

// TestUnionCoversWhatItsPartsDo asks random places.
func TestUnionCoversWhatItsPartsDo(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	round := planar.NewRounder(0.05)
	for range 200 {
		var outlines [][]planar.Vec
		for range 1 + r.IntN(15) {
			a := v(20*r.Float64(), 20*r.Float64())
			b := a.Plus(v(8*r.Float64()-4, 8*r.Float64()-4))
			outlines = append(outlines, round.Grow(nil, []planar.Vec{a, b}, nil, unit.Length(0.2+2*r.Float64())))
		}
		rings, err := planar.UnionOfConvex(outlines)
		if err != nil {
			t.Fatal(err)
		}
		for range 50 {
			at := v(24*r.Float64()-2, 24*r.Float64()-2)
			parts, union := false, false
			for _, o := range outlines {
				parts = parts || planar.Ring(o).Contains(at)
			}
			for _, ring := range rings {
				union = union != ring.Contains(at)
			}
			if parts != union {
				t.Fatalf("%v is covered: %v, in the union: %v", at, parts, union)
			}
		}
	}
}

func TestRounderHoldsItsTolerance(t *testing.T) {
	for _, tolerance := range []unit.Length{0.001, 0.05, 3} {
		round := planar.NewRounder(tolerance)
		for _, radius := range []unit.Length{0.01, 1, 30} {
			for i, c := range round.Grow(nil, []planar.Vec{v(3, 4)}, nil, radius) {
				if d := c.Minus(v(3, 4)).Length(); d < radius || d > radius+tolerance*(1+1e-9) || d > radius+round.Miss(radius)+1e-9 {
					t.Errorf("corner %d lies %v from the middle of a circle of %v, tolerance %v", i, d, radius, tolerance)
				}
			}
		}
	}
	if n := planar.NewRounder(0.003175).Chords(3); n != 72 { // π/arccos(3/3.003175) = 68.3
		t.Errorf("%d chords", n)
	}
}

func TestSumOfConvex(t *testing.T) {
	triangle := []planar.Vec{v(0, 0), v(2, 0), v(0, 2)}
	for _, test := range []struct {
		name string
		p, q []planar.Vec
		n    int
		area float64
	}{
		{"points", []planar.Vec{v(1, 1)}, []planar.Vec{v(2, 5)}, 1, 0},
		{"segment and point", []planar.Vec{v(0, 0), v(2, 1)}, []planar.Vec{v(2, 5)}, 2, 0},
		{"segments", []planar.Vec{v(0, 0), v(2, 0)}, []planar.Vec{v(0, 3), v(0, 0)}, 4, 6},
		{"parallel segments", []planar.Vec{v(0, 0), v(2, 0)}, []planar.Vec{v(3, 0), v(0, 0)}, 2, 0},
		{"squares", square(0, 0, 1), square(3, 3, 2), 4, 9},
		{"square and triangle", square(0, 0, 1), triangle, 5, 1 + 2 + 2*2}, // areas, and each of two sides of 1 m moved by 2 m
		{"nothing", nil, triangle, 0, 0},
	} {
		sum, of := planar.SumOfConvex(nil, nil, test.p, test.q)
		if len(sum) != test.n || len(of) != test.n || math.Abs(signed(sum)-test.area) > 1e-12 {
			t.Errorf("%s: %v", test.name, sum)
		}
	}
}
