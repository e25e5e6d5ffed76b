package clearance

import (
	"math"

	"undersod/core/planar"
	"undersod/core/unit"
)

// limit is where the centre of a footprint at one turn may not lie: a half-plane,
// or a convex core grown by a radius. A footprint keeps its setback from a
// piece where its centre stays out of the piece's Minkowski difference with the
// footprint, grown by the setback.
type limit struct {
	plane   halfPlane // where there are no corners
	corners []planar.Vec
	normals []planar.Vec // outward, of the side that starts at each corner
	radius  unit.Length
}

// reading is the margin from one limit at a place: how large, which way it grows
// fastest, and how far the core is, which bounds how it bends.
type reading struct {
	margin unit.Length
	uphill planar.Vec
	core   unit.Length // 0 within the core
}

// planeLimit is the limit of a half-plane for a footprint.
func planeLimit(h halfPlane, foot []planar.Vec, setback unit.Length) limit {
	most := unit.Length(math.Inf(-1))
	for _, c := range foot {
		most = max(most, unit.Length(c.Dot(h.normal)))
	}
	return limit{plane: halfPlane{h.normal, h.offset - most - setback}}
}

// pieceLimit is the limit of a convex piece for a footprint.
func pieceLimit(c convex, foot []planar.Vec, setback unit.Length) limit {
	l := limit{corners: difference(c.corners, foot), radius: c.radius + setback}
	if len(l.corners) > 2 {
		l.normals = make([]planar.Vec, len(l.corners))
		for i, p := range l.corners {
			along, _ := l.corners[(i+1)%len(l.corners)].Minus(p).Unit()
			l.normals[i] = along.Right()
		}
	}
	return l
}

// difference is the Minkowski difference of two convex outlines, counterclockwise:
// the sides of the first and of the second one turned half round, by their
// directions (de Berg and others, "Computational Geometry", chapter 13, from
// memory).
func difference(a, b []planar.Vec) []planar.Vec {
	turned := make([]planar.Vec, len(b))
	for i, v := range b {
		turned[i] = v.Times(-1)
	}
	i, j := lowest(a), lowest(turned)
	out := make([]planar.Vec, 0, len(a)+len(b))
	for m, n := 0, 0; ; {
		at := a[(i+m)%len(a)].Plus(turned[(j+n)%len(b)])
		if len(out) == 0 || length(at.Minus(out[len(out)-1])) > touching {
			out = append(out, at)
		}
		left := 1.0
		if m < sidesOf(a) && n < sidesOf(b) {
			left = float64(side(a, i+m).Cross(side(turned, j+n)))
		}
		switch {
		case m == sidesOf(a) && n == sidesOf(b):
			return closedUp(out)
		case n == sidesOf(b) || m < sidesOf(a) && left > 0:
			m++
		case m == sidesOf(a) || left < 0:
			n++
		default:
			m, n = m+1, n+1
		}
	}
}

// sidesOf counts the sides once around an outline: a segment has two.
func sidesOf(ring []planar.Vec) int {
	if len(ring) == 1 {
		return 0
	}
	return len(ring)
}

func side(ring []planar.Vec, i int) planar.Vec {
	return ring[(i+1)%len(ring)].Minus(ring[i%len(ring)])
}

// lowest is which corner lies farthest south, the western one of two.
func lowest(ring []planar.Vec) int {
	best := 0
	for i, v := range ring {
		b := ring[best]
		if v.North < b.North || v.North == b.North && v.East < b.East {
			best = i
		}
	}
	return best
}

// closedUp leaves out a last corner that is the first again.
func closedUp(ring []planar.Vec) []planar.Vec {
	if n := len(ring); n > 1 && length(ring[n-1].Minus(ring[0])) <= touching {
		return ring[:n-1]
	}
	return ring
}

// read is the margin at a place.
func (l *limit) read(p planar.Vec) reading {
	switch len(l.corners) {
	case 0:
		return reading{l.plane.offset - unit.Length(p.Dot(l.plane.normal)), l.plane.normal.Times(-1), unit.Length(math.Inf(1))}
	case 1:
		return l.fromPlace(p, l.corners[0])
	case 2:
		return l.fromPlace(p, p.OnSegment(l.corners[0], l.corners[1]))
	}
	best, uphill := unit.Length(math.Inf(-1)), planar.Vec{}
	nearest, least := planar.Vec{}, unit.Area(math.Inf(1))
	for i, c := range l.corners {
		d := unit.Length(p.Minus(c).Dot(l.normals[i]))
		if d > best {
			best, uphill = d, l.normals[i]
		}
		if d <= 0 {
			continue
		}
		on := p.OnSegment(c, l.corners[(i+1)%len(l.corners)])
		if off := p.Minus(on); off.Dot(off) < least {
			nearest, least = on, off.Dot(off)
		}
	}
	if best <= touching {
		return reading{best - l.radius, uphill, 0}
	}
	return l.fromPlace(p, nearest)
}

// fromPlace is the margin where a given place of the core is the nearest.
func (l *limit) fromPlace(p, nearest planar.Vec) reading {
	off := p.Minus(nearest)
	d := length(off)
	if d <= touching {
		return reading{d - l.radius, planar.Vec{North: 1}, 0}
	}
	return reading{d - l.radius, off.Times(1 / float64(d)), d}
}

// bend is how much the margin can be above its tangent within a reach of where it
// was read. With the nearest place of the core at the distance c, the margin a
// step away, which goes along by x and across by y, is at most the distance from
// that place, √((c + x)² + y²) ≤ c + x + y²/(2 (c + x)). It is +Inf where that
// says nothing.
func (r reading) bend(reach unit.Length) unit.Length {
	switch {
	case math.IsInf(float64(r.core), 1):
		return 0
	case r.core <= reach:
		return unit.Length(math.Inf(1))
	}
	return reach * reach / (2 * (r.core - reach))
}
