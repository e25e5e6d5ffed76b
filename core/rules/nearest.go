package rules

import (
	"strings"
	"unicode/utf8"
)

// nearest returns the word of known that a person most likely meant by text,
// and false when none is near.
func nearest(text string, known []string) (string, bool) {
	const longest = 60 // bytes; no known word is longer
	if len(text) > longest {
		return "", false
	}
	want := plain(text)
	best, found := (utf8.RuneCountInString(want)+1)/3+1, ""
	for _, k := range known {
		if d := distance([]rune(want), []rune(plain(k))); d < best {
			best, found = d, k
		}
	}
	return found, found != ""
}

// plain drops what weighs nothing between two words: capitals and the
// difference of blanks, hyphens and underscores.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if r == ' ' || r == '-' || r == '_' {
			return -1
		}
		return r
	}, strings.ToLower(s))
}

// distance is the number of letters to add, take out, change or exchange with
// their neighbour to make b of a (the optimal string alignment distance).
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

// orList prints words as "a, b or c".
func orList(words []string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + " or " + words[n-1]
}
