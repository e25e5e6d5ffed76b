// Package raster finds how much of each pixel a filled outline covers, and the
// outlines of stroked lines. All its lengths are in pixels, right of and down
// from the corner of the raster.
package raster

import (
	"math"
	"slices"
)

// Point is a place in a raster, in pixels right of and down from its corner.
type Point struct{ X, Y float64 }

// plus returns the place reached from p by d times the step v.
func (p Point) plus(v Point, d float64) Point { return Point{p.X + d*v.X, p.Y + d*v.Y} }

// Rule says what counts as inside where outlines overlap.
type Rule uint8

// The rules: inside is what an outline winds around at all, or an odd number
// of times.
const (
	NonZero Rule = iota
	EvenOdd
)

// coverage finds how much of each pixel an outline covers. It keeps, for each
// pixel, by how much the signed area to its right changes there, so that the
// running sum along a row is the winding number averaged over the pixel: exact
// for one outline, and free of seams along shared edges.
type coverage struct {
	left, top, width, height int // the window of the raster that is kept
	change                   []float64
}

// newCoverage returns an empty coverage of the part of a raster of the given
// size in which the outlines lie.
func newCoverage(outlines [][]Point, width, height int) *coverage {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, o := range outlines {
		for _, p := range o {
			x0, x1 = min(x0, p.X), max(x1, p.X)
			y0, y1 = min(y0, p.Y), max(y1, p.Y)
		}
	}
	c := &coverage{}
	var right, bottom int
	c.left, right = window(x0, x1, width)
	c.top, bottom = window(y0, y1, height)
	c.width, c.height = right-c.left, bottom-c.top
	if c.width <= 0 || c.height <= 0 {
		c.width, c.height = 0, 0
		return c
	}
	c.change = make([]float64, (c.width+2)*c.height)
	for _, o := range outlines {
		for i, p := range o {
			c.line(p, o[(i+1)%len(o)])
		}
	}
	return c
}

// window returns the pixels that the range from lo to hi touches, within a
// raster of the given size.
func window(lo, hi float64, size int) (from, to int) {
	if !(lo <= hi) || hi < 0 || lo > float64(size) {
		return 0, 0
	}
	return int(max(math.Floor(lo), 0)), int(min(math.Ceil(hi), float64(size)))
}

// line adds one edge of an outline, cut where it leaves the window: what is
// left of it still counts for all pixels of its rows, what is right of it for
// none.
func (c *coverage) line(p, q Point) {
	p, q = Point{p.X - float64(c.left), p.Y - float64(c.top)}, Point{q.X - float64(c.left), q.Y - float64(c.top)}
	sign := 1.0
	if p.Y > q.Y {
		p, q, sign = q, p, -1
	}
	if p.Y == q.Y || q.Y <= 0 || p.Y >= float64(c.height) {
		return
	}
	slope := (q.X - p.X) / (q.Y - p.Y)
	if p.Y < 0 {
		p = Point{p.X - p.Y*slope, 0}
	}
	if h := float64(c.height); q.Y > h {
		q = Point{p.X + (h-p.Y)*slope, h}
	}
	cuts := append(make([]float64, 0, 4), p.Y, q.Y)
	for _, border := range []float64{0, float64(c.width)} {
		if (p.X < border) != (q.X < border) {
			cuts = append(cuts, min(max(p.Y+(border-p.X)/slope, p.Y), q.Y))
		}
	}
	slices.Sort(cuts)
	at := func(y float64) Point { return Point{p.X + (y-p.Y)*slope, y} }
	for i, y := range cuts[1:] {
		c.inside(at(cuts[i]), at(y), sign)
	}
}

// inside adds an edge that runs downward within the rows of the window; its
// columns are held to the window's borders.
func (c *coverage) inside(p, q Point, sign float64) {
	if p.Y >= q.Y {
		return
	}
	w := float64(c.width)
	p.X, q.X = min(max(p.X, 0), w), min(max(q.X, 0), w)
	slope := (q.X - p.X) / (q.Y - p.Y)
	x := p.X
	for row := int(p.Y); row < c.height && float64(row) < q.Y; row++ {
		dy := min(float64(row+1), q.Y) - max(float64(row), p.Y)
		next := min(max(x+slope*dy, 0), w)
		c.span(row, min(x, next), max(x, next), sign*dy)
		x = next
	}
}

// span adds an edge that crosses one row from x0 to x1 and reaches over the
// share d of its height: each column takes the part of the edge within it, of
// which it is covered right of the edge's middle.
func (c *coverage) span(row int, x0, x1, d float64) {
	cells := c.change[row*(c.width+2):][:c.width+2]
	first := int(x0)
	if x1 <= float64(first+1) {
		part := d * ((x0+x1)/2 - float64(first))
		cells[first] += d - part
		cells[first+1] += part
		return
	}
	perColumn := d / (x1 - x0)
	for col := first; float64(col) < x1; col++ {
		a, b := max(x0, float64(col)), min(x1, float64(col+1))
		share := perColumn * (b - a)
		part := share * ((a+b)/2 - float64(col))
		cells[col] += share - part
		cells[col+1] += part
	}
}

// Cover calls visit for every pixel of a raster of the given size that the
// outlines cover, with the covered share up to 1. Pixels covered by less than
// 1/512 are left out.
func Cover(outlines [][]Point, width, height int, rule Rule, visit func(x, y int, share float64)) {
	newCoverage(outlines, width, height).each(rule, visit)
}

// each calls visit for every pixel of the raster that is covered, with the
// covered share up to 1.
func (c *coverage) each(rule Rule, visit func(x, y int, share float64)) {
	for row := range c.height {
		cells := c.change[row*(c.width+2):][:c.width]
		sum := 0.0
		for col, d := range cells {
			sum += d
			if share := rule.share(sum); share > 1.0/512 {
				visit(c.left+col, c.top+row, share)
			}
		}
	}
}

// share turns an averaged winding number into a covered share.
func (r Rule) share(winding float64) float64 {
	winding = math.Abs(winding)
	if r == EvenOdd {
		winding = math.Mod(winding, 2)
		if winding > 1 {
			winding = 2 - winding
		}
	}
	return min(winding, 1)
}
