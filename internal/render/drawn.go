package render

import (
	"math"
	"strconv"

	"undersod/core/sheet"
)

// number writes v with at most three decimals: in millimetres, to a
// thousandth.
func number(v float64) string { return decimal(v, 3) }

// decimal writes v with at most the given decimals, no zeros at the end and no
// exponent, as PDF and SVG both read it.
func decimal(v float64, decimals int) string {
	scale := math.Pow10(decimals)
	v = math.Round(v*scale) / scale
	if v == 0 {
		return "0" // never -0
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// place writes X and Y with a space between.
func place(p sheet.Pos) string { return number(float64(p.X)) + " " + number(float64(p.Y)) }

// dashes returns the dash pattern with an even count of lengths, nil for a
// full line.
func dashes(s *sheet.Stroke) []sheet.MM {
	if len(s.Dash)%2 == 1 {
		return append(append([]sheet.MM{}, s.Dash...), s.Dash...)
	}
	if len(s.Dash) == 0 {
		return nil
	}
	return s.Dash
}

// start returns where the baseline of a text begins, measured with letters
// from f, before the text is turned: right of At by the returned length.
func (f *face) start(t sheet.Text, letters []letter) float64 {
	var ems float64
	for _, l := range letters {
		ems += f.advance(l.glyph)
	}
	switch t.Align {
	case sheet.AlignMiddle:
		return -ems * float64(t.Size) / 2
	case sheet.AlignRight:
		return -ems * float64(t.Size)
	}
	return 0
}

// drawnRuns returns the runs of a path that leave a mark: none of a path with
// neither stroke nor fill, and no run that leads nowhere.
func drawnRuns(p sheet.Path) []sheet.Run {
	if p.Stroke == nil && p.Fill == nil {
		return nil
	}
	var out []sheet.Run
	for _, r := range p.Runs {
		if len(r.Pieces) > 0 {
			out = append(out, r)
		}
	}
	return out
}
