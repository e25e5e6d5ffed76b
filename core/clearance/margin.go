package clearance

import (
	"math"

	"undersod/core/planar"
	"undersod/core/unit"
)

// Margins returns how much farther than its setback a footprint stands from each
// obstacle, in their order, and at last from the edges of the lot, where there is
// one. Outside the lot the margin is minus how far it reaches out. Where shapes
// overlap the distance is minus the smallest step that parts the convex pieces of
// the two that are the hardest to part: for convex shapes the smallest step that
// parts them, for others at most that. A shape without a place counts as touched.
//
// No margin changes faster than the footprint moves, nor, when it turns by an
// angle, by more than that angle (in radians) times the distance of its farthest
// corner from its centre. For two convex pieces A and B, apart or not, the
// distance is the largest over all directions u of a(u) = min over B of u·x minus
// max over A of u·x (from the separating axis theorem; with A fixed, the distance of a
// place from a convex set, signed, as the support function gives it: Rockafellar,
// "Convex Analysis", section 13, from memory). Moving a corner of A by d changes
// each a(u) by at most d; the largest and the smallest of functions that change no
// faster than d change no faster than d either; so do the distance, its smallest
// over all pairs of pieces, and the margin.
func Margins(g Ground, f Footprint, p Placement) []Margin {
	shape := f.Placed(p)
	foot := solidOf(shape)
	things := thingsOf(g, foot.thin())
	out := make([]Margin, len(things))
	for i := range things {
		out[i] = things[i].margin(shape, foot)
	}
	return out
}

// thing is what a footprint keeps away from, made ready.
type thing struct {
	name     string
	obstacle int // -1 for the lot
	setback  unit.Length
	shape    Shape
	solid    solid       // of the lot: the pockets outside it
	planes   []halfPlane // of the lot alone
	edges    solid       // of the lot alone
}

// thingsOf makes a ground ready, for a footprint without a size where it is seamless.
func thingsOf(g Ground, seamless bool) []thing {
	things := make([]thing, 0, len(g.Obstacles)+1)
	for i, o := range g.Obstacles {
		t := thing{name: o.Name, obstacle: i, setback: setbackSize(o.Setback), shape: o.Shape, solid: solidOf(o.Shape)}
		if seamless && o.Shape.Closed {
			t.solid = t.solid.seamless()
		}
		things = append(things, t)
	}
	if len(g.Lot) > 0 {
		out := outsideOf(g.Lot, seamless)
		things = append(things, thing{
			name: LotName, obstacle: -1, setback: setbackSize(g.Setback), shape: Shape{Points: g.Lot, Closed: true},
			solid: out.pockets, planes: out.planes, edges: boundAll(edgesOf(g.Lot)),
		})
	}
	return things
}

// setbackSize keeps a setback finite.
func setbackSize(l unit.Length) unit.Length {
	if math.IsNaN(float64(l)) {
		return 0
	}
	return max(-farthest, min(farthest, l))
}

// edgesOf is the sides of a closed outline.
func edgesOf(ring []planar.Vec) []convex {
	points := clean(ring)
	if len(points) == 0 {
		return nil
	}
	if len(points) == 1 {
		return []convex{{points, 0}}
	}
	return stripPieces(append(points, points[0]), 0)
}

func (t *thing) margin(shape Shape, foot solid) Margin {
	if t.obstacle >= 0 {
		near, _ := closestOf(foot, t.solid)
		if len(foot) == 0 || len(t.solid) == 0 {
			near.apart = 0
		}
		return t.marginAt(near.apart, gapBetween(shape, t.shape, foot, t.solid, near))
	}
	apart := t.fromLot(foot)
	near, _ := closestOf(foot, t.edges)
	return t.marginAt(apart, gapBetween(shape, t.shape, foot, t.edges, near))
}

func (t *thing) marginAt(apart unit.Length, gap Gap) Margin {
	gap.Distance, gap.Overlap = max(0, apart), apart < -touching
	return Margin{t.name, t.obstacle, apart - t.setback, gap}
}

// fromLot is how far a footprint stays within the lot; negative where it reaches
// out of it.
func (t *thing) fromLot(foot solid) unit.Length {
	if len(foot) == 0 || len(t.planes) == 0 && len(t.solid) == 0 {
		return 0
	}
	least := farthest * 4
	if near, ok := closestOf(foot, t.solid); ok {
		least = near.apart
	}
	for _, h := range t.planes {
		for _, c := range foot {
			least = min(least, h.apart(c.convex))
		}
	}
	return least
}
