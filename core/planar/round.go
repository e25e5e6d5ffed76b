package planar

import (
	"cmp"
	"math"
	"slices"

	"undersod/core/unit"
)

// mostChords is the most chords of a full circle; a finer tolerance is not kept.
const mostChords = 4096

// sameTurn is the angle below which two directions are taken for one.
const sameTurn = 1e-7

// Rounder grows convex outlines by a distance. The chords of all circles of one
// size have the same directions, so that arcs about one centre that overlap lie
// within one another instead of crossing at every chord.
type Rounder struct {
	tolerance unit.Length
	circles   map[int][]Vec // unit vectors by the number of chords
	at        []angled
}

// angled is a direction and its angle counterclockwise from east.
type angled struct {
	to    Vec
	angle float64
}

// NewRounder makes one whose arcs are missed by at most the tolerance, which must be
// above 0; where that would take more than mostChords sides to a circle, Miss
// tells more.
func NewRounder(tolerance unit.Length) *Rounder {
	return &Rounder{tolerance: tolerance, circles: map[int][]Vec{}}
}

// Chords is how many chords a circle needs for its circumscribed corners to miss
// it by no more than the tolerance: r (1/cos(π/n) - 1) <= tolerance. It is a
// multiple of four, so that north, east, south and west are among them.
func (r *Rounder) Chords(radius unit.Length) int {
	if !(radius > 0) {
		return 4
	}
	half := math.Acos(float64(radius / (radius + r.tolerance)))
	n := 4 * int(math.Min(mostChords/4, math.Ceil(math.Pi/half/4)))
	return max(n, 4)
}

// Miss is how far the corners of the chords lie outside a circle.
func (r *Rounder) Miss(radius unit.Length) unit.Length {
	return radius * unit.Length(1/math.Cos(math.Pi/float64(r.Chords(radius)))-1)
}

func (r *Rounder) circle(n int) []Vec {
	if c, ok := r.circles[n]; ok {
		return c
	}
	c := make([]Vec, n)
	for i := range c {
		s, e := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		c[i] = Vec{East: unit.Length(e), North: unit.Length(s)}
	}
	r.circles[n] = c
	return c
}

// Grow adds to out the convex outline of what lies within a radius of a convex
// one: straight sides moved outward, and at each corner the sides of a polygon
// about the arc that touch it. beside gives further directions at each corner.
func (r *Rounder) Grow(out, corners []Vec, beside [][]Vec, radius unit.Length) []Vec {
	n := len(corners)
	circle := r.circle(r.Chords(radius))
	for i, v := range corners {
		from, turn := Vec{East: 1}, 2*math.Pi
		if n > 1 {
			from = outward(corners[(i+n-1)%n], v)
			turn = turnFrom(from, outward(v, corners[(i+1)%n]))
		}
		var extra []Vec
		if beside != nil {
			extra = beside[i]
		}
		r.directions(circle, from, turn, extra)
		for k := 1; k < len(r.at); k++ {
			out = append(out, v.Plus(tip(r.at[k-1].to, r.at[k].to).Times(float64(radius))))
		}
	}
	return out
}

func outward(a, b Vec) Vec {
	u, _ := b.Minus(a).Right().Unit()
	return u
}

// turnFrom is the angle counterclockwise from one direction to another, above 0 and up to
// a full turn; what is less than nothing by rounding is nothing.
func turnFrom(from, to Vec) float64 {
	a := math.Atan2(float64(from.Cross(to)), float64(from.Dot(to)))
	if a < -sameTurn {
		a += 2 * math.Pi
	}
	return math.Max(a, 0)
}

// tip is where the tangents of the unit circle at two directions meet.
func tip(a, b Vec) Vec { return a.Plus(b).Times(1 / (1 + float64(a.Dot(b)))) }

// directions fills r.at with the directions in which an arc is touched: its two
// ends, those of the circle's chords between them, and the extra ones.
func (r *Rounder) directions(circle []Vec, from Vec, turn float64, extra []Vec) {
	start := math.Atan2(float64(from.North), float64(from.East))
	step := 2 * math.Pi / float64(len(circle))
	r.at = append(r.at[:0], angled{from, 0})
	first := int(math.Floor(start/step)) + 1
	for k := first; float64(k)*step < start+turn; k++ {
		r.at = append(r.at, angled{circle[((k%len(circle))+len(circle))%len(circle)], float64(k)*step - start})
	}
	for _, e := range extra {
		if a := turnFrom(from, e); a < turn {
			at, _ := slices.BinarySearchFunc(r.at, a, func(d angled, a float64) int { return cmp.Compare(d.angle, a) })
			r.at = slices.Insert(r.at, max(at, 1), angled{e, a})
		}
	}
	s, c := math.Sincos(turn)
	end := angled{Vec{
		East:  from.East*unit.Length(c) - from.North*unit.Length(s),
		North: from.East*unit.Length(s) + from.North*unit.Length(c),
	}, turn}
	r.thin(end)
}

// thin leaves out directions that lie upon the one before or upon the end.
func (r *Rounder) thin(end angled) {
	kept := r.at[:1]
	for _, a := range r.at[1:] {
		if a.angle-kept[len(kept)-1].angle > sameTurn && end.angle-a.angle > sameTurn {
			kept = append(kept, a)
		}
	}
	if end.angle > 0 || len(kept) > 1 {
		kept = append(kept, end)
	}
	r.at = kept
}

// SumOfConvex adds to out the convex outline of all sums of a place of p and one
// of q, both convex and counterclockwise, points and segments among them, by
// putting their sides in order of direction (Minkowski sum; de Berg and others,
// Computational Geometry, chapter 13, from memory). To of it adds, for each
// corner, the one of p that it comes from. Without a corner in either there is no
// sum.
func SumOfConvex(out []Vec, of []int, p, q []Vec) ([]Vec, []int) {
	if len(p) == 0 || len(q) == 0 {
		return out, of
	}
	i, j := Southernmost(p), Southernmost(q)
	n, m := len(p), len(q)
	a, b, before := 0, 0, len(of)
	sidesP, sidesQ := sideCount(n), sideCount(m)
	for a < sidesP || b < sidesQ || len(of) == before {
		out, of = append(out, p[i].Plus(q[j])), append(of, i)
		alongP, alongQ := p[(i+1)%n].Minus(p[i]), q[(j+1)%m].Minus(q[j])
		order := 0
		switch {
		case a == sidesP:
			order = 1
		case b == sidesQ:
			order = -1
		default:
			order = turning(alongP, alongQ)
		}
		if order <= 0 && a < sidesP {
			i, a = (i+1)%n, a+1
		}
		if order >= 0 && b < sidesQ {
			j, b = (j+1)%m, b+1
		}
	}
	return out, of
}

// sideCount is how many sides a convex outline has: a point none, a segment both of
// its directions.
func sideCount(corners int) int {
	if corners == 1 {
		return 0
	}
	return corners
}

// Southernmost is the index of the southernmost corner, the westernmost of several;
// 0 where there is none.
func Southernmost(p []Vec) int {
	best := 0
	for i, v := range p {
		if v.North < p[best].North || v.North == p[best].North && v.East < p[best].East {
			best = i
		}
	}
	return best
}

// turning compares the directions of two sides counterclockwise from east: 0
// where they are one but for rounding.
func turning(a, b Vec) int {
	cross, size := float64(a.Cross(b)), float64(a.Length()*b.Length())
	if math.Abs(cross) <= 1e-12*size && a.Dot(b) > 0 {
		return 0
	}
	if ha, hb := southward(a), southward(b); ha != hb {
		if ha {
			return 1
		}
		return -1
	}
	if cross > 0 {
		return -1
	}
	return 1
}

func southward(v Vec) bool { return v.North < 0 || v.North == 0 && v.East < 0 }
