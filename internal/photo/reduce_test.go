package photo_test

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"undersod/internal/photo"
)

// TestReducingTakesTheMeanOfEachArea compares with means computed here from the
// areas in floating point.
func TestReducingTakesTheMeanOfEachArea(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 8))
	for range 60 {
		from := image.Rect(0, 0, 1+random.IntN(40), 1+random.IntN(40))
		m := image.NewGray(from)
		for i := range m.Pix {
			m.Pix[i] = uint8(random.Uint32())
		}
		channels, sizes := photo.Reduced(m, 1+random.IntN(40), false)
		to := sizes[0]
		across, down := float64(from.Dx())/float64(to.X), float64(from.Dy())/float64(to.Y)
		for y := range to.Y {
			for x := range to.X {
				want := mean(m, float64(x)*across, float64(x+1)*across, float64(y)*down, float64(y+1)*down)
				if got := float64(channels[0][y*to.X+x]); math.Abs(got-want) > 0.5+1e-6 {
					t.Fatalf("%v to %v: the dot %d, %d is %v, its area's mean is %.3f", from, to, x, y, got, want)
				}
			}
		}
	}
}

func mean(m *image.Gray, x0, x1, y0, y1 float64) float64 {
	within := func(n int, from, to float64) float64 {
		return max(0, min(float64(n+1), to)-max(float64(n), from))
	}
	var sum, area float64
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			a := within(x, x0, x1) * within(y, y0, y1)
			sum, area = sum+a*float64(m.GrayAt(x, y).Y), area+a
		}
	}
	return sum / area
}

// TestColoursAreReducedAlikeHoweverTheyAreStored compares the short way for
// stored channels with the way for all pictures.
func TestColoursAreReducedAlikeHoweverTheyAreStored(t *testing.T) {
	for _, ratio := range []image.YCbCrSubsampleRatio{
		image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio422, image.YCbCrSubsampleRatio420,
		image.YCbCrSubsampleRatio440, image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410,
	} {
		for _, size := range []image.Point{{120, 80}, {121, 83}, {7, 5}} {
			m := image.NewYCbCr(image.Rectangle{Max: size}, ratio)
			for y := range size.Y {
				for x := range size.X {
					m.Y[m.YOffset(x, y)] = uint8(60 + 100*x/size.X)
					m.Cb[m.COffset(x, y)] = uint8(100 + 40*x/size.X)
					m.Cr[m.COffset(x, y)] = uint8(100 + 40*y/size.Y)
				}
			}
			for _, long := range []int{200, 60, 33} {
				straight, sizes := photo.Reduced(m, long, false)
				byRows, sameSizes := photo.Reduced(m, long, true)
				for c := range straight {
					if sizes[c] != sameSizes[c] {
						t.Fatalf("%v of %v at %d: channel %d is %v or %v", ratio, size, long, c, sizes[c], sameSizes[c])
					}
					for i := range straight[c] {
						// A column of colour spans up to four dots, of which the edge has fewer.
						if d := int(straight[c][i]) - int(byRows[c][i]); d < -14 || d > 14 || size.X > 100 && (d < -4 || d > 4) {
							t.Fatalf("%v of %v at %d: channel %d, dot %d is %d or %d", ratio, size, long, c, i, straight[c][i], byRows[c][i])
						}
					}
				}
			}
		}
	}
}

// TestPartsOfPicturesAreReducedFromTheirCorner gives a picture whose first dot
// is not at 0, 0, as an animated picture may have.
func TestPartsOfPicturesAreReducedFromTheirCorner(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 40, 40))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	for y := 20; y < 30; y++ {
		for x := 10; x < 20; x++ {
			m.SetNRGBA(x, y, color.NRGBA{A: 255})
		}
	}
	channels, _ := photo.Reduced(m.SubImage(image.Rect(10, 20, 20, 30)), 100, false)
	for i, v := range channels[0] {
		if v != 0 {
			t.Fatalf("dot %d is %d", i, v)
		}
	}
}
