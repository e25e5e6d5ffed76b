package render_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/png"
	"testing"

	"undersod/core/sheet"
	"undersod/internal/render"
)

const testDPI = 254 // ten pixels to the millimetre

func pngOf(t testing.TB, s sheet.Scene, dpi int) (image.Image, []byte) {
	t.Helper()
	var b bytes.Buffer
	if err := render.PNG(&b, s, dpi); err != nil {
		t.Fatal(err)
	}
	picture, err := png.Decode(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	return picture, b.Bytes()
}

// colourAt returns the colour of the pixel that holds a place on paper.
func colourAt(p image.Image, x, y float64) sheet.Colour {
	c := color.RGBAModel.Convert(p.At(int(x*10), int(y*10))).(color.RGBA)
	return sheet.Colour{R: c.R, G: c.G, B: c.B}
}

func TestPNGHasEverythingAtItsPlace(t *testing.T) {
	white := sheet.Colour{R: 255, G: 255, B: 255}
	red := sheet.Colour{R: 200}
	line := func(dash []sheet.MM, runs ...sheet.Run) sheet.Path {
		return sheet.Path{Runs: runs, Stroke: &sheet.Stroke{Width: 1, Colour: red, Dash: dash}}
	}
	to := func(x, y sheet.MM) sheet.Piece { return sheet.Piece{To: sheet.Pos{X: x, Y: y}} }
	s := sheet.Scene{Width: 60, Height: 40, Layers: []sheet.Layer{{Shapes: []sheet.Shape{
		sheet.Path{Fill: &grass, Runs: []sheet.Run{box(5, 5, 20, 10), box(10, 8, 5, 4)}},
		line([]sheet.MM{2, 3}, sheet.Run{Start: sheet.Pos{X: 30, Y: 5}, Pieces: []sheet.Piece{to(50, 5)}}),
		// Half circles about (40, 20) and (40, 32): the first over the top, the
		// second below.
		line(nil, sheet.Run{Start: sheet.Pos{X: 35, Y: 20}, Pieces: []sheet.Piece{
			{To: sheet.Pos{X: 45, Y: 20}, Arc: true, Centre: sheet.Pos{X: 40, Y: 20}, Clockwise: true}}}),
		line(nil, sheet.Run{Start: sheet.Pos{X: 35, Y: 32}, Pieces: []sheet.Piece{
			{To: sheet.Pos{X: 45, Y: 32}, Arc: true, Centre: sheet.Pos{X: 40, Y: 32}}}}),
	}}}}
	p, _ := pngOf(t, s, testDPI)
	if b := p.Bounds(); b.Dx() != 600 || b.Dy() != 400 {
		t.Fatalf("the picture has %d x %d pixels, want 600 x 400", b.Dx(), b.Dy())
	}
	for _, c := range []struct {
		x, y float64
		want sheet.Colour
		what string
	}{
		{7, 7, grass, "the fill"},
		{4.85, 7, white, "left of the fill"}, {5.05, 7, grass, "the left edge of the fill"},
		{24.95, 7, grass, "the right edge of the fill"}, {25.05, 7, white, "right of the fill"},
		{12, 10, white, "the hole in the fill"},
		{31, 5, red, "the first dash"}, {33.5, 5, white, "the first gap"}, {36, 5, red, "the second dash"},
		{31, 4.55, red, "the upper edge of the line"}, {31, 4.45, white, "above the line"},
		{40, 15, red, "the top of the clockwise arc"}, {40, 25, white, "below the clockwise arc"},
		{40, 37, red, "the bottom of the other arc"}, {40, 27, white, "above the other arc"},
	} {
		if got := colourAt(p, c.x, c.y); got != c.want {
			t.Errorf("%s at %v, %v mm is %v, want %v", c.what, c.x, c.y, got, c.want)
		}
	}
}

// TestPNGTextIsAsWideAsMeasured looks for the ink of a text between bars whose
// glyphs reach close to their advance.
func TestPNGTextIsAsWideAsMeasured(t *testing.T) {
	const text = "HHHHHHHHHHHHHHHH"
	s := sheet.Scene{Width: 90, Height: 30, Layers: []sheet.Layer{{Shapes: []sheet.Shape{
		sheet.Text{At: sheet.Pos{X: 80, Y: 20}, Text: text, Size: 5, Align: sheet.AlignRight},
	}}}}
	p, _ := pngOf(t, s, testDPI)
	left, right, top, bottom := 900, 0, 300, 0
	for y := range 300 {
		for x := range 900 {
			if colourAt(p, float64(x)/10+0.01, float64(y)/10+0.01).G < 128 {
				left, right, top, bottom = min(left, x), max(right, x), min(top, y), max(bottom, y)
			}
		}
	}
	width := float64(render.Metrics().Advance(text, sheet.Regular, 5)) * 10
	bearing := 5.0 // tenths of a millimetre that an H of this size keeps free on either side, at most
	if start := 800 - width; float64(left) < start-1 || float64(left) > start+bearing || right > 800 || float64(right) < 800-bearing {
		t.Errorf("the ink reaches from %d to %d tenths of a millimetre, the measured text from %.1f to 800", left, right, 800-width)
	}
	if bottom < 198 || bottom > 200 || top < 200-50 {
		t.Errorf("the ink reaches from %d down to %d tenths of a millimetre; the baseline is at 200", top, bottom)
	}
}

func TestPNGTellsItsTrueSize(t *testing.T) {
	_, data := pngOf(t, sheet.Scene{Width: 25.4, Height: 25.4}, 150)
	i := bytes.Index(data, []byte("pHYs"))
	if i < 0 {
		t.Fatal("there is no pHYs chunk")
	}
	// 150 dots to 0.0254 m are 5905.5 to the metre.
	if x, y := binary.BigEndian.Uint32(data[i+4:]), binary.BigEndian.Uint32(data[i+8:]); x != 5906 || y != 5906 || data[i+12] != 1 {
		t.Errorf("the picture has %d x %d pixels to the metre, want 5906", x, y)
	}
}

func TestPNGRefusesWhatItCannotDraw(t *testing.T) {
	for name, c := range map[string]struct {
		s   sheet.Scene
		dpi int
	}{
		"no dots":   {sheet.Scene{Width: 10, Height: 10}, 0},
		"too fine":  {sheet.Scene{Width: 10, Height: 10}, 1 << 30},
		"too large": {sheet.Scene{Width: 5000, Height: 5000}, 600},
	} {
		if err := render.PNG(&bytes.Buffer{}, c.s, c.dpi); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
