// Package tree makes one tree of values, each with its place, of a file in YAML
// or JSON.
package tree

import (
	"fmt"
	"slices"

	"undersod/core/site"
	"undersod/internal/jobfile/tell"
)

// Limits that keep a hostile or broken file from taking the machine: far above
// what one property needs.
const (
	maxNodes = 600_000
	maxDepth = 32
)

// Form is what a node of the file is.
type Form uint8

// The forms.
const (
	Scalar Form = iota
	List
	Dict
)

// Node is one value of the file with its place, whether the file was YAML or
// JSON. A dict has as many keys as items.
type Node struct {
	Form         Form
	Text         string // of a scalar, as it means, without quotes
	Quoted       bool   // the scalar stood in quotes
	Null         bool   // nothing was written
	Block        bool   // the scalar was a block of lines: its columns do not follow the text
	Line, Column int    // from 1; columns count characters
	Keys         []*Node
	Items        []*Node
}

// Shown is the node as a person recognises it in a message.
func (n *Node) Shown() string {
	switch {
	case n.Form == List:
		return "a list"
	case n.Form == Dict:
		return "a group of keys"
	case n.Null && n.Text == "":
		return "nothing"
	}
	return tell.Clip(n.Text)
}

// Key returns the value of a key of a group, nil when there is none.
func (n *Node) Key(name string) *Node {
	if n == nil || n.Form != Dict {
		return nil
	}
	for i, k := range n.Keys {
		if k.Text == name && !n.Items[i].Null {
			return n.Items[i]
		}
	}
	return nil
}

// Drop takes keys out of a group.
func (n *Node) Drop(names []string) {
	keys, items := n.Keys[:0], n.Items[:0]
	for i, k := range n.Keys {
		if !slices.Contains(names, k.Text) {
			keys, items = append(keys, k), append(items, n.Items[i])
		}
	}
	n.Keys, n.Items = keys, items
}

// Elements are the items of a list, or the node itself.
func Elements(n *Node) []*Node {
	if n.Form == List {
		return n.Items
	}
	return []*Node{n}
}

// Refusal is the error, a site.Problem, for a file that cannot be read at all.
func Refusal(file string, line, column int, found, expected, advice string) error {
	return site.Problem{
		Place:   site.Place{File: file, Line: line, Column: column},
		Subject: "the file cannot be read", Found: found, Expected: expected, Advice: advice,
	}
}

func tooDeep(file string, line, column int) error {
	return Refusal(file, line, column, "", fmt.Sprintf("at most %d levels of nesting", maxDepth),
		"Take out the brackets or the indents that are too many.")
}

func tooMany(file string, line, column int) error {
	return Refusal(file, line, column, "", fmt.Sprintf("at most %d values in one file", maxNodes),
		"A job holds one property and one visit; split the file.")
}
