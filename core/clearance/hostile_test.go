package clearance_test

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

// hostileShapes are shapes that nobody means.
func hostileShapes() []clearance.Shape {
	nan, inf := unit.Length(math.NaN()), unit.Length(math.Inf(1))
	huge := unit.Length(math.MaxFloat64)
	places := [][]planar.Vec{
		nil, {{}}, {{East: nan}}, {{East: inf, North: -inf}}, {{}, {}}, {{}, {}, {}, {}},
		{{East: nan}, {}, {East: 1}}, {{East: -huge}, {East: huge}, {North: huge}},
		{{}, {East: 1}, {East: 1}, {East: 2}}, {{}, {East: 5}, {East: 2}, {East: 9}, {}},
		{{}, {East: 4, North: 4}, {East: 4}, {North: 4}},
		{{}, {East: 1e-300}, {North: 1e-300}}, {{}, {East: 1e-10}, {East: 1e-10, North: 1e-10}},
		{{}, {East: 9}, {East: 9, North: 9}, {East: 9}, {North: 5}},
	}
	var out []clearance.Shape
	for _, p := range places {
		for _, size := range []unit.Length{0, 1, -1, nan, inf} {
			out = append(out, clearance.Shape{Points: p, Radius: size, HalfWidth: size}, clearance.Shape{Points: p, Closed: true, Radius: size})
		}
	}
	return out
}

func finite(l unit.Length) bool { return !math.IsNaN(float64(l)) && !math.IsInf(float64(l), 0) }

func finiteGap(g clearance.Gap) bool {
	for _, s := range []clearance.Spot{g.From, g.To} {
		if !finite(s.At.East) || !finite(s.At.North) || !(s.Along >= 0 && s.Along <= 1) || s.From < 0 || s.To < 0 {
			return false
		}
	}
	return finite(g.Distance) && g.Distance >= 0 && (!g.Overlap || g.Distance == 0)
}

func TestHostileShapes(t *testing.T) {
	shapes := hostileShapes()
	for _, a := range shapes {
		for _, b := range append(shapes, box(2, 2, 5, 5), horseshoe()) {
			g, back := clearance.Distance(a, b), clearance.Distance(b, a)
			if !finiteGap(g) || back.Distance != g.Distance || back.Overlap != g.Overlap {
				t.Fatalf("%+v and %+v: %+v and %+v", a, b, g, back)
			}
		}
		ground := clearance.Ground{Lot: a.Points, Setback: a.Radius, Obstacles: []clearance.Obstacle{{Shape: a, Setback: a.HalfWidth}, {Shape: horseshoe()}}}
		f := workshop(t)
		for _, p := range []clearance.Placement{{}, {Turn: 1}, {At: planar.Vec{East: unit.Length(math.NaN())}}, {Turn: unit.Angle(math.Inf(1))}, {At: at(math.Inf(1), 1e300)}} {
			for _, m := range clearance.Margins(ground, f, p) {
				if !finite(m.Margin) || !finiteGap(m.Gap) {
					t.Fatalf("%+v of %+v at %+v", m, ground, p)
				}
			}
			if found, err := clearance.Cure(ground, f, p); err == nil && !finite(found.At.East) {
				t.Fatalf("%+v of %+v at %+v", found, ground, p)
			}
		}
	}
}

// Thousands of corners and obstacles end in time.
func TestCrowdedGround(t *testing.T) {
	rnd := rand.New(rand.NewPCG(61, 62))
	g := clearance.Ground{Lot: starRing(rnd, 1000, 300, at(0, 0)), Setback: 1}
	g.Obstacles = append(g.Obstacles, clearance.Obstacle{Shape: clearance.Shape{Points: starRing(rnd, 1000, 40, at(0, 0)), Closed: true}, Setback: 2})
	path := strip(0.5)
	for range 1000 {
		path.Points = append(path.Points, randomPlace(rnd, 200))
	}
	g.Obstacles = append(g.Obstacles, clearance.Obstacle{Shape: path, Setback: 0.1})
	for range 1000 {
		g.Obstacles = append(g.Obstacles, clearance.Obstacle{Shape: clearance.Shape{Points: []planar.Vec{randomPlace(rnd, 250)}, Radius: 1}, Setback: 1})
	}
	f := workshop(t)
	start := time.Now()
	clearance.Distance(g.Obstacles[0].Shape, path)
	clearance.Margins(g, f, clearance.Placement{At: at(50, 50)})
	found := best(t, g, f, clearance.Turns{To: math.Pi, Step: math.Pi / 8})
	if took := time.Since(start); took > 60*time.Second || found.Within < clearance.BestWithin {
		t.Errorf("%v for %+v", took, found.Placement)
	}
}

// FuzzPlaces reads shapes, a ground and a footprint out of any bytes.
func FuzzPlaces(f *testing.F) {
	f.Add([]byte("undersod keeps its distance, whatever it is given to stand on or beside"))
	f.Add(make([]byte, 64))
	f.Fuzz(func(t *testing.T, data []byte) {
		next := func() float64 {
			if len(data) < 3 {
				return 0
			}
			b := data[:3]
			data = data[3:]
			v := float64(int16(binary.LittleEndian.Uint16(b))) / 64
			switch b[2] {
			case 1:
				return v * 1e-8
			case 2:
				return v * 1e9
			case 3:
				return math.NaN()
			case 4:
				return math.Inf(1)
			case 5:
				return math.Round(v)
			}
			return v
		}
		shape := func() clearance.Shape {
			s := clearance.Shape{Closed: next() > 0, Radius: unit.Length(next()), HalfWidth: unit.Length(next())}
			for range int(math.Abs(math.Mod(next(), 8))) {
				s.Points = append(s.Points, at(next(), next()))
			}
			return s
		}
		a, b := shape(), shape()
		if g := clearance.Distance(a, b); !finiteGap(g) {
			t.Fatalf("%+v of %+v and %+v", g, a, b)
		}
		g := clearance.Ground{Setback: unit.Length(next()), Obstacles: []clearance.Obstacle{{Shape: a, Setback: unit.Length(next())}, {Shape: b}}}
		if next() > 0 {
			g.Lot = shape().Points
		}
		foot, err := clearance.Convex(shape().Points)
		if err != nil {
			foot = clearance.Point()
		}
		place := clearance.Placement{At: at(next(), next()), Turn: unit.Angle(next())}
		for _, m := range clearance.Margins(g, foot, place) {
			if !finite(m.Margin) || !finiteGap(m.Gap) {
				t.Fatalf("%+v of %+v", m, g)
			}
		}
		turns := clearance.Turns{To: 2, Step: 0.5}
		found, err := clearance.Best(g, foot, turns)
		if err != nil {
			return
		}
		wished, err := clearance.NearestTo(g, foot, turns, place.At)
		if err != nil {
			return
		}
		if wished.Fits && !found.Fits && found.Margins[0].Margin < -clearance.BestWithin {
			t.Fatalf("nothing fits, and then %+v: %+v", wished, g)
		}
	})
}
