package clearance

import (
	"cmp"
	"slices"

	"undersod/core/planar"
	"undersod/core/unit"
)

// Distance returns how far apart two shapes are, and where they are nearest: in
// the middle of the nearest places where two straight sides face each other. It
// is exact but for rounding, and the same the other way round with From and To
// swapped. Coordinates that are no number are left out, and those beyond a
// million kilometres are taken to lie there; the distance from a shape without
// a place is 0.
func Distance(a, b Shape) Gap { return Prepare(a).Distance(Prepare(b)) }

// Ready is a shape made ready for many distances.
type Ready struct {
	shape Shape
	solid solid
}

// Prepare makes a shape ready for many distances. The shape's points must stay as
// they are.
func Prepare(s Shape) Ready { return Ready{s, solidOf(s)} }

// Distance is the gap from r to b, as the function Distance finds it.
func (r Ready) Distance(b Ready) Gap {
	if before(b.shape, r.shape) {
		g := b.Distance(r)
		g.From, g.To = g.To, g.From
		return g
	}
	sa, sb := r.solid, b.solid
	switch {
	case r.shape.Closed && sb.thin():
		sa = sa.seamless()
	case b.shape.Closed && sa.thin():
		sb = sb.seamless()
	}
	near, _ := closestOf(sa, sb)
	return gapBetween(r.shape, b.shape, sa, sb, near)
}

// gapBetween is the gap between two shapes of which the closest pieces are known;
// none where either has no piece.
func gapBetween(a, b Shape, sa, sb solid, near closest) Gap {
	if len(sa) == 0 || len(sb) == 0 {
		return Gap{}
	}
	p := places(sa[near.a].convex, sb[near.b].convex, near.meeting)
	return Gap{
		Distance: max(0, near.apart),
		Overlap:  near.apart < -touching,
		From:     spotOn(a, p.from),
		To:       spotOn(b, p.to),
	}
}

// before orders shapes, so that two of them are always compared the same way
// round and rounding and ties come out the same.
func before(a, b Shape) bool {
	order := slices.CompareFunc(a.Points, b.Points, comparePlaces)
	closed := func(s Shape) int {
		if s.Closed {
			return 1
		}
		return 0
	}
	return cmp.Or(order, closed(a)-closed(b), cmp.Compare(a.Radius, b.Radius), cmp.Compare(a.HalfWidth, b.HalfWidth)) < 0
}

// comparePlaces orders places from west to east, then from south to north.
func comparePlaces(v, w planar.Vec) int {
	return cmp.Or(cmp.Compare(v.East, w.East), cmp.Compare(v.North, w.North))
}

// spotOn tells where on a shape a place lies: by the leg that it is nearest to,
// the first of them where several are.
func spotOn(s Shape, at planar.Vec) Spot {
	spot := Spot{At: at}
	last, first, least := -1, -1, farthest*8
	for i, p := range s.Points {
		p, ok := within(p)
		if !ok {
			continue
		}
		if last < 0 {
			first = i
			spot.From, spot.To, least = i, i, length(at.Minus(p))
		} else {
			spot, least = nearerLeg(s, spot, last, i, least)
		}
		last = i
	}
	if s.Closed && last != first {
		spot, _ = nearerLeg(s, spot, last, first, least)
	}
	return spot
}

// nearerLeg is the spot moved to the leg from one point to another where that is
// nearer than the least so far.
func nearerLeg(s Shape, spot Spot, from, to int, least unit.Length) (Spot, unit.Length) {
	a, _ := within(s.Points[from])
	b, _ := within(s.Points[to])
	on := spot.At.OnSegment(a, b)
	d := length(spot.At.Minus(on))
	if !(d < least-touching) {
		return spot, least
	}
	spot.From, spot.To, spot.Along = from, to, 0
	switch {
	case length(on.Minus(a)) <= touching:
		spot.To = from
	case length(on.Minus(b)) <= touching:
		spot.From = to
	default:
		spot.Along = float64(length(on.Minus(a)) / length(b.Minus(a)))
	}
	return spot, d
}
