package typeset

import (
	"strings"
	"unicode"
)

// Clean takes line breaks, control and direction signs and double blanks out of
// a text, and cuts it to a number of letters, the last of which then tells that
// it goes on; 0 leaves its length.
func Clean(text string, most int) string {
	if !plain(text) {
		text = strings.Map(printed, strings.ToValidUTF8(text, "�"))
		text = strings.Join(strings.Fields(text), " ")
	}
	if most > 0 && len(text) > most {
		if r := []rune(text); len(r) > most {
			return string(r[:most-1]) + "…"
		}
	}
	return text
}

func printed(r rune) rune {
	switch {
	case unicode.IsSpace(r):
		return ' '
	case !unicode.IsPrint(r):
		return -1
	}
	return r
}

// plain tells whether a text is clean already, as nearly all are.
func plain(text string) bool {
	before := byte(' ')
	for i := range len(text) {
		c := text[i]
		if c < ' ' || c >= 0x7f || c == ' ' && before == ' ' {
			return false
		}
		before = c
	}
	return before != ' ' || text == ""
}
