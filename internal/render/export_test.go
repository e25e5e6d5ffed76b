package render

import (
	"math"

	"undersod/core/sheet"
)

// Spelled lets the tests see a text as every format draws it.
func Spelled(text string, w sheet.Weight) string { return faceOf(w).spelled(text) }

// SubsetFont returns the TrueType file that is embedded for these characters.
func SubsetFont(text string, w sheet.Weight) []byte {
	used := map[rune]uint16{}
	for _, l := range faceOf(w).letters(text) {
		used[l.char] = l.glyph
	}
	return trueType(newSubset(faceOf(w), used).tables())
}

// Covered returns how many pixels an outline covers in a raster of the given
// size.
func Covered(corners [][2]float64, width, height int, oddOnly bool) float64 {
	outline := make([]pixel, len(corners))
	for i, c := range corners {
		outline[i] = pixel{c[0], c[1]}
	}
	rule := nonZero
	if oddOnly {
		rule = evenOdd
	}
	return total(newCoverage([][]pixel{outline}, width, height), rule)
}

// StrokeCovered returns how many pixels a stroked line covers.
func StrokeCovered(corners [][2]float64, closed bool, width float64, round bool, dash []float64, size int) float64 {
	points := make([]pixel, len(corners))
	for i, c := range corners {
		points[i] = pixel{c[0], c[1]}
	}
	style := strokeStyle{half: width / 2, roundEnds: round, dashes: dash, tolerance: 0.01}
	return total(newCoverage(stroked(points, closed, style), size, size), nonZero)
}

func total(c *coverage, rule fillRule) float64 {
	sum := 0.0
	c.each(rule, func(_, _ int, share float64) { sum += share })
	return math.Round(sum*1e6) / 1e6
}
