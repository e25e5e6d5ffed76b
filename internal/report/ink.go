package report

import (
	"regexp"
	"strings"

	"undersod/core/sheet"
	"undersod/core/typeset"
)

// The colours of the pages: ink on white, headings of soil, and one colour for
// each urgency, all dark enough to read when printed in grey.
var (
	ink   = sheet.Colour{R: 38, G: 33, B: 28}
	soil  = sheet.Colour{R: 92, G: 72, B: 52}
	clay  = sheet.Colour{R: 150, G: 68, B: 38}
	ochre = sheet.Colour{R: 138, G: 96, B: 20}
	grass = sheet.Colour{R: 78, G: 104, B: 48}
	stone = sheet.Colour{R: 100, G: 94, B: 87}
	hair  = sheet.Colour{R: 196, G: 188, B: 176}
	pale  = sheet.Colour{R: 248, G: 236, B: 228}
	straw = sheet.Colour{R: 248, G: 242, B: 224}
	leaf  = sheet.Colour{R: 236, G: 242, B: 228}
	sand  = sheet.Colour{R: 246, G: 242, B: 234}
)

// face is a size and weight of type.
type face struct {
	size   sheet.MM
	weight sheet.Weight
	colour sheet.Colour
}

// in returns the face in another colour.
func (f face) in(c sheet.Colour) face { f.colour = c; return f }

// bold returns the face in bold.
func (f face) bold() face { f.weight = sheet.Bold; return f }

// measure remembers the widths of texts, which are asked for many times over.
type measure struct {
	sheet.Metrics
	known map[measured]sheet.MM
}

type measured struct {
	text   string
	weight sheet.Weight
	size   sheet.MM
}

func newMeasure(m sheet.Metrics) *measure { return &measure{m, map[measured]sheet.MM{}} }

func (m *measure) width(text string, f face) sheet.MM {
	k := measured{text, f.weight, f.size}
	w, ok := m.known[k]
	if !ok {
		w = m.Advance(text, f.weight, f.size)
		m.known[k] = w
	}
	return w
}

// lead is the distance from one baseline to the next: the letters' own height
// and a little air.
func (m *measure) lead(f face) sheet.MM {
	return m.Ascent(f.weight, f.size) + m.Descent(f.weight, f.size) + 0.18*f.size
}

// rise is how far below the top of a line its baseline lies.
func (m *measure) rise(f face) sheet.MM { return m.Ascent(f.weight, f.size) + 0.09*f.size }

// wrap breaks a text into lines no wider than width, never inside a length such
// as 20' 1 1/2". Nothing is dropped.
func (m *measure) wrap(text string, f face, width sheet.MM) []string {
	lines := typeset.Wrap(glue(text), width, func(s string) sheet.MM { return m.Advance(unglue(s), f.weight, f.size) })
	for i := range lines {
		lines[i] = unglue(lines[i])
	}
	return lines
}

// glued stands for a blank at which no line is broken. It is of the private
// area, so that no tidy text holds it.
const glued = "\ue000"

// within a length no line is broken: between feet and inches, before a
// fraction, and before the unit of a number.
var inLength = regexp.MustCompile(`([0-9]['’]) ([0-9])|([0-9]) ([0-9]+/[0-9]+)|([0-9]) (ft|in|m|cm|mm|gal|L|gpd|gpm|sq ft|%)\b`)

func glue(text string) string {
	for range 2 { // feet, inches and fraction overlap
		text = inLength.ReplaceAllString(text, "$1$3$5"+glued+"$2$4$6")
	}
	return text
}

func unglue(text string) string { return strings.ReplaceAll(text, glued, " ") }

// fit shortens a text to one line of a width. It serves the footers and the
// labels of a sketch, whose words stand whole elsewhere.
func (m *measure) fit(text string, f face, width sheet.MM) string {
	return typeset.Shorten(text, width, func(s string) sheet.MM { return m.Advance(s, f.weight, f.size) })
}

// mostLetters is how many letters of one entry are printed.
const mostLetters = 4000

// tidy makes a text of the job fit for print: no line breaks, no control and
// direction signs, and not longer than any honest one.
func tidy(s string) string { return typeset.Clean(s, mostLetters) }
