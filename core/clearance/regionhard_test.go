package clearance_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

func TestWhatIsWrongIsSaid(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	bow := []planar.Vec{at(0, 0), at(10, 10), at(10, 0), at(0, 10)}
	lot := clearance.Ground{Lot: box(0, 0, 40, 30).Points}
	for _, test := range []struct {
		name      string
		ground    clearance.Ground
		foot      clearance.Footprint
		turn, tol float64
		words     string
	}{
		{"self-crossing lot", clearance.Ground{Lot: bow}, rectangle(t, 2, 2), 0, 0.01, "crosses itself"},
		{"lot that is no number", clearance.Ground{Lot: []planar.Vec{at(nan, 0), at(1, 0), at(1, 1)}}, rectangle(t, 2, 2), 0, 0.01, "corner 1"},
		{"negative setback", clearance.Ground{Lot: lot.Lot, Setback: -1}, rectangle(t, 2, 2), 0, 0.01, "setback"},
		{"no tolerance", lot, rectangle(t, 2, 2), 0, 0, "tolerance"},
		{"negative tolerance", lot, rectangle(t, 2, 2), 0, -1, "tolerance"},
		{"tolerance that is no number", lot, rectangle(t, 2, 2), 0, nan, "tolerance"},
		{"turn that is no number", lot, rectangle(t, 2, 2), nan, 0.01, "turn"},
		{"turn without end", lot, rectangle(t, 2, 2), inf, 0.01, "turn"},
		{"no footprint", lot, clearance.Footprint{}, 0, 0.01, "footprint"},
		{"two corners", lot, clearance.Footprint{Corners: []planar.Vec{at(0, 0), at(1, 0)}}, 0, 0.01, "footprint"},
		{"footprint that is no number", lot, clearance.Footprint{Corners: []planar.Vec{at(0, 0), at(1, nan), at(1, 1)}}, 0, 0.01, "corner 2"},
		{"dent", lot, clearance.Footprint{Corners: []planar.Vec{at(0, 0), at(4, 0), at(1, 1), at(0, 4)}}, 0, 0.01, "convex"},
		{"footprint that crosses itself", lot, clearance.Footprint{Corners: bow}, 0, 0.01, "convex"},
		{"footprint too large", lot, clearance.Footprint{Corners: box(-1e8, -1e8, 1e8, 1e8).Points}, 0, 0.01, "km"},
	} {
		r, err := clearance.Allowed(test.ground, test.foot, unit.Angle(test.turn), unit.Length(test.tol))
		if err == nil || !strings.Contains(err.Error(), test.words) || len(r.Pieces) > 0 {
			t.Errorf("%s: %v", test.name, err)
		}
	}
	if _, err := clearance.AreaByTurn(lot, rectangle(t, 2, 2), clearance.Turns{To: 1, Step: -1}, 0.01); err == nil {
		t.Error("turns backwards were taken")
	}
}

// TestCoincidingSides puts sides upon sides: rectangles of one grid side by side,
// twice, with equal setbacks, on the lot's own edge. The area is counted.
func TestCoincidingSides(t *testing.T) {
	rnd := rand.New(rand.NewPCG(61, 62))
	for n := range 200 {
		var taken [12][9]bool
		g := clearance.Ground{Lot: box(0, 0, 12, 9).Points}
		for range 1 + rnd.IntN(12) {
			w, s := rnd.IntN(12), rnd.IntN(9)
			e, north := w+1+rnd.IntN(12-w), s+1+rnd.IntN(9-s)
			e, north = min(e, w+4), min(north, s+4)
			for i := w; i < e; i++ {
				for k := s; k < north; k++ {
					taken[i][k] = true
				}
			}
			o := clearance.Obstacle{Shape: box(float64(w), float64(s), float64(e), float64(north))}
			g.Obstacles = append(g.Obstacles, o, o)
		}
		want := 0.0
		for _, column := range taken {
			for _, one := range column {
				if !one {
					want++
				}
			}
		}
		r := allowed(t, g, clearance.Point(), 0, 0.001)
		if math.Abs(float64(r.Area)-want) > 1e-5 {
			t.Fatalf("case %d: %v m², counted %v: %v", n, r.Area, want, g.Obstacles)
		}
		for _, p := range r.Pieces {
			if shoelace(p.Outer) < 0.99 {
				t.Fatalf("case %d: a sliver of %v m²", n, shoelace(p.Outer))
			}
		}
	}
}

// TestSameWhereverItLies moves and turns a whole yard, on a state grid too, and
// finds the same area.
func TestSameWhereverItLies(t *testing.T) {
	rnd := rand.New(rand.NewPCG(71, 72))
	for range 40 {
		y := randomYard(rnd, 8)
		r := allowed(t, y.Ground, y.Foot, y.Turn.Degrees(), 0.001)
		turn, step := unit.Angle(rnd.Float64()*6), at(6e5*rnd.Float64(), 4e5*rnd.Float64())
		m := moved(y, turn, step)
		s := allowed(t, m.Ground, m.Foot, m.Turn.Degrees(), 0.001)
		if d := math.Abs(float64(r.Area - s.Area)); d > 1e-4*float64(r.Area)+1e-3 {
			t.Errorf("%v m² here, %v m² there", r.Area, s.Area)
		}
		again := allowed(t, y.Ground, y.Foot, y.Turn.Degrees(), 0.001)
		if !reflect.DeepEqual(r, again) {
			t.Error("the same question has two answers")
		}
	}
}

func moved(y yard, turn unit.Angle, step planar.Vec) yard {
	all := func(points []planar.Vec) []planar.Vec {
		out := make([]planar.Vec, len(points))
		for i, p := range points {
			out[i] = p.Clockwise(turn).Plus(step)
		}
		return out
	}
	out := yard{Foot: y.Foot, Turn: y.Turn + turn, Ground: clearance.Ground{Lot: all(y.Ground.Lot), Setback: y.Ground.Setback}}
	for _, o := range y.Ground.Obstacles {
		o.Shape.Points = all(o.Shape.Points)
		out.Ground.Obstacles = append(out.Ground.Obstacles, o)
	}
	return out
}

func TestNoLot(t *testing.T) {
	tree := clearance.Obstacle{Shape: disc(7, 8, 1), Setback: 2}
	r := allowed(t, clearance.Ground{Obstacles: []clearance.Obstacle{tree}}, rectangle(t, 8, 6), 0, 1e-5)
	// The box reaches 3 (disc and setback) + 2 x 5 + 10 m from the middle.
	if want := 46.0*46 - (9*math.Pi + 8*6 + 2*3*14); math.Abs(float64(r.Area)-want) > 1e-3 {
		t.Errorf("%v m², want %v", r.Area, want)
	}
	if r := allowed(t, clearance.Ground{}, clearance.Point(), 0, 0.01); len(r.Pieces) != 0 {
		t.Errorf("without anything there is no place to look about: %v", r.Pieces)
	}
}

func TestNearest(t *testing.T) {
	tree := clearance.Obstacle{Shape: disc(20, 15, 1), Setback: 4}
	r := allowed(t, clearance.Ground{Lot: box(0, 0, 40, 30).Points, Setback: 3, Obstacles: []clearance.Obstacle{tree}}, clearance.Point(), 0, 1e-5)
	for _, test := range []struct{ from, want planar.Vec }{
		{at(5, 5), at(5, 5)}, {at(-9, 10), at(3, 10)}, {at(99, 99), at(37, 27)}, {at(20, 16), at(20, 20)},
	} {
		got, ok := r.Nearest(test.from)
		if !ok || got.Minus(test.want).Length() > 1e-3 {
			t.Errorf("nearest to %v: %v, want %v", test.from, got, test.want)
		}
	}
	if _, ok := r.Nearest(at(math.NaN(), 0)); ok {
		t.Error("no number has a nearest place")
	}
	if _, ok := (clearance.Region{}).Nearest(at(0, 0)); ok {
		t.Error("an empty region has a nearest place")
	}
}

func TestAreaByTurnIsThatOfEachTurn(t *testing.T) {
	y := benchYard(t, 12)
	turns := clearance.Turns{To: 90 * unit.Degree, Step: 15 * unit.Degree}
	areas, err := clearance.AreaByTurn(y.Ground, y.Foot, turns, 0.01)
	if err != nil || len(areas) != 7 {
		t.Fatalf("%d areas, %v", len(areas), err)
	}
	for _, a := range areas {
		r, err := clearance.Allowed(y.Ground, y.Foot, a.Turn, 0.01)
		if err != nil || r.Area != a.Area {
			t.Errorf("at %v: %v m², by itself %v m²", a.Turn.Degrees(), a.Area, r.Area)
		}
	}
	if areas[0].Area == areas[3].Area {
		t.Error("the turn changes nothing")
	}
}

// TestManyShapesEnd has far more than any yard; it must end, in words if need be.
func TestManyShapesEnd(t *testing.T) {
	rnd := rand.New(rand.NewPCG(81, 82))
	start := time.Now()
	g := clearance.Ground{Lot: box(0, 0, 1000, 1000).Points, Setback: 3}
	for range 3000 {
		g.Obstacles = append(g.Obstacles, clearance.Obstacle{Shape: randomObstacle(rnd, 500, at(500, 500)), Setback: 2})
	}
	for range 500 { // one heap
		g.Obstacles = append(g.Obstacles, clearance.Obstacle{Shape: disc(100+rnd.Float64(), 100+rnd.Float64(), 1), Setback: 2})
	}
	r := allowed(t, g, rectangle(t, 5, 3), 20, 0.01)
	if r.Area < 1000 {
		t.Errorf("%v m²", r.Area)
	}
	t.Logf("%d pieces in %v", len(r.Pieces), time.Since(start))
}
