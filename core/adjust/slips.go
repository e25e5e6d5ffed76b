package adjust

import (
	"math"
	"strconv"
	"strings"

	"undersod/core/unit"
)

// variant is what a length may have been before a slip made it what is
// written.
type variant struct {
	kind    HypothesisKind
	text    string
	length  unit.Length
	penalty float64
	// step is the coarse step to which the true reading was read: someone who
	// reads whole inches, or tenths of a foot, rounds to them.
	step unit.Length
}

// Penalties rank the slips by how often they happen, as minus twice the log of
// the odds; common practice, no source. A slip that fits perfectly but is rare
// must not outrank a common one that fits nearly as well.
const (
	penaltyTenths     = 1.0
	penaltyFoot1      = 2.0
	penaltyFoot10     = 3.0
	penaltyFoot5      = 4.0
	penaltyInches     = 3.0
	penaltySixNine    = 4.0
	penaltyTransposed = 4.0
	penaltySides      = 2.0
	penaltyEnd        = 4.0
	penaltyCorner     = 5.0
	penaltySwapped    = 5.0
	penaltySwapBoth   = 3.0 // both readings stand accused, and one slip explains them
	penaltyMirrored   = 6.0
	penaltyZero       = 9.0
	penaltyUnknown    = 12.0
)

// variants lists what a written length may have been.
func variants(w unit.Written) []variant {
	out := steps(w)
	if v, ok := tenths(w); ok {
		out = append(out, v)
	}
	if v, ok := inches(w); ok {
		out = append(out, v)
	}
	out = append(out, sixNine(w.Text, w.Form)...)
	return append(out, transposed(w.Text, w.Form)...)
}

// metric tells whether a form counts in metres.
func metric(f unit.Form) bool {
	return f == unit.Metres || f == unit.Centimetres || f == unit.Millimetres
}

// steps lists whole feet, or whole metres and tenths of one, read too many or
// too few.
func steps(w unit.Written) []variant {
	type step struct {
		by      unit.Length
		penalty float64
	}
	kind, list := SlipFoot, []step{{unit.Foot, penaltyFoot1}, {5 * unit.Foot, penaltyFoot5}, {10 * unit.Foot, penaltyFoot10}}
	if metric(w.Form) {
		kind, list = SlipMetre, []step{{1, penaltyFoot1}, {0.1, penaltyFoot1}, {5, penaltyFoot5}, {10, penaltyFoot10}}
	}
	var out []variant
	for _, s := range list {
		for _, by := range [2]unit.Length{s.by, -s.by} {
			if l := w.Length + by; l > 0 {
				out = append(out, variant{kind, sameForm(w, l), l, s.penalty, 0})
			}
		}
	}
	return out
}

// sameForm prints a length in the form in which another was written.
func sameForm(w unit.Written, l unit.Length) string {
	style := unit.Style{Form: w.Form, Denominator: 16, Digits: decimals(w.Text)}
	if style.Form == unit.NoForm {
		style.Form = unit.DecimalFeet
	}
	return style.Format(l)
}

// decimals counts the digits behind the decimal point, at least one.
func decimals(text string) int {
	at := strings.IndexByte(text, '.')
	n := 0
	for at >= 0 && at+1+n < len(text) && text[at+1+n] >= '0' && text[at+1+n] <= '9' {
		n++
	}
	return max(n, 1)
}

// tenths reads the decimals of 31.9 ft as inches: it was 31' 9".
func tenths(w unit.Written) (variant, bool) {
	at := strings.IndexByte(w.Text, '.')
	if w.Form != unit.DecimalFeet || at < 0 {
		return variant{}, false
	}
	n := decimals(w.Text)
	if at+1+n > len(w.Text) {
		return variant{}, false
	}
	in, err := strconv.Atoi(w.Text[at+1 : at+1+n])
	if err != nil || in < 1 || in > 11 {
		return variant{}, false
	}
	feet := unit.Length(math.Floor(w.Length.Feet()+1e-9)) * unit.Foot
	l := feet + unit.Length(in)*unit.Inch
	return variant{SlipTenths, unit.Style{Form: unit.FeetInches, Denominator: 16}.Format(l), l, penaltyTenths, unit.Inch}, true
}

// inches reads the whole inches of 31' 9" as tenths: it was 31.9 ft.
func inches(w unit.Written) (variant, bool) {
	if w.Form != unit.FeetInches {
		return variant{}, false
	}
	feet := math.Floor(w.Length.Feet() + 1e-9)
	in := (w.Length - unit.Length(feet)*unit.Foot).Inches()
	whole := math.Round(in)
	if math.Abs(in-whole) > 1e-6 || whole < 1 || whole > 9 {
		return variant{}, false
	}
	l := unit.Length(feet+whole/10) * unit.Foot
	return variant{SlipInches, unit.Style{Form: unit.DecimalFeet, Digits: 1}.Format(l), l, penaltyInches, unit.Foot / 10}, true
}

// sixNine turns each 6 of the text into a 9 and each 9 into a 6.
func sixNine(text string, form unit.Form) []variant {
	var out []variant
	for i := range len(text) {
		var other byte
		switch text[i] {
		case '6':
			other = '9'
		case '9':
			other = '6'
		default:
			continue
		}
		out = reread(out, SlipSixNine, text[:i]+string(other)+text[i+1:], form, penaltySixNine)
	}
	return out
}

// transposed swaps each pair of neighbouring digits.
func transposed(text string, form unit.Form) []variant {
	digit := func(c byte) bool { return c >= '0' && c <= '9' }
	var out []variant
	for i := 1; i < len(text); i++ {
		a, b := text[i-1], text[i]
		if digit(a) && digit(b) && a != b {
			out = reread(out, SlipTransposed, text[:i-1]+string(b)+string(a)+text[i+1:], form, penaltyTransposed)
		}
	}
	return out
}

// reread keeps a changed text if it still reads as a length.
func reread(out []variant, kind HypothesisKind, text string, form unit.Form, penalty float64) []variant {
	w, err := unit.ParseLength(text, form)
	if err != nil || w.Length <= 0 {
		return out
	}
	return append(out, variant{kind, text, w.Length, penalty, 0})
}
