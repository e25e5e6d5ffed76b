package unit

import "strings"

// Style returns the style that prints the length in the form and with the
// places in which it was written, so that the printed text means the same
// length to the last bit. It does so for all that ParseLength reads with at
// most 6 decimals, except US survey feet, which it prints as international feet
// to a millionth.
func (w Written) Style() Style {
	s := Style{Form: w.Form, Digits: NoDigits}
	inches := w.Form == FeetInches || w.Form == Inches || w.Form == NoForm
	switch fraction := strings.ContainsAny(w.Text, "/⁄½¼¾⅛⅜⅝⅞"); {
	case fraction && inches:
		s.Denominator = 16
		if strings.Contains(w.Text, "32") || strings.Contains(w.Text, "64") {
			s.Denominator = 64
		}
	case fraction || strings.Contains(strings.ToLower(w.Text), "us"):
		s.Digits = 6 // 1/64 has six decimals
	default:
		if n := decimalsOf(w.Text); n > 0 {
			s.Digits = n
		} else if inches {
			s.Denominator = 16
		}
	}
	return s
}

// decimalsOf counts the digits behind the decimal point of a text.
func decimalsOf(text string) int {
	at := strings.LastIndexByte(text, '.')
	for at > 0 && (at+1 == len(text) || !isDigit(text[at+1])) { // an abbreviation's full stop
		at = strings.LastIndexByte(text[:at], '.')
	}
	n := 0
	for at >= 0 && at+1+n < len(text) && isDigit(text[at+1+n]) {
		n++
	}
	return n
}
