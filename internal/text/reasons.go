package text

import (
	"strings"

	"undersod/core/english"
)

// nextMark stands between what a reason says and what it advises.
const nextMark = " Next: "

// joinable lists the sentences of a verdict that may speak of several parts at
// once: what stands before and after the part, and the word that joins parts.
var joinable = []struct{ before, after, joint string }{
	{"Nothing checks the place of ", ".", "and"},
	{"A wrong reading could move ", " and nobody would notice.", "or"},
}

// collapsed makes one reason of those that give the very same advice, so that
// it is told once. The order is that of the first of each.
func collapsed(reasons []string) []string {
	facts := map[string][]string{}
	for _, r := range reasons {
		if fact, advice, ok := strings.Cut(r, nextMark); ok {
			facts[advice] = append(facts[advice], fact)
		}
	}
	var out []string
	for _, r := range reasons {
		_, advice, ok := strings.Cut(r, nextMark)
		same := facts[advice]
		switch {
		case !ok || len(same) == 1:
			out = append(out, r)
		case len(same) > 1:
			out = append(out, joined(same)+" Next, for each of them: "+advice)
			facts[advice] = nil // told
		}
	}
	return out
}

// joined puts sentences that differ in the part alone into one.
func joined(facts []string) string {
	var out []string
	for _, j := range joinable {
		var parts, rest []string
		for _, f := range facts {
			part, begins := strings.CutPrefix(f, j.before)
			part, ends := strings.CutSuffix(part, j.after)
			if begins && ends {
				parts = append(parts, part)
			} else {
				rest = append(rest, f)
			}
		}
		if len(parts) > 0 {
			out = append(out, j.before+english.Join(parts, j.joint)+j.after)
		}
		facts = rest
	}
	return strings.Join(append(out, facts...), " ")
}
