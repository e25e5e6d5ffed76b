package rules

import "undersod/core/english"

// nearest returns the word of known that a person most likely meant by text,
// and false when none is near.
func nearest(text string, known []string) (string, bool) {
	const longest = 60 // bytes; no known word is longer
	if len(text) > longest {
		return "", false
	}
	return english.Nearest(text, known)
}
