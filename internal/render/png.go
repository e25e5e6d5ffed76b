package render

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"undersod/core/sheet"
	"undersod/internal/render/raster"
)

const (
	mmPerInch    = 25.4
	lowestDPI    = 10
	highestDPI   = 2400
	mostPixels   = 200_000_000 // 800 MB of memory
	roundingStep = 0.1         // how far a chord may lie from a curve, in pixels
)

// PNG writes the sheet as a picture on white paper at the given dots per inch,
// with smoothed edges. The file tells its dots per inch, so that it prints at
// the sheet's true size. It returns an error that names the shape if the scene
// has a place or size that is no plain number, one that names the limit if the
// picture were too large, and the error of w.
func PNG(w io.Writer, s sheet.Scene, dpi int) error {
	if err := check(s); err != nil {
		return fmt.Errorf("no PNG can be made of the sheet: %w", err)
	}
	if dpi < lowestDPI || dpi > highestDPI {
		return fmt.Errorf("no PNG can be made at %d dots per inch; give a number from %d to %d, as %d", dpi, lowestDPI, highestDPI, PNGDotsPerInch)
	}
	c := newCanvas(s, dpi)
	if c == nil {
		return fmt.Errorf("a PNG of %.0f x %.0f mm at %d dots per inch would have more than %d million pixels; give fewer dots per inch",
			s.Width, s.Height, dpi, mostPixels/1_000_000)
	}
	for _, l := range s.Layers {
		for i, shape := range l.Shapes {
			switch v := shape.(type) {
			case sheet.Path:
				c.path(v)
			case sheet.Text:
				c.text(v)
			case sheet.Image:
				if err := c.image(v); err != nil {
					return fmt.Errorf("no PNG can be made of the sheet: layer %q, shape %d%s: %w", l.Name, i+1, calledSo(v), err)
				}
			}
		}
	}
	return c.write(w, dpi)
}

// canvas is a picture being drawn.
type canvas struct {
	picture *image.RGBA
	perMM   float64 // pixels per millimetre
	glyphs  *glyphReader
	decoded map[*sheet.Picture]image.Image
}

// newCanvas returns blank paper, or nil where it would be too large.
func newCanvas(s sheet.Scene, dpi int) *canvas {
	perMM := float64(dpi) / mmPerInch
	w, h := math.Max(1, math.Round(float64(s.Width)*perMM)), math.Max(1, math.Round(float64(s.Height)*perMM))
	if w*h > mostPixels {
		return nil
	}
	c := &canvas{image.NewRGBA(image.Rect(0, 0, int(w), int(h))), perMM, newGlyphReader(), map[*sheet.Picture]image.Image{}}
	draw.Draw(c.picture, c.picture.Bounds(), image.White, image.Point{}, draw.Src)
	return c
}

func (c *canvas) pixel(p sheet.Pos) raster.Point {
	return raster.Point{X: float64(p.X) * c.perMM, Y: float64(p.Y) * c.perMM}
}

func (c *canvas) path(p sheet.Path) {
	drawn := drawnRuns(p)
	runs := make([][]raster.Point, len(drawn))
	for i, r := range drawn {
		runs[i] = c.run(r)
	}
	if p.Fill != nil {
		c.paint(runs, raster.EvenOdd, *p.Fill)
	}
	if p.Stroke == nil {
		return
	}
	style := raster.Stroke{Half: float64(p.Stroke.Width) * c.perMM / 2, RoundEnds: len(p.Stroke.Dash) == 0, Tolerance: roundingStep}
	for _, d := range dashes(p.Stroke) {
		style.Dashes = append(style.Dashes, float64(d)*c.perMM)
	}
	var outlines [][]raster.Point
	for i, r := range drawn {
		outlines = append(outlines, style.Outlines(runs[i], r.Closed)...)
	}
	c.paint(outlines, raster.NonZero, p.Stroke.Colour)
}

// run returns the corners of a run, arcs broken into chords.
func (c *canvas) run(r sheet.Run) []raster.Point {
	out := []raster.Point{c.pixel(r.Start)}
	at := r.Start
	for _, p := range r.Pieces {
		if p.Arc {
			for _, q := range newArc(at, p).points(roundingStep / c.perMM) {
				out = append(out, c.pixel(q))
			}
		} else {
			out = append(out, c.pixel(p.To))
		}
		at = p.To
	}
	return out
}

// text draws the outlines of the glyphs.
func (c *canvas) text(t sheet.Text) {
	f := faceOf(t.Weight)
	letters := f.letters(t.Text)
	sin, cos := math.Sincos(float64(t.Turn))
	size := float64(t.Size) * c.perMM
	origin := c.pixel(t.At)
	pen := f.start(t, letters) * c.perMM
	var outlines [][]raster.Point
	for _, l := range letters {
		for _, contour := range c.glyphs.contours(f, l.glyph, roundingStep/size) {
			for i, p := range contour {
				x, y := pen+p.X*size, p.Y*size
				contour[i] = raster.Point{X: origin.X + x*cos - y*sin, Y: origin.Y + x*sin + y*cos}
			}
			outlines = append(outlines, contour)
		}
		pen += f.advance(l.glyph) * size
	}
	c.paint(outlines, raster.NonZero, t.Colour)
}

// paint lays a colour over the covered part of each pixel.
func (c *canvas) paint(outlines [][]raster.Point, rule raster.Rule, colour sheet.Colour) {
	size := c.picture.Bounds()
	raster.Cover(outlines, size.Dx(), size.Dy(), rule, func(x, y int, share float64) {
		old := c.picture.RGBAAt(x, y)
		mix := func(under, over uint8) uint8 {
			return uint8(math.Round(float64(under) + share*(float64(over)-float64(under))))
		}
		c.picture.SetRGBA(x, y, color.RGBA{R: mix(old.R, colour.R), G: mix(old.G, colour.G), B: mix(old.B, colour.B), A: 255})
	})
}

// headerEnd is where the first chunk of a PNG file ends: 8 bytes of signature
// and 25 of IHDR (W3C, Portable Network Graphics, 3rd edition, 2025).
const headerEnd = 33

// write encodes the picture, with the pHYs chunk that tells its true size in
// pixels per metre.
func (c *canvas) write(w io.Writer, dpi int) error {
	var b bytes.Buffer
	if err := png.Encode(&b, c.picture); err != nil {
		return err
	}
	perMetre := uint32(math.Round(float64(dpi) / mmPerInch * 1000))
	chunk := []byte("pHYs")
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = append(chunk, 1) // the metre
	out := append([]byte{}, b.Bytes()[:headerEnd]...)
	out = binary.BigEndian.AppendUint32(out, uint32(len(chunk)-4))
	out = append(out, chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	out = append(out, b.Bytes()[headerEnd:]...)
	_, err := w.Write(out)
	return err
}
