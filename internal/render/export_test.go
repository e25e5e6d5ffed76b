package render

import "undersod/core/sheet"

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
