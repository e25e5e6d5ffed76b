package english_test

import (
	"testing"

	"undersod/core/english"
)

func TestJoin(t *testing.T) {
	for _, c := range []struct {
		names []string
		and   string
		or    string
	}{
		{nil, "", ""}, {[]string{"A"}, "A", "A"}, {[]string{"A", "B"}, "A and B", "A or B"},
		{[]string{"A", "B", "C"}, "A, B and C", "A, B or C"},
	} {
		if got := english.And(c.names); got != c.and {
			t.Errorf("And(%q) = %q, want %q", c.names, got, c.and)
		}
		if got := english.Or(c.names); got != c.or {
			t.Errorf("Or(%q) = %q, want %q", c.names, got, c.or)
		}
	}
}

func TestCount(t *testing.T) {
	for n, want := range map[int]string{0: "0 lines", 1: "1 line", 2: "2 lines"} {
		if got := english.Count(n, "line"); got != want {
			t.Errorf("Count(%d) = %q, want %q", n, got, want)
		}
	}
}

func TestSeveral(t *testing.T) {
	for n, want := range map[int]string{0: "0 entries", 1: "1 entry", 2: "2 entries"} {
		if got := english.Several(n, "entry", "entries"); got != want {
			t.Errorf("Several(%d) = %q, want %q", n, got, want)
		}
	}
}

func TestCapitalAndSentence(t *testing.T) {
	for _, c := range []struct{ text, capital, sentence string }{
		{"", "", ""}, {"fine roots", "Fine roots", "Fine roots."}, {"done.", "Done.", "Done."},
		{"écart", "Écart", "Écart."}, {"3 lines", "3 lines", "3 lines."}, {"\xff", "\xff", "\xff."},
	} {
		if got := english.Capital(c.text); got != c.capital {
			t.Errorf("Capital(%q) = %q, want %q", c.text, got, c.capital)
		}
		if got := english.Sentence(c.text); got != c.sentence {
			t.Errorf("Sentence(%q) = %q, want %q", c.text, got, c.sentence)
		}
	}
}
