package jobfile

import (
	"strings"

	"undersod/core/site"
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

// tradeWord finds the word of known for what people of the trade say short:
// too far from it for a guess by likeness.
func tradeWord(text string, known []string) (string, bool) {
	word, ok := map[string]string{
		"dbox": string(site.DistributionBox), "distbox": string(site.DistributionBox),
		"tank": string(site.SepticTank), "cover": string(site.Lid), "tape": string(site.SteelTape),
		"sewer": string(site.BuildingSewer), "lateral": string(site.DrainLine),
	}[plain(strings.TrimSpace(text))]
	return word, ok && contains(known, word)
}

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
	if value.form != scalar {
		f, ok := r.fields(value, subject, k.group)
		if !ok {
			return "", false
		}
		rest(f)
		if kind = f.get("kind"); kind == nil {
			r.wrong(value, subject, "a kind: "+orList(k.kinds), "kind: "+k.example)
			return "", false
		}
	}
	return r.choice(kind, "kind of "+subject, k.kinds)
}
