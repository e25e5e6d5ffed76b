package render

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// letter is one character as drawn and its glyph in a face.
type letter struct {
	char  rune
	glyph uint16
}

// replacement stands for a character that the font lacks. Both fonts have it.
const replacement = '\uFFFD'

// alike gives characters that both fonts lack another that reads the same.
var alike = map[rune]rune{
	'\u2010': '-', // hyphen
	'\u2011': '-', // non-breaking hyphen
	'\u2300': 'Ø', // diameter sign
	'\u2205': 'Ø', // empty set, often typed for a diameter
	'\u202F': '\u00A0',
}

// letters turns a text into what will be drawn. Every format draws these
// letters and no others: white space of any kind becomes a plain space, marks
// that only steer a text (direction, joining, soft hyphens) are dropped,
// accents are joined to their letters, and what the font lacks becomes a
// replacement character.
func (f *face) letters(text string) []letter {
	text = norm.NFC.String(text)
	out := make([]letter, 0, len(text))
	for _, r := range text {
		if l, ok := f.letter(r); ok {
			out = append(out, l)
		}
	}
	return out
}

// letter returns what is drawn for one character, and false for nothing.
func (f *face) letter(r rune) (letter, bool) {
	if unicode.In(r, unicode.Cf, unicode.Variation_Selector) {
		return letter{}, false
	}
	if other, ok := alike[r]; ok {
		r = other
	}
	if unicode.IsSpace(r) && r != '\u00A0' {
		r = ' '
	}
	if !unicode.IsControl(r) {
		if g := f.glyph(r); g != 0 {
			return letter{r, g}, true
		}
	}
	return letter{replacement, f.glyph(replacement)}, true
}

// spelled returns text as it will be drawn, for formats that store characters
// rather than glyphs.
func (f *face) spelled(text string) string {
	var b strings.Builder
	for _, l := range f.letters(text) {
		b.WriteRune(l.char)
	}
	return b.String()
}
