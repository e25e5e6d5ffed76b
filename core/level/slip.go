package level

import (
	"math"

	"undersod/core/unit"
)

// slip is what may have gone wrong with a reading, and what it would have been.
type slip struct {
	what, text string
	length     unit.Length
}

// slipLimit is how many standard deviations the corrected reading may lie from
// what the others say: 99 %.
const slipLimit = 2.576

// Penalties rank the slips by how often they happen, as minus twice the log of
// the odds; those of the plan's adjustment (common practice, no source).
const (
	penaltyStep   = 2.0
	penaltyDigits = 4.0
)

// slip returns the slip that explains a misfit best: the smallest sum of its
// squared distance, in standard deviations, and its penalty.
func (r suspect) slip() (slip, bool) {
	best, found, least := slip{}, false, math.Inf(1)
	weigh := func(list []slip, penalty float64) {
		for _, s := range list {
			z := math.Abs(float64((s.length - r.written.Length - r.off) / r.sd))
			if z <= slipLimit && z*z+penalty < least && s.length > 0 {
				best, found, least = s, true, z*z+penalty
			}
		}
	}
	weigh(wholeSteps(r.written), penaltyStep)
	weigh(exchanged(r.written), penaltyDigits)
	weigh(upsideDown(r.written), penaltyDigits)
	return best, found
}

// wholeSteps lists whole marks of the rod read too many or too few.
func wholeSteps(w unit.Written) []slip {
	type step struct {
		what string
		by   unit.Length
	}
	var steps []step
	switch w.Form {
	case unit.Metres, unit.Centimetres, unit.Millimetres:
		steps = []step{{"a slip of one metre", 1}, {"a slip of a tenth of a metre", 0.1}, {"a slip of one centimetre", 0.01}}
	case unit.FeetInches, unit.Inches:
		steps = []step{{"a foot slip", unit.Foot}, {"a slip of one inch", unit.Inch}}
	default:
		steps = []step{{"a foot slip", unit.Foot}, {"a slip of a tenth of a foot", unit.Foot / 10}}
	}
	var out []slip
	for _, s := range steps {
		for _, by := range [2]unit.Length{s.by, -s.by} {
			l := w.Length + by
			out = append(out, slip{s.what, w.Style().Format(l), l})
		}
	}
	return out
}

// exchanged lists neighbouring digits that changed places.
func exchanged(w unit.Written) []slip {
	var out []slip
	last, have := 0, false
	for i := range len(w.Text) {
		switch c := w.Text[i]; {
		case c >= '0' && c <= '9':
			if have && w.Text[last] != c {
				b := []byte(w.Text)
				b[last], b[i] = b[i], b[last]
				out = reread(out, "exchanged digits", string(b), w.Form)
			}
			last, have = i, true
		case c != '.':
			have = false
		}
	}
	return out
}

// upsideDown lists each 6 taken for a 9 and each 9 for a 6.
func upsideDown(w unit.Written) []slip {
	var out []slip
	for i := range len(w.Text) {
		if c := w.Text[i]; c == '6' || c == '9' {
			b := []byte(w.Text)
			b[i] = '6' + '9' - c
			out = reread(out, "a 6 taken for a 9, or a 9 for a 6", string(b), w.Form)
		}
	}
	return out
}

// reread keeps a changed text if it still reads as a length.
func reread(out []slip, what, text string, form unit.Form) []slip {
	w, err := unit.ParseLength(text, form)
	if err != nil {
		return out
	}
	return append(out, slip{what, text, w.Length})
}
