// Package flow sets headings, paragraphs, lists, tables, figures and pictures
// one below the other and breaks them into pages: no text is cut, no heading
// stands at the foot of a page, no line of a paragraph stands alone, and the
// titles of a table are set again on every page that it reaches.
package flow

import (
	"regexp"
	"strings"

	"undersod/core/sheet"
	"undersod/core/typeset"
)

// The colours of the pages: ink on white, headings of soil, and one colour for
// each urgency, all dark enough to read when printed in grey.
var (
	Ink   = sheet.Colour{R: 38, G: 33, B: 28}
	Soil  = sheet.Colour{R: 92, G: 72, B: 52}
	Clay  = sheet.Colour{R: 150, G: 68, B: 38}
	Ochre = sheet.Colour{R: 138, G: 96, B: 20}
	Grass = sheet.Colour{R: 78, G: 104, B: 48}
	Stone = sheet.Colour{R: 100, G: 94, B: 87}
	Hair  = sheet.Colour{R: 196, G: 188, B: 176}
	Pale  = sheet.Colour{R: 248, G: 236, B: 228}
	Straw = sheet.Colour{R: 248, G: 242, B: 224}
	Leaf  = sheet.Colour{R: 236, G: 242, B: 228}
	Sand  = sheet.Colour{R: 246, G: 242, B: 234}
)

// Face is a size and weight of type.
type Face struct {
	Size   sheet.MM // of the em
	Weight sheet.Weight
	Colour sheet.Colour
}

// Type is a face of a size, a weight and a colour.
func Type(size sheet.MM, w sheet.Weight, c sheet.Colour) Face { return Face{size, w, c} }

// In returns the face in another colour.
func (f Face) In(c sheet.Colour) Face { f.Colour = c; return f }

// InBold returns the face in bold.
func (f Face) InBold() Face { f.Weight = sheet.Bold; return f }

// Measure remembers the widths of texts, which are asked for many times over.
type Measure struct {
	sheet.Metrics
	known map[measured]sheet.MM
}

type measured struct {
	text   string
	weight sheet.Weight
	size   sheet.MM
}

// NewMeasure remembers what m measures.
func NewMeasure(m sheet.Metrics) *Measure { return &Measure{m, map[measured]sheet.MM{}} }

// Wide returns how wide a text is in a face.
func (m *Measure) Wide(text string, f Face) sheet.MM {
	k := measured{text, f.Weight, f.Size}
	w, ok := m.known[k]
	if !ok {
		w = m.Advance(text, f.Weight, f.Size)
		m.known[k] = w
	}
	return w
}

// Lead is the distance from one baseline to the next: the letters' own height
// and a little air.
func (m *Measure) Lead(f Face) sheet.MM {
	return m.Ascent(f.Weight, f.Size) + m.Descent(f.Weight, f.Size) + 0.18*f.Size
}

// Rise is how far below the top of a line its baseline lies.
func (m *Measure) Rise(f Face) sheet.MM { return m.Ascent(f.Weight, f.Size) + 0.09*f.Size }

// Wrap breaks a text into lines no wider than width, never inside a length such
// as 20' 1 1/2". Nothing is dropped.
func (m *Measure) Wrap(text string, f Face, width sheet.MM) []string {
	if len(text) < shortText { // most cells of a table stand on one line
		if one := strings.Join(strings.Fields(text), " "); one != "" && m.Wide(one, f) <= width {
			return []string{one}
		}
	}
	lines := typeset.Wrap(glue(text), width, func(s string) sheet.MM { return m.Advance(unglue(s), f.Weight, f.Size) })
	for i := range lines {
		lines[i] = unglue(lines[i])
	}
	return lines
}

// shortText is up to how many bytes a text may well be one line.
const shortText = 120

// glued stands for a blank at which no line is broken. It is of the private
// area, so that no tidy text holds it.
const glued = "\ue000"

// within a length no line is broken: between feet and inches, before a
// fraction, and before the unit of a number.
var inLength = regexp.MustCompile(`([0-9]['’]) ([0-9])|([0-9]) ([0-9]+/[0-9]+)|([0-9]) (ft|in|m|cm|mm|gal|L|gpd|gpm|sq ft|%)\b`)

func glue(text string) string {
	if !strings.ContainsAny(text, "0123456789") {
		return text
	}
	for range 2 { // feet, inches and fraction overlap
		text = inLength.ReplaceAllString(text, "$1$3$5"+glued+"$2$4$6")
	}
	return text
}

func unglue(text string) string { return strings.ReplaceAll(text, glued, " ") }

// Fit shortens a text to one line of a width. It serves the footers and the
// labels of a sketch, whose words stand whole elsewhere.
func (m *Measure) Fit(text string, f Face, width sheet.MM) string {
	return typeset.Shorten(text, width, func(s string) sheet.MM { return m.Advance(s, f.Weight, f.Size) })
}

// mostLetters is how many letters of one entry are printed.
const mostLetters = 4000

// Tidy makes a text of the job fit for print: no line breaks, no control and
// direction signs, and not longer than any honest one.
func Tidy(s string) string { return typeset.Clean(s, mostLetters) }
