package clearance_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

// Closed forms, worked with pencil and paper.
func TestMargins(t *testing.T) {
	table, err := clearance.Rectangle(4, 2)
	table = must(t, table, err)
	lot := box(0, 0, 20, 10).Points
	ground := clearance.Ground{Lot: lot, Setback: 1, Obstacles: []clearance.Obstacle{
		{Name: "Well", Shape: disc(10, 5, 0), Setback: 3},
		{Name: "House", Shape: box(14, 0, 18, 4), Setback: 2},
	}}
	tests := []struct {
		name    string
		f       clearance.Footprint
		at      clearance.Placement
		margins [3]float64 // Well, House, lot
		overlap [3]bool
	}{
		{"upright", table, clearance.Placement{At: at(5, 5)}, [3]float64{4 - 3, math.Hypot(8, 0) - 2, 3 - 1}, [3]bool{}},
		{"lying", table, clearance.Placement{At: at(5, 5), Turn: math.Pi / 2}, [3]float64{0, 7 - 2, 3 - 1}, [3]bool{}},
		{"on the well", table, clearance.Placement{At: at(10.25, 5)}, [3]float64{-0.75 - 3, 2.75 - 2, 3 - 1}, [3]bool{true, false, false}},
		{"half out of the lot", table, clearance.Placement{At: at(0, 5)}, [3]float64{9 - 3, 13 - 2, -1 - 1}, [3]bool{false, false, true}},
		{"far out of the lot", table, clearance.Placement{At: at(5, 25)}, [3]float64{math.Hypot(4, 18) - 3, math.Hypot(8, 19) - 2, -17 - 1}, [3]bool{false, false, true}},
		{"a spot in the house", clearance.Point(), clearance.Placement{At: at(17, 2)}, [3]float64{math.Hypot(7, 3) - 3, -1 - 2, 2 - 1}, [3]bool{false, true, false}},
	}
	for _, test := range tests {
		got := clearance.Margins(ground, test.f, test.at)
		if len(got) != 3 {
			t.Fatalf("%s: %d margins", test.name, len(got))
		}
		for i, name := range []string{"Well", "House", clearance.LotName} {
			if m := got[i]; m.Name != name || !near(m.Margin, unit.Length(test.margins[i]), 1e-12) || m.Gap.Overlap != test.overlap[i] ||
				m.Gap.Distance < 0 || m.Gap.Overlap != (m.Gap.Distance == 0) {
				t.Errorf("%s: %+v, want %s %v %v", test.name, m, name, test.margins[i], test.overlap[i])
			}
		}
		if got[0].Obstacle != 0 || got[1].Obstacle != 1 || got[2].Obstacle != -1 {
			t.Errorf("%s: obstacles %v", test.name, got)
		}
	}
}

// In a concave lot the margin is measured to the nearest of its edges, wherever
// the outside is cut into pieces, and it is negative in a notch.
func TestMarginsInAConcaveLot(t *testing.T) {
	rnd := rand.New(rand.NewPCG(31, 32))
	for range 60 {
		g := clearance.Ground{Lot: starRing(rnd, 4+rnd.IntN(12), 30, at(3, 4))}
		if rnd.IntN(2) == 0 { // in either order
			for i, j := 0, len(g.Lot)-1; i < j; i, j = i+1, j-1 {
				g.Lot[i], g.Lot[j] = g.Lot[j], g.Lot[i]
			}
		}
		edge := planar.Ring(g.Lot).Edge()
		for range 60 {
			v := randomPlace(rnd, 34)
			if rnd.IntN(2) == 0 { // on a line between two corners, where seams may run
				a, b := g.Lot[rnd.IntN(len(g.Lot))], g.Lot[rnd.IntN(len(g.Lot))]
				v = a.Plus(b.Minus(a).Times(rnd.Float64()))
			}
			d := edge.Distance(v)
			m := clearance.Margins(g, clearance.Point(), clearance.Placement{At: v})[0]
			switch in := planar.Ring(g.Lot).Contains(v); {
			case d < 1e-9:
			case in && (!near(m.Margin, d, 1e-9) || m.Gap.Overlap || !near(m.Gap.Distance, d, 1e-9)):
				t.Fatalf("inside by %v, told %+v", d, m)
			case !in && (m.Margin >= 0 || m.Margin < -d-1e-9 || !m.Gap.Overlap):
				t.Fatalf("outside by %v, told %+v: %v in %v", d, m, v, g.Lot)
			}
		}
	}
}

// No margin changes faster than the footprint moves and turns.
func TestMarginsChangeNoFasterThanTheFootprint(t *testing.T) {
	rnd := rand.New(rand.NewPCG(33, 34))
	for range 300 {
		g, f := randomGround(rnd), randomFootprint(t, rnd)
		reach := unit.Length(0)
		for _, c := range f.Corners {
			reach = max(reach, c.Length())
		}
		for range 20 {
			p := clearance.Placement{At: randomPlace(rnd, 50), Turn: unit.Angle(7 * rnd.Float64())}
			q := p
			q.At = q.At.Plus(randomPlace(rnd, 6*rnd.Float64()*rnd.Float64()))
			q.Turn += unit.Angle(rnd.Float64() * rnd.Float64())
			most := q.At.Minus(p.At).Length() + reach*unit.Length(math.Abs(float64(q.Turn-p.Turn)))
			before, after := clearance.Margins(g, f, p), clearance.Margins(g, f, q)
			for i := range before {
				if d := after[i].Margin - before[i].Margin; math.Abs(float64(d)) > float64(most)+1e-9 {
					t.Fatalf("moved by %v, and the margin from %d by %v: %+v %+v %+v %+v", most, i, d, g, f, p, q)
				}
			}
		}
	}
}

// Where nothing overlaps a margin is the distance less the setback.
func TestMarginsAreDistances(t *testing.T) {
	rnd := rand.New(rand.NewPCG(35, 36))
	for range 300 {
		g, f := randomGround(rnd), randomFootprint(t, rnd)
		p := clearance.Placement{At: randomPlace(rnd, 40), Turn: unit.Angle(7 * rnd.Float64())}
		for i, m := range clearance.Margins(g, f, p)[:len(g.Obstacles)] {
			o := g.Obstacles[i]
			gap := clearance.Distance(f.Placed(p), o.Shape)
			if gap.Overlap != m.Gap.Overlap || !near(gap.Distance, m.Gap.Distance, 1e-9) || !gap.Overlap && !near(m.Margin, gap.Distance-o.Setback, 1e-9) {
				t.Fatalf("%+v, want %+v less %v", m, gap, o.Setback)
			}
		}
	}
}
