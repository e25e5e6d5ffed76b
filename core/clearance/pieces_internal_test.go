package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/planar"
	"undersod/core/unit"
)

func at(east, north float64) planar.Vec {
	return planar.Vec{East: unit.Length(east), North: unit.Length(north)}
}

// starRing is a star-shaped ring, which never crosses itself.
func starRing(rnd *rand.Rand, n int, size float64) []planar.Vec {
	ring := make([]planar.Vec, n)
	for i := range ring {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.8*rnd.Float64()) / float64(n))
		r := size * (0.2 + 0.8*rnd.Float64())
		ring[i] = at(r*c, r*s)
	}
	return ring
}

func TestPiecesOfAreas(t *testing.T) {
	comb := []planar.Vec{at(0, 0), at(7, 0), at(7, 5), at(6, 5), at(6, 1), at(4, 1), at(4, 5), at(3, 5), at(3, 1), at(1, 1), at(1, 5), at(0, 5)}
	ell := []planar.Vec{at(0, 0), at(4, 0), at(4, 2), at(4, 3), at(2, 3), at(2, 6), at(0, 6), at(0, 4)}
	tests := []struct {
		name string
		ring []planar.Vec
		area float64
		most int
	}{
		{"rectangle", []planar.Vec{at(0, 0), at(0, 3), at(5, 3), at(5, 0)}, 15, 1},
		{"rectangle with places on its sides", []planar.Vec{at(0, 0), at(0, 1), at(0, 2), at(0, 3), at(5, 3), at(5, 0), at(2, 0), at(0, 0)}, 15, 1},
		{"ell with straight places", ell, 18, 2},
		{"comb", comb, 7 + 12, 7},
		{"spike", []planar.Vec{at(0, 0), at(4, 0), at(4, 2), at(9, 2), at(4, 2), at(4, 4), at(0, 4)}, 16, 1},
	}
	for _, test := range tests {
		got := pieces(Shape{Points: test.ring, Closed: true})
		sum := 0.0
		for _, p := range got {
			sum += float64(area(p.corners))
			if len(p.corners) < 3 || !leftOfAll(p.corners) {
				t.Errorf("%s: a piece is not convex: %v", test.name, p.corners)
			}
		}
		if math.Abs(sum-test.area) > 1e-9 || len(got) > test.most {
			t.Errorf("%s: %d pieces of %g together, want at most %d of %g", test.name, len(got), sum, test.most, test.area)
		}
	}
}

func TestPiecesOfRandomAreasCoverThem(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 400 {
		ring := starRing(rnd, 3+rnd.IntN(40), 30)
		sum := 0.0
		for _, p := range pieces(Shape{Points: ring, Closed: true}) {
			if len(p.corners) < 3 || !leftOfAll(p.corners) {
				t.Fatalf("a piece is not convex: %v of %v", p.corners, ring)
			}
			sum += float64(area(p.corners))
		}
		if want := math.Abs(float64(area(ring))); math.Abs(sum-want) > 1e-9*want {
			t.Fatalf("pieces of %g together, want %g: %v", sum, want, ring)
		}
	}
}

func TestPiecesOfOtherShapes(t *testing.T) {
	nan, inf := unit.Length(math.NaN()), unit.Length(math.Inf(1))
	bow := []planar.Vec{at(0, 0), at(4, 4), at(4, 0), at(0, 4)}
	tests := []struct {
		name  string
		shape Shape
		want  int
	}{
		{"nothing", Shape{}, 0},
		{"no number", Shape{Points: []planar.Vec{{East: nan}}}, 0},
		{"disc", Shape{Points: []planar.Vec{at(1, 1)}, Radius: 2}, 1},
		{"path", Shape{Points: []planar.Vec{at(0, 0), at(1, 0), at(1, 0), at(1, 1)}}, 2},
		{"strip with a bend", Shape{Points: []planar.Vec{at(0, 0), at(5, 0), at(5, 5)}, HalfWidth: 1}, 3},
		{"strip without length", Shape{Points: []planar.Vec{at(1, 1), at(1, 1)}, HalfWidth: 1}, 1},
		{"area of two corners", Shape{Points: []planar.Vec{at(0, 0), at(1, 0)}, Closed: true}, 1},
		{"area without size", Shape{Points: []planar.Vec{at(0, 0), at(1, 0), at(2, 0)}, Closed: true}, 2},
		{"far off", Shape{Points: []planar.Vec{{East: inf}, {North: -inf}}, HalfWidth: inf}, 1},
	}
	for _, test := range tests {
		if got := pieces(test.shape); len(got) != test.want {
			t.Errorf("%s: %d pieces, want %d: %v", test.name, len(got), test.want, got)
		}
	}
	if got := pieces(Shape{Points: bow, Closed: true}); len(got) < 5 {
		t.Errorf("an outline that crosses itself keeps its sides: %v", got)
	}
}

func TestPiecesOfAThousandCorners(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	ring := starRing(rnd, 4000, 100)
	if got := pieces(Shape{Points: ring, Closed: true}); len(got) < 100 {
		t.Errorf("%d pieces", len(got))
	}
}
