package clearfile

import (
	"errors"
	"strings"

	"undersod/core/absorb"
	"undersod/core/rules"
)

// Packs is what rules list --json and rules check --json print.
type Packs struct {
	Undersod int    `json:"undersod"` // version of this shape
	Kind     string `json:"kind"`     // "rule packs"
	Packs    []Pack `json:"packs"`
	Decides  string `json:"decides"`
}

// Pack is one rule pack: one that the program carries, or one that was read.
type Pack struct {
	File     string    `json:"file,omitempty"` // where it was read
	Name     string    `json:"name"`           // empty where it could not be read
	Place    string    `json:"place"`
	Words    string    `json:"words"`
	Covers   []string  `json:"covers"`
	Default  bool      `json:"default"` // it holds where a job names none
	Usable   bool      `json:"usable"`
	Problems []Problem `json:"problems"`
}

// Problem is one thing wrong in a pack.
type Problem struct {
	Line     int    `json:"line"` // from 1; 0 for the whole file
	Column   int    `json:"column"`
	Key      string `json:"key"`
	Found    string `json:"found"`
	Expected string `json:"expected"`
	Example  string `json:"example"`
}

// MakePacks returns the document of rule packs.
func MakePacks(packs []Pack) Packs {
	return Packs{Undersod: 1, Kind: "rule packs", Packs: each(packs, func(p Pack) Pack { return p }), Decides: absorb.Decides}
}

// Builtin is the packs that the program carries.
func Builtin() []Pack { return each(rules.Builtin(), pack) }

func pack(p *rules.Pack) Pack {
	out := Pack{Name: p.Name, Place: p.Place, Words: p.Words, Covers: []string{}, Default: p.Name == rules.DefaultName, Usable: true, Problems: []Problem{}}
	if c := p.Covers(); c != "" {
		out.Covers = strings.Split(c, ", ")
	}
	return out
}

// ReadPack reads a pack out of a file, with everything wrong in it.
func ReadPack(name string, data []byte) Pack {
	p, err := rules.Parse(name, data)
	if err == nil {
		out := pack(p)
		out.File, out.Default = name, false
		return out
	}
	out := Pack{File: name, Covers: []string{}, Problems: []Problem{}}
	var wrong rules.Problems
	if !errors.As(err, &wrong) {
		out.Problems = append(out.Problems, Problem{Found: err.Error()})
	}
	for _, w := range wrong {
		out.Problems = append(out.Problems, Problem{w.Line, w.Column, w.Key, w.Found, w.Expected, w.Example})
	}
	return out
}
