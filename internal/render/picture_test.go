package render_test

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"undersod/core/sheet"
	"undersod/internal/render"
)

// picture returns a JPEG whose left half is red above and green below, and
// whose right half is blue above and white below; grey: black and white.
func picture(t testing.TB, wide, high int, grey bool) *sheet.Picture {
	t.Helper()
	quarters := [2][2]color.RGBA{{{R: 200, A: 255}, {B: 200, A: 255}}, {{G: 200, A: 255}, {255, 255, 255, 255}}}
	var dots image.Image
	if grey {
		g := image.NewGray(image.Rect(0, 0, wide, high))
		for i := range g.Pix {
			g.Pix[i] = uint8(255 * (2 * (i % wide) / wide))
		}
		dots = g
	} else {
		c := image.NewRGBA(image.Rect(0, 0, wide, high))
		for y := range high {
			for x := range wide {
				c.SetRGBA(x, y, quarters[2*y/high][2*x/wide])
			}
		}
		dots = c
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, dots, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return &sheet.Picture{Wide: wide, High: high, Grey: grey, JPEG: b.Bytes()}
}

// photoScene shows one picture twice, the second time squeezed, and a grey one.
func photoScene(t testing.TB) sheet.Scene {
	p := picture(t, 320, 240, false)
	return page("Photos", "photos", 120, 100,
		sheet.Image{At: sheet.Pos{X: 10, Y: 20}, Width: 40, Height: 30, Picture: p, Name: "the box, lid off"},
		sheet.Image{At: sheet.Pos{X: 60, Y: 20}, Width: 20, Height: 60, Picture: p, Name: `a "pipe" & <tee>`},
		sheet.Image{At: sheet.Pos{X: 10, Y: 60}, Width: 40, Height: 30, Picture: picture(t, 160, 120, true)})
}

// photoColours are places in millimetres on photoScene and what is seen there.
var photoColours = []struct {
	x, y   float64
	colour sheet.Colour
}{
	{20, 27, sheet.Colour{R: 200}}, {40, 27, sheet.Colour{B: 200}},
	{20, 43, sheet.Colour{G: 200}}, {40, 43, sheet.Colour{R: 255, G: 255, B: 255}},
	{11, 21, sheet.Colour{R: 200}}, {49, 21, sheet.Colour{B: 200}}, {11, 49, sheet.Colour{G: 200}},
	{65, 30, sheet.Colour{R: 200}}, {75, 30, sheet.Colour{B: 200}}, {65, 70, sheet.Colour{G: 200}},
	{20, 75, sheet.Colour{}}, {40, 75, sheet.Colour{R: 255, G: 255, B: 255}},
	{55, 50, sheet.Colour{R: 255, G: 255, B: 255}}, {9, 27, sheet.Colour{R: 255, G: 255, B: 255}},
}

func seesPhotos(t *testing.T, dots image.Image, perMM float64) {
	t.Helper()
	for _, c := range photoColours {
		got := colourAt(dots, c.x*perMM/10, c.y*perMM/10)
		off := max(math.Abs(float64(got.R)-float64(c.colour.R)), math.Abs(float64(got.G)-float64(c.colour.G)), math.Abs(float64(got.B)-float64(c.colour.B)))
		if off > 12 {
			t.Errorf("at %v, %v mm the colour is %v, want %v", c.x, c.y, got, c.colour)
		}
	}
}

func TestPNGShowsPictures(t *testing.T) {
	for _, dpi := range []int{50, 150, 400} {
		dots, _ := pngOf(t, photoScene(t), dpi)
		seesPhotos(t, dots, float64(dpi)/25.4)
	}
}

// TestPNGMeansTheDotsOfAPicture draws a picture of black and white columns far
// smaller than it is: it is grey everywhere.
func TestPNGMeansTheDotsOfAPicture(t *testing.T) {
	g := image.NewGray(image.Rect(0, 0, 800, 600))
	for i := range g.Pix {
		g.Pix[i] = uint8(255 * (i % 2))
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, g, &jpeg.Options{Quality: 98}); err != nil {
		t.Fatal(err)
	}
	p := &sheet.Picture{Wide: 800, High: 600, Grey: true, JPEG: b.Bytes()}
	dots, _ := pngOf(t, page("", "", 40, 40, sheet.Image{At: sheet.Pos{X: 2, Y: 2}, Width: 30, Height: 22, Picture: p}), 100)
	for x := 20; x < 110; x++ {
		if got := colourAt(dots, float64(x)/10, 5).R; got < 110 || got > 145 {
			t.Fatalf("dot %d is as bright as %d, want 128", x, got)
		}
	}
}

func TestPNGCutsPicturesAtTheEdgeOfThePaper(t *testing.T) {
	p := picture(t, 320, 240, false)
	for _, v := range []sheet.Image{
		{At: sheet.Pos{X: -20, Y: -15}, Width: 40, Height: 30, Picture: p},
		{At: sheet.Pos{X: -2500, Y: -2500}, Width: 5080, Height: 5080, Picture: p},
		{At: sheet.Pos{X: 90_000, Y: 90_000}, Width: 40, Height: 30, Picture: p},
		{At: sheet.Pos{X: 5, Y: 5}, Width: 0.001, Height: 0.001, Picture: p},
		{At: sheet.Pos{X: 5, Y: 5}, Width: 0.001, Height: 30, Picture: p},
	} {
		pngOf(t, page("", "", 30, 30, v), 1200)
	}
}

func TestPDFShowsPicturesAndHoldsEachOnce(t *testing.T) {
	s := photoScene(t)
	pdf := bookOf(t, s, s)
	if n := bytes.Count(pdf, []byte("/Subtype /Image")); n != 2 {
		t.Errorf("%d pictures are in the file, want 2", n)
	}
	file := kept(t, "photos.pdf", pdf)
	run(t, "qpdf", "qpdf", "--check", file)
	list := run(t, "pdfimages", "poppler-utils", "-list", file)
	for _, want := range []string{`320 +240 +rgb +3 +8 +jpeg`, `160 +120 +gray +1 +8 +jpeg`} {
		if n := len(regexp.MustCompile(want).FindAllString(list, -1)); n < 2 {
			t.Errorf("%q is on %d pages:\n%s", want, n, list)
		}
	}
	root := strings.TrimSuffix(file, ".pdf")
	run(t, "pdfimages", "poppler-utils", "-j", file, root)
	got, err := os.ReadFile(root + "-000.jpg")
	if err != nil || !bytes.Equal(got, picture(t, 320, 240, false).JPEG) {
		t.Errorf("the picture read back is not the one that was written, error %v", err)
	}
	run(t, "pdftoppm", "poppler-utils", "-r", "100", "-png", "-f", "2", "-singlefile", file, root)
	seen, err := os.Open(root + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer seen.Close()
	dots, _, err := image.Decode(seen)
	if err != nil {
		t.Fatal(err)
	}
	seesPhotos(t, dots, 100/25.4)
}

func TestPDFTellsWhatAPictureShows(t *testing.T) {
	content := strings.Join(pdfStreams(t, pdfOf(t, photoScene(t))), "")
	if n := strings.Count(content, "/Span << /Alt <FEFF"); n != 2 {
		t.Errorf("%d pictures have a description, want 2", n)
	}
	if !strings.Contains(content, "/Span << /Alt <FEFF00740068006500200062006F0078") { // "the box"
		t.Error("the description of the first picture is missing")
	}
}

func TestSVGHoldsEachPictureOnceAndNamesItsUses(t *testing.T) {
	var pictures, uses []element
	for _, e := range svgOf(t, photoScene(t)) {
		switch e.name {
		case "image":
			pictures = append(pictures, e)
		case "use":
			uses = append(uses, e)
		}
	}
	if len(pictures) != 2 || len(uses) != 3 {
		t.Fatalf("%d pictures are used %d times, want 2 and 3", len(pictures), len(uses))
	}
	data, ok := strings.CutPrefix(pictures[0].attr["href"], "data:image/jpeg;base64,")
	got, err := base64.StdEncoding.DecodeString(data)
	if !ok || err != nil || !bytes.Equal(got, picture(t, 320, 240, false).JPEG) {
		t.Errorf("the picture is not the one of the scene, error %v", err)
	}
	for i, want := range []struct{ picture, transform, name string }{
		{pictures[0].attr["id"], "translate(10 20) scale(40 30)", "the box, lid off"},
		{pictures[0].attr["id"], "translate(60 20) scale(20 60)", `a "pipe" & <tee>`},
		{pictures[1].attr["id"], "translate(10 60) scale(40 30)", ""},
	} {
		u := uses[i].attr
		if u["href"] != "#"+want.picture || u["transform"] != want.transform || u["aria-label"] != want.name {
			t.Errorf("use %d is %v, want %v", i, u, want)
		}
	}
}

func TestDXFHasARectangleInPlaceOfAPicture(t *testing.T) {
	s := photoScene(t)
	s.Mapping.MMPerMetre = 1000.0 / 240
	var rectangles, names int
	for _, e := range dxfEntities(t, dxfOf(t, s)) {
		switch e.first(0) {
		case "LWPOLYLINE":
			rectangles++
		case "TEXT":
			if e.first(1) == "the box, lid off" {
				names++
			}
		}
	}
	if rectangles != 3 || names != 1 {
		t.Errorf("%d rectangles and %d of the name, want 3 and 1", rectangles, names)
	}
}

func TestPicturesThatCannotBeDrawnAreSaidInWords(t *testing.T) {
	good := picture(t, 32, 24, false)
	for name, c := range map[string]struct {
		image sheet.Image
		words string
	}{
		"none":      {sheet.Image{Width: 1, Height: 1}, "it has no picture"},
		"no JPEG":   {sheet.Image{Width: 1, Height: 1, Picture: &sheet.Picture{Wide: 1, High: 1, JPEG: []byte("GIF89a")}}, "its picture is no JPEG"},
		"dots":      {sheet.Image{Width: 1, Height: 1, Picture: &sheet.Picture{Wide: 24, High: 32, JPEG: good.JPEG}}, "24 x 32 dots, but its file has 32 x 24"},
		"colours":   {sheet.Image{Width: 1, Height: 1, Picture: &sheet.Picture{Wide: 32, High: 24, Grey: true, JPEG: good.JPEG}}, "other colours"},
		"no width":  {sheet.Image{Height: 1, Picture: good}, "it is 0 x 1 mm"},
		"endless":   {sheet.Image{Width: 1, Height: sheet.MM(math.Inf(1)), Picture: good}, "it is 1 x +Inf mm"},
		"far away":  {sheet.Image{At: sheet.Pos{X: 1e9}, Width: 1, Height: 1, Picture: good}, "its place is at 1e+09, 0 mm"},
		"too large": {sheet.Image{Width: 1, Height: 1, Picture: enormous(good)}, "at most 40 million"},
	} {
		c.image.Name = "tank"
		s := demoScene()
		s.Layers = []sheet.Layer{{Name: "photos", Shapes: []sheet.Shape{c.image}}}
		refused(t, name, s, c.words)
		refused(t, name, s, `layer "photos", shape 1 ("tank")`)
	}
}

// enormous returns a picture whose head says 60,000 dots each way.
func enormous(p *sheet.Picture) *sheet.Picture {
	data := bytes.Clone(p.JPEG)
	at := bytes.Index(data, []byte{0xFF, 0xC0})
	copy(data[at+5:], []byte{60_000 >> 8, 60_000 & 255, 60_000 >> 8, 60_000 & 255})
	return &sheet.Picture{Wide: 60_000, High: 60_000, JPEG: data}
}

// TestPNGTellsOfABrokenPicture draws a picture whose head is whole and whose
// body is cut off: only a format that looks at the body can tell.
func TestPNGTellsOfABrokenPicture(t *testing.T) {
	p := picture(t, 320, 240, false)
	p.JPEG = p.JPEG[:len(p.JPEG)/2]
	s := page("", "", 50, 50, sheet.Image{Width: 20, Height: 20, Picture: p, Name: "tank"})
	err := render.PNG(&bytes.Buffer{}, s, 100)
	if err == nil || !strings.Contains(err.Error(), `layer "page", shape 2 ("tank"): its picture cannot be read`) {
		t.Errorf("error %v", err)
	}
}
