package jobfile

import (
	"undersod/core/english"
	"undersod/core/site"
	"undersod/internal/jobfile/tree"
)

// words turns kinds into the words a file may use for them.
func words[K ~string](kinds []K) []string {
	out := make([]string, len(kinds))
	for i, k := range kinds {
		out[i] = string(k)
	}
	return out
}

func instrumentKinds() []string { return words(site.InstrumentKinds()) }

func partKinds() []string { return words(site.PartKinds()) }

func lineKinds() []string { return words(site.LineKinds()) }

func featureKinds() []string { return words(site.FeatureKinds()) }

func proposedKinds() []string { return words(site.ProposedKinds()) }

func findingKinds() []string { return words(site.FindingKinds()) }

func runEnds() []string { return words(site.RunEnds()) }

func grades() []string {
	var out []string
	for _, g := range site.Grades() {
		out = append(out, g.String())
	}
	return out
}

func rodFeet() []string { return words(site.RodFeet()) }

// kinded describes a section whose entries each have a kind: its group of keys,
// the kinds it knows, and one of them as an example.
type kinded struct {
	group   string
	kinds   []string
	example string
}

// kindOf reads an entry that is its kind alone or a map with one; rest reads the
// other keys of the map. It tells what is wrong and returns false where no kind
// could be read.
func (r *reader) kindOf(value *node, subject string, k kinded, rest func(fields)) (string, bool) {
	kind := value
	if value.Form != tree.Scalar {
		f, ok := r.Fields(value, subject, k.group)
		if !ok {
			return "", false
		}
		rest(f)
		if kind = f.Get("kind"); kind == nil {
			r.Wrong(value, subject, "a kind: "+english.Or(k.kinds), "kind: "+k.example)
			return "", false
		}
	}
	return r.Choice(kind, "kind of "+subject, k.kinds)
}
