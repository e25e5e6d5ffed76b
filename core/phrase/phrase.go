// Package phrase makes the small turns of speech that answers about distances
// share: things with their article, directions, and sentences that are told once.
package phrase

import (
	"fmt"
	"math"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
)

// Article puts the article before a thing of a site: "a well", "the property
// line"; surface water has none.
func Article(thing string) string {
	switch thing {
	case "":
		return thing
	case string(site.PropertyLine):
		return "the property line"
	case string(site.OtherField):
		return "the field of another system"
	case string(site.SurfaceWater):
		return thing
	}
	switch thing[0] {
	case 'a', 'e', 'i', 'o':
		return "an " + thing
	}
	return "a " + thing
}

// Kinds joins things into words: "a tank, a pool or a building".
func Kinds(things []string) string {
	out := make([]string, len(things))
	for i, w := range things {
		out[i] = Article(w)
	}
	return english.Or(out)
}

// Azimuth words a direction to the degree: "N 34° E".
func Azimuth(a unit.Angle) string {
	d := int(math.Round(a.Turn().Degrees())) % 360
	switch {
	case d == 0:
		return "north"
	case d == 90:
		return "east"
	case d == 180:
		return "south"
	case d == 270:
		return "west"
	case d < 90:
		return fmt.Sprintf("N %d° E", d)
	case d < 180:
		return fmt.Sprintf("S %d° E", 180-d)
	case d < 270:
		return fmt.Sprintf("S %d° W", d-180)
	}
	return fmt.Sprintf("N %d° W", 360-d)
}

// Tell joins texts that are not empty into sentences.
func Tell(sentences ...string) string {
	out := ""
	for _, s := range sentences {
		if s == "" {
			continue
		}
		if out != "" {
			out += " "
		}
		out += english.Sentence(s)
	}
	return out
}

// Sentences makes a sentence of each text.
func Sentences(texts []string) []string {
	out := make([]string, len(texts))
	for i, w := range texts {
		out[i] = english.Sentence(w)
	}
	return out
}

// IsAre is the verb for a number of things.
func IsAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// Once collects texts, each once.
type Once struct {
	Words []string
	known map[string]bool
}

// Add adds a text that is new and not empty.
func (o *Once) Add(text string) {
	if text == "" || o.known[text] {
		return
	}
	if o.known == nil {
		o.known = map[string]bool{}
	}
	o.known[text] = true
	o.Words = append(o.Words, text)
}
