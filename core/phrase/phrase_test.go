package phrase_test

import (
	"slices"
	"testing"

	"undersod/core/phrase"
	"undersod/core/unit"
)

func TestWords(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{phrase.Article("well"), "a well"}, {phrase.Article("easement"), "an easement"}, {phrase.Article(""), ""},
		{phrase.Article("property line"), "the property line"}, {phrase.Article("surface water"), "surface water"},
		{phrase.Kinds([]string{"tank", "pool", "other field"}), "a tank, a pool or the field of another system"},
		{phrase.Azimuth(0), "north"}, {phrase.Azimuth(34 * unit.Degree), "N 34° E"}, {phrase.Azimuth(146 * unit.Degree), "S 34° E"},
		{phrase.Azimuth(-34 * unit.Degree), "N 34° W"}, {phrase.Azimuth(214 * unit.Degree), "S 34° W"}, {phrase.Azimuth(359.9 * unit.Degree), "north"},
		{phrase.Azimuth(90 * unit.Degree), "east"}, {phrase.Azimuth(180 * unit.Degree), "south"}, {phrase.Azimuth(270 * unit.Degree), "west"},
		{phrase.Tell("one", "", "two."), "One. Two."},
		{phrase.IsAre(1), "is"}, {phrase.IsAre(2), "are"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

func TestOnce(t *testing.T) {
	var o phrase.Once
	for _, s := range []string{"b", "a", "", "b"} {
		o.Add(s)
	}
	if !slices.Equal(o.Words, []string{"b", "a"}) || !slices.Equal(phrase.Sentences(o.Words), []string{"B.", "A."}) {
		t.Error(o.Words)
	}
}
