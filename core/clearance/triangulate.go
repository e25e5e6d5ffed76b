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
	a := c.ring[c.prev[i]]
	return c.ring[i].Minus(a).Cross(c.ring[c.next[i]].Minus(a)) > 0
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
	owner := map[[2]int]int{} // of a side, by its two ends in order
	for _, t := range triangles {
		k, at := neighbour(ring, joined, owner, t)
		if k < 0 {
			k, joined = len(joined), append(joined, t[:])
		} else {
			joined[k] = at
		}
		for i, v := range joined[k] {
			owner[[2]int{v, joined[k][(i+1)%len(joined[k])]}] = k
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

// neighbour finds a piece that a triangle can join, and what becomes of it; -1
// where there is none.
func neighbour(ring []planar.Vec, joined [][]int, owner map[[2]int]int, t triangle) (int, []int) {
	for s := range t {
		a, b, tip := t[s], t[(s+1)%3], t[(s+2)%3]
		k, ok := owner[[2]int{b, a}]
		if !ok {
			continue
		}
		delete(owner, [2]int{b, a})
		if at := withTip(ring, joined[k], b, a, tip); at != nil {
			return k, at
		}
		owner[[2]int{b, a}] = k
	}
	return -1, nil
}

// withTip is a piece with a tip on its side from a to b; nil where it would not
// be convex.
func withTip(ring []planar.Vec, piece []int, a, b, tip int) []int {
	n := len(piece)
	for i, v := range piece {
		if v != a || piece[(i+1)%n] != b {
			continue
		}
		out := make([]int, 0, n+1)
		out = append(out, piece[:i+1]...)
		out = append(append(out, tip), piece[i+1:]...)
		corners := make([]planar.Vec, len(out))
		for j, w := range out {
			corners[j] = ring[w]
		}
		if leftOfAll(corners) {
			return out
		}
	}
	return nil
}
