package rules

import (
	"bytes"
	"errors"
	"math"
	"strconv"
	"strings"

	"undersod/core/english"
	"undersod/core/unit"
)

// reader turns the tree of a pack into its numbers and collects what is wrong.
type reader struct {
	file     string
	data     []byte
	problems Problems
}

// most bounds the problems that are told of one pack.
const most = 100

// wrong notes a problem at a byte offset.
func (r *reader) wrong(at int, key, found, expected, example string) {
	if len(r.problems) >= most {
		return
	}
	at = min(max(at, 0), len(r.data))
	line := bytes.Count(r.data[:at], []byte("\n")) + 1
	column := at - bytes.LastIndexByte(r.data[:at], '\n')
	r.problems = append(r.problems, &Problem{r.file, line, column, key, found, expected, example})
}

// field is one key that an object may have.
type field struct {
	key  string
	must bool
	read func(n *node, key string)
}

// object reads the keys of an object and tells whether all was well. Unknown
// keys, keys that stand twice and keys that are missing are problems.
func (r *reader) object(n *node, key, example string, fields ...field) bool {
	if n.kind != isObject {
		r.wrong(n.at, key, "found "+shown(n), isObject, example)
		return false
	}
	before := len(r.problems)
	seen := map[string]bool{}
	for _, m := range n.members {
		f := find(fields, m.key)
		switch {
		case f == nil:
			r.unknown(m, key, fields)
		case seen[m.key]:
			r.wrong(m.at, join(key, m.key), "the key stands twice", "each key once", "")
		default:
			seen[m.key] = true
			f.read(m.value, join(key, m.key))
		}
	}
	for _, f := range fields {
		if f.must && !seen[f.key] {
			r.wrong(n.at, key, "the key "+quoted(f.key)+" is missing", "it to be written", example)
		}
	}
	return len(r.problems) == before
}

func find(fields []field, key string) *field {
	for i := range fields {
		if fields[i].key == key {
			return &fields[i]
		}
	}
	return nil
}

func (r *reader) unknown(m member, key string, fields []field) {
	known := make([]string, len(fields))
	for i, f := range fields {
		known[i] = f.key
	}
	found := "the key " + quoted(m.key) + " is not known"
	if near, ok := nearest(m.key, known); ok {
		found += "; did you mean " + quoted(near) + "?"
	}
	r.wrong(m.at, key, found, "one of "+english.Or(known), "")
}

// join names a key inside another.
func join(key, below string) string {
	if strings.IndexFunc(below, func(c rune) bool { return c < ' ' }) >= 0 || len(below) > 60 {
		below = quoted(below)
	}
	if key == "" {
		return below
	}
	return key + "." + below
}

// shown names a value for an error.
func shown(n *node) string {
	switch n.kind {
	case isText, isNumber:
		return quoted(n.text)
	}
	return n.kind
}

// list reads each item of a list.
func (r *reader) list(n *node, key, example string, item func(n *node, key string)) {
	if n.kind != isList {
		r.wrong(n.at, key, "found "+shown(n), isList, example)
		return
	}
	for i, one := range n.items {
		item(one, key+"["+strconv.Itoa(i)+"]")
	}
}

// text reads a text that is not empty.
func (r *reader) text(into *string, expected, example string) func(*node, string) {
	return func(n *node, key string) {
		if n.kind != isText || strings.TrimSpace(n.text) == "" {
			r.wrong(n.at, key, "found "+shown(n), expected, example)
			return
		}
		*into = strings.TrimSpace(n.text)
	}
}

// choice reads one of the words.
func choice[T ~string](r *reader, into *T, words ...T) func(*node, string) {
	return func(n *node, key string) {
		known := make([]string, len(words))
		for i, w := range words {
			if known[i] = string(w); n.kind == isText && n.text == known[i] {
				*into = w
				return
			}
		}
		found := "found " + shown(n)
		if near, ok := nearest(n.text, known); ok {
			found += "; did you mean " + quoted(near) + "?"
		}
		r.wrong(n.at, key, found, english.Or(known), known[0])
	}
}

// flag reads true or false.
func (r *reader) flag(into *bool) func(*node, string) {
	return func(n *node, key string) {
		if n.kind != isBool {
			r.wrong(n.at, key, "found "+shown(n), isBool, "true")
			return
		}
		*into = n.yes
	}
}

// number reads a number between two bounds.
func (r *reader) number(into *float64, least, greatest float64, expected, example string) func(*node, string) {
	return func(n *node, key string) {
		v, err := strconv.ParseFloat(n.text, 64)
		if n.kind != isNumber || err != nil || !(v >= least && v <= greatest) {
			r.wrong(n.at, key, "found "+shown(n), expected, example)
			return
		}
		*into = v
	}
}

// count reads a whole number from 1 to a bound.
func (r *reader) count(into *int, greatest int, expected, example string) func(*node, string) {
	return func(n *node, key string) {
		v, err := strconv.Atoi(n.text)
		if n.kind != isNumber || err != nil || v < 1 || v > greatest {
			r.wrong(n.at, key, "found "+shown(n), expected, example)
			return
		}
		*into = v
	}
}

// quantity reads a number above zero with its unit, written as text.
func quantity[T ~float64](r *reader, into *T, parse func(string) (T, error), example string) func(*node, string) {
	return func(n *node, key string) {
		if n.kind != isText {
			r.wrong(n.at, key, "found "+shown(n), "a number with its unit, written as a text", `"`+example+`"`)
			return
		}
		v, err := parse(n.text)
		var p *unit.ParseError
		switch {
		case errors.As(err, &p):
			r.wrong(n.at, key, "found "+quoted(n.text)+": "+p.Problem, p.Expected, `"`+example+`"`)
		case err != nil:
			r.wrong(n.at, key, "found "+quoted(n.text), "a number with its unit", `"`+example+`"`)
		case !(v > 0) || math.IsInf(float64(v), 0):
			r.wrong(n.at, key, "found "+quoted(n.text), "a number above zero", `"`+example+`"`)
		default:
			*into = v
		}
	}
}

// length reads a length with its unit.
func length(text string) (unit.Length, error) {
	w, err := unit.ParseLength(text, unit.NoForm)
	return w.Length, err
}
