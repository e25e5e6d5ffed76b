package look

import (
	"math"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// z95 is the factor from a standard deviation to the limit that a normal
// number stays within with 95 %, the 0.975 quantile of the normal distribution.
const z95 = 1.959963984540054

// route is a line's path as it is travelled from one of its points, as far as
// it is located without a gap.
type route struct {
	at      planar.Path
	spread  []planar.Spread
	whole   bool        // located up to its last point
	missing site.Name   // the first point that is not located
	length  unit.Length // of the located part

	// offset is the station of the first point from the line's start, and back
	// tells that stations fall along the route.
	offset   unit.Length
	offsetSD unit.Length
	counted  bool // whether offset is known
	back     bool
}

// travel returns the route along path from the point at index from, toward its
// end or, with back, toward its start.
func (g *ground) travel(line site.Name, path []site.Name, from int, back bool) route {
	names := path[from:]
	before := path[:from+1]
	if back {
		names = reversed(before)
	}
	r := g.walk(names)
	r.back = back
	start := g.walk(before)
	r.offset, r.counted = start.length, start.whole
	r.offsetSD = start.lengthSD()
	if from == len(path)-1 {
		r.offsetSD = g.lengthSD(line, start)
	}
	return r
}

func reversed(names []site.Name) []site.Name {
	out := make([]site.Name, len(names))
	for i, n := range names {
		out[len(names)-1-i] = n
	}
	return out
}

// walk follows names as far as they are located.
func (g *ground) walk(names []site.Name) route {
	r := route{whole: true, counted: true}
	for _, n := range names {
		p, ok := g.points[n]
		if !ok {
			r.whole, r.missing = false, n
			break
		}
		r.at = append(r.at, p.At)
		r.spread = append(r.spread, p.Sigma.Spread())
	}
	r.length = r.at.Length()
	return r
}

// lengthSD is the standard deviation of a line's length as the plan gives it,
// or where it does not a bound.
func (g *ground) lengthSD(line site.Name, r route) unit.Length {
	for _, f := range g.plan.Footages {
		if f.Line == line && f.Known {
			return f.SD
		}
	}
	return r.lengthSD()
}

// lengthSD bounds the standard deviation of the route's length by the sum over
// its points of that of the length's change with each, since how the points
// hang together is not told.
func (r route) lengthSD() unit.Length {
	var sum unit.Length
	for k := range r.at {
		turn := r.leg(k - 1).Minus(r.leg(k))
		l := float64(turn.Length())
		if u, ok := turn.Unit(); ok {
			sum += r.spread[k].Along(u) * unit.Length(l)
		}
	}
	return sum
}

// leg is the direction of leg k, one metre long; zero where there is none.
func (r route) leg(k int) planar.Vec {
	if k < 0 || k+1 >= len(r.at) {
		return planar.Vec{}
	}
	u, _ := r.at[k+1].Minus(r.at[k]).Unit()
	return u
}

// spot is the place d along the route, where d has the standard deviation sd.
func (r route) spot(d, sd unit.Length) Spot {
	if d < 0 && d >= -z95*sd { // at the entry, as well as can be told
		d = 0
	}
	s := Spot{StationSD: unit.Length(math.Hypot(float64(sd), float64(r.offsetSD)))}
	s.Station = r.offset + d
	if r.back {
		s.Station = r.offset - d
	}
	s.Counted = r.counted && whole(d)
	switch {
	case len(r.at) == 0 || !whole(d) || !whole(sd) || d < 0 || d > r.length && !r.whole:
		return s
	case d > r.length:
		s.Beyond = d - r.length
		s.Station = r.offset + r.length
		if r.back {
			s.Station = 0
		}
	}
	at, leg := r.at.At(d)
	s.At, s.Known = at, true
	s.Radius = adjust.Radius95(r.spreadAt(leg, min(d, r.length), sd))
	return s
}

// spreadAt is the covariance of the place d along the route on leg k. The place
// is a + (d-L)·u: a the point where the leg starts, L the way to it, u the leg's
// direction. To first order a step of the point j before the leg moves it along
// u by the step's part along u(j)-u(j-1), for the first point along u(0); one of
// the leg's ends moves it across by the share of the way from the other end.
// How the points' errors hang together the plan does not tell, so they are
// bounded for the worst case; the footage's own error is independent of them.
func (r route) spreadAt(k int, d, sd unit.Length) planar.Spread {
	u := r.leg(k)
	across := u.Right()
	from, leg := r.at[:k+1].Length(), unit.Length(0)
	if k+1 < len(r.at) {
		leg = r.at[k+1].Minus(r.at[k]).Length()
	}
	share := 0.0
	if leg > 0 {
		share = math.Min(math.Max(float64((d-from)/leg), 0), 1)
	}
	var steps []planar.Spread
	for j := 0; j <= k; j++ {
		m := planar.Outer(u, r.leg(j).Minus(r.leg(j-1)))
		if j == k {
			m = m.Plus(planar.Outer(across, across).Times(1 - share))
		}
		steps = append(steps, m.Of(r.spread[j]))
	}
	if k+1 < len(r.at) {
		steps = append(steps, planar.Outer(across, across).Times(share).Of(r.spread[k+1]))
	}
	if (u == planar.Vec{}) { // one place only
		steps = []planar.Spread{r.spread[k]}
	}
	return planar.Bound(steps...).Plus(planar.SpreadAlong(u, sd))
}

// piece is the route between two places on it, bends and all.
func (r route) piece(from, to unit.Length) planar.Path { return r.at.Between(from, to) }
