package clearance

import (
	"slices"

	"undersod/core/planar"
	"undersod/core/unit"
)

// halfPlane is all that lies at least offset along its normal.
type halfPlane struct {
	normal planar.Vec
	offset unit.Length
}

// apart is how far a convex piece lies from a half-plane; negative where it
// reaches in, and then how far.
func (h halfPlane) apart(c convex) unit.Length {
	most := -farthest * 4
	for _, v := range c.corners {
		most = max(most, unit.Length(v.Dot(h.normal)))
	}
	return h.offset - most - c.radius
}

// outside is all that is no part of a lot: half-planes beyond the sides of its
// convex hull, and the pockets between the hull and the lot.
type outside struct {
	planes  []halfPlane
	pockets solid
}

// outsideOf cuts the outside of a lot into convex pieces. Their distances from a
// thing within the lot are those from the lot's edges. Where it is seamless
// further pieces lie over the seams (see solid.seamless).
func outsideOf(lot []planar.Vec, seamless bool) outside {
	ring := outline(clean(lot))
	hull := hullOf(ring)
	var out outside
	var pockets, lids []convex
	for k, i := range hull {
		j := hull[(k+1)%len(hull)]
		along, ok := ring[j].Minus(ring[i]).Unit()
		if !ok {
			continue
		}
		normal := along.Right()
		out.planes = append(out.planes, halfPlane{normal, unit.Length(ring[i].Dot(normal))})
		between := stretch(ring, i, j)
		if len(between) < 3 || len(outline(between)) < 3 {
			continue
		}
		cut := areaPieces(between)
		pockets = append(pockets, cut...)
		if seamless {
			lids = append(lids, lidSeams(cut, ring[i], ring[j], normal)...)
		}
	}
	if seamless {
		lids = append(lids, seams(pockets)...)
	}
	out.pockets = boundAll(append(pockets, lids...))
	return out
}

// stretch lists the corners of a ring from the i-th on to the j-th.
func stretch(ring []planar.Vec, i, j int) []planar.Vec {
	out := []planar.Vec{ring[i]}
	for k := i; k != j; {
		k = (k + 1) % len(ring)
		out = append(out, ring[k])
	}
	return out
}

// lidSeams are convex pieces over the hull's side from a to b, at which a pocket
// and the half-plane beyond it meet.
func lidSeams(pocket []convex, a, b, normal planar.Vec) []convex {
	beyond := a.Plus(b).Times(0.5).Plus(normal.Times(float64(length(b.Minus(a))) / 2))
	var out []convex
	for _, c := range pocket {
		n := len(c.corners)
		for i := 0; n > 2 && i < n; i++ {
			if c.corners[i] == a && c.corners[(i+1)%n] == b {
				out = append(out, kite(a, b, inward(c, a, b), beyond))
			}
		}
	}
	return out
}

// hullOf lists which corners of a ring make its convex hull, in the ring's order,
// by Andrew's monotone chain ("Another efficient algorithm for convex hulls in
// two dimensions", Information Processing Letters 9, 1979, from memory).
func hullOf(ring []planar.Vec) []int {
	order := make([]int, len(ring))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return comparePlaces(ring[i], ring[j]) })
	lower := halfHull(ring, order)
	slices.Reverse(order)
	hull := append(lower, halfHull(ring, order)...)
	slices.Sort(hull)
	return slices.Compact(hull)
}

// halfHull is one side of a hull, without its last corner.
func halfHull(ring []planar.Vec, order []int) []int {
	var out []int
	for _, k := range order {
		for n := len(out); n > 1; n = len(out) {
			a, b := ring[out[n-2]], ring[out[n-1]]
			if b.Minus(a).Cross(ring[k].Minus(a)) > 0 {
				break
			}
			out = out[:n-1]
		}
		out = append(out, k)
	}
	return out[:max(0, len(out)-1)]
}
