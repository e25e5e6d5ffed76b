package clearance_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

func at(east, north float64) planar.Vec {
	return planar.Vec{East: unit.Length(east), North: unit.Length(north)}
}

func near(a, b unit.Length, by float64) bool { return math.Abs(float64(a-b)) <= by }

func disc(east, north, radius float64) clearance.Shape {
	return clearance.Shape{Points: []planar.Vec{at(east, north)}, Radius: unit.Length(radius)}
}

func polygon(points ...planar.Vec) clearance.Shape {
	return clearance.Shape{Points: points, Closed: true}
}

func box(west, south, east, north float64) clearance.Shape {
	return polygon(at(west, south), at(east, south), at(east, north), at(west, north))
}

func strip(half float64, points ...planar.Vec) clearance.Shape {
	return clearance.Shape{Points: points, HalfWidth: unit.Length(half)}
}

// horseshoe is open to the east, with a room from 2 to 8 north.
func horseshoe() clearance.Shape {
	return polygon(at(0, 0), at(10, 0), at(10, 2), at(2, 2), at(2, 8), at(10, 8), at(10, 10), at(0, 10))
}

// Closed forms, worked with pencil and paper.
func TestDistance(t *testing.T) {
	root2 := math.Sqrt2
	tests := []struct {
		name     string
		a, b     clearance.Shape
		distance float64
		overlap  bool
		from, to planar.Vec
	}{
		{"two circles", disc(0, 0, 1), disc(3, 4, 1.5), 2.5, false, at(0.6, 0.8), at(2.1, 2.8)},
		{"two circles that touch", disc(0, 0, 2), disc(3, 4, 3), 0, false, at(1.2, 1.6), at(1.2, 1.6)},
		{"two circles that overlap", disc(0, 0, 3), disc(4, 0, 2), 0, true, at(2.5, 0), at(2.5, 0)},
		{"circle within a circle", disc(0, 0, 3), disc(1, 0, 1), 0, true, at(0.5, 0), at(0.5, 0)},
		{"point and point, 3-4-5", disc(0, 0, 0), disc(3, 4, 0), 5, false, at(0, 0), at(3, 4)},
		{"point and circle", disc(0, 0, 0), disc(3, 4, 1), 4, false, at(0, 0), at(2.4, 3.2)},
		{"corner to corner", box(0, 0, 2, 2), box(5, 6, 7, 9), 5, false, at(2, 2), at(5, 6)},
		{"side to side, in the middle of what faces", box(0, 0, 10, 2), box(4, 5, 30, 9), 3, false, at(7, 2), at(7, 5)},
		{"side by side and touching", box(0, 0, 10, 2), box(4, 2, 30, 9), 0, false, at(7, 2), at(7, 2)},
		{"one in the other", box(0, 0, 10, 10), box(4, 4, 6, 6), 0, true, at(5, 5), at(5, 5)},
		{"trench beside a trench", strip(0.5, at(0, 0), at(20, 0)), strip(0.5, at(0, 3), at(20, 3)), 2, false, at(10, 0.5), at(10, 2.5)},
		{"beyond the flat end of a trench", strip(1, at(0, 0), at(10, 0)), disc(13, 5, 0), 5, false, at(10, 1), at(13, 5)},
		{"off the outside of a bend", strip(1, at(0, 0), at(10, 0), at(10, 10)), disc(10+3*root2, -3*root2, 0), 5, false, at(10+root2/2, -root2/2), at(10+3*root2, -3*root2)},
		{"room of a horseshoe", horseshoe(), disc(5, 6, 1), 1, false, at(5, 8), at(5, 7)},
		{"in the arm of a horseshoe", horseshoe(), disc(5, 1, 0), 0, true, at(5, 1), at(5, 1)},
		{"path across a path", strip(0, at(0, 0), at(4, 4)), strip(0, at(0, 4), at(4, 0)), 0, true, at(2, 2), at(2, 2)},
		{"along one line", strip(0, at(0, 0), at(4, 0)), strip(0, at(7, 0), at(9, 0)), 3, false, at(4, 0), at(7, 0)},
		{"beyond the end, on the line", strip(0, at(0, 0), at(4, 0)), disc(6, 0, 0), 2, false, at(4, 0), at(6, 0)},
		{"point on a path", strip(0, at(0, 0), at(4, 0)), disc(1, 0, 0), 0, false, at(1, 0), at(1, 0)},
	}
	for _, test := range tests {
		for _, swap := range []bool{false, true} {
			g := clearance.Distance(test.a, test.b)
			if swap {
				g = clearance.Distance(test.b, test.a)
				g.From, g.To = g.To, g.From
			}
			if !near(g.Distance, unit.Length(test.distance), 1e-12) || g.Overlap != test.overlap {
				t.Errorf("%s: %v %v, want %v %v", test.name, g.Distance, g.Overlap, test.distance, test.overlap)
			}
			if g.From.At.Minus(test.from).Length() > 1e-9 || g.To.At.Minus(test.to).Length() > 1e-9 {
				t.Errorf("%s: from %v to %v, want %v and %v", test.name, g.From.At, g.To.At, test.from, test.to)
			}
		}
	}
}

// Where on a shape a place lies.
func TestSpots(t *testing.T) {
	line := strip(0.5, at(0, 0), at(0, 0), at(20, 0), at(20, 10))
	tests := []struct {
		name string
		a, b clearance.Shape
		want clearance.Spot
	}{
		{"on a leg", line, disc(5, 3, 1), clearance.Spot{At: at(5, 0.5), From: 1, To: 2, Along: 0.25}},
		{"at the flat end", line, disc(20.25, 12, 1), clearance.Spot{At: at(20.25, 10), From: 3, To: 3}},
		{"at a bend", line, disc(23, -4, 0), clearance.Spot{At: at(20.3, -0.4), From: 2, To: 2}},
		{"on the side that closes an area", box(0, 0, 4, 4), disc(-3, 1, 1), clearance.Spot{At: at(0, 1), From: 3, To: 0, Along: 0.75}},
		{"at a corner", box(0, 0, 4, 4), disc(7, 8, 1), clearance.Spot{At: at(4, 4), From: 2, To: 2}},
		{"on a disc", disc(0, 0, 5), disc(6, 8, 0), clearance.Spot{At: at(3, 4)}},
	}
	for _, test := range tests {
		got := clearance.Distance(test.a, test.b).From
		if got.At.Minus(test.want.At).Length() > 1e-9 || got.From != test.want.From && got.From != 0 || got.To != test.want.To ||
			math.Abs(got.Along-test.want.Along) > 1e-9 {
			t.Errorf("%s: %+v, want %+v", test.name, got, test.want)
		}
	}
}

// starRing is a star-shaped ring, which never crosses itself.
func starRing(rnd *rand.Rand, n int, size float64, middle planar.Vec) []planar.Vec {
	ring := make([]planar.Vec, n)
	for i := range ring {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.8*rnd.Float64()) / float64(n))
		r := size * (0.2 + 0.8*rnd.Float64())
		ring[i] = at(r*c, r*s).Plus(middle)
	}
	return ring
}

func randomPlace(rnd *rand.Rand, size float64) planar.Vec {
	return at(size*(2*rnd.Float64()-1), size*(2*rnd.Float64()-1))
}

func randomShape(rnd *rand.Rand, size float64) clearance.Shape {
	switch rnd.IntN(4) {
	case 0:
		return clearance.Shape{Points: []planar.Vec{randomPlace(rnd, size)}, Radius: unit.Length(rnd.Float64() * size / 8)}
	case 1:
		s := clearance.Shape{}
		for range 2 + rnd.IntN(3) {
			s.Points = append(s.Points, randomPlace(rnd, size))
		}
		return s
	case 2:
		s := strip(size/20*rnd.Float64(), randomPlace(rnd, size))
		for range 1 + rnd.IntN(3) {
			s.Points = append(s.Points, randomPlace(rnd, size))
		}
		return s
	}
	return clearance.Shape{Points: starRing(rnd, 3+rnd.IntN(9), size/2, randomPlace(rnd, size)), Closed: true}
}

// inside tells by first principles whether a place lies in a shape: of an area
// by the even-odd rule, of a strip by its legs and bends.
func inside(s clearance.Shape, v planar.Vec) bool {
	switch {
	case s.Closed:
		return planar.Ring(s.Points).Contains(v)
	case len(s.Points) == 1:
		return v.Minus(s.Points[0]).Length() <= s.Radius
	}
	for i := range len(s.Points) - 1 {
		a, b := s.Points[i], s.Points[i+1]
		u, _ := b.Minus(a).Unit()
		along, off := unit.Length(v.Minus(a).Dot(u)), unit.Length(v.Minus(a).Cross(u))
		if along >= 0 && along <= b.Minus(a).Length() && unit.Length(math.Abs(float64(off))) <= s.HalfWidth {
			return true
		}
		if i > 0 && v.Minus(a).Length() <= s.HalfWidth {
			return true
		}
	}
	return false
}

// sample lists places of a shape that lie dense along its edge.
func sample(s clearance.Shape, n int) []planar.Vec {
	var out []planar.Vec
	ring := func(middle planar.Vec, r unit.Length) {
		for i := range n {
			out = append(out, middle.Plus(planar.Polar(unit.Angle(2*math.Pi*float64(i)/float64(n)), r)))
		}
	}
	leg := func(a, b planar.Vec) {
		for i := range n + 1 {
			out = append(out, a.Plus(b.Minus(a).Times(float64(i)/float64(n))))
		}
	}
	if len(s.Points) == 1 {
		ring(s.Points[0], s.Radius)
		return out
	}
	for i := range len(s.Points) - 1 {
		a, b := s.Points[i], s.Points[i+1]
		u, _ := b.Minus(a).Unit()
		r := u.Right().Times(float64(s.HalfWidth))
		leg(a.Plus(r), b.Plus(r))
		leg(a.Minus(r), b.Minus(r))
		leg(a.Minus(r), a.Plus(r))
		leg(b.Minus(r), b.Plus(r))
		if i > 0 && s.HalfWidth > 0 {
			ring(a, s.HalfWidth)
		}
	}
	if s.Closed {
		leg(s.Points[len(s.Points)-1], s.Points[0])
	}
	return out
}

// No sampled places are nearer than the distance, some are hardly farther, and
// shapes overlap where a place of one is well inside the other.
func TestDistanceAgainstSampling(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 12))
	for k := range 400 {
		a, b := randomShape(rnd, 10), randomShape(rnd, 10)
		g := clearance.Distance(a, b)
		back := clearance.Distance(b, a)
		if back.Distance != g.Distance || back.Overlap != g.Overlap || back.From != g.To || back.To != g.From {
			t.Fatalf("case %d: not the same the other way round: %+v and %+v", k, g, back)
		}
		if d := g.To.At.Minus(g.From.At).Length(); !near(d, g.Distance, 2e-9) {
			t.Fatalf("case %d: the places are %v apart, not %v: %+v %+v", k, d, g.Distance, a, b)
		}
		const n = 40
		pa, pb := sample(a, n), sample(b, n)
		least, deep := unit.Length(math.Inf(1)), false
		for _, v := range pa {
			deep = deep || inside(b, v)
			for _, w := range pb {
				least = min(least, v.Minus(w).Length())
			}
		}
		for _, w := range pb {
			deep = deep || inside(a, w)
		}
		step := unit.Length(30.0 / n)
		switch {
		case deep && g.Distance > 1e-9:
			t.Fatalf("case %d: they meet, and are said to be %v apart: %+v %+v", k, g.Distance, a, b)
		case !deep && (least < g.Distance-1e-9 || least > g.Distance+step):
			t.Fatalf("case %d: sampled %v, told %v: %+v %+v", k, least, g.Distance, a, b)
		}
	}
}

// A place inside an area overlaps it wherever the area was cut into pieces.
func TestInsideOfAnAreaHasNoSeams(t *testing.T) {
	rnd := rand.New(rand.NewPCG(13, 14))
	for range 300 {
		s := clearance.Shape{Points: starRing(rnd, 4+rnd.IntN(12), 10, at(0, 0)), Closed: true}
		edge := planar.Ring(s.Points).Edge()
		for i, a := range s.Points {
			for _, b := range s.Points[:i] {
				for _, share := range []float64{0.25, 0.5, 0.75} {
					v := a.Plus(b.Minus(a).Times(share))
					deep := planar.Ring(s.Points).Contains(v) && edge.Distance(v) > 1e-6
					if deep && !clearance.Distance(s, clearance.Shape{Points: []planar.Vec{v}}).Overlap {
						t.Fatalf("%v lies in %v, %v deep, and is not told so", v, s.Points, edge.Distance(v))
					}
				}
			}
		}
	}
}
