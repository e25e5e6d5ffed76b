package rules

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"undersod/core/english"
)

// Things returns every word that a setback may be from, in the words of a job:
// its kinds of feature, then its parts.
func Things() []string {
	return []string{"tree", "well", "driveway", "property line", "water line", "pool", "surface water",
		"reserve area", "fence", "downspout", "structure", "soil test", "utility line",
		"spring", "wetland", "drain", "bank", "easement", "dry well", "cistern", "flood plain", "sinkhole",
		"storm pipe", "ditch", "other field",
		"building", "tank", "distribution box", "field"}
}

// byLetters finds a thing by its letters.
var byLetters = func() map[string]string {
	out := map[string]string{}
	for _, t := range Things() {
		out[english.Plain(t)] = t
	}
	out["structure"] = "building"
	return out
}()

// thing is the word by which rows are looked up, of Things where it is one of
// them; a structure is a building.
func thing(word string) string {
	if w, ok := byLetters[word]; ok { // most words need no second look
		return w
	}
	word = english.Plain(strings.TrimSpace(word))
	if w, ok := byLetters[word]; ok {
		return w
	}
	return word
}

// isOf tells whether a row is from a thing, by the word that thing gives.
func (r *SetbackRow) isOf(word string) bool {
	return r.From == word || thing(r.From) == word
}

// one names one of what a column stands for: "a field", "an effluent pipe".
func (c Column) one() string { return one(string(c)) }

// one names one thing with its article.
func one(word string) string {
	word = plainly(word)
	switch thing(word) {
	case "property line":
		return "the property line"
	case "other field":
		return "the field of another system"
	case "surface water":
		return "surface water"
	}
	switch {
	case word == "":
		return "a thing without a name"
	case strings.IndexByte("aeioAEIO", word[0]) >= 0:
		return "an " + word
	}
	return "a " + word
}

// plainly shows a word of a person's own in one line, in quotes where it is odd.
func plainly(word string) string {
	word = strings.TrimSpace(word)
	const longest = 60
	if len(word) > longest {
		return quoted(word)
	}
	for i := range len(word) {
		if word[i] < ' ' || word[i] >= utf8.RuneSelf {
			return letters(word)
		}
	}
	return word
}

// letters looks at a word that has more in it than plain letters.
func letters(word string) string {
	if !utf8.ValidString(word) || strings.IndexFunc(word, unicode.IsControl) >= 0 {
		return quoted(word)
	}
	return word
}
