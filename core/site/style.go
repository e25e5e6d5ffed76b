package site

import "undersod/core/unit"

// Style returns how lengths are printed, with the defaults filled in.
func (s Show) Style() unit.Style {
	out := unit.Style{Form: s.Form, Denominator: s.Denominator}
	if out.Denominator == 0 {
		out.Denominator = 8
	}
	return out
}
