package clearance

import (
	"math"

	"undersod/core/planar"
	"undersod/core/unit"
)

// meeting is how two convex pieces lie to one another.
type meeting struct {
	apart  unit.Length // negative where they overlap, and then the smallest step that parts them, reversed
	parted bool        // the cores, the pieces without their radii, are apart
	cores  pair        // and then their nearest places
}

// meetingOf tells how two convex pieces lie to one another.
func meetingOf(a, b convex) meeting {
	m := meeting{apart: separation(a, b)}
	if m.parted = m.apart > 0; m.parted {
		m.cores = nearestPair(a, b)
		m.apart = length(m.cores.step())
	}
	m.apart = m.apart - a.radius - b.radius
	return m
}

// separation is the largest gap between the cores, seen along any of their sides' normals, after the separating axis
// theorem: above 0 where they are apart, and then at most their distance; else
// minus the smallest step that parts them, as a normal of their Minkowski
// difference is one of a side of either.
func separation(a, b convex) unit.Length {
	if len(a.corners) == 1 && len(b.corners) == 1 {
		return length(b.corners[0].Minus(a.corners[0]))
	}
	best := fromSides(a.corners, b.corners)
	if best > 0 {
		return best
	}
	return max(best, fromSides(b.corners, a.corners))
}

// fromSides is the largest gap along the outward normals of a's sides. A segment
// has two normals, and its ends count as sides so that what lies beyond them is
// seen. It ends at the first gap above 0.
func fromSides(a, b []planar.Vec) unit.Length {
	best := unit.Length(math.Inf(-1))
	if len(a) < 2 {
		return best
	}
	for i, p := range a {
		q := a[(i+1)%len(a)]
		along, ok := q.Minus(p).Unit()
		if !ok {
			continue
		}
		if best = max(best, beyond(p, along.Right(), b)); best > 0 {
			return best
		}
		if len(a) == 2 {
			best = max(best, beyond(q, along, b))
		}
	}
	return best
}

// beyond is how far the nearest of the corners lies beyond a line through p, in
// the direction of its normal.
func beyond(p, normal planar.Vec, corners []planar.Vec) unit.Length {
	least := unit.Length(math.Inf(1))
	for _, c := range corners {
		least = min(least, unit.Length(c.Minus(p).Dot(normal)))
	}
	return least
}

// length is how long a step is that was kept within farthest: it needs no guard
// against what is too large to square.
func length(v planar.Vec) unit.Length {
	return unit.Length(math.Sqrt(float64(v.Dot(v))))
}

// pair is a place on each of two things.
type pair struct{ from, to planar.Vec }

func (p pair) step() planar.Vec { return p.to.Minus(p.from) }

// nearestPair finds the nearest places of two cores that are apart. One of them
// is always a corner.
func nearestPair(a, b convex) pair {
	v, i, d := nearestCorner(a, b)
	w, k, e := nearestCorner(b, a)
	if d <= e {
		return pair{v, v.OnSegment(b.corners[i], b.corners[(i+1)%len(b.corners)])}
	}
	return pair{w.OnSegment(a.corners[k], a.corners[(k+1)%len(a.corners)]), w}
}

// nearestCorner finds the corner of a that lies nearest to a side of b, that side,
// and the square of how far.
func nearestCorner(a, b convex) (corner planar.Vec, at int, square unit.Area) {
	square = unit.Area(math.Inf(1))
	for i, p := range b.corners[:sides(b)] {
		q := b.corners[(i+1)%len(b.corners)]
		along := q.Minus(p)
		over := along.Dot(along)
		for _, v := range a.corners {
			off := v.Minus(p)
			share := off.Dot(along)
			d := off.Dot(off)
			switch {
			case share >= over:
				off = v.Minus(q)
				d = off.Dot(off)
			case share > 0:
				c := along.Cross(off)
				d = c * (c / over)
			}
			if d < square {
				corner, at, square = v, i, d
			}
		}
	}
	return corner, at, square
}

// cornersToSides visits the nearest places of every corner of either core on every
// side of the other that are not farther apart than a distance whose square is
// given, by more than rounding, which is left to the visit.
func cornersToSides(a, b convex, square unit.Area, visit func(pair)) {
	square *= 1.01
	for _, v := range a.corners {
		for i, p := range b.corners[:sides(b)] {
			if q := b.corners[(i+1)%len(b.corners)]; !farFrom(v, p, q, square) {
				visit(pair{v, v.OnSegment(p, q)})
			}
		}
	}
	for _, v := range b.corners {
		for i, p := range a.corners[:sides(a)] {
			if q := a.corners[(i+1)%len(a.corners)]; !farFrom(v, p, q, square) {
				visit(pair{v.OnSegment(p, q), v})
			}
		}
	}
}

// farFrom tells whether v lies farther from the segment from p to q than a distance
// whose square is given.
func farFrom(v, p, q planar.Vec, square unit.Area) bool {
	off, along := v.Minus(p), q.Minus(p)
	switch share, over := off.Dot(along), along.Dot(along); {
	case share >= over:
		off = v.Minus(q)
	case share > 0:
		c := along.Cross(off)
		return c*c > square*over
	}
	return off.Dot(off) > square
}

// sides counts the sides of a core, a point being one of no length.
func sides(c convex) int {
	if len(c.corners) == 2 {
		return 1
	}
	return len(c.corners)
}

// places finds the nearest places of two pieces that lie as m. Where two straight sides face
// each other it is the middle of where they do, as the nearest places of convex
// pieces are a convex set; where the pieces overlap it is a place in both.
func places(a, b convex, m meeting) pair {
	if !m.parted {
		at := common(a, b)
		return pair{at, at}
	}
	p := middlePair(a, b, m.cores)
	d := length(p.step())
	if d == 0 {
		return p
	}
	along := p.step().Times(1 / float64(d))
	if d >= a.radius+b.radius {
		return pair{p.from.Plus(along.Times(float64(a.radius))), p.to.Minus(along.Times(float64(b.radius)))}
	}
	at := p.from.Plus(along.Times(float64(max(0, d-b.radius)+min(a.radius, d)) / 2))
	return pair{at, at}
}

// middlePair is the middle of all nearest places of two cores that are apart, one
// pair of which is known.
func middlePair(a, b convex, first pair) pair {
	reach := unit.Area(length(first.step()) + touching)
	limit := reach * reach
	var room [8]pair
	ties := room[:0]
	cornersToSides(a, b, limit, func(p pair) {
		if d := p.step(); d.Dot(d) <= limit {
			ties = append(ties, p)
		}
	})
	one := farthestOf(ties, first)
	other := farthestOf(ties, one)
	return pair{one.from.Plus(other.from).Times(0.5), one.to.Plus(other.to).Times(0.5)}
}

// farthestOf is which of several pairs starts farthest from another one.
func farthestOf(ties []pair, from pair) pair {
	best, most := from, unit.Area(0)
	for _, p := range ties {
		if off := p.from.Minus(from.from); off.Dot(off) > most {
			best, most = p, off.Dot(off)
		}
	}
	return best
}

// common is a place in both of two cores that overlap: the middle of where their
// outlines cross and of the corners of one in the other.
func common(a, b convex) planar.Vec {
	var sum planar.Vec
	n := 0
	add := func(v planar.Vec) { sum, n = sum.Plus(v), n+1 }
	for _, pieces := range [2][2]convex{{a, b}, {b, a}} {
		for _, v := range pieces[0].corners {
			if separation(convex{corners: []planar.Vec{v}}, pieces[1]) <= touching {
				add(v)
			}
		}
	}
	for i := range sides(a) {
		for j := range sides(b) {
			p, q := a.corners[i], a.corners[(i+1)%len(a.corners)]
			r, s := b.corners[j], b.corners[(j+1)%len(b.corners)]
			if planar.Cross(p, q, r, s) {
				pq, rs := q.Minus(p), s.Minus(r)
				add(p.Plus(pq.Times(float64(r.Minus(p).Cross(rs) / pq.Cross(rs)))))
			}
		}
	}
	if n == 0 {
		return nearestPair(a, b).from
	}
	return sum.Times(1 / float64(n))
}
