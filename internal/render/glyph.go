package render

import (
	"math"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"undersod/internal/render/raster"
)

// glyphReader reads the outlines of glyphs. It is for one goroutine.
type glyphReader struct{ buffer *sfnt.Buffer }

func newGlyphReader() *glyphReader { return &glyphReader{new(sfnt.Buffer)} }

// contours returns the outline of a glyph in ems right of and down from the
// pen, its curves broken into chords that lie within tolerance of them.
func (g *glyphReader) contours(f *face, glyph uint16, tolerance float64) [][]raster.Point {
	segments, err := f.outlines.LoadGlyph(g.buffer, sfnt.GlyphIndex(glyph), fixed.I(f.perEm), nil)
	if err != nil {
		return nil // no glyph of the two built-in fonts fails to load
	}
	var out [][]raster.Point
	var contour []raster.Point
	ems := func(p fixed.Point26_6) raster.Point {
		unit := float64(64 * f.perEm)
		return raster.Point{X: float64(p.X) / unit, Y: float64(p.Y) / unit}
	}
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if len(contour) > 0 {
				out = append(out, contour)
			}
			contour = []raster.Point{ems(s.Args[0])}
		case sfnt.SegmentOpLineTo:
			contour = append(contour, ems(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			contour = quadratic(contour, ems(s.Args[0]), ems(s.Args[1]), tolerance)
		}
	}
	if len(contour) > 0 {
		out = append(out, contour)
	}
	return out
}

// quadratic appends a quadratic Bézier from the last point of contour. A curve
// of n chords strays from them by at most |p0 - 2 p1 + p2| / (4 n^2).
func quadratic(contour []raster.Point, p1, p2 raster.Point, tolerance float64) []raster.Point {
	p0 := contour[len(contour)-1]
	bend := math.Hypot(p0.X-2*p1.X+p2.X, p0.Y-2*p1.Y+p2.Y)
	n := max(1, int(math.Ceil(math.Sqrt(bend/(4*tolerance)))))
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		a, b, c := (1-t)*(1-t), 2*t*(1-t), t*t
		contour = append(contour, raster.Point{X: a*p0.X + b*p1.X + c*p2.X, Y: a*p0.Y + b*p1.Y + c*p2.Y})
	}
	return contour
}
