package render

import (
	"math"
	"slices"
)

// strokeStyle is how a line is drawn in a raster; lengths are in pixels.
type strokeStyle struct {
	half      float64 // half the width
	roundEnds bool
	dashes    []float64 // an even count; none for a full line
	tolerance float64   // how far a chord may lie from a round
}

// stroked returns the outlines, for the non-zero rule, of a line along points.
func stroked(points []pixel, closed bool, s strokeStyle) [][]pixel {
	points = withoutRepeats(points, closed)
	if len(s.dashes) == 0 {
		return s.outline(points, closed)
	}
	if closed && len(points) > 1 {
		points = append(slices.Clone(points), points[0])
	}
	var out [][]pixel
	for _, dash := range dashed(points, s.dashes) {
		out = append(out, s.outline(dash, false)...)
	}
	return out
}

// withoutRepeats returns points without those that coincide with the one
// before, and for a closed line without an end that coincides with the start.
func withoutRepeats(points []pixel, closed bool) []pixel {
	near := func(a, b pixel) bool { return math.Hypot(a.x-b.x, a.y-b.y) < 1e-6 }
	points = slices.CompactFunc(slices.Clone(points), near)
	for closed && len(points) > 1 && near(points[0], points[len(points)-1]) {
		points = points[:len(points)-1]
	}
	return points
}

// dashed cuts a line into its dashes.
func dashed(points []pixel, pattern []float64) [][]pixel {
	var out [][]pixel
	step, left := 0, pattern[0]
	dash := []pixel{points[0]}
	flush := func() {
		if step%2 == 0 && len(dash) > 1 {
			out = append(out, dash)
		}
	}
	for i, q := range points[1:] {
		p := points[i]
		length := math.Hypot(q.x-p.x, q.y-p.y)
		ahead := pixel{(q.x - p.x) / length, (q.y - p.y) / length}
		gone := 0.0
		for length-gone > left {
			gone += left
			cut := p.plus(ahead, gone)
			dash = append(dash, cut)
			flush()
			step = (step + 1) % len(pattern)
			left = pattern[step]
			dash = []pixel{cut}
		}
		left -= length - gone
		dash = append(dash, q)
	}
	flush()
	return out
}

// outline returns the outlines of a full line: one around an open line, two
// around a closed one.
func (s strokeStyle) outline(points []pixel, closed bool) [][]pixel {
	if len(points) == 0 {
		return nil
	}
	if len(points) == 1 {
		if !s.roundEnds {
			return nil
		}
		return [][]pixel{s.round(nil, points[0], 0, 2*math.Pi)}
	}
	back := slices.Clone(points)
	slices.Reverse(back)
	left, right := s.side(points, closed), s.side(back, closed)
	if closed {
		return [][]pixel{left, right}
	}
	return [][]pixel{append(s.end(left, points), s.end(right, back)...)}
}

// side returns the line that runs at the left of points, at half the width.
// At each bend it goes round on the outside, and on the inside through the
// bend itself, so that it is made of strips that all turn the same way.
func (s strokeStyle) side(points []pixel, closed bool) []pixel {
	n := len(points)
	pieces := n - 1
	if closed {
		pieces = n
	}
	var out []pixel
	for i := range pieces {
		p, q := points[i], points[(i+1)%n]
		left := leftOf(p, q)
		out = append(out, p.plus(left, s.half), q.plus(left, s.half))
		if i < pieces-1 || closed {
			out = s.join(out, q, left, leftOf(q, points[(i+2)%n]))
		}
	}
	return out
}

// leftOf returns the direction left of the way from p to q, one pixel long.
func leftOf(p, q pixel) pixel {
	l := math.Hypot(q.x-p.x, q.y-p.y)
	return pixel{(q.y - p.y) / l, -(q.x - p.x) / l}
}

// join leads around a bend at q from one left side to the next.
func (s strokeStyle) join(out []pixel, q, from, to pixel) []pixel {
	turn := math.Atan2(from.x*to.y-from.y*to.x, from.x*to.x+from.y*to.y)
	if turn < 0 {
		return append(out, q)
	}
	return s.round(out, q, math.Atan2(from.y, from.x), turn)
}

// end leads around the end of a line to its other side.
func (s strokeStyle) end(side, points []pixel) []pixel {
	if !s.roundEnds {
		return side
	}
	p, q := points[len(points)-2], points[len(points)-1]
	left := leftOf(p, q)
	return s.round(side, q, math.Atan2(left.y, left.x), math.Pi)
}

// round appends the points of an arc about centre, its ends left out.
func (s strokeStyle) round(out []pixel, centre pixel, from, sweep float64) []pixel {
	n := 2
	if s.half > s.tolerance {
		n = max(n, int(math.Ceil(sweep/(2*math.Acos(1-s.tolerance/s.half)))))
	}
	for i := 1; i < n; i++ {
		sin, cos := math.Sincos(from + sweep*float64(i)/float64(n))
		out = append(out, centre.plus(pixel{cos, sin}, s.half))
	}
	return out
}
