// Package values reads values out of the tree of a job file and tells what is
// Wrong with them, each with its place.
package values

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tell"
	"undersod/internal/jobfile/tree"
)

// maxProblems is how many problems are kept: past it the file is beyond reading
// by a person.
const maxProblems = 1_000

// MaxName is the longest name, in characters.
const MaxName = 80

// Reader reads values and collects what is wrong with them.
type Reader struct {
	File     string              // which is read, for places
	Source   []byte              // its text
	Bare     unit.Form           // what a length without a unit is in
	Keys     map[string][]string // the keys of every group
	Lenient  string              // group whose keys may have other capitals
	Problems []site.Problem
	Told     int // problems found, kept or not

	lines   []int // offsets of the lines of Source, made when first needed
	guesses int   // names looked up by likeness so far
}

// At is where a node stands.
func (r *Reader) At(n *tree.Node) site.Place {
	return site.Place{File: r.File, Line: n.Line, Column: n.Column}
}

// Within does something while problems are placed in another file.
func (r *Reader) Within(file string, source []byte, do func() error) error {
	before, beforeSource, lines := r.File, r.Source, r.lines
	r.File, r.Source, r.lines = file, source, nil
	err := do()
	r.File, r.Source, r.lines = before, beforeSource, lines
	return err
}

// Tell adds a problem, up to a limit past which the file is beyond reading by
// a person.
func (r *Reader) Tell(p site.Problem) {
	r.Told++
	if len(r.Problems) < maxProblems {
		r.Problems = append(r.Problems, p)
	}
}

// Wrong tells that n was found where something else was expected.
func (r *Reader) Wrong(n *tree.Node, subject, expected, example string) {
	r.Tell(site.Problem{Place: r.At(n), Subject: subject, Found: n.Shown(), Expected: expected, Example: example})
}

// Guess finds the known name nearest to text. Only so many are looked up: a
// file full of unknown names must not take minutes.
func (r *Reader) Guess(text string, known func() []string) (string, bool) {
	const most = 100
	if r.guesses++; r.guesses > most {
		return "", false
	}
	return english.Nearest(text, known())
}

// Fields are the values of a group of known keys.
type Fields struct {
	Self   *tree.Node
	byName map[string]*tree.Node
}

// Get returns the value of a key, nil when the key is absent or empty.
func (f Fields) Get(key string) *tree.Node {
	n := f.byName[key]
	if n == nil || n.Null {
		return nil
	}
	return n
}

// Fields reads n as a group of the keys in r.Keys[group]. Unknown and
// repeated keys are told and left out. It is false when n is no group at all.
func (r *Reader) Fields(n *tree.Node, subject, group string) (Fields, bool) {
	f := Fields{Self: n}
	if n.Form == tree.Scalar && n.Null {
		return f, true
	}
	known := r.Keys[group]
	if n.Form != tree.Dict {
		r.Wrong(n, subject, "a group of keys: "+english.Or(known), "")
		return f, false
	}
	f.byName = make(map[string]*tree.Node, len(n.Keys))
	for _, e := range r.Entries(n, subject) {
		key := string(e.Name)
		switch {
		case slices.Contains(known, key):
			f.byName[key] = e.Value
		case group == r.Lenient && slices.Contains(known, SectionKey(key)) && n.Key(SectionKey(key)) == nil && f.byName[SectionKey(key)] == nil:
			// Every reading rests on a section: one capital must not make
			// mistakes of them all.
			r.capitalKey(e, subject, SectionKey(key))
			f.byName[SectionKey(key)] = e.Value
		default:
			r.unknownKey(e, subject, known)
		}
	}
	return f, true
}

// SectionKey is the key of a section that a key stands for if its capitals are
// slips.
func SectionKey(key string) string { return strings.ToLower(key) }

// capitalKey remarks that a key differs from a known one in its capitals alone.
func (r *Reader) capitalKey(e Entry, subject, key string) {
	r.Tell(site.Problem{
		Place: r.At(e.Key), Subject: "a key in " + subject, Found: tell.Clip(string(e.Name)), Expected: key,
		Advice: fmt.Sprintf("Did you mean %q? It is read as that.", key), Severity: site.Remark,
	})
}

func (r *Reader) unknownKey(e Entry, subject string, known []string) {
	if len(r.Problems) >= maxProblems {
		r.Told++ // nobody will read it: spare the search for what was meant
		return
	}
	p := site.Problem{
		Place: r.At(e.Key), Subject: "a key in " + subject, Found: tell.Clip(string(e.Name)),
		Expected: "one of the keys " + english.Or(known),
	}
	near, ok := english.Nearest(string(e.Name), known)
	switch {
	case ok:
		p.Advice = fmt.Sprintf("Did you mean %q?", near)
	case e.Value.Null:
		p.Advice = "Between { } or [ ] a comma starts the next entry: put a text that has a comma in quotes."
	}
	r.Tell(p)
}

// Entry is one key of a group with its value.
type Entry struct {
	Key   *tree.Node
	Name  site.Name
	Value *tree.Node
}

// Entries lists the keys of a group in file order; a key that is no name, or
// that stood there before, is told and left out.
func (r *Reader) Entries(n *tree.Node, subject string) []Entry {
	if n.Form == tree.Scalar && n.Null {
		return nil
	}
	if n.Form != tree.Dict {
		r.Wrong(n, subject, "a group: a name, a colon and what belongs to it", "")
		return nil
	}
	first := make(map[site.Name]*tree.Node, len(n.Keys))
	var list []Entry
	for i, k := range n.Keys {
		name, ok := r.Name(k, "a key in "+subject)
		if !ok {
			continue
		}
		if before := first[name]; before != nil {
			r.Tell(site.Problem{
				Place: r.At(k), Subject: "a key in " + subject, Found: tell.Clip(string(name)),
				Expected: fmt.Sprintf("each key once; line %d has it already", before.Line),
				Advice:   "Only the first is used. What was read more than once is written as a list, [first, second].",
			})
			continue
		}
		first[name] = k
		list = append(list, Entry{k, name, n.Items[i]})
	}
	return list
}

// Name reads a name: blanks around it are dropped, blanks inside made one.
func (r *Reader) Name(n *tree.Node, subject string) (site.Name, bool) {
	if n.Form != tree.Scalar {
		r.Wrong(n, subject, "a name", "Line 1")
		return "", false
	}
	text := strings.Join(strings.Fields(n.Text), " ")
	switch {
	case text == "" || n.Null && n.Text == "":
		r.Wrong(n, subject, "a name", "Line 1")
	case utf8.RuneCountInString(text) > MaxName:
		r.Wrong(n, subject, fmt.Sprintf("a name of at most %d characters", MaxName), "Line 1")
	case strings.IndexFunc(text, Unprintable) >= 0:
		r.Wrong(n, subject, "a name of characters that can be seen", "Line 1")
	default:
		return site.Name(text), true
	}
	return "", false
}

// Unprintable tells characters that nobody can see.
func Unprintable(c rune) bool { return c == utf8.RuneError || !unicode.IsPrint(c) }

// Names reads a list of names; a single name counts as a list of one.
func (r *Reader) Names(n *tree.Node, subject string) []site.Name {
	var out []site.Name
	for _, item := range tree.Elements(n) {
		if name, ok := r.Name(item, subject); ok {
			out = append(out, name)
		}
	}
	return out
}
