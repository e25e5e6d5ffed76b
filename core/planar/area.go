package planar

import "undersod/core/unit"

// Area is what the ring encloses, by the shoelace formula: half the sum of the
// cross products of neighbouring corners, whichever way round.
func (r Ring) Area() unit.Area {
	var twice unit.Area
	for i, v := range r {
		twice += v.Minus(r[0]).Cross(r[(i+1)%len(r)].Minus(r[0]))
	}
	if twice < 0 {
		twice = -twice
	}
	return twice / 2
}

// Centroid is the centre of the area, Σ (a+b)(a×b) / 3 Σ (a×b) over its edges
// from its first corner (Bourke, Calculating the area and centroid of a polygon,
// 1988, from memory); the mean of its corners where it has no area.
func (r Ring) Centroid() Vec {
	var mean, sum Vec
	twice := 0.0
	for i, v := range r {
		mean = mean.Plus(v.Times(1 / float64(len(r))))
		a, b := v.Minus(r[0]), r[(i+1)%len(r)].Minus(r[0])
		cross := float64(a.Cross(b))
		twice += cross
		sum = sum.Plus(a.Plus(b).Times(cross))
	}
	if twice == 0 || len(r) < 3 {
		return mean
	}
	return r[0].Plus(sum.Times(1 / (3 * twice)))
}
