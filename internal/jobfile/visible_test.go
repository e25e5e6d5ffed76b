package jobfile_test

import (
	"strings"
	"testing"

	"undersod/core/site"
	"undersod/internal/jobfile"
)

func TestVisible(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", ""}, {`23' 4 1/2" ± 90° – größe`, `23' 4 1/2" ± 90° – größe`},
		{"a\x1b[2Jb", "a·[2Jb"}, {"a\u202eb\u2066c\u200fd", "a·b·c·d"}, {"a\u009bb\x7fc\rd\ne", "a·b·c·d·e"},
		{"a\tb", "a b"}, {"a\u2028b", "a·b"}, {"a\x9bb", "a\ufffdb"},
	} {
		if got := jobfile.Visible(c.text); got != c.want {
			t.Errorf("Visible(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

func TestShowIsVisible(t *testing.T) {
	bad := "\x1b[31m\u202e\u2069\r"
	shown := jobfile.Show([]byte("x: "+bad), site.Problem{Place: site.Place{File: bad, Line: 1, Column: 4},
		Subject: bad, Found: bad, Expected: bad, Example: bad, Advice: bad})
	if strings.ContainsAny(shown, "\x1b\u202e\u2069\r") {
		t.Errorf("%q would steer a terminal", shown)
	}
}
