package clearance

import "undersod/core/planar"

// triangle is three places of a ring, counterclockwise.
type triangle [3]int

// clipper cuts the ears off a ring one after the other (Meisters, "Polygons have
// ears", American Mathematical Monthly 82, 1975, from memory): an ear is a corner
// that turns left and whose triangle holds no other corner that does not.
type clipper struct {
	ring       []planar.Vec
	prev, next []int
	left       int // corners still there
}

func newClipper(ring []planar.Vec) *clipper {
	n := len(ring)
	c := &clipper{ring: ring, prev: make([]int, n), next: make([]int, n), left: n}
	for i := range ring {
		c.prev[i], c.next[i] = (i+n-1)%n, (i+1)%n
	}
	return c
}

// turnsLeft tells whether the ring, as it is now, turns left at a corner.
func (c *clipper) turnsLeft(i int) bool {
	return left(c.ring[c.prev[i]], c.ring[i], c.ring[c.next[i]])
}

// ear tells whether a corner can be cut off.
func (c *clipper) ear(i int) bool {
	if !c.turnsLeft(i) {
		return false
	}
	p, q, r := c.ring[c.prev[i]], c.ring[i], c.ring[c.next[i]]
	for k := c.next[c.next[i]]; k != c.prev[i]; k = c.next[k] {
		v := c.ring[k]
		if v == p || v == q || v == r || c.turnsLeft(k) {
			continue
		}
		if q.Minus(p).Cross(v.Minus(p)) >= 0 && r.Minus(q).Cross(v.Minus(q)) >= 0 && p.Minus(r).Cross(v.Minus(r)) >= 0 {
			return false
		}
	}
	return true
}

// cut takes a corner off the ring.
func (c *clipper) cut(i int) {
	c.next[c.prev[i]], c.prev[c.next[i]] = c.next[i], c.prev[i]
	c.left--
}

// triangulate cuts a counterclockwise ring into triangles between its corners.
// It tells false where it met no ear, as in a ring that crosses itself: a corner
// is then cut off as it is, so that it ends in any case.
func triangulate(ring []planar.Vec) ([]triangle, bool) {
	c, simple := newClipper(ring), true
	var out []triangle
	for i, tried := 0, 0; c.left > 2; i = c.next[i] {
		found := c.ear(i)
		if !found && tried < c.left {
			tried++
			continue
		}
		simple = simple && (found || c.flat(i))
		if t := (triangle{c.prev[i], i, c.next[i]}); c.turnsLeft(i) {
			out = append(out, t)
		} else if !c.flat(i) {
			out = append(out, triangle{t[2], t[1], t[0]})
		}
		c.cut(i)
		tried = 0
	}
	return out, simple
}

// flat tells whether a corner has become the middle of a straight line.
func (c *clipper) flat(i int) bool {
	return offLine(c.ring[c.prev[i]], c.ring[i], c.ring[c.next[i]]) <= touching
}

// joinConvex puts neighbouring triangles together as long as that stays convex
// (Hertel and Mehlhorn, "Fast triangulation of simple polygons", 1983, from
// memory), so that fewer pieces remain.
func joinConvex(ring []planar.Vec, triangles []triangle) []convex {
	var joined [][]int
	for _, t := range triangles {
		if k, with := neighbour(ring, joined, t); k >= 0 {
			joined[k] = with
		} else {
			joined = append(joined, t[:])
		}
	}
	out := make([]convex, len(joined))
	for k, at := range joined {
		out[k].corners = make([]planar.Vec, len(at))
		for i, v := range at {
			out[k].corners[i] = ring[v]
		}
	}
	return out
}

// neighbour finds a piece that a triangle can join, the last one first, and what
// becomes of it; -1 where there is none.
func neighbour(ring []planar.Vec, joined [][]int, t triangle) (int, []int) {
	for k := len(joined) - 1; k >= 0; k-- {
		for s := range t {
			if with := withTip(ring, joined[k], t[(s+1)%3], t[s], t[(s+2)%3]); with != nil {
				return k, with
			}
		}
	}
	return -1, nil
}

// withTip is a piece with a tip on its side from a to b; nil where it has no such
// side, or would not be convex at its ends.
func withTip(ring []planar.Vec, piece []int, a, b, tip int) []int {
	n := len(piece)
	for i, v := range piece {
		if v != a || piece[(i+1)%n] != b {
			continue
		}
		before, after := piece[(i+n-1)%n], piece[(i+2)%n]
		if !left(ring[before], ring[a], ring[tip]) || !left(ring[tip], ring[b], ring[after]) {
			return nil
		}
		out := make([]int, 0, n+1)
		out = append(out, piece[:i+1]...)
		return append(append(out, tip), piece[i+1:]...)
	}
	return nil
}

// left tells whether the way from p over q to r turns left.
func left(p, q, r planar.Vec) bool { return q.Minus(p).Cross(r.Minus(p)) > 0 }
