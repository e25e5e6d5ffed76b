package clearance

import (
	"math"

	"undersod/core/planar"
	"undersod/core/unit"
)

// Contains tells whether a place lies in the region. A place on its edge may be
// told either way.
func (r Region) Contains(v planar.Vec) bool {
	for _, p := range r.Pieces {
		if p.contains(v) {
			return true
		}
	}
	return false
}

func (p Piece) contains(v planar.Vec) bool {
	if !p.Outer.Contains(v) {
		return false
	}
	for _, h := range p.Holes {
		if h.Contains(v) {
			return false
		}
	}
	return true
}

// Nearest is the place of the region that lies nearest to one: itself where it
// lies inside, else a place on the edge. It is false where the region has no
// piece, or the place is no number.
func (r Region) Nearest(v planar.Vec) (planar.Vec, bool) {
	if r.Contains(v) {
		return v, true
	}
	best, least := planar.Vec{}, unit.Length(math.Inf(1))
	r.rings(func(ring planar.Ring) {
		for i, a := range ring {
			at := v.OnSegment(a, ring[(i+1)%len(ring)])
			if d := at.Minus(v).Length(); d < least {
				best, least = at, d
			}
		}
	})
	return best, finite(least)
}

// rings visits every outline.
func (r Region) rings(visit func(planar.Ring)) {
	for _, p := range r.Pieces {
		visit(p.Outer)
		for _, h := range p.Holes {
			visit(h)
		}
	}
}
