// Package typeset makes texts fit for print, and breaks and shortens them to a
// width with whatever font measures them.
package typeset

import "strings"

// Wrap breaks a text into lines no wider than width as advance measures them,
// between words where it can and inside a word where that alone is too wide.
// Nothing but blanks is dropped; a line holds one letter at least.
func Wrap[T ~float64](text string, width T, advance func(string) T) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		joined := word
		if line != "" {
			joined = line + " " + word
		}
		if advance(joined) <= width {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		pieces := chop(word, width, advance)
		lines = append(lines, pieces[:len(pieces)-1]...)
		line = pieces[len(pieces)-1]
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// mostLetters is more letters than any line of a page holds.
const mostLetters = 300

// chop breaks one word into pieces no wider than width, one letter at least.
func chop[T ~float64](word string, width T, advance func(string) T) []string {
	var pieces []string
	letters := []rune(word)
	for len(letters) > 0 {
		n := min(len(letters), mostLetters)
		for n > 1 && advance(string(letters[:n])) > width {
			n--
		}
		pieces = append(pieces, string(letters[:n]))
		letters = letters[n:]
	}
	return pieces
}

// Shorten returns a text whole where it is no wider than width, and otherwise
// as much of its beginning as fits with a sign that it goes on; nothing where
// not even that fits.
func Shorten[T ~float64](text string, width T, advance func(string) T) string {
	if advance(text) <= width {
		return text
	}
	letters := []rune(text)
	for n := min(len(letters)-1, mostLetters); n > 0; n-- {
		short := strings.TrimRight(string(letters[:n]), " ,.;:") + "…"
		if advance(short) <= width {
			return short
		}
	}
	return ""
}
