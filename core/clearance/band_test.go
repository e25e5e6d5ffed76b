package clearance_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

// TestBandsByPencil compares with closed forms.
func TestBandsByPencil(t *testing.T) {
	frame := clearance.Shape{Points: []planar.Vec{at(0, 0), at(20, 0), at(20, 20), at(0, 20), at(0, 0)}}
	for _, test := range []struct {
		name   string
		shapes []clearance.Shape
		by     float64
		area   float64
		pieces int
		holes  int
	}{
		{"disc", []clearance.Shape{disc(0, 0, 1)}, 2, 9 * math.Pi, 1, 0},
		{"rectangle", []clearance.Shape{box(0, 0, 5, 3)}, 2, 15 + 2*2*8 + 4*math.Pi, 1, 0},
		{"rectangle as it is", []clearance.Shape{box(0, 0, 5, 3)}, 0, 15, 1, 0},
		{"line", []clearance.Shape{{Points: []planar.Vec{at(0, 0), at(6, 8)}}}, 2, 40 + 4*math.Pi, 1, 0},
		{"line with a right bend", []clearance.Shape{{Points: []planar.Vec{at(0, 0), at(10, 0), at(10, 10)}}}, 1, 2*2*10 + math.Pi + math.Pi/4 - 1, 1, 0},
		{"trench with flat ends", []clearance.Shape{strip(0.5, at(0, 0), at(10, 0))}, 0, 10, 1, 0},
		{"trench with a right bend, round outside", []clearance.Shape{strip(0.5, at(0, 0), at(10, 0), at(10, 10))}, 0, 2*10 - 0.25 + math.Pi/16, 1, 0},
		{"frame with a hole", []clearance.Shape{frame}, 1, 22*22 - (4 - math.Pi) - 18*18, 1, 1},
		{"two apart", []clearance.Shape{disc(0, 0, 0), disc(10, 0, 0)}, 2, 8 * math.Pi, 2, 0},
		{"twice the same", []clearance.Shape{disc(0, 0, 1), disc(0, 0, 1)}, 2, 9 * math.Pi, 1, 0},
		{"two that share a side", []clearance.Shape{box(0, 0, 5, 3), box(5, 0, 9, 3)}, 0, 27, 1, 0},
		{"two that share part of a side", []clearance.Shape{box(0, 0, 5, 3), box(5, 1, 9, 8)}, 0, 15 + 28, 1, 0},
		// They overlap in the square from (4, 2) to (6, 4), round at two corners.
		{"two that share a corner", []clearance.Shape{box(0, 0, 5, 3), box(5, 3, 9, 8)}, 1, 31 + math.Pi + 38 + math.Pi - (2 + math.Pi/2), 1, 0},
		{"nothing", nil, 2, 0, 0, 0},
	} {
		r, err := clearance.Band(test.shapes, unit.Length(test.by), 1e-5)
		if err != nil {
			t.Fatal(err)
		}
		checkRings(t, r)
		holes := 0
		for _, p := range r.Pieces {
			holes += len(p.Holes)
		}
		if math.Abs(float64(r.Area)-test.area) > 1e-3 || len(r.Pieces) != test.pieces || holes != test.holes {
			t.Errorf("%s: %.5f m², %d pieces, %d holes; want %.5f, %d, %d", test.name, r.Area, len(r.Pieces), holes, test.area, test.pieces, test.holes)
		}
	}
}

// TestBandHoldsItsShapes: every place within the distance lies in the band, and
// none that is farther than it and the tolerance.
func TestBandHoldsItsShapes(t *testing.T) {
	rnd := rand.New(rand.NewPCG(51, 52))
	for n := range 60 {
		var shapes []clearance.Shape
		for range 1 + rnd.IntN(8) {
			shapes = append(shapes, randomObstacle(rnd, 20, at(500, 900)))
		}
		by := unit.Length(4 * rnd.Float64())
		r, err := clearance.Band(shapes, by, 0.01)
		if err != nil {
			t.Fatal(err)
		}
		checkRings(t, r)
		for range 60 {
			v := at(470+60*rnd.Float64(), 870+60*rnd.Float64())
			d := unit.Length(math.Inf(1))
			for _, s := range shapes {
				d = min(d, clearance.Distance(s, disc(float64(v.East), float64(v.North), 0)).Distance)
			}
			if in := r.Contains(v); in && d > by+r.Tolerance || !in && d < by {
				t.Fatalf("case %d: %v lies %v from the shapes, in the band of %v: %v", n, v, d, by, in)
			}
		}
	}
}

func TestBandRefusesWhatIsNoDistance(t *testing.T) {
	nan := unit.Length(math.NaN())
	for _, bad := range [][2]unit.Length{{-1, 1}, {nan, 1}, {unit.Length(math.Inf(1)), 1}, {1, 0}, {1, -1}, {1, nan}} {
		if _, err := clearance.Band([]clearance.Shape{disc(0, 0, 1)}, bad[0], bad[1]); err == nil {
			t.Errorf("a band of %v with tolerance %v was drawn", bad[0], bad[1])
		}
	}
	r, err := clearance.Band([]clearance.Shape{{Points: []planar.Vec{{East: nan}}}, {}}, 1, 0.01)
	if err != nil || len(r.Pieces) != 0 {
		t.Errorf("a band about no place: %v, %v", r, err)
	}
}

// TestBandOfOutlinesThatCrossThemselves: they are drawn all the same, as their
// distances are measured, and never fail.
func TestBandOfOutlinesThatCrossThemselves(t *testing.T) {
	rnd := rand.New(rand.NewPCG(53, 54))
	for n := range 300 {
		var shapes []clearance.Shape
		for range 1 + rnd.IntN(3) {
			s := clearance.Shape{Closed: true}
			for range 3 + rnd.IntN(8) {
				s.Points = append(s.Points, at(float64(rnd.IntN(12)), float64(rnd.IntN(12))))
			}
			shapes = append(shapes, s)
		}
		r, err := clearance.Band(shapes, 0.5, 0.01)
		if err != nil {
			t.Fatalf("case %d: %v: %v", n, err, shapes)
		}
		checkRings(t, r)
		for _, s := range shapes {
			for range 20 {
				v := at(14*rnd.Float64()-1, 14*rnd.Float64()-1)
				d := clearance.Distance(s, disc(float64(v.East), float64(v.North), 0)).Distance
				if d < 0.5 && !r.Contains(v) {
					t.Fatalf("case %d: %v lies %v off and not in the band: %v", n, v, d, s.Points)
				}
			}
		}
	}
}
