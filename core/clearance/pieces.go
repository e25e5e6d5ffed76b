package clearance

import (
	"math"
	"slices"

	"undersod/core/planar"
	"undersod/core/unit"
)

// farthest is how far from the origin a coordinate may lie; what lies farther
// is taken to lie there, so that every distance stays finite.
const farthest unit.Length = 1e9

// touching is what two places may be apart, or two shapes deep in one another,
// and still only touch: far below what is measured, far above what rounding does.
const touching unit.Length = 1e-9

// convex is a convex piece of a shape: one corner is a point, two a segment and
// more a polygon, counterclockwise and without corners on its sides, all grown
// by the radius.
type convex struct {
	corners []planar.Vec
	radius  unit.Length
}

// pieces cuts a shape into convex pieces whose union it is. The pieces of an area
// meet at their sides; those of a strip overlap at its bends. Coordinates that
// are no number are left out; a shape without any other has no pieces. Where
// an area crosses itself its outline is always among the pieces.
func pieces(s Shape) []convex {
	points := clean(s.Points)
	switch {
	case len(points) == 0:
		return nil
	case len(points) == 1 && len(s.Points) == 1:
		return []convex{{points, size(s.Radius)}}
	case len(points) == 1:
		return []convex{{points, 0}}
	case s.Closed:
		return areaPieces(points)
	}
	return stripPieces(points, size(s.HalfWidth))
}

// clean keeps the coordinates finite and leaves out places that follow upon
// themselves.
func clean(points []planar.Vec) []planar.Vec {
	out := make([]planar.Vec, 0, len(points))
	for _, p := range points {
		p, ok := within(p)
		if n := len(out); !ok || n > 0 && p.Minus(out[n-1]).Length() <= touching {
			continue
		}
		out = append(out, p)
	}
	return out
}

// within is a place kept within farthest; false where it is no number.
func within(p planar.Vec) (planar.Vec, bool) {
	if math.IsNaN(float64(p.East)) || math.IsNaN(float64(p.North)) {
		return planar.Vec{}, false
	}
	return planar.Vec{East: max(-farthest, min(farthest, p.East)), North: max(-farthest, min(farthest, p.North))}, true
}

// size makes a radius or half width one that can be: at least 0 and finite.
func size(l unit.Length) unit.Length {
	if !(l > 0) {
		return 0
	}
	return min(l, farthest)
}

// stripPieces is a rectangle for each leg, and a disc at each bend that rounds its
// outside. Without a width the legs are segments.
func stripPieces(points []planar.Vec, half unit.Length) []convex {
	out := make([]convex, 0, 2*len(points))
	var room []planar.Vec
	if half > 0 {
		room = make([]planar.Vec, 0, 4*len(points))
	}
	for i := range len(points) - 1 {
		a, b, start := points[i], points[i+1], len(room)
		if half == 0 {
			out = append(out, convex{corners: points[i : i+2 : i+2]})
			continue
		}
		along, _ := b.Minus(a).Unit()
		r := along.Right().Times(float64(half))
		room = append(room, a.Plus(r), b.Plus(r), b.Minus(r), a.Minus(r))
		out = append(out, convex{corners: room[start:len(room):len(room)]})
		if i > 0 {
			out = append(out, convex{points[i : i+1 : i+1], half})
		}
	}
	return out
}

// areaPieces cuts an area into convex polygons.
func areaPieces(points []planar.Vec) []convex {
	ring := outline(points)
	if len(ring) < 3 {
		return stripPieces(points, 0)
	}
	if leftOfAll(ring) {
		return []convex{{corners: ring}}
	}
	triangles, simple := triangulate(ring)
	out := joinConvex(ring, triangles)
	if !simple {
		out = append(out, stripPieces(append(ring, ring[0]), 0)...)
	}
	return out
}

// outline is a closed ring counterclockwise, without the corners that lie on a
// straight side or at the tip of a spike; fewer than three corners remain where
// it encloses nothing.
func outline(points []planar.Vec) []planar.Vec {
	ring := slices.Clone(points)
	for before := 0; len(ring) > 2 && before != len(ring); {
		before = len(ring)
		ring = withoutStraight(ring)
	}
	if area(ring) < 0 {
		slices.Reverse(ring)
	}
	return ring
}

// withoutStraight goes once around a ring and leaves out what is no corner.
func withoutStraight(ring []planar.Vec) []planar.Vec {
	kept := make([]planar.Vec, 0, len(ring))
	last := ring[len(ring)-1]
	for i, b := range ring {
		next := ring[(i+1)%len(ring)]
		if len(kept) > 0 && i == len(ring)-1 {
			next = kept[0]
		}
		if offLine(last, b, next) > touching {
			kept = append(kept, b)
			last = b
		}
	}
	return kept
}

// area is the signed area of a ring, positive counterclockwise, by the
// trapezium rule about its first corner.
func area(ring []planar.Vec) unit.Area {
	var twice unit.Area
	for i := 2; i < len(ring); i++ {
		twice += ring[i-1].Minus(ring[0]).Cross(ring[i].Minus(ring[0]))
	}
	return twice / 2
}

// offLine is how far b lies off the line through a and c, and 0 where a and c are
// one.
func offLine(a, b, c planar.Vec) unit.Length {
	along, ok := c.Minus(a).Unit()
	if !ok {
		return 0
	}
	return unit.Length(math.Abs(float64(along.Cross(b.Minus(a)))))
}
