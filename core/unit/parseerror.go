package unit

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// ParseError tells why a text is not the quantity it should be, in words that
// let a person mend it.
type ParseError struct {
	Text     string // the whole text as it was given
	Offset   int    // byte offset into Text where reading stopped
	Problem  string // what is wrong, a clause without capital and full stop
	Expected string // what would be right instead
	Example  string // one text that would be right
}

// Error tells the problem in one line.
func (e *ParseError) Error() string {
	s := "cannot read “" + oneLine(e.Text) + "”: " + e.Problem
	if e.Expected != "" {
		s += "; expected " + e.Expected
	}
	if e.Example != "" {
		s += ", for example " + e.Example
	}
	return s
}

// within turns an error about a piece of a text, which starts at offset, into
// an error about the whole text.
func (e *ParseError) within(text string, offset int) *ParseError {
	e.Text, e.Offset = text, e.Offset+offset
	return e
}

// oneLine makes a text fit to be shown in a line: cut where it is long, without
// control characters.
func oneLine(text string) string {
	const longest = 60 // bytes; no quantity is longer
	if len(text) > longest {
		end := longest
		for end > longest-utf8.UTFMax && !utf8.RuneStart(text[end]) {
			end--
		}
		text = text[:end] + "…"
	}
	return strings.Map(func(c rune) rune {
		if unicode.IsControl(c) {
			return ' '
		}
		return c
	}, strings.ToValidUTF8(text, "\uFFFD"))
}
