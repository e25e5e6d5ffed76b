package clearance

import (
	"math"

	"undersod/core/planar"
	"undersod/core/unit"
)

// bounded is a convex piece within a circle.
type bounded struct {
	convex
	middle planar.Vec
	reach  unit.Length // of the circle, the radius included
}

// solid is a shape made ready for distances: the insides of its pieces, taken
// together, are its inside.
type solid []bounded

// solidOf cuts a shape into pieces.
func solidOf(s Shape) solid { return boundAll(pieces(s)) }

// seamless lays further pieces over the seams at which the pieces of an area meet,
// for distances from what is thin: a place on a seam is inside the shape, but on
// the edge of either piece. What has a size overlaps a piece beside the seam, and
// needs none.
func (s solid) seamless() solid {
	if len(s) < 2 {
		return s
	}
	cut := make([]convex, len(s))
	for i, b := range s {
		cut[i] = b.convex
	}
	return append(s, boundAll(seams(cut))...)
}

// thin tells whether a shape has pieces without a size, as a point or a path.
func (s solid) thin() bool {
	for _, b := range s {
		if len(b.corners) < 3 && b.radius == 0 {
			return true
		}
	}
	return false
}

func boundAll(cut []convex) solid {
	out := make(solid, len(cut))
	for i, c := range cut {
		out[i] = bound(c)
	}
	return out
}

// bound puts a piece into the circle about the middle of its extent.
func bound(c convex) bounded {
	low, high := c.corners[0], c.corners[0]
	for _, v := range c.corners[1:] {
		low = planar.Vec{East: min(low.East, v.East), North: min(low.North, v.North)}
		high = planar.Vec{East: max(high.East, v.East), North: max(high.North, v.North)}
	}
	out := bounded{convex: c, middle: low.Plus(high).Times(0.5)}
	for _, v := range c.corners {
		out.reach = max(out.reach, length(v.Minus(out.middle)))
	}
	out.reach += c.radius
	return out
}

// seams are convex pieces over the sides at which polygons meet.
func seams(cut []convex) []convex {
	type side struct{ a, b planar.Vec }
	owner := map[side]convex{}
	var out []convex
	for _, c := range cut {
		if len(c.corners) < 3 {
			continue
		}
		for i, a := range c.corners {
			b := c.corners[(i+1)%len(c.corners)]
			if other, ok := owner[side{b, a}]; ok {
				out = append(out, kite(a, b, inward(c, a, b), inward(other, b, a)))
			}
			owner[side{a, b}] = c
		}
	}
	return out
}

// kite is the convex quadrilateral over the side from a to b with a tip on either
// side of its middle, the first one to the left.
func kite(a, b, left, right planar.Vec) convex {
	return convex{corners: []planar.Vec{a, right, b, left}}
}

// inward is a place in a convex piece square in from the middle of its side from
// a to b.
func inward(c convex, a, b planar.Vec) planar.Vec {
	middle := a.Plus(b).Times(0.5)
	along, _ := b.Minus(a).Unit()
	in := along.Right().Times(-1)
	depth := length(b.Minus(a))
	for i, p := range c.corners {
		q := c.corners[(i+1)%len(c.corners)]
		out, ok := q.Minus(p).Unit()
		if p == a || !ok {
			continue
		}
		out = out.Right()
		if toward := unit.Length(out.Dot(in)); toward > 1e-12 {
			depth = min(depth, unit.Length(p.Minus(middle).Dot(out))/toward)
		}
	}
	return middle.Plus(in.Times(float64(depth) / 2))
}

// closest is which piece of each of two solids are the ones that lie nearest to
// one another, or overlap most, and how they lie.
type closest struct {
	a, b int
	meeting
}

// closestOf finds the closest pieces; false where either solid has none.
func closestOf(a, b solid) (closest, bool) {
	best := closest{meeting: meeting{apart: unit.Length(math.Inf(1))}}
	for i := range a {
		for j := range b {
			least := length(b[j].middle.Minus(a[i].middle)) - a[i].reach - b[j].reach
			if least >= best.apart {
				continue
			}
			if m := meetingOf(a[i].convex, b[j].convex); m.apart < best.apart {
				best = closest{i, j, m}
			}
		}
	}
	return best, len(a) > 0 && len(b) > 0
}
