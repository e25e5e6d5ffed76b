package raster

import (
	"math"
	"slices"
)

// Stroke is how a line is drawn in a raster; lengths are in pixels.
type Stroke struct {
	Half      float64 // half the width
	RoundEnds bool
	Dashes    []float64 // an even count; none for a full line
	Tolerance float64   // how far a chord may lie from a round
}

// Outlines returns the outlines, for the NonZero rule, of a line along points.
func (s Stroke) Outlines(points []Point, closed bool) [][]Point {
	points = withoutRepeats(points, closed)
	if len(s.Dashes) == 0 {
		return s.outline(points, closed)
	}
	if closed && len(points) > 1 {
		points = append(slices.Clone(points), points[0])
	}
	var out [][]Point
	for _, dash := range dashed(points, s.Dashes) {
		out = append(out, s.outline(dash, false)...)
	}
	return out
}

// withoutRepeats returns points without those that coincide with the one
// before, and for a closed line without an end that coincides with the start.
func withoutRepeats(points []Point, closed bool) []Point {
	near := func(a, b Point) bool { return math.Hypot(a.X-b.X, a.Y-b.Y) < 1e-6 }
	points = slices.CompactFunc(slices.Clone(points), near)
	for closed && len(points) > 1 && near(points[0], points[len(points)-1]) {
		points = points[:len(points)-1]
	}
	return points
}

// dashed cuts a line into its dashes.
func dashed(points []Point, pattern []float64) [][]Point {
	var out [][]Point
	step, left := 0, pattern[0]
	dash := []Point{points[0]}
	flush := func() {
		if step%2 == 0 && len(dash) > 1 {
			out = append(out, dash)
		}
	}
	for i, q := range points[1:] {
		p := points[i]
		length := math.Hypot(q.X-p.X, q.Y-p.Y)
		ahead := Point{(q.X - p.X) / length, (q.Y - p.Y) / length}
		gone := 0.0
		for length-gone > left {
			gone += left
			cut := p.plus(ahead, gone)
			dash = append(dash, cut)
			flush()
			step = (step + 1) % len(pattern)
			left = pattern[step]
			dash = []Point{cut}
		}
		left -= length - gone
		dash = append(dash, q)
	}
	flush()
	return out
}

// outline returns the outlines of a full line: one around an open line, two
// around a closed one.
func (s Stroke) outline(points []Point, closed bool) [][]Point {
	if len(points) == 0 {
		return nil
	}
	if len(points) == 1 {
		if !s.RoundEnds {
			return nil
		}
		return [][]Point{s.round(nil, points[0], 0, 2*math.Pi)}
	}
	back := slices.Clone(points)
	slices.Reverse(back)
	left, right := s.side(points, closed), s.side(back, closed)
	if closed {
		return [][]Point{left, right}
	}
	return [][]Point{append(s.end(left, points), s.end(right, back)...)}
}

// side returns the line that runs at the left of points, at half the width.
// At each bend it goes round on the outside, and on the inside through the
// bend itself, so that it is made of strips that all turn the same way.
func (s Stroke) side(points []Point, closed bool) []Point {
	n := len(points)
	pieces := n - 1
	if closed {
		pieces = n
	}
	var out []Point
	for i := range pieces {
		p, q := points[i], points[(i+1)%n]
		left := leftOf(p, q)
		out = append(out, p.plus(left, s.Half), q.plus(left, s.Half))
		if i < pieces-1 || closed {
			out = s.join(out, q, left, leftOf(q, points[(i+2)%n]))
		}
	}
	return out
}

// leftOf returns the direction left of the way from p to q, one pixel long.
func leftOf(p, q Point) Point {
	l := math.Hypot(q.X-p.X, q.Y-p.Y)
	return Point{(q.Y - p.Y) / l, -(q.X - p.X) / l}
}

// join leads around a bend at q from one left side to the next.
func (s Stroke) join(out []Point, q, from, to Point) []Point {
	turn := math.Atan2(from.X*to.Y-from.Y*to.X, from.X*to.X+from.Y*to.Y)
	if turn < 0 {
		return append(out, q)
	}
	return s.round(out, q, math.Atan2(from.Y, from.X), turn)
}

// end leads around the end of a line to its other side.
func (s Stroke) end(side, points []Point) []Point {
	if !s.RoundEnds {
		return side
	}
	p, q := points[len(points)-2], points[len(points)-1]
	left := leftOf(p, q)
	return s.round(side, q, math.Atan2(left.Y, left.X), math.Pi)
}

// round appends the points of an arc about centre, its ends left out.
func (s Stroke) round(out []Point, centre Point, from, sweep float64) []Point {
	n := 2
	if s.Half > s.Tolerance {
		n = max(n, int(math.Ceil(sweep/(2*math.Acos(1-s.Tolerance/s.Half)))))
	}
	for i := 1; i < n; i++ {
		sin, cos := math.Sincos(from + sweep*float64(i)/float64(n))
		out = append(out, centre.plus(Point{cos, sin}, s.Half))
	}
	return out
}
