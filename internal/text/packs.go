package text

import (
	"errors"
	"fmt"
	"io"

	"undersod/core/absorb"
	"undersod/core/english"
	"undersod/core/rules"
)

// Packs lists the rule packs that the program carries.
func Packs(w io.Writer, colour bool) {
	t := &teller{w: w, colour: colour}
	for _, pack := range rules.Builtin() {
		mark := ""
		if pack.Name == rules.DefaultName {
			mark = " (where a job names none)"
		}
		t.print("%s, %s%s\n", t.paint(bold, pack.Name), pack.Place, mark)
		t.wrapped("    ", pack.Words)
		t.wrapped("    ", covers(pack))
	}
	t.print("%s, for every pack without its own\n", t.paint(bold, rules.CommonName))
	t.wrapped("    ", "Service lives and how often to look.")
	t.print("\n%s\n", absorb.Decides)
}

// covers tells what a pack has numbers of.
func covers(p *rules.Pack) string {
	words := p.Covers()
	if words == "" {
		return "Covers nothing yet: fill it in."
	}
	return "Covers: " + words + "."
}

// Pack reads a pack out of a file and prints whether it can be used, and
// everything wrong in it.
func Pack(w io.Writer, colour bool, name string, data []byte) bool {
	t := &teller{w: w, colour: colour}
	pack, err := rules.Parse(name, data)
	var wrong rules.Problems
	switch {
	case err == nil:
		t.print("%s: %s, %s, can be used\n", t.paint(bold, name), pack.Name, pack.Place)
		t.wrapped("    ", covers(pack))
		return true
	case errors.As(err, &wrong):
		t.print("%s: %s\n", t.paint(bold, name), t.paint(red, fmt.Sprintf("%s, cannot be used", english.Count(len(wrong), "mistake"))))
		for _, problem := range wrong {
			t.wrapped("- ", problem.Error())
		}
	default:
		t.print("%s: %s\n", t.paint(bold, name), t.paint(red, err.Error()))
	}
	return false
}
