package sheet

import (
	"fmt"
	"math"

	"undersod/core/site"
	"undersod/core/typeset"
	"undersod/core/unit"
)

// wording prints lengths as the job wants them.
type wording struct {
	form unit.Form
	den  int
}

func newWording(show site.Show) wording {
	w := wording{form: show.Form, den: show.Denominator}
	if w.form == unit.NoForm {
		w.form = unit.FeetInches
	}
	if w.den == 0 {
		w.den = 8
	}
	return w
}

func (w wording) metric() bool {
	return w.form == unit.Metres || w.form == unit.Centimetres || w.form == unit.Millimetres
}

// length prints l in the job's form.
func (w wording) length(l unit.Length) string {
	return unit.Style{Form: w.form, Denominator: w.den, Digits: 2}.Format(l)
}

// small prints a radius of uncertainty, never as less than it is.
func (w wording) small(l unit.Length) string {
	up := func(v float64, per float64) float64 { return math.Ceil(v*per-1e-9) / per }
	switch {
	case w.metric():
		return fmt.Sprintf("%.0f cm", up(l.Metres()*100, 1))
	case w.form == unit.DecimalFeet:
		return fmt.Sprintf("%.2f ft", up(l.Feet(), 100))
	case l < unit.Foot:
		return fmt.Sprintf("%.1f\"", up(l.Inches(), 10))
	}
	return fmt.Sprintf("%.1f ft", up(l.Feet(), 10))
}

// scale says a scale in words.
func (w wording) scale(s Scale) string {
	if !w.metric() && s%12 == 0 {
		return fmt.Sprintf("1 in = %d ft (1:%d)", s/12, s)
	}
	return fmt.Sprintf("1:%d", s)
}

// mostLetters is how many letters of a name or an entry are printed.
const mostLetters = 160

// clean makes a name or an entry of the job fit for print: tidy, and not
// longer than any honest one.
func clean(s string) string { return typeset.Clean(s, mostLetters) }

// tidy takes line breaks, control and direction signs and double blanks out of
// a text.
func tidy(s string) string { return typeset.Clean(s, 0) }
