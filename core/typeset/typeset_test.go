package typeset_test

import (
	"strings"
	"testing"

	"undersod/core/typeset"
)

type mm float64

// even is a font whose letters are all one wide.
func even(s string) mm { return mm(len([]rune(s))) }

func TestWrapDropsNothing(t *testing.T) {
	for _, text := range []string{"", "one", "a few short words", strings.Repeat("x", 50), "ab " + strings.Repeat("y", 23) + " c", strings.Repeat("ü ", 9)} {
		for width := mm(1); width < 30; width += 3 {
			lines := typeset.Wrap(text, width, even)
			if got, want := strings.ReplaceAll(strings.Join(lines, ""), " ", ""), strings.ReplaceAll(text, " ", ""); got != want {
				t.Errorf("%q at %v became %q", text, width, lines)
			}
			for _, l := range lines {
				if len([]rune(l)) > max(1, int(width)) {
					t.Errorf("%q is wider than %v", l, width)
				}
			}
		}
	}
}

func TestShorten(t *testing.T) {
	tests := []struct {
		text  string
		width mm
		want  string
	}{
		{"fine roots", 10, "fine roots"},
		{"fine roots", 9, "fine roo…"},
		{"fine roots", 6, "fine…"},
		{"fine roots", 2, "f…"},
		{"fine roots", 1, ""},
		{"fine roots", -4, ""},
		{"", 0, ""},
		{strings.Repeat("x", 5000), 4, "xxx…"},
	}
	for _, tt := range tests {
		if got := typeset.Shorten(tt.text, tt.width, even); got != tt.want {
			t.Errorf("%q in %v becomes %q, expected %q", tt.text, tt.width, got, tt.want)
		}
	}
}
