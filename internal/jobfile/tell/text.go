// Package tell puts what is wrong with a file into words and shows it to a
// person: the line with a caret under the place, safe for any terminal, and the
// word that was most likely meant.
package tell

import (
	"bytes"
	"strings"
	"unicode/utf8"
)

// Clip shortens long text for a message.
func Clip(s string) string {
	const most = 60
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	runes := 0
	for i := range s {
		if runes == most {
			return s[:i] + "…"
		}
		runes++
	}
	return s
}

// SourceLine returns line number n of src, from 1, without its end.
func SourceLine(src []byte, n int) string {
	for i := 1; i < n; i++ {
		j := bytes.IndexByte(src, '\n')
		if j < 0 {
			return ""
		}
		src = src[j+1:]
	}
	if j := bytes.IndexByte(src, '\n'); j >= 0 {
		src = src[:j]
	}
	if n < 1 {
		return ""
	}
	return strings.TrimRight(string(src), "\r")
}
