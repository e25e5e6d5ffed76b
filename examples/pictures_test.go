package examples_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"testing"

	"undersod/examples"
)

// The demo's pictures are drawn, not taken: no place or thing in them is real.
// Run the test with -update to write them anew.

// pixel gives the colour at a place of a picture, both axes from 0 to 1 across
// its smaller side, the middle at 0.
type pixel func(x, y float64) rgb

type rgb struct{ r, g, b float64 } // 0 to 1

func (c rgb) times(f float64) rgb { return rgb{c.r * f, c.g * f, c.b * f} }

func (c rgb) toward(d rgb, share float64) rgb {
	share = min(max(share, 0), 1)
	return rgb{c.r + (d.r-c.r)*share, c.g + (d.g-c.g)*share, c.b + (d.b-c.b)*share}
}

var (
	plastic = rgb{0.87, 0.86, 0.80}
	mud     = rgb{0.42, 0.33, 0.22}
	murk    = rgb{0.30, 0.31, 0.22}
	root    = rgb{0.50, 0.33, 0.17}
	grey    = rgb{0.66, 0.65, 0.61}
	paper   = rgb{0.95, 0.92, 0.82}
	ink     = rgb{0.22, 0.20, 0.24}
)

// paint draws a picture, four looks for each dot so that edges are smooth.
func paint(width, height int, at pixel) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, width, height))
	side := float64(min(width, height))
	for j := range height {
		for i := range width {
			var sum rgb
			for _, s := range [4][2]float64{{0.25, 0.25}, {0.75, 0.25}, {0.25, 0.75}, {0.75, 0.75}} {
				c := at((float64(i)+s[0]-float64(width)/2)/side, (float64(j)+s[1]-float64(height)/2)/side)
				sum = rgb{sum.r + c.r/4, sum.g + c.g/4, sum.b + c.b/4}
			}
			m.SetRGBA(i, j, color.RGBA{shade(sum.r), shade(sum.g), shade(sum.b), 255})
		}
	}
	return m
}

func shade(v float64) uint8 { return uint8(math.Round(255 * min(max(v, 0), 1))) }

// speckle is a little unevenness, the same at the same place every time.
func speckle(x, y float64) float64 {
	s := math.Sin(x*127.1+y*311.7) * 43758.5453
	return s - math.Floor(s) - 0.5
}

// bore looks into a pipe by its own lamp: rings at the joints, dark far away.
// squat is how much lower than wide it is.
func bore(squat float64) pixel {
	return func(x, y float64) rgb {
		r := math.Hypot(x, y/(1-squat)) + 1e-6
		far := 0.5 / r                                                    // how many pipe's widths away
		c := plastic.times(min(1, 1.3/(0.5+far*0.6)) * (1.08 - 0.55*r*r)) // the lamp shines ahead
		if joint := math.Abs(math.Mod(far+0.12, 0.95)); joint < 0.035 {
			c = c.times(0.55)
		}
		if y > 0 { // what runs along the bottom leaves a stain
			c = c.toward(mud.times(1.1/(0.6+far*0.5)), 0.8*math.Exp(-math.Pow(x/y*3.2, 2)))
		}
		return c.times(1 + 0.05*speckle(math.Round(x*90), math.Round(y*90)))
	}
}

// stroke is a crooked line that grows thinner.
type stroke struct{ x, y, toX, toY, bend, width float64 }

// over tells how much of a stroke covers a place.
func (s stroke) over(x, y float64) float64 {
	dx, dy := s.toX-s.x, s.toY-s.y
	along := ((x-s.x)*dx + (y-s.y)*dy) / (dx*dx + dy*dy)
	if along < 0 || along > 1 {
		return 0
	}
	across := ((x-s.x)*dy - (y-s.y)*dx) / math.Hypot(dx, dy)
	across -= s.bend * math.Sin(along*math.Pi*2.3) * (0.4 + along)
	width := s.width * (1 - 0.7*along)
	return min(max(1.6-math.Abs(across)/width, 0), 1)
}

func drawRoots() *image.RGBA {
	pipe := bore(0)
	var roots []stroke
	for i := range 17 {
		t := float64(i)
		from := -2.6 + 0.13*t
		out := 0.34 - 0.05*speckle(t, 3)
		in := out - 0.16 - 0.16*(speckle(t, 1)+0.5)
		turn := 0.5 * speckle(t, 2)
		roots = append(roots, stroke{out * math.Cos(from), out * math.Sin(from), in * math.Cos(from+turn), in * math.Sin(from+turn),
			0.012 + 0.01*speckle(t, 5), 0.0035})
	}
	return paint(800, 600, func(x, y float64) rgb {
		c := pipe(x, y)
		for _, s := range roots {
			c = c.toward(root, 0.9*s.over(x, y))
		}
		return c
	})
}

func drawWater() *image.RGBA {
	pipe := bore(0)
	return paint(800, 600, func(x, y float64) rgb {
		const down = 0.16 // of the water's edge under the eye, for each pipe's width of nearness
		far := down / max(y, 1e-6)
		half := math.Sqrt(max(0.25-down*down, 0)) / far * 2 / 2
		if y <= 0.02 || math.Abs(x) > half*1.02 || math.Hypot(x, y) > 0.86 {
			return pipe(x, y)
		}
		wave := 0.5 + 0.5*math.Sin(9*far+3*math.Sin(14*x))
		mirrored := pipe(x, -y*0.9)
		c := murk.times(1.2/(0.7+0.35*far)).toward(mirrored, 0.30+0.18*wave)
		return c.toward(plastic, 0.5*max(0, 1-math.Abs(math.Abs(x)-half)/0.012))
	})
}

func drawFlattened() *image.RGBA {
	pipe := bore(0.22)
	crack := stroke{-0.42, -0.20, 0.10, -0.08, 0.01, 0.004}
	return paint(800, 600, func(x, y float64) rgb {
		y += 0.06 * math.Exp(-x*x*8) // pressed in from above
		return pipe(x, y).toward(ink, 0.7*crack.over(x, y))
	})
}

// drawBox looks down into a box with three outlets, the inlet's wall below.
func drawBox() *image.RGBA {
	openings := []struct{ x, y, wide, high float64 }{{0, 0.31, 0.075, 0.05}, {0, -0.31, 0.075, 0.05}, {0.31, 0, 0.05, 0.075}, {-0.31, 0, 0.05, 0.075}}
	return paint(800, 600, func(x, y float64) rgb {
		edge := max(math.Abs(x), math.Abs(y))
		c := rgb{0.33, 0.42, 0.20}.times(0.9 + 0.5*speckle(math.Round(x*60), math.Round(y*60))) // grass
		switch {
		case edge < 0.25: // the floor, damp toward the low outlet
			c = grey.times(0.62).toward(mud, 0.35+0.9*(y-x))
		case edge < 0.37: // the walls
			c = grey.times(0.95 - 0.9*(0.37-edge)/0.12*0.35)
			if y < -math.Abs(x) {
				c = c.times(0.85)
			}
		case edge < 0.43: // the rim
			c = grey.times(1.15)
		}
		for _, o := range openings {
			if d := math.Hypot((x-o.x)/o.wide, (y-o.y)/o.high); d < 0.78 {
				c = rgb{0.05, 0.05, 0.05}
			} else if d < 1 {
				c = plastic
			}
		}
		return c.times(1 + 0.06*speckle(math.Round(x*200), math.Round(y*200)))
	})
}

// sketched are the points of the old sketch in its own dots, as the demo's job
// states them.
var sketched = map[string][2]float64{
	"A": {382, 82}, "B": {609, 90}, "C": {605, 298}, "D": {533, 292}, "E": {533, 230}, "F": {375, 226},
	"Tank outlet lid": {472, 297}, "D-box": {499, 406}, "L1 end": {200, 398}, "L2 end": {237, 452}, "L3 end": {276, 512},
}

func drawSketch() *image.RGBA {
	at := func(name string) (x, y float64) {
		return (sketched[name][0] - 400) / 600, (sketched[name][1] - 300) / 600
	}
	var lines []stroke
	for _, path := range [][]string{{"A", "B", "C", "D", "E", "F", "A"}, {"Tank outlet lid", "D-box"},
		{"D-box", "L1 end"}, {"D-box", "L2 end"}, {"D-box", "L3 end"}} {
		for i := 1; i < len(path); i++ {
			x, y := at(path[i-1])
			toX, toY := at(path[i])
			lines = append(lines, stroke{x, y, toX, toY, 0.002, 0.003})
		}
	}
	boxX, boxY := at("D-box")
	return paint(800, 600, func(x, y float64) rgb {
		c := paper.times(1 + 0.03*speckle(math.Round(x*120), math.Round(y*40)))
		if math.Abs(x-0.1) < 0.0015 || math.Abs(y+0.02) < 0.0015 { // where it was folded
			c = c.times(0.9)
		}
		for _, s := range lines {
			c = c.toward(ink, s.over(x, y))
		}
		if edge := max(math.Abs(x-boxX), math.Abs(y-boxY)); edge < 0.014 && edge > 0.009 {
			c = ink
		}
		return c
	})
}

// onItsSide turns a picture a quarter to the left and says so in its EXIF data
// (orientation 6: to be turned a quarter to the right to be seen upright), as a
// phone held upright does. Exif 2.32, CIPA DC-008-2019, section 4.6.4.
func onItsSide(m *image.RGBA) *image.RGBA {
	b := m.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dy(), b.Dx()))
	for y := range b.Dy() {
		for x := range b.Dx() {
			out.SetRGBA(y, b.Dx()-1-x, m.RGBAAt(x, y))
		}
	}
	return out
}

var orientation6 = []byte{0xff, 0xe1, 0, 34, 'E', 'x', 'i', 'f', 0, 0, 'M', 'M', 0, 42, 0, 0, 0, 8,
	0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0, 0, 0, 0, 0}

func encoded(t *testing.T, m *image.RGBA, exif []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 72}); err != nil {
		t.Fatal(err)
	}
	data := b.Bytes()
	return append(append(append([]byte(nil), data[:2]...), exif...), data[2:]...)
}

func pictures(t *testing.T) map[string][]byte {
	t.Helper()
	return map[string][]byte{
		"photos/line-1-flattened.jpg": encoded(t, drawFlattened(), nil),
		"photos/line-2-roots.jpg":     encoded(t, drawRoots(), nil),
		"photos/line-3-water.jpg":     encoded(t, drawWater(), nil),
		"photos/box.jpg":              encoded(t, onItsSide(drawBox()), orientation6),
		"photos/old-sketch.jpg":       encoded(t, drawSketch(), nil),
	}
}

// TestPicturesAreTheDrawnOnes compares by what is seen: another version of the
// encoder may write other bytes.
func TestPicturesAreTheDrawnOnes(t *testing.T) {
	for name, data := range pictures(t) {
		if len(data) > 60_000 {
			t.Errorf("%s has %d bytes, more than 60,000", name, len(data))
		}
		if *update {
			if err := os.WriteFile(name, data, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		kept, err := examples.DemoFiles().Open(name)
		if err != nil {
			t.Errorf("%v; run the test with -update", err)
			continue
		}
		m, err := jpeg.Decode(kept)
		kept.Close()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		drawn, err := jpeg.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		if d := unlike(m, drawn); d > 2 {
			t.Errorf("%s differs from what is drawn now by %.1f of 255; run the test with -update if the new one is right", name, d)
		}
	}
}

// unlike is the mean difference of two pictures, of 255.
func unlike(a, b image.Image) float64 {
	if a.Bounds() != b.Bounds() {
		return 255
	}
	sum, n := 0.0, 0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			r1, g1, b1, _ := a.At(x, y).RGBA()
			r2, g2, b2, _ := b.At(x, y).RGBA()
			for _, d := range [3]float64{float64(r1) - float64(r2), float64(g1) - float64(g2), float64(b1) - float64(b2)} {
				sum += math.Abs(d) / 257
				n++
			}
		}
	}
	return sum / float64(n)
}
