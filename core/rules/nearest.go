package rules

import (
	"fmt"
	"strings"

	"undersod/core/english"
)

// nearest returns the word of known that a person most likely meant by text,
// and false when none is near.
func nearest(text string, known []string) (string, bool) {
	const longest = 60 // bytes; no known word is longer
	if len(text) > longest {
		return "", false
	}
	return english.Nearest(text, known)
}

// Absent tells of a pack that a job names and that is not there: what would be
// right in its place, and why it is not there with what follows.
func Absent(why string) (expected, advice string) {
	return "a rule pack: " + strings.Join(Names(), ", "), why + ". Nothing is judged by rules until then."
}

// NoPack tells a person that no pack which comes with the program has a name,
// with those that it has and the one that was most likely meant.
func NoPack(name string) string {
	words := fmt.Sprintf("there is no rule pack %.60q; there are %s", name, strings.Join(Names(), ", "))
	if near, ok := Nearest(name); ok {
		words += fmt.Sprintf("; did you mean %q?", near)
	}
	return words
}
