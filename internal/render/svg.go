package render

import (
	"encoding/base64"
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"undersod/core/sheet"
)

// SVG writes the sheet as an SVG 1.1 file whose unit is the millimetre. Text
// is text in embedded subsets of the fonts; arcs are arcs. Each layer is a
// group with the attribute data-layer, and each shape that has a name carries
// it in data-name. The file may stand inside a page of HTML: it has no style
// rule that reaches beyond it. It returns an error that names the shape if the
// scene has a place or size that is no plain number, and the error of w.
func SVG(w io.Writer, s sheet.Scene) error {
	if err := check(s); err != nil {
		return fmt.Errorf("no SVG can be made of the sheet: %w", err)
	}
	fonts := subsets(s)
	family := svgFamily(fonts)
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	wide, high := number(float64(s.Width)), number(float64(s.Height))
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s"`+
		` font-family="%s" stroke-linejoin="round" fill-rule="evenodd" xml:space="preserve">`+"\n",
		wide, high, wide, high, family+", Go, Helvetica, Arial, sans-serif")
	if s.Title != "" {
		fmt.Fprintf(&b, "<title>%s</title>\n", xmlEscape(s.Title))
	}
	svgFonts(&b, fonts, family)
	svgPictures(&b, s)
	fmt.Fprintf(&b, "<rect width=\"%s\" height=\"%s\" fill=\"#ffffff\"/>\n", wide, high)
	for i, l := range s.Layers {
		fmt.Fprintf(&b, `<g id="layer-%d" data-layer="%s">`+"\n", i+1, xmlEscape(l.Name))
		for _, shape := range l.Shapes {
			svgShape(&b, shape)
		}
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// svgFamily returns a family name that belongs to these subsets alone, so that
// two sheets on one page of HTML do not draw with each other's fonts.
func svgFamily(fonts map[sheet.Weight]*subset) string {
	name := "Go"
	for _, w := range weights {
		if s := fonts[w]; s != nil {
			name += "-" + s.tag()
		}
	}
	return name
}

func svgFonts(b *strings.Builder, fonts map[sheet.Weight]*subset, family string) {
	if len(fonts) == 0 {
		return
	}
	b.WriteString("<style>\n")
	for _, w := range weights {
		s := fonts[w]
		if s == nil {
			continue
		}
		fmt.Fprintf(b, "@font-face{font-family:%s;font-weight:%s;src:url(data:font/woff;base64,%s) format(\"woff\")}\n",
			family, map[sheet.Weight]string{sheet.Regular: "400", sheet.Bold: "700"}[w],
			base64.StdEncoding.EncodeToString(woff(s.tables())))
	}
	b.WriteString("</style>\n")
}

func svgShape(b *strings.Builder, shape sheet.Shape) {
	switch v := shape.(type) {
	case sheet.Path:
		svgPath(b, v)
	case sheet.Text:
		svgText(b, v)
	case sheet.Image:
		svgImage(b, v)
	}
}

func svgPath(b *strings.Builder, p sheet.Path) {
	runs := drawnRuns(p)
	if len(runs) == 0 {
		return
	}
	b.WriteString("<path" + svgName(p.Name) + ` fill="`)
	if p.Fill != nil {
		b.WriteString(svgColour(*p.Fill))
	} else {
		b.WriteString("none")
	}
	b.WriteString(`"`)
	if p.Stroke != nil {
		svgStroke(b, p.Stroke)
	}
	b.WriteString(` d="`)
	for _, r := range runs {
		svgRun(b, r)
	}
	b.WriteString("\"/>\n")
}

func svgStroke(b *strings.Builder, s *sheet.Stroke) {
	fmt.Fprintf(b, ` stroke="%s" stroke-width="%s"`, svgColour(s.Colour), number(float64(s.Width)))
	pattern := dashes(s)
	if pattern == nil {
		b.WriteString(` stroke-linecap="round"`)
		return
	}
	b.WriteString(` stroke-dasharray="`)
	for i, d := range pattern {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(number(float64(d)))
	}
	b.WriteByte('"')
}

func svgRun(b *strings.Builder, r sheet.Run) {
	b.WriteString("M" + place(r.Start))
	at := r.Start
	for _, p := range r.Pieces {
		if p.Arc {
			svgArc(b, newArc(at, p))
		} else {
			b.WriteString("L" + place(p.To))
		}
		at = p.To
	}
	if r.Closed {
		b.WriteString("Z")
	}
}

// svgArc writes an arc. One of more than three quarters of a turn is cut in
// two: its ends are so near each other that rounding them would move the
// centre that SVG infers from them.
func svgArc(b *strings.Builder, a arc) {
	cuts := []float64{1}
	part := math.Abs(a.sweep)
	if part > 1.5*math.Pi {
		cuts = []float64{0.5, 1}
		part /= 2
	}
	large, clockwise := 0, 0
	if part > math.Pi {
		large = 1
	}
	if a.sweep > 0 {
		clockwise = 1
	}
	radius := number(a.radius())
	for _, share := range cuts {
		fmt.Fprintf(b, "A%s %s 0 %d %d %s", radius, radius, large, clockwise, place(a.at(share)))
	}
}

func svgText(b *strings.Builder, t sheet.Text) {
	spelled := faceOf(t.Weight).spelled(t.Text)
	if spelled == "" {
		return
	}
	x, y := number(float64(t.At.X)), number(float64(t.At.Y))
	fmt.Fprintf(b, `<text%s x="%s" y="%s" font-size="%s" fill="%s"`, svgName(t.Name), x, y, number(float64(t.Size)), svgColour(t.Colour))
	if knownWeight(t.Weight) == sheet.Bold {
		b.WriteString(` font-weight="700"`)
	}
	switch t.Align {
	case sheet.AlignMiddle:
		b.WriteString(` text-anchor="middle"`)
	case sheet.AlignRight:
		b.WriteString(` text-anchor="end"`)
	}
	if t.Turn != 0 {
		fmt.Fprintf(b, ` transform="rotate(%s %s %s)"`, decimal(t.Turn.Degrees(), 4), x, y)
	}
	b.WriteString(">" + xmlEscape(spelled) + "</text>\n")
}

func svgName(name string) string {
	if name == "" {
		return ""
	}
	return ` data-name="` + xmlEscape(name) + `"`
}

func svgColour(c sheet.Colour) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// xmlEscape makes any text fit for an attribute or the inside of an element.
// What XML 1.0 has no way to write becomes a replacement character.
func xmlEscape(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&quot;")
		case r == '\n' || r == '\r' || r == '\t':
			b.WriteByte(' ')
		case r < ' ' || r == 0xFFFE || r == 0xFFFF || r == utf8.RuneError:
			b.WriteRune(replacement)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
