package site

import "fmt"

// Place is where in the user's own text something was written. Line and Column
// count from 1; the zero Place is nowhere.
type Place struct {
	File         string
	Line, Column int
}

// String prints the place as file:line:column, leaving out what is not known.
func (p Place) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.File == "":
		return fmt.Sprintf("%d:%d", p.Line, p.Column)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Severity tells how much a problem weighs.
type Severity uint8

// The severities.
const (
	Mistake Severity = iota // something cannot be used as written
	Remark                  // everything is used, but it should be looked at
)

// Problem is one thing wrong with what was entered, told so that a person can
// mend it. It is an error value.
type Problem struct {
	Place    Place  // where it stands
	Subject  string // which entry, as "tie from A to tank lid"
	Found    string // what was read, as written
	Expected string // what was expected instead
	Example  string // one entry that would be right, empty where none helps
	Advice   string // what to do, empty where Expected says it all
	Severity Severity
}

// Error tells the problem in one line.
func (p Problem) Error() string {
	s := p.Subject
	if at := p.Place.String(); at != "" {
		s = at + ": " + s
	}
	if p.Found != "" {
		s += fmt.Sprintf(": found %q", p.Found)
	}
	if p.Expected != "" {
		s += "; expected " + p.Expected
	}
	if p.Example != "" {
		s += fmt.Sprintf(", for example %q", p.Example)
	}
	if p.Advice != "" {
		s += ". " + p.Advice
	}
	return s
}
