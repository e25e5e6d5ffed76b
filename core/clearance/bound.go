package clearance

import (
	"math"

	"undersod/core/planar"
	"undersod/core/unit"
)

// combined is how many of the smallest margins are combined in pairs.
const combined = 10

// highest bounds the smallest margin over a box about the place of the view, half
// of its sides given: no margin rises faster than the place moves, and none above
// its tangent by more than it bends. So does any mean of two of them, and where
// two margins rise against each other, as between two walls, there is a mean that
// hardly rises at all.
func (v view) highest(half planar.Vec) unit.Length {
	across := length(half)
	best := v.least + across
	var slopes [combined]slope
	n := 0
	for _, r := range v.readings {
		bend := r.bend(across)
		if r.margin+bend > best {
			continue
		}
		t := slope{r.margin + bend, r.uphill}
		best = min(best, t.rise(half))
		n = insert(&slopes, n, t)
	}
	for i := range n {
		for k := range i {
			best = min(best, between(slopes[i], slopes[k], half))
		}
	}
	return best
}

// slope is a plane above a margin: its height in the middle of the box, and
// which way it rises.
type slope struct {
	height unit.Length
	uphill planar.Vec
}

// rise is the highest that a slope reaches in a box.
func (t slope) rise(half planar.Vec) unit.Length {
	return t.height + unit.Length(math.Abs(float64(t.uphill.East*half.East))+math.Abs(float64(t.uphill.North*half.North)))
}

// insert keeps the lowest slopes in order.
func insert(slopes *[combined]slope, n int, t slope) int {
	i := min(n, combined-1)
	if n == combined && slopes[i].height <= t.height {
		return n
	}
	for ; i > 0 && slopes[i-1].height > t.height; i-- {
		slopes[i] = slopes[i-1]
	}
	slopes[i] = t
	return min(n+1, combined)
}

// between is the least bound that a mean of two slopes gives: the rise of a mean
// is convex in the share, with its corners where the mean is level in one
// direction.
func between(a, b slope, half planar.Vec) unit.Length {
	best := unit.Length(math.Inf(1))
	for _, way := range [2][2]unit.Length{{a.uphill.East, b.uphill.East}, {a.uphill.North, b.uphill.North}} {
		share := float64(way[1] / (way[1] - way[0]))
		if !(share > 0 && share < 1) {
			continue
		}
		mean := slope{
			a.height*unit.Length(share) + b.height*unit.Length(1-share),
			a.uphill.Times(share).Plus(b.uphill.Times(1 - share)),
		}
		best = min(best, mean.rise(half))
	}
	return best
}
