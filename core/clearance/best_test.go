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

var halfTurn = clearance.Turns{To: 180 * unit.Degree, Step: unit.Degree}

// Closed forms, worked with pencil and paper.
func TestBest(t *testing.T) {
	table, err := clearance.Rectangle(4, 2)
	table = must(t, table, err)
	quarter := clearance.Turns{To: math.Pi / 2, Step: math.Pi / 2}
	square := box(0, 0, 20, 20).Points
	tests := []struct {
		name   string
		g      clearance.Ground
		f      clearance.Footprint
		turns  clearance.Turns
		margin float64
	}{
		{"a table upright in a long room", clearance.Ground{Lot: box(0, 0, 30, 10).Points, Setback: 1}, table, clearance.Turns{}, 3 - 1},
		{"and lying", clearance.Ground{Lot: box(0, 0, 30, 10).Points, Setback: 1}, table, quarter, 4 - 1},
		{"any turn of it", clearance.Ground{Lot: box(0, 0, 30, 10).Points}, table, halfTurn, 4},
		{"a table that just fits", clearance.Ground{Lot: box(0, 0, 2, 4).Points}, table, halfTurn, 0},
		{"a table that just fits with its setback", clearance.Ground{Lot: box(7, 7, 15, 13).Points, Setback: 2}, table, halfTurn, 0},
		{"a table that does not fit", clearance.Ground{Lot: box(0, 0, 1, 10).Points}, table, halfTurn, -0.5},
		// Between the corner (0, 0) and the tree: d along the diagonal from the
		// corner, so that d/√2 = 10√2 - 3 - d.
		{"a well in a square with a tree in its middle", clearance.Ground{Lot: square, Obstacles: []clearance.Obstacle{{Shape: disc(10, 10, 3)}}},
			clearance.Point(), halfTurn, (10*math.Sqrt2 - 3) / (1 + math.Sqrt2)},
		{"a spot between two wells", clearance.Ground{Lot: box(0, 0, 40, 2).Points, Setback: 1, Obstacles: []clearance.Obstacle{{Shape: disc(0, 1, 0)}, {Shape: disc(40, 1, 0), Setback: 0}}},
			clearance.Point(), clearance.Turns{}, 0},
		{"nothing limits", clearance.Ground{}, table, halfTurn, math.NaN()},
	}
	for _, test := range tests {
		got, err := clearance.Best(test.g, test.f, test.turns)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if math.IsNaN(test.margin) {
			if !got.Fits || len(got.Margins) != 0 {
				t.Errorf("%s: %+v", test.name, got)
			}
			continue
		}
		if m := got.Margins[0].Margin; !near(m, unit.Length(test.margin), float64(clearance.BestWithin)) || got.Fits != (test.margin >= 0) || got.Within != clearance.BestWithin {
			t.Errorf("%s: %+v, want %v", test.name, got, test.margin)
		}
	}
}

// No random placement is better than the best by more than the tolerance, in
// reach of the lot or off it, where the footprint fits and where it does not.
func TestBestAgainstRandomPlacements(t *testing.T) {
	rnd := rand.New(rand.NewPCG(41, 42))
	for k := range 40 {
		g, f := randomGround(rnd), randomFootprint(t, rnd)
		if k%3 == 0 { // so that nothing fits
			g.Setback = 15
			for i := range g.Obstacles {
				g.Obstacles[i].Setback += 10
			}
		}
		turns := clearance.Turns{To: 180 * unit.Degree, Step: 5 * unit.Degree}
		start := time.Now()
		found := best(t, g, f, turns)
		if took := time.Since(start); took > 30*time.Second {
			t.Errorf("case %d took %v", k, took)
		}
		if m := smallest(g, f, found.Placement); m != found.Margins[0].Margin || found.Fits != (m >= -1e-9) {
			t.Fatalf("case %d: %+v, and its margin is %v", k, found, m)
		}
		size, n := 60.0, 1000
		if g.Lot == nil {
			size = 0 // without a lot it is always better farther off
		}
		for range n {
			p := clearance.Placement{At: randomPlace(rnd, size).Times(rnd.Float64()), Turn: turns.Step * unit.Angle(rnd.IntN(37))}
			if size == 0 {
				p.At = found.At.Plus(randomPlace(rnd, 0.2))
				if reach := unit.Length(1); p.At.Minus(found.At).Length() < reach && found.Margins[0].Margin > 0.5 {
					continue
				}
			}
			if m := smallest(g, f, p); m > found.Margins[0].Margin+clearance.BestWithin {
				t.Fatalf("case %d: %v at %+v, better than %v at %+v: %+v", k, m, p, found.Margins[0].Margin, found.Placement, g)
			}
		}
	}
}

// In the yard 20,000 random placements are no better.
func TestBestInTheYard(t *testing.T) {
	g, f := backYard(), workshop(t)
	found := best(t, g, f, halfTurn)
	if !found.Fits || found.Searched != 181 {
		t.Fatalf("%+v", found)
	}
	rnd := rand.New(rand.NewPCG(43, 44))
	for range 20000 {
		p := clearance.Placement{At: feet(200*rnd.Float64(), 250*rnd.Float64()), Turn: unit.Angle(rnd.IntN(181)) * unit.Degree}
		if rnd.IntN(2) == 0 {
			p.At = found.At.Plus(randomPlace(rnd, 1))
		}
		if m := smallest(g, f, p); m > found.Margins[0].Margin+clearance.BestWithin {
			t.Fatalf("%v at %+v, better than %v at %+v", m, p, found.Margins[0].Margin, found.Placement)
		}
	}
	if again := best(t, g, f, halfTurn); again.Placement != found.Placement {
		t.Errorf("%+v, and then %+v", found.Placement, again.Placement)
	}
}

func best(t testing.TB, g clearance.Ground, f clearance.Footprint, turns clearance.Turns) clearance.Found {
	t.Helper()
	found, err := clearance.Best(g, f, turns)
	return must(t, found, err)
}

func TestTurns(t *testing.T) {
	nan := unit.Angle(math.NaN())
	tests := []struct {
		turns clearance.Turns
		want  int // 0 for an error
	}{
		{clearance.Turns{}, 1},
		{clearance.Turns{From: 2, To: 1}, 1},
		{halfTurn, 181},
		{clearance.Turns{To: 10 * unit.Degree, Step: 3 * unit.Degree}, 5},
		{clearance.Turns{From: 1, To: 1, Step: 0.1}, 1},
		{clearance.Turns{From: 2, To: 1, Step: 0.1}, 0},
		{clearance.Turns{To: 1, Step: -0.1}, 0},
		{clearance.Turns{To: 1, Step: 1e-9}, 0},
		{clearance.Turns{To: nan, Step: 1}, 0},
		{clearance.Turns{From: nan}, 0},
	}
	for _, test := range tests {
		got, err := test.turns.All()
		if (err != nil) != (test.want == 0) || len(got) != test.want {
			t.Errorf("%+v: %d turns, %v", test.turns, len(got), err)
			continue
		}
		if err == nil && (got[0] != test.turns.From || test.turns.Step != 0 && got[len(got)-1] != test.turns.To) {
			t.Errorf("%+v: %v", test.turns, got)
		}
	}
	for _, bad := range []clearance.Footprint{{}, {Corners: []planar.Vec{{}, {East: 1}}}, {Corners: []planar.Vec{{}, {North: 1}, {East: 1}}}, {Corners: []planar.Vec{{East: unit.Length(math.NaN())}}}} {
		if _, err := clearance.Best(clearance.Ground{}, bad, clearance.Turns{}); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

// No search that creeps uphill from random places ends higher than the best.
func TestBestAgainstCreepingUphill(t *testing.T) {
	for seed := range uint64(20) {
		rnd := rand.New(rand.NewPCG(45, seed))
		g, f := randomGround(rnd), randomFootprint(t, rnd)
		if g.Lot == nil {
			continue
		}
		turns := clearance.Turns{To: 180 * unit.Degree, Step: 20 * unit.Degree}
		found := best(t, g, f, turns)
		for i := range 20 {
			p := clearance.Placement{At: randomPlace(rnd, 35), Turn: turns.Step * unit.Angle(i%10)}
			m := smallest(g, f, p)
			for step := unit.Length(4); step > 0.001; step /= 2 {
				for range 30 {
					q := p
					q.At = q.At.Plus(planar.Polar(unit.Angle(7*rnd.Float64()), step))
					if higher := smallest(g, f, q); higher > m {
						p, m = q, higher
					}
				}
			}
			if m > found.Margins[0].Margin+clearance.BestWithin {
				t.Fatalf("seed %d: %v at %+v, better than %v at %+v", seed, m, p, found.Margins[0].Margin, found.Placement)
			}
		}
	}
}
