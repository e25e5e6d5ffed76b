package raster_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/internal/render/raster"
)

// TestCoverageOfATriangleIsItsArea holds for any triangle inside the raster,
// by the shoelace formula.
func TestCoverageOfATriangleIsItsArea(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 7))
	for range 500 {
		var c [3][2]float64
		for i := range c {
			c[i] = [2]float64{random.Float64() * 40, random.Float64() * 30}
		}
		area := math.Abs((c[1][0]-c[0][0])*(c[2][1]-c[0][1])-(c[2][0]-c[0][0])*(c[1][1]-c[0][1])) / 2
		got := covered(c[:], 40, 30, false)
		if math.Abs(got-area) > 0.002*area+0.05 { // pixels covered by less than 1/512 are left out
			t.Fatalf("triangle %v covers %.4f pixels, its area is %.4f", c, got, area)
		}
	}
}

func TestCoverageIsCutAtTheEdgesOfTheRaster(t *testing.T) {
	huge := [][2]float64{{-1e5, -1e5}, {1e5, -1e5}, {1e5, 1e5}, {-1e5, 1e5}}
	if got := covered(huge, 20, 10, false); math.Abs(got-200) > 1e-6 {
		t.Errorf("a square far larger than the raster covers %v of 200 pixels", got)
	}
	diamond := [][2]float64{{10, -10}, {30, 10}, {10, 30}, {-10, 10}}
	if got := covered(diamond, 20, 20, false); math.Abs(got-400) > 1e-6 {
		t.Errorf("a diamond around the raster covers %v of 400 pixels", got)
	}
	leftOff := [][2]float64{{-5, 2}, {5, 2}, {5, 8}, {-5, 8}}
	if got := covered(leftOff, 20, 20, false); math.Abs(got-30) > 1e-6 {
		t.Errorf("a box half off the left edge covers %v pixels, want 30", got)
	}
	for _, away := range [][][2]float64{{{50, 2}, {60, 2}, {60, 9}}, {{-9, 2}, {-4, 2}, {-4, 9}}, {{2, -9}, {8, -9}, {8, -2}}} {
		if got := covered(away, 20, 20, false); got != 0 {
			t.Errorf("a triangle outside the raster covers %v pixels", got)
		}
	}
}

func TestRulesDifferWhereOutlinesOverlap(t *testing.T) {
	// A square run round twice.
	twice := [][2]float64{{2, 2}, {8, 2}, {8, 8}, {2, 8}, {2, 2}, {8, 2}, {8, 8}, {2, 8}}
	if all, odd := covered(twice, 10, 10, false), covered(twice, 10, 10, true); all != 36 || odd != 0 {
		t.Errorf("non-zero covers %v and even-odd %v pixels, want 36 and 0", all, odd)
	}
}

func TestStrokesCoverLengthTimesWidth(t *testing.T) {
	var circle [][2]float64
	for i := range 360 {
		s, c := math.Sincos(float64(i) * math.Pi / 180)
		circle = append(circle, [2]float64{50 + 30*c, 50 + 30*s})
	}
	for name, c := range map[string]struct {
		line   [][2]float64
		closed bool
		width  float64
		round  bool
		dash   []float64
		want   float64
	}{
		"flat ends":        {[][2]float64{{10, 10}, {70, 90}}, false, 4, false, nil, 400},
		"round ends":       {[][2]float64{{10, 10}, {70, 90}}, false, 4, true, nil, 400 + math.Pi*4},
		"dot":              {[][2]float64{{10, 10}, {10, 10}}, false, 4, true, nil, math.Pi * 4},
		"circle":           {circle, true, 3, true, nil, 2 * math.Pi * 30 * 3},
		"square":           {[][2]float64{{20, 20}, {60, 20}, {60, 60}, {20, 60}}, true, 2, true, nil, 4*40*2 - 4 + math.Pi},
		"square turned":    {[][2]float64{{20, 60}, {60, 60}, {60, 20}, {20, 20}}, true, 2, true, nil, 4*40*2 - 4 + math.Pi},
		"dashes":           {[][2]float64{{10, 50}, {70, 50}}, false, 2, false, []float64{4, 2}, 60 * 2 * 2 / 3.0},
		"dashes at a bend": {[][2]float64{{10, 10}, {13, 10}, {13, 20}}, false, 2, false, []float64{6, 100}, 6*2 - 1 + math.Pi/4},
		"dashes closed":    {[][2]float64{{20, 20}, {60, 20}, {60, 60}, {20, 60}}, true, 2, false, []float64{10, 10}, 80 * 2},
	} {
		got := strokeCovered(c.line, c.closed, c.width, c.round, c.dash, 100)
		if math.Abs(got-c.want) > 0.01*c.want {
			t.Errorf("%s: %.3f pixels are covered, want %.3f", name, got, c.want)
		}
	}
}

// covered returns how many pixels an outline covers in a raster of the given
// size.
func covered(corners [][2]float64, width, height int, oddOnly bool) float64 {
	rule := raster.NonZero
	if oddOnly {
		rule = raster.EvenOdd
	}
	return total([][]raster.Point{points(corners)}, width, height, rule)
}

// strokeCovered returns how many pixels a stroked line covers.
func strokeCovered(corners [][2]float64, closed bool, width float64, round bool, dash []float64, size int) float64 {
	style := raster.Stroke{Half: width / 2, RoundEnds: round, Dashes: dash, Tolerance: 0.01}
	return total(style.Outlines(points(corners), closed), size, size, raster.NonZero)
}

func points(corners [][2]float64) []raster.Point {
	out := make([]raster.Point, len(corners))
	for i, c := range corners {
		out[i] = raster.Point{X: c[0], Y: c[1]}
	}
	return out
}

func total(outlines [][]raster.Point, width, height int, rule raster.Rule) float64 {
	sum := 0.0
	raster.Cover(outlines, width, height, rule, func(_, _ int, share float64) { sum += share })
	return math.Round(sum*1e6) / 1e6
}
