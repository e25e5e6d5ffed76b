package english

import (
	"strings"
	"unicode/utf8"
)

// Nearest returns the word of known that a person most likely meant by text,
// and false when none is near. Capitals and the difference of blanks, hyphens
// and underscores weigh nothing.
func Nearest(text string, known []string) (string, bool) {
	want := Plain(text)
	limit := (utf8.RuneCountInString(want) + 1) / 3 // none for one letter: A is not a slip for B
	best, found := limit+1, ""
	for _, k := range known {
		if d := distance(want, Plain(k), best-1); d < best {
			best, found = d, k
		}
	}
	return found, found != ""
}

// Plain is a text with what weighs nothing taken out of it.
func Plain(s string) string {
	return strings.Map(func(r rune) rune {
		if r == ' ' || r == '-' || r == '_' {
			return -1
		}
		return r
	}, strings.ToLower(s))
}

// distance is the number of letters to add, take out, change or exchange with
// their neighbour to make b of a (the optimal string alignment distance), or
// limit+1 when it is more than limit.
func distance(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	if limit < 0 || len(x)-len(y) > limit || len(y)-len(x) > limit {
		return limit + 1
	}
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			d := min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d = min(d, before[j-2]+1)
			}
			row[j] = d
			least = min(least, d)
		}
		if least > limit {
			return limit + 1
		}
		before, last, row = last, row, before
	}
	return min(last[len(y)], limit+1)
}
