package people_test

import (
	"errors"
	"strings"
	"testing"

	"undersod/internal/archive"
	"undersod/internal/people"
)

func TestLogins(t *testing.T) {
	long := strings.Repeat("a", 64)
	label := strings.Repeat("b", 63)
	for _, c := range []struct{ typed, want string }{ // empty where it is none
		{"rosalind", "rosalind"},
		{"  Rosalind\t", "rosalind"},
		{"R.Dunmoor-2", "r.dunmoor-2"},
		{"7a", "7a"},
		{"ＲＯＳＡ", "rosa"},      // full width
		{"\u212Aarl", "karl"}, // the Kelvin sign
		{"R@Example.ORG", "r@example.org"},
		{"r.d+well@a-b.example", "r.d+well@a-b.example"},
		{"o'hara@localhost", "o'hara@localhost"},
		{long, long},
		{long + "@" + label + "." + label + "." + strings.Repeat("c", 61), long + "@" + label + "." + label + "." + strings.Repeat("c", 61)},

		{"", ""}, {" ", ""}, {"a", ""}, {long + "a", ""}, {".ann", ""}, {"ann-", ""}, {"ann lee", ""}, {"ann_lee", ""},
		{"İa", "ia"}, {"zoë", ""}, {"аnn", ""}, // the first letter is Cyrillic
		{"ann\x00", ""}, {"ann\nlee", ""}, {"ann/../lee", ""}, {"\xff\xfe", ""},
		{"@example.org", ""}, {"ann@", ""}, {"ann@.org", ""}, {"ann@example.", ""}, {"ann@-a.org", ""}, {"ann@a-.org", ""},
		{"ann@a@b", ""}, {"ann@a b", ""}, {"a b@c", ""}, {"a\"b@c", ""}, {long + "a@b", ""}, {"a@" + label + "b", ""},
		{long + "@" + label + "." + label + "." + strings.Repeat("c", 62), ""},
		{strings.Repeat("a@", 10000), ""},
		{strings.Repeat(" ", 1100) + "ann", ""},
	} {
		got, err := people.NormalLogin(c.typed)
		if got != c.want {
			t.Errorf("%.80q: %q, want %q", c.typed, got, c.want)
		}
		if (err == nil) != (c.want != "") || err != nil && !errors.Is(err, archive.ErrRefused) {
			t.Errorf("%.80q: %v", c.typed, err)
		}
	}
	_, err := people.NormalLogin("a b")
	if want := `letters from a to z, digits, dots and hyphens is expected, for example "r.dunmoor"`; err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("%v does not tell what is expected", err)
	}
}

func TestOrigins(t *testing.T) {
	for from, want := range map[string]string{
		"192.0.2.7":                       "192.0.2.7",
		"192.0.2.7:4711":                  "192.0.2.7",
		"[::ffff:192.0.2.7]:80":           "192.0.2.7",
		"2001:db8:1:2:3:4:5:6":            "2001:db8:1:2::/64",
		"[2001:db8:1:2:ffff::1]:9":        "2001:db8:1:2::/64",
		"[fe80::1%eth0]:9":                "fe80::/64",
		"@":                               "@",
		strings.Repeat("somewhere ", 100): strings.Repeat("somewhere ", 10),
	} {
		if got := people.Origin(from); got != want {
			t.Errorf("%.60q: %q, want %q", from, got, want)
		}
	}
}
