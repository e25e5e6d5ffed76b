package render

import (
	"math"
	"slices"
)

// pixel is a place in a raster, in pixels right of and down from its corner.
type pixel struct{ x, y float64 }

// plus returns the place reached from p by d times the step v.
func (p pixel) plus(v pixel, d float64) pixel { return pixel{p.x + d*v.x, p.y + d*v.y} }

// fillRule says what counts as inside where outlines overlap.
type fillRule uint8

const (
	nonZero fillRule = iota
	evenOdd
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
func newCoverage(outlines [][]pixel, width, height int) *coverage {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, o := range outlines {
		for _, p := range o {
			x0, x1 = min(x0, p.x), max(x1, p.x)
			y0, y1 = min(y0, p.y), max(y1, p.y)
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
func (c *coverage) line(p, q pixel) {
	p, q = pixel{p.x - float64(c.left), p.y - float64(c.top)}, pixel{q.x - float64(c.left), q.y - float64(c.top)}
	sign := 1.0
	if p.y > q.y {
		p, q, sign = q, p, -1
	}
	if p.y == q.y || q.y <= 0 || p.y >= float64(c.height) {
		return
	}
	slope := (q.x - p.x) / (q.y - p.y)
	if p.y < 0 {
		p = pixel{p.x - p.y*slope, 0}
	}
	if h := float64(c.height); q.y > h {
		q = pixel{p.x + (h-p.y)*slope, h}
	}
	cuts := append(make([]float64, 0, 4), p.y, q.y)
	for _, border := range []float64{0, float64(c.width)} {
		if (p.x < border) != (q.x < border) {
			cuts = append(cuts, min(max(p.y+(border-p.x)/slope, p.y), q.y))
		}
	}
	slices.Sort(cuts)
	at := func(y float64) pixel { return pixel{p.x + (y-p.y)*slope, y} }
	for i, y := range cuts[1:] {
		c.inside(at(cuts[i]), at(y), sign)
	}
}

// inside adds an edge that runs downward within the rows of the window; its
// columns are held to the window's borders.
func (c *coverage) inside(p, q pixel, sign float64) {
	if p.y >= q.y {
		return
	}
	w := float64(c.width)
	p.x, q.x = min(max(p.x, 0), w), min(max(q.x, 0), w)
	slope := (q.x - p.x) / (q.y - p.y)
	x := p.x
	for row := int(p.y); row < c.height && float64(row) < q.y; row++ {
		dy := min(float64(row+1), q.y) - max(float64(row), p.y)
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

// each calls visit for every pixel of the raster that is covered, with the
// covered share up to 1.
func (c *coverage) each(rule fillRule, visit func(x, y int, share float64)) {
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
func (r fillRule) share(winding float64) float64 {
	winding = math.Abs(winding)
	if r == evenOdd {
		winding = math.Mod(winding, 2)
		if winding > 1 {
			winding = 2 - winding
		}
	}
	return min(winding, 1)
}
