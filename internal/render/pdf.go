package render

import (
	"fmt"
	"io"
	"math"
	"strings"

	"undersod/core/sheet"
)

// pointsPerMM is the size of a millimetre in PostScript points.
const pointsPerMM = 72 / 25.4

// PDF writes the sheet as a PDF 1.5 file of one page of exactly the sheet's
// size. Lines are vectors, text is text in embedded subsets of the fonts, and
// layers can be switched off in the viewer. The only date in the file is the
// scene's. It returns an error that names the shape if the scene has a place
// or size that is no plain number or a picture that is none, and the error of w.
func PDF(w io.Writer, s sheet.Scene) error {
	if err := check(s); err != nil {
		return fmt.Errorf("no PDF can be made of the sheet: %w", err)
	}
	return writePDF(w, []sheet.Scene{s})
}

// named writes references as entries of a dictionary, L0, L1, and so on.
func named(prefix string, refs []pdfRef) string {
	var b strings.Builder
	for i, r := range refs {
		fmt.Fprintf(&b, "/%s%d %s ", prefix, i, r)
	}
	return b.String()
}

// pdfContent writes the drawing. The page's matrix is set so that all that
// follows is in millimetres from the upper left corner, as in the scene.
func pdfContent(s sheet.Scene, fonts map[sheet.Weight]*subset, pictures pictureNumbers) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s 0 0 %s 0 %s cm 1 j\n",
		decimal(pointsPerMM, 6), decimal(-pointsPerMM, 6), decimal(float64(s.Height)*pointsPerMM, 4))
	for i, l := range s.Layers {
		fmt.Fprintf(&b, "/OC /L%d BDC\n", i)
		for _, shape := range l.Shapes {
			switch v := shape.(type) {
			case sheet.Path:
				pdfPath(&b, v)
			case sheet.Text:
				pdfShow(&b, v, fonts[knownWeight(v.Weight)])
			case sheet.Image:
				pdfImage(&b, v, pictures[v.Picture])
			}
		}
		b.WriteString("EMC\n")
	}
	return b.String()
}

func pdfPath(b *strings.Builder, p sheet.Path) {
	runs := drawnRuns(p)
	if len(runs) == 0 {
		return
	}
	paint := "S"
	if p.Fill != nil {
		b.WriteString(pdfColour(*p.Fill) + " rg\n")
		paint = "f*"
	}
	if p.Stroke != nil {
		pdfStroke(b, p.Stroke)
		if p.Fill != nil {
			paint = "B*"
		}
	}
	for _, r := range runs {
		pdfRun(b, r)
	}
	b.WriteString(paint + "\n")
}

func pdfStroke(b *strings.Builder, s *sheet.Stroke) {
	ends := 1 // round
	var pattern []string
	for _, d := range dashes(s) {
		ends = 0 // flat
		pattern = append(pattern, number(float64(d)))
	}
	fmt.Fprintf(b, "%s RG %s w %d J [%s] 0 d\n",
		pdfColour(s.Colour), number(float64(s.Width)), ends, strings.Join(pattern, " "))
}

func pdfRun(b *strings.Builder, r sheet.Run) {
	b.WriteString(place(r.Start) + " m\n")
	at := r.Start
	for _, p := range r.Pieces {
		if !p.Arc {
			b.WriteString(place(p.To) + " l\n")
		} else {
			for _, c := range newArc(at, p).curves() {
				b.WriteString(place(c.c1) + " " + place(c.c2) + " " + place(c.to) + " c\n")
			}
		}
		at = p.To
	}
	if r.Closed {
		b.WriteString("h\n")
	}
}

func pdfShow(b *strings.Builder, t sheet.Text, font *subset) {
	f := faceOf(t.Weight)
	letters := f.letters(t.Text)
	if len(letters) == 0 {
		return
	}
	sin, cos := math.Sincos(float64(t.Turn))
	shift := f.start(t, letters)
	at := sheet.Pos{X: t.At.X + sheet.MM(shift*cos), Y: t.At.Y + sheet.MM(shift*sin)}
	fmt.Fprintf(b, "%s rg BT /F%d %s Tf %s %s %s %s %s Tm <",
		pdfColour(t.Colour), knownWeight(t.Weight), number(float64(t.Size)),
		decimal(cos, 6), decimal(sin, 6), decimal(sin, 6), decimal(-cos, 6), place(at))
	for _, l := range letters {
		fmt.Fprintf(b, "%04X", font.id[l.char])
	}
	b.WriteString("> Tj ET\n")
}

func pdfColour(c sheet.Colour) string {
	part := func(v uint8) string { return number(float64(v) / 255) }
	return part(c.R) + " " + part(c.G) + " " + part(c.B)
}
