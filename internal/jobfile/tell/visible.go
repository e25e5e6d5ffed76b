package tell

import (
	"strings"
	"unicode"
)

// Visible returns text of a job as a terminal may safely show it: a character
// that would steer the terminal or turn the direction of the writing is shown
// as a dot in the middle of the line, a tab as a blank.
func Visible(text string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\t':
			return ' '
		case steers(c):
			return '·'
		}
		return c
	}, text)
}

// steers tells the control characters and the marks of direction and of line
// ends, which are seen by nobody and change what is seen: the explicit marks of
// the Unicode Standard Annex 9, Bidirectional Algorithm, section 2.
func steers(c rune) bool {
	switch {
	case unicode.IsControl(c), c == '\u2028', c == '\u2029', c == '\u061c', c == '\u200e', c == '\u200f',
		c >= '\u202a' && c <= '\u202e', c >= '\u2066' && c <= '\u2069':
		return true
	}
	return false
}
