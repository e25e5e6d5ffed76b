// Package english holds the few rules of English that words made by the program
// follow: counts, lists, capitals, and which word was meant by a misspelt one.
package english

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Count prints a number of things: "1 part", "3 parts".
func Count(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// Several prints a number of things whose plural is not one more s: "1 entry",
// "3 entries".
func Several(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// And lists names: "A, B and C".
func And[T ~string](names []T) string { return Join(names, "and") }

// Or lists words to choose from: "a, b or c".
func Or[T ~string](words []T) string { return Join(words, "or") }

// Join lists words with commas, and the joint before the last.
func Join[T ~string](words []T, joint string) string {
	var b strings.Builder
	for i, w := range words {
		switch {
		case i == 0:
		case i == len(words)-1:
			b.WriteString(" " + joint + " ")
		default:
			b.WriteString(", ")
		}
		b.WriteString(string(w))
	}
	return b.String()
}

// Capital begins words with a capital.
func Capital(s string) string {
	c, n := utf8.DecodeRuneInString(s)
	if n == 0 || c == utf8.RuneError {
		return s
	}
	return string(unicode.ToUpper(c)) + s[n:]
}

// Sentence begins words with a capital and ends them with a full stop; nothing
// stays nothing.
func Sentence(s string) string {
	if s == "" {
		return ""
	}
	return Capital(strings.TrimSuffix(s, ".")) + "."
}
