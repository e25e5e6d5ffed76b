// Package fields tells which entries of two job files differ, as JSON pointers,
// whatever the entries mean. Comments, order of keys, and YAML or JSON make no
// difference; text and number do, as "12" in quotes is another thing than 12.
package fields

import (
	"encoding/json"
	"fmt"
	"hash/maphash"
	"strings"

	"undersod/internal/archive"
	"undersod/internal/jobfile/tree"
)

// LongestValue bounds what is kept of one value before and after, in bytes of
// JSON; the history keeps the whole files.
const LongestValue = 4096

// Compare is an archive.Compare. The entries of a list are matched, so that one
// put in at the top is one difference. A pointer leads into the file after, and
// for an entry that is gone, into the file before. A file that cannot be read
// gives one field with an empty pointer, and so does a file whose outermost
// value became another kind of thing.
func Compare(before, after []byte, most int) (found []archive.Field, all int) {
	if string(before) == string(after) {
		return nil, 0
	}
	old, oldErr := parse(before)
	now, nowErr := parse(after)
	if oldErr != nil || nowErr != nil {
		f := archive.Field{Before: whole(before, oldErr), After: whole(after, nowErr)}
		return []archive.Field{f}[:min(1, max(0, most))], 1
	}
	c := comparison{most: most}
	c.values("", old, now)
	return c.found, c.all
}

// parse reads a file. The readers are not ours: one that panics counts as an
// error.
func parse(file []byte) (v *value, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("its reader failed on it: %v", fault)
		}
	}()
	root, extra, err := tree.Parse("", file)
	if err != nil {
		return nil, err
	}
	if extra > 0 {
		return nil, fmt.Errorf("a second document begins on line %d", extra)
	}
	return weigh(root), nil
}

// whole stands for a file that is not taken apart, as JSON.
func whole(file []byte, err error) string {
	if err != nil {
		return quote(fmt.Sprintf("a file of %d bytes that cannot be read", len(file)))
	}
	return quote(fmt.Sprintf("a file of %d bytes", len(file)))
}

// value is a node with the sum of all that is in it, so that equal ones are
// known at once.
type value struct {
	*tree.Node
	sum   uint64
	keys  []string // of a dict, unique
	items []*value
}

// seed is new with every start, so that nobody can write a file in which
// different things have equal sums.
var seed = maphash.MakeSeed()

// weigh sums up a node. The order of the keys of a group makes no difference.
func weigh(n *tree.Node) *value {
	v := &value{Node: n}
	if n.Form == tree.Scalar {
		v.sum = maphash.String(seed, scalar(n))
		return v
	}
	if n.Form == tree.Dict {
		v.keys = unique(n.Keys)
	}
	v.sum = maphash.Comparable(seed, n.Form)
	v.items = make([]*value, 0, len(n.Items))
	for i, item := range n.Items {
		w := weigh(item)
		v.items = append(v.items, w)
		if n.Form == tree.Dict {
			v.sum ^= maphash.Comparable(seed, entry{v.keys[i], w.sum})
		} else {
			v.sum = maphash.Comparable(seed, [2]uint64{v.sum, w.sum})
		}
	}
	return v
}

// entry is a key of a group with the sum of what stands under it.
type entry struct {
	key string
	sum uint64
}

// unique returns the keys of a dict; a repeated one is told apart by a number.
func unique(keys []*tree.Node) []string {
	out, next := make([]string, 0, len(keys)), map[string]int{}
	for _, k := range keys {
		name := k.Text
		if k.Form != tree.Scalar {
			name = render(k)
		}
		first := name
		for next[name] > 0 {
			next[first]++
			name = fmt.Sprintf("%s (%d)", first, next[first])
		}
		next[name]++
		out = append(out, name)
	}
	return out
}

// scalar writes a single value as JSON.
func scalar(n *tree.Node) string {
	switch {
	case n.Null:
		return "null"
	case n.Quoted || n.Block:
	case n.Text == "true" || n.Text == "false":
		return n.Text
	case n.Text != "" && strings.ContainsRune("-0123456789", rune(n.Text[0])) && json.Valid([]byte(n.Text)):
		return n.Text
	}
	return quote(n.Text)
}

func quote(text string) string {
	if isPlain(text) {
		return `"` + text + `"`
	}
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(text); err != nil {
		return `""`
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// isPlain reports whether a text is written in JSON as it is.
func isPlain(text string) bool {
	for i := range len(text) {
		if c := text[i]; c < ' ' || c > '~' || c == '"' || c == '\\' {
			return false
		}
	}
	return true
}

// render writes a node as JSON, or, where that is long, how long it is.
func render(n *tree.Node) string {
	var b strings.Builder
	if !write(&b, n) {
		switch n.Form {
		case tree.List:
			return quote(fmt.Sprintf("a list of %d entries", len(n.Items)))
		case tree.Dict:
			return quote(fmt.Sprintf("a group of %d keys", len(n.Items)))
		}
		return quote(fmt.Sprintf("a text of %d bytes", len(n.Text)))
	}
	return b.String()
}

// write reports whether a node fits.
func write(b *strings.Builder, n *tree.Node) bool {
	if n.Form == tree.Scalar {
		if len(n.Text) <= LongestValue {
			b.WriteString(scalar(n))
		}
		return len(n.Text) <= LongestValue && b.Len() <= LongestValue
	}
	open, end := "[", "]"
	var keys []string
	if n.Form == tree.Dict {
		open, end = "{", "}"
		keys = unique(n.Keys)
	}
	b.WriteString(open)
	for i, item := range n.Items {
		if i > 0 {
			b.WriteString(",")
		}
		if keys != nil {
			b.WriteString(quote(keys[i]) + ":")
		}
		if !write(b, item) {
			return false
		}
	}
	b.WriteString(end)
	return b.Len() <= LongestValue
}
