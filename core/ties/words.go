package ties

import (
	"fmt"
	"math"

	"undersod/core/site"
	"undersod/core/typeset"
	"undersod/core/unit"
)

// Wording prints lengths as a job wants them.
type Wording struct {
	Form        unit.Form
	Denominator int // of fractions of an inch
}

// NewWording is the wording of a job, feet and inches in eighths where it states
// nothing.
func NewWording(show site.Show) Wording {
	w := Wording{Form: show.Form, Denominator: show.Denominator}
	if w.Form == unit.NoForm {
		w.Form = unit.FeetInches
	}
	if w.Denominator == 0 {
		w.Denominator = 8
	}
	return w
}

// Metric tells whether the lengths are metric.
func (w Wording) Metric() bool {
	return w.Form == unit.Metres || w.Form == unit.Centimetres || w.Form == unit.Millimetres
}

// Length prints l in the job's form.
func (w Wording) Length(l unit.Length) string {
	return unit.Style{Form: w.Form, Denominator: w.Denominator, Digits: 2}.Format(l)
}

// Small prints a radius of uncertainty, never as less than it is.
func (w Wording) Small(l unit.Length) string {
	up := func(v float64, per float64) float64 { return math.Ceil(v*per-1e-9) / per }
	switch {
	case w.Metric():
		return fmt.Sprintf("%.0f cm", up(l.Metres()*100, 1))
	case w.Form == unit.DecimalFeet:
		return fmt.Sprintf("%.2f ft", up(l.Feet(), 100))
	case l < unit.Foot:
		return fmt.Sprintf("%.1f\"", up(l.Inches(), 10))
	}
	return fmt.Sprintf("%.1f ft", up(l.Feet(), 10))
}

// mostLetters is how many letters of a name or an entry are printed.
const mostLetters = 160

// Clean makes a name or an entry of the job fit for print: tidy, and not
// longer than any honest one.
func Clean(s string) string { return typeset.Clean(s, mostLetters) }

// Tidy takes line breaks, control and direction signs and double blanks out of
// a text.
func Tidy(s string) string { return typeset.Clean(s, 0) }
