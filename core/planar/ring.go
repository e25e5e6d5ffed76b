package planar

import (
	"math"
	"slices"

	"undersod/core/unit"
)

// Ring is a closed area by its corners in order, either way round; the last
// corner leads back to the first.
type Ring []Vec

// Edge returns the outline as a path that ends where it starts.
func (r Ring) Edge() Path {
	if len(r) == 0 {
		return nil
	}
	return append(slices.Clone(Path(r)), r[0])
}

// Contains tells whether v lies inside the area, by the number of edges that a
// ray to the east meets (even-odd rule). A place on the edge may be told either
// way.
func (r Ring) Contains(v Vec) bool {
	inside := false
	for i, a := range r {
		b := r[(i+1)%len(r)]
		if (a.North > v.North) == (b.North > v.North) {
			continue
		}
		if v.East < a.East+(b.East-a.East)*(v.North-a.North)/(b.North-a.North) {
			inside = !inside
		}
	}
	return inside
}

// Distance returns how far a path lies from the area: 0 where any of it lies
// inside or on the edge. It is infinite where either has no point.
func (r Ring) Distance(p Path) unit.Length {
	for _, v := range p {
		if r.Contains(v) {
			return 0
		}
	}
	return r.Edge().DistanceTo(p)
}

// Through returns how much of the straight line from a to b runs through the
// inside of the area, where nearer to the edge than skin counts as beside it: a
// line along a wall, or one that leaves from a corner, does not run through.
func (r Ring) Through(a, b Vec, skin unit.Length) unit.Length {
	step := b.Minus(a)
	cuts := r.cuts(a, step)
	var through unit.Length
	edge := r.Edge()
	for i := 1; i < len(cuts); i++ {
		middle := a.Plus(step.Times((cuts[i-1] + cuts[i]) / 2))
		if r.Contains(middle) && edge.Distance(middle) > skin {
			through += step.Length() * unit.Length(cuts[i]-cuts[i-1])
		}
	}
	return through
}

// cuts returns the shares of the line from a along step at which it meets an
// edge, in order, with 0 and 1.
func (r Ring) cuts(a, step Vec) []float64 {
	cuts := []float64{0, 1}
	for i, c := range r {
		side := r[(i+1)%len(r)].Minus(c)
		cross := float64(step.Cross(side))
		if cross == 0 || math.IsNaN(cross) {
			continue
		}
		t := float64(c.Minus(a).Cross(side)) / cross
		u := float64(c.Minus(a).Cross(step)) / cross
		if t > 0 && t < 1 && u >= -1e-9 && u <= 1+1e-9 {
			cuts = append(cuts, t)
		}
	}
	slices.Sort(cuts)
	return cuts
}
