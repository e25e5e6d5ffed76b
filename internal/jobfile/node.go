package jobfile

import (
	"fmt"
	"unicode/utf8"

	"undersod/core/site"
)

// Limits that keep a hostile or broken file from taking the machine: far above
// what one property needs.
const (
	maxBytes    = 4 << 20
	maxNodes    = 600_000
	maxDepth    = 32
	maxPoints   = 20_000
	maxReadings = 100_000
	maxProblems = 1_000
	maxName     = 80
)

// form is what a node of the file is.
type form uint8

const (
	scalar form = iota
	list
	dict
)

// node is one value of the file with its place, whether the file was YAML or
// JSON. A dict has as many keys as items.
type node struct {
	form         form
	text         string // of a scalar, as it means, without quotes
	quoted       bool   // the scalar stood in quotes
	null         bool   // nothing was written
	block        bool   // the scalar was a block of lines: its columns do not follow the text
	line, column int    // from 1; columns count characters
	keys         []*node
	items        []*node
}

// shown is the node as a person recognises it in a message.
func (n *node) shown() string {
	switch {
	case n.form == list:
		return "a list"
	case n.form == dict:
		return "a group of keys"
	case n.null && n.text == "":
		return "nothing"
	}
	return clip(n.text)
}

// clip shortens long text for a message.
func clip(s string) string {
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

// refusal is the error for a file that cannot be read at all.
func refusal(file string, line, column int, found, expected, advice string) error {
	return site.Problem{
		Place:   site.Place{File: file, Line: line, Column: column},
		Subject: "the file cannot be read", Found: found, Expected: expected, Advice: advice,
	}
}

func tooDeep(file string, line, column int) error {
	return refusal(file, line, column, "", fmt.Sprintf("at most %d levels of nesting", maxDepth),
		"Take out the brackets or the indents that are too many.")
}

func tooMany(file string, line, column int) error {
	return refusal(file, line, column, "", fmt.Sprintf("at most %d values in one file", maxNodes),
		"A job holds one property and one visit; split the file.")
}
