package text

import (
	"slices"
	"testing"

	"undersod/core/adjust"
)

func TestCollapsed(t *testing.T) {
	const advice = " Next: take its ties once more."
	for _, c := range []struct {
		name          string
		reasons, want []string
	}{
		{"none", nil, nil},
		{"one stays as it is", []string{"Nothing checks the place of X." + advice}, []string{"Nothing checks the place of X." + advice}},
		{"no advice", []string{"a.", "a."}, []string{"a.", "a."}},
		{"two advices", []string{"Nothing checks the place of X. Next: b.", "Nothing checks the place of Y. Next: c."},
			[]string{"Nothing checks the place of X. Next: b.", "Nothing checks the place of Y. Next: c."}},
		{"the same advice", []string{
			"First.", "Nothing checks the place of X." + advice, "Between. Next: b.",
			`A wrong reading could move Y by 2' 4" and nobody would notice.` + advice,
			"Nothing checks the place of Z." + advice, "Something else." + advice,
			`A wrong reading could move W by 3' 0" and nobody would notice.` + advice},
			[]string{"First.", `Nothing checks the place of X and Z. A wrong reading could move Y by 2' 4" or W by 3' 0" and nobody would notice. Something else. Next, for each of them: take its ties once more.`,
				"Between. Next: b."}},
	} {
		if got := collapsed(c.reasons); !slices.Equal(got, c.want) {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

func TestExplaining(t *testing.T) {
	yes, no := adjust.Hypothesis{Explains: true}, adjust.Hypothesis{}
	for _, c := range []struct {
		all  []adjust.Hypothesis
		want int
	}{
		{nil, 0}, {[]adjust.Hypothesis{no, no, no}, 1}, {[]adjust.Hypothesis{no, yes, no}, 1}, {[]adjust.Hypothesis{yes, no, yes}, 2},
	} {
		got := explaining(c.all)
		if len(got) != c.want {
			t.Errorf("%d of %d shown, want %d", len(got), len(c.all), c.want)
		}
	}
}
