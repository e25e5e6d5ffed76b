package rules

import (
	"strings"
	"unicode"

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

// thing is the word that a thing is looked up by: a structure is a building.
func thing(word string) string {
	if word = english.Plain(strings.TrimSpace(word)); word == "structure" {
		return "building"
	}
	return word
}

// one names one of what a column stands for: "a field", "an effluent pipe".
func (c Column) one() string { return one(string(c)) }

// one names one thing with its article.
func one(word string) string {
	word = plainly(word)
	switch english.Plain(word) {
	case "":
		return "a thing without a name"
	case "propertyline":
		return "the property line"
	case "otherfield":
		return "the field of another system"
	case "surfacewater":
		return word
	}
	if strings.ContainsAny(word[:1], "aeioAEIO") {
		return "an " + word
	}
	return "a " + word
}

// plainly shows a word of a person's own in one line, in quotes where it is odd.
func plainly(word string) string {
	word = strings.TrimSpace(word)
	const longest = 60
	if len(word) > longest || strings.ToValidUTF8(word, "") != word || strings.IndexFunc(word, unicode.IsControl) >= 0 {
		return quoted(word)
	}
	return word
}
