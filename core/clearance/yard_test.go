package clearance_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

// feet is a place by its feet east and north.
func feet(east, north float64) planar.Vec {
	return at(east, north).Times(float64(unit.Foot))
}

func must[T any](t testing.TB, v T, err error) T {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// backYard is an invented lot of 200 by 250 ft with a corner cut out of it, and 30
// things on it: a house with an ell, a tank, a box, six lines of 60 ft, a drive, a
// well that wants 100 ft, a water line, a pool, a reserve area and trees.
func backYard() clearance.Ground {
	g := clearance.Ground{
		Lot:     []planar.Vec{feet(0, 0), feet(200, 0), feet(200, 180), feet(150, 180), feet(150, 250), feet(0, 250)},
		Setback: 10 * unit.Foot,
	}
	add := func(name string, setback float64, s clearance.Shape) {
		g.Obstacles = append(g.Obstacles, clearance.Obstacle{Name: name, Shape: s, Setback: unit.Length(setback) * unit.Foot})
	}
	rect := func(w, s, e, n float64) clearance.Shape {
		return polygon(feet(w, s), feet(e, s), feet(e, n), feet(w, n))
	}
	add("House", 10, polygon(feet(60, 60), feet(104, 60), feet(104, 88), feet(90, 88), feet(90, 100), feet(76, 100), feet(76, 88), feet(60, 88)))
	add("Septic tank", 5, rect(82, 110, 87, 118.5))
	add("Box", 5, rect(83, 126, 85, 128))
	for i := range 6 {
		east := 50 + 10*float64(i)
		s := strip(0, feet(84, 128), feet(east, 136), feet(east+2, 196))
		s.HalfWidth = 1.5 * unit.Foot
		add(fmt.Sprintf("Line %d", i+1), 10, s)
	}
	drive := strip(0, feet(130, 0), feet(128, 50), feet(112, 70), feet(104, 72))
	drive.HalfWidth = 6 * unit.Foot
	add("Drive", 0, drive)
	add("Well", 100, clearance.Shape{Points: []planar.Vec{feet(40, -20)}})
	add("Water line", 10, clearance.Shape{Points: []planar.Vec{feet(40, -20), feet(50, 40), feet(62, 60)}})
	add("Pool", 5, rect(20, 100, 36, 132))
	add("Reserve area", 10, polygon(feet(10, 205), feet(120, 205), feet(120, 240), feet(60, 240), feet(60, 225), feet(10, 225)))
	for i, p := range []planar.Vec{feet(30, 20), feet(150, 30), feet(180, 60), feet(170, 100), feet(150, 130), feet(185, 150), feet(140, 160),
		feet(20, 60), feet(15, 150), feet(30, 170), feet(120, 190), feet(135, 215), feet(160, 20), feet(188, 20), feet(120, 120), feet(8, 190)} {
		add(fmt.Sprintf("Tree %d", i+1), 3, clearance.Shape{Points: []planar.Vec{p}, Radius: unit.Length(0.6+0.1*float64(i%5)) * unit.Foot})
	}
	return g
}

// workshop is a footprint of 24 by 16 ft.
func workshop(t testing.TB) clearance.Footprint {
	t.Helper()
	f, err := clearance.Rectangle(24*unit.Foot, 16*unit.Foot)
	return must(t, f, err)
}

// randomGround is a lot with things on it, some of them concave.
func randomGround(rnd *rand.Rand) clearance.Ground {
	g := clearance.Ground{Lot: starRing(rnd, 3+rnd.IntN(10), 40, randomPlace(rnd, 10)), Setback: unit.Length(3 * rnd.Float64())}
	if rnd.IntN(5) == 0 {
		g.Lot = nil
	}
	for range 1 + rnd.IntN(6) {
		s := randomShape(rnd, 12)
		step := randomPlace(rnd, 25)
		for i := range s.Points {
			s.Points[i] = s.Points[i].Plus(step)
		}
		g.Obstacles = append(g.Obstacles, clearance.Obstacle{Name: "thing", Shape: s, Setback: unit.Length(4 * rnd.Float64())})
	}
	return g
}

func randomFootprint(t testing.TB, rnd *rand.Rand) clearance.Footprint {
	t.Helper()
	switch rnd.IntN(3) {
	case 0:
		return clearance.Point()
	case 1:
		f, err := clearance.Convex([]planar.Vec{at(-2, -1), at(3, -2), at(1, 3), at(-1, 2)})
		return must(t, f, err)
	}
	f, err := clearance.Rectangle(unit.Length(1+6*rnd.Float64()), unit.Length(1+3*rnd.Float64()))
	return must(t, f, err)
}

// smallest is the smallest margin of a placement.
func smallest(g clearance.Ground, f clearance.Footprint, p clearance.Placement) unit.Length {
	least := unit.Length(1e9)
	for _, m := range clearance.Margins(g, f, p) {
		least = min(least, m.Margin)
	}
	return least
}
