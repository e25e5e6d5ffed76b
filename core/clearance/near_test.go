package clearance_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

func nearest(t testing.TB, g clearance.Ground, f clearance.Footprint, turns clearance.Turns, wish planar.Vec) clearance.Found {
	t.Helper()
	found, err := clearance.NearestTo(g, f, turns, wish)
	return must(t, found, err)
}

// Closed forms, worked with pencil and paper.
func TestNearestTo(t *testing.T) {
	table, err := clearance.Rectangle(4, 2)
	table = must(t, table, err)
	room := clearance.Ground{Lot: box(0, 0, 30, 20).Points, Setback: 1}
	treed := room
	treed.Obstacles = []clearance.Obstacle{{Name: "Oak", Shape: disc(15, 10, 1), Setback: 2}}
	quarter := clearance.Turns{To: math.Pi / 2, Step: math.Pi / 2}
	tests := []struct {
		name  string
		g     clearance.Ground
		f     clearance.Footprint
		turns clearance.Turns
		wish  planar.Vec
		want  planar.Vec
		turn  float64
		moved float64
	}{
		{"where it is allowed", room, table, halfTurn, at(7, 8), at(7, 8), 0, 0},
		{"off the lot's edge", room, table, clearance.Turns{}, at(0, 10), at(2, 10), 0, 2},
		{"into the corner", room, table, clearance.Turns{}, at(-1, -1), at(2, 3), 0, 5},
		{"turned, nearer to the edge", room, table, quarter, at(10, 0), at(10, 2), math.Pi / 2, 2},
		{"beside a tree", treed, clearance.Point(), halfTurn, at(16, 10), at(18, 10), 0, 2},
		{"its long side to the tree", treed, table, clearance.Turns{}, at(17, 10), at(19, 10), 0, 2},
		// The corner at (-1, -2) is 3 m from the middle of the tree, on the
		// diagonal; the wish lies straight out from there.
		{"its corner to the tree", treed, table, clearance.Turns{}, at(16+math.Sqrt2, 12+math.Sqrt2), at(16+1.5*math.Sqrt2, 12+1.5*math.Sqrt2), 0, 1},
		{"just fits", clearance.Ground{Lot: box(0, 0, 2, 4).Points}, table, halfTurn, at(9, 2), at(1, 2), 0, 8},
		{"just fits lengthwise", clearance.Ground{Lot: box(0, 0, 2, 10).Points}, table, halfTurn, at(5, 7), at(1, 7), 0, 4},
		{"no lot", clearance.Ground{Obstacles: treed.Obstacles}, clearance.Point(), halfTurn, at(15, 9), at(15, 7), 0, 2},
	}
	for _, test := range tests {
		got := nearest(t, test.g, test.f, test.turns, test.wish)
		if got.At.Minus(test.want).Length() > 1e-4 || !got.Fits || math.Abs(float64(got.Turn)-test.turn) > 1e-12 || !near(got.Moved, unit.Length(test.moved), 1e-7) {
			t.Errorf("%s: %+v, want %v at %v", test.name, got, test.want, test.turn)
		}
	}
}

// A wish in the middle of what forbids it has every direction as near.
func TestNearestToAWellFromItsMiddle(t *testing.T) {
	g := backYard()
	g.Obstacles = append(g.Obstacles[:0:0], g.Obstacles...)
	g.Obstacles = append(g.Obstacles, clearance.Obstacle{Name: "Old well", Shape: clearance.Shape{Points: []planar.Vec{feet(150, 100)}}, Setback: 30 * unit.Foot})
	for _, f := range []clearance.Footprint{clearance.Point(), workshop(t)} {
		start := time.Now()
		got := nearest(t, g, f, halfTurn, feet(150, 100))
		if !got.Fits || got.Moved < 30*unit.Foot || time.Since(start) > 30*time.Second {
			t.Errorf("%+v in %v", got, time.Since(start))
		}
	}
}

// The place is allowed, and no sampled place that is nearer is.
func TestNearestToAgainstSampling(t *testing.T) {
	rnd := rand.New(rand.NewPCG(51, 52))
	fits := 0
	for k := range 80 {
		g, f, wish := randomGround(rnd), randomFootprint(t, rnd), randomPlace(rnd, 30)
		turns := clearance.Turns{To: 180 * unit.Degree, Step: 15 * unit.Degree}
		if k%4 == 0 {
			g.Setback += 8
		}
		got := nearest(t, g, f, turns, wish)
		if !near(got.Moved, got.At.Minus(wish).Length(), 1e-9) {
			t.Fatalf("%+v from %v", got, wish)
		}
		size := float64(got.Moved - clearance.NearestWithin)
		if !got.Fits {
			size = 60
		} else if fits++; smallest(g, f, got.Placement) < -1e-9 {
			t.Fatalf("case %d: not allowed: %+v", k, got)
		}
		for range 400 {
			p := clearance.Placement{At: wish.Plus(planar.Polar(unit.Angle(7*rnd.Float64()), unit.Length(size*math.Sqrt(rnd.Float64())))), Turn: turns.Step * unit.Angle(rnd.IntN(13))}
			if size > 0 && smallest(g, f, p) >= 0 {
				t.Fatalf("case %d: allowed at %+v, %v from the wish, nearer than %+v: %+v %+v", k, p, p.At.Minus(wish).Length(), got, g, f)
			}
		}
	}
	if fits < 30 {
		t.Errorf("only %d of them fit", fits)
	}
}

// The move is the smallest one: no shorter one, in any direction, is allowed.
func TestCure(t *testing.T) {
	rnd := rand.New(rand.NewPCG(53, 54))
	g, f := backYard(), workshop(t)
	for range 30 {
		p := clearance.Placement{At: feet(200*rnd.Float64(), 250*rnd.Float64()), Turn: unit.Angle(7 * rnd.Float64())}
		got, err := clearance.Cure(g, f, p)
		got = must(t, got, err)
		if !got.Fits || got.Turn != p.Turn || smallest(g, f, got.Placement) < -1e-9 {
			t.Fatalf("%+v of %+v", got, p)
		}
		if stays := smallest(g, f, p) >= 0; stays != (got.Moved == 0) {
			t.Fatalf("%+v of %+v", got, p)
		}
		for i := range 360 {
			q := p
			share := 1.0
			if i%2 == 0 {
				share = rnd.Float64()
			}
			q.At = q.At.Plus(planar.Polar(unit.Angle(i)*unit.Degree, (got.Moved-clearance.NearestWithin)*unit.Length(share)))
			if got.Moved > 0 && smallest(g, f, q) >= 0 {
				t.Fatalf("%v from %+v is allowed, and the cure moves %v", q.At, p, got.Moved)
			}
		}
	}
}

func TestNothingFits(t *testing.T) {
	table, err := clearance.Rectangle(4, 2)
	table = must(t, table, err)
	g := clearance.Ground{Lot: box(0, 0, 10, 3).Points, Setback: 1}
	got := nearest(t, g, table, halfTurn, at(0, 0))
	if got.Fits || !near(got.Margins[0].Margin, -0.5, 1e-3) || got.Margins[0].Obstacle != -1 || !near(got.Moved, got.At.Length(), 1e-9) {
		t.Errorf("%+v", got)
	}
	cure, err := clearance.Cure(g, table, clearance.Placement{At: at(5, 1)})
	if cure = must(t, cure, err); cure.Fits || !near(cure.Margins[0].Margin, -1.5, 1e-3) {
		t.Errorf("%+v", cure)
	}
	if _, err := clearance.NearestTo(g, table, halfTurn, at(math.NaN(), 0)); err == nil {
		t.Error("a wish that is no number was taken")
	}
}

// Of all turns it is the smallest of the moves that cure each of them.
func TestNearestToIsTheSmallestCure(t *testing.T) {
	rnd := rand.New(rand.NewPCG(55, 56))
	turns := clearance.Turns{To: 180 * unit.Degree, Step: 20 * unit.Degree}
	list, err := turns.All()
	list = must(t, list, err)
	for k := range 40 {
		g, f, wish := randomGround(rnd), randomFootprint(t, rnd), randomPlace(rnd, 30)
		got := nearest(t, g, f, turns, wish)
		least, fits := unit.Length(math.Inf(1)), false
		for _, turn := range list {
			cure, err := clearance.Cure(g, f, clearance.Placement{At: wish, Turn: turn})
			if cure = must(t, cure, err); cure.Fits {
				fits, least = true, min(least, cure.Moved)
			}
		}
		if got.Fits != fits || fits && !near(got.Moved, least, float64(clearance.NearestWithin)) {
			t.Fatalf("case %d: %+v, and turn by turn %v: %+v %+v", k, got, least, g, f)
		}
	}
}
