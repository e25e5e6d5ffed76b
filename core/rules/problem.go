package rules

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Problem is one thing wrong in a pack: where it stands, what was read, what
// would be right, and an example.
type Problem struct {
	File         string
	Line, Column int    // from 1
	Key          string // "field.steps[2].up to"; empty for the whole file
	Found        string
	Expected     string
	Example      string
}

// Error tells the problem in one line.
func (p *Problem) Error() string {
	where := fmt.Sprintf("%s:%d:%d: ", p.File, p.Line, p.Column)
	if p.Key != "" {
		where += p.Key + ": "
	}
	s := where + p.Found + "; expected " + p.Expected
	if p.Example != "" {
		s += ", for example " + p.Example
	}
	return s
}

// Problems is everything wrong in a pack, in the order of the file.
type Problems []*Problem

// Error tells every problem, one a line.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, one := range p {
		lines[i] = one.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives the problems one by one.
func (p Problems) Unwrap() []error {
	out := make([]error, len(p))
	for i, one := range p {
		out[i] = one
	}
	return out
}

// quoted shows a text in one line, cut where it is long.
func quoted(text string) string {
	const longest = 60
	text = strings.ToValidUTF8(text, "\uFFFD")
	if len(text) > longest {
		end := longest
		for !utf8.RuneStart(text[end]) {
			end--
		}
		text = text[:end] + "…"
	}
	return "“" + strings.Map(func(c rune) rune {
		if unicode.IsControl(c) {
			return ' '
		}
		return c
	}, text) + "”"
}
