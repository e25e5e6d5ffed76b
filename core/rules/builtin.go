package rules

import (
	"embed"
	"strings"

	"undersod/core/english"
)

//go:embed packs/*.json
var packs embed.FS

//go:embed common.json
var commonText []byte

// common returns the service lives, the intervals and the checklist of a pack
// that has none of its own.
func common() *Pack {
	p, err := parse("common.json", commonText)
	if err != nil {
		panic(err) // a file of ours is broken; the tests read it
	}
	return p
}

// Names lists the packs that come with the program, by their file names.
func Names() []string {
	entries, err := packs.ReadDir("packs")
	if err != nil {
		panic(err) // the folder is part of the program
	}
	var out []string
	for _, e := range entries {
		out = append(out, strings.TrimSuffix(e.Name(), ".json"))
	}
	return out
}

// Builtin returns the packs that come with the program, by rising name. They
// are the caller's own copies.
func Builtin() []*Pack {
	var out []*Pack
	for _, name := range Names() {
		out = append(out, load(name))
	}
	return out
}

// ByName returns a pack that comes with the program. Capitals, and blanks for
// hyphens, make no difference.
func ByName(name string) (*Pack, bool) {
	for _, n := range Names() {
		if len(name) < 100 && english.Plain(n) == english.Plain(strings.TrimSpace(name)) {
			return load(n), true
		}
	}
	return nil, false
}

// Nearest returns the name of the pack that a person most likely meant, and
// false when none is near.
func Nearest(name string) (string, bool) { return nearest(strings.TrimSpace(name), Names()) }

// DefaultName names the pack that judges a site whose job names none.
const DefaultName = "federal"

// Default returns the pack that judges a site whose job names none: the old
// federal manual, which sizes a field from bedrooms and percolation alone. It
// is law nowhere by itself; every answer names it.
func Default() *Pack { return load(DefaultName) }

// OwnName names the pack without a number in it, which judges a site whose job
// names a pack that is not there.
const OwnName = "own"

// Text returns the JSON of a pack that comes with the program, for a person to
// copy and change.
func Text(name string) ([]byte, bool) {
	data, err := packs.ReadFile("packs/" + name + ".json")
	return data, err == nil
}

// CommonName names the service lives, intervals and checklist that hold for
// every pack without its own.
const CommonName = "common"

// CommonText returns their JSON, for a person to copy into a pack.
func CommonText() []byte { return append([]byte(nil), commonText...) }

func load(name string) *Pack {
	data, ok := Text(name)
	if !ok {
		panic("no pack " + name)
	}
	p, err := Parse(name+".json", data)
	if err != nil {
		panic(err) // a file of ours is broken; the tests read every one
	}
	return p
}
