package jobfile

import (
	"fmt"
	"io/fs"
	"strings"
	"unicode"
	"unicode/utf8"

	"undersod/core/site"
	"undersod/core/unit"
)

// reader walks the nodes of one job and fills it.
type reader struct {
	file     string
	source   []byte
	lines    []int // offsets of the lines of source, made when first needed
	beside   fs.FS
	job      site.Job
	bare     unit.Form
	problems []site.Problem
	told     int // problems found, kept or not

	points   map[site.Name]int       // index into job.Site.Points
	outlined map[site.Name]site.Part // parts with an outline whose name is no point yet
	lineOf   map[site.Name]bool      // lines in the file, usable or not
	partOf   map[site.Name]bool      // parts in the file, usable or not
	featured map[site.Name]bool      // features in the file, usable or not
	levels   map[site.Name]int       // index into job.Site.LevelPoints
	tools    map[site.Name]bool      // instruments in the file, usable or not
	ids      map[site.ReadingID]bool
	repeats  map[site.ReadingID]int
	seen     int  // findings, camera runs and pictures so far
	guesses  int  // names looked up by likeness so far
	full     bool // a limit of points or readings was told
	sources  map[string][]byte
}

func newReader(file string, source []byte, beside fs.FS) *reader {
	return &reader{
		file: file, source: source, beside: beside,
		job:      site.Job{Show: site.Show{Form: unit.FeetInches, Denominator: 8}},
		points:   map[site.Name]int{},
		outlined: map[site.Name]site.Part{},
		lineOf:   map[site.Name]bool{},
		partOf:   map[site.Name]bool{},
		featured: map[site.Name]bool{},
		levels:   map[site.Name]int{},
		tools:    map[site.Name]bool{},
		ids:      map[site.ReadingID]bool{},
		repeats:  map[site.ReadingID]int{},
		sources:  map[string][]byte{file: source},
	}
}

func (r *reader) at(n *node) site.Place {
	return site.Place{File: r.file, Line: n.line, Column: n.column}
}

// tell adds a problem, up to a limit past which the file is beyond reading by
// a person.
func (r *reader) tell(p site.Problem) {
	r.told++
	if len(r.problems) < maxProblems {
		r.problems = append(r.problems, p)
	}
}

// wrong tells that n was found where something else was expected.
func (r *reader) wrong(n *node, subject, expected, example string) {
	r.tell(site.Problem{Place: r.at(n), Subject: subject, Found: n.shown(), Expected: expected, Example: example})
}

// guess finds the known name nearest to text. Only so many are looked up: a
// file full of unknown names must not take minutes.
func (r *reader) guess(text string, known func() []string) (string, bool) {
	const most = 100
	if r.guesses++; r.guesses > most {
		return "", false
	}
	return nearest(text, known())
}

// fields are the values of a group of known keys.
type fields struct {
	self   *node
	byName map[string]*node
}

// get returns the value of a key, nil when the key is absent or empty.
func (f fields) get(key string) *node {
	n := f.byName[key]
	if n == nil || n.null {
		return nil
	}
	return n
}

// fields reads n as a group of the keys in keyTable[group]. Unknown and
// repeated keys are told and left out. It is false when n is no group at all.
func (r *reader) fields(n *node, subject, group string) (fields, bool) {
	f := fields{self: n}
	if n.form == scalar && n.null {
		return f, true
	}
	known := keyTable[group]
	if n.form != dict {
		r.wrong(n, subject, "a group of keys: "+orList(known), "")
		return f, false
	}
	f.byName = make(map[string]*node, len(n.keys))
	for _, e := range r.entries(n, subject) {
		key := string(e.name)
		switch {
		case contains(known, key):
			f.byName[key] = e.value
		case group == inJob && contains(known, sectionKey(key)) && n.key(sectionKey(key)) == nil && f.byName[sectionKey(key)] == nil:
			// Every reading rests on a section: one capital must not make
			// mistakes of them all.
			r.capitalKey(e, subject, sectionKey(key))
			f.byName[sectionKey(key)] = e.value
		default:
			r.unknownKey(e, subject, known)
		}
	}
	return f, true
}

// sectionKey is the key of a section that a key stands for if its capitals are
// slips.
func sectionKey(key string) string { return strings.ToLower(key) }

// capitalKey remarks that a key differs from a known one in its capitals alone.
func (r *reader) capitalKey(e entry, subject, key string) {
	r.tell(site.Problem{
		Place: r.at(e.key), Subject: "a key in " + subject, Found: clip(string(e.name)), Expected: key,
		Advice: fmt.Sprintf("Did you mean %q? It is read as that.", key), Severity: site.Remark,
	})
}

func (r *reader) unknownKey(e entry, subject string, known []string) {
	if len(r.problems) >= maxProblems {
		r.told++ // nobody will read it: spare the search for what was meant
		return
	}
	p := site.Problem{
		Place: r.at(e.key), Subject: "a key in " + subject, Found: clip(string(e.name)),
		Expected: "one of the keys " + orList(known),
	}
	near, ok := nearest(string(e.name), known)
	switch {
	case ok:
		p.Advice = fmt.Sprintf("Did you mean %q?", near)
	case e.value.null:
		p.Advice = "Between { } or [ ] a comma starts the next entry: put a text that has a comma in quotes."
	}
	r.tell(p)
}

// entry is one key of a group with its value.
type entry struct {
	key   *node
	name  site.Name
	value *node
}

// entries lists the keys of a group in file order; a key that is no name, or
// that stood there before, is told and left out.
func (r *reader) entries(n *node, subject string) []entry {
	if n.form == scalar && n.null {
		return nil
	}
	if n.form != dict {
		r.wrong(n, subject, "a group: a name, a colon and what belongs to it", "")
		return nil
	}
	first := make(map[site.Name]*node, len(n.keys))
	var list []entry
	for i, k := range n.keys {
		name, ok := r.name(k, "a key in "+subject)
		if !ok {
			continue
		}
		if before := first[name]; before != nil {
			r.tell(site.Problem{
				Place: r.at(k), Subject: "a key in " + subject, Found: clip(string(name)),
				Expected: fmt.Sprintf("each key once; line %d has it already", before.line),
				Advice:   "Only the first is used. What was read more than once is written as a list, [first, second].",
			})
			continue
		}
		first[name] = k
		list = append(list, entry{k, name, n.items[i]})
	}
	return list
}

// name reads a name: blanks around it are dropped, blanks inside made one.
func (r *reader) name(n *node, subject string) (site.Name, bool) {
	if n.form != scalar {
		r.wrong(n, subject, "a name", "Line 1")
		return "", false
	}
	text := strings.Join(strings.Fields(n.text), " ")
	switch {
	case text == "" || n.null && n.text == "":
		r.wrong(n, subject, "a name", "Line 1")
	case utf8.RuneCountInString(text) > maxName:
		r.wrong(n, subject, fmt.Sprintf("a name of at most %d characters", maxName), "Line 1")
	case strings.IndexFunc(text, unprintable) >= 0:
		r.wrong(n, subject, "a name of characters that can be seen", "Line 1")
	default:
		return site.Name(text), true
	}
	return "", false
}

func unprintable(c rune) bool { return c == utf8.RuneError || !unicode.IsPrint(c) }

// names reads a list of names; a single name counts as a list of one.
func (r *reader) names(n *node, subject string) []site.Name {
	var out []site.Name
	for _, item := range elements(n) {
		if name, ok := r.name(item, subject); ok {
			out = append(out, name)
		}
	}
	return out
}

// elements are the items of a list, or the node itself.
func elements(n *node) []*node {
	if n.form == list {
		return n.items
	}
	return []*node{n}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
