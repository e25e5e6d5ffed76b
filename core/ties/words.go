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

// Known prints a length no finer than it is known: its last digit stands for no
// less than the standard deviation. Fractions of an inch become whole inches,
// then tenths of a foot, as 213.4 ft; decimals become fewer, then whole tens.
func (w Wording) Known(l, sd unit.Length) string {
	style := unit.Style{Form: w.Form, Denominator: w.Denominator, Digits: 2}
	if w.Form == unit.FeetInches || w.Form == unit.Inches {
		for ; style.Denominator > 1 && unit.Inch/unit.Length(style.Denominator) < sd; style.Denominator /= 2 {
		}
		if sd <= unit.Inch/unit.Length(max(style.Denominator, 1)) {
			return style.Format(l)
		}
		style = unit.Style{Form: unit.DecimalFeet, Digits: 1}
	}
	one := map[unit.Form]unit.Length{unit.Metres: unit.Metre, unit.Centimetres: unit.Metre / 100, unit.Millimetres: unit.Metre / 1000}[style.Form]
	if one == 0 {
		one = unit.Foot
	}
	step := one / unit.Length(math.Pow10(style.Digits))
	for ; step < sd && step < Farthest; step *= 10 {
		if style.Digits--; style.Digits == 0 {
			style.Digits = unit.NoDigits
		}
	}
	if style.Digits < 0 {
		l = unit.Length(math.Round(float64(l/step))) * step
	}
	return style.Format(l)
}

// mostLetters is how many letters of a name or an entry are printed.
const mostLetters = 160

// Clean makes a name or an entry of the job fit for print: tidy, and not
// longer than any honest one.
func Clean(s string) string { return typeset.Clean(s, mostLetters) }

// Tidy takes line breaks, control and direction signs and double blanks out of
// a text.
func Tidy(s string) string { return typeset.Clean(s, 0) }
