package people_test

import (
	"errors"
	"strings"
	"testing"

	"undersod/internal/archive"
	"undersod/internal/people"
)

func TestPasswords(t *testing.T) {
	for _, c := range []struct{ typed, words string }{ // no words where it is taken
		{"twelve signs", ""},
		{strings.Repeat("x", 200), ""},
		{strings.Repeat("ü", 200), ""},
		{"четыре слова", ""},
		{"🌳🌳🌳🌳🌳🌳🌳🌳🌳🌳🌳🌳", ""},
		{"", "has 0 characters, at least 12"},
		{"x", "has 1 character, at least 12"},
		{"eleven sign", "has 11 characters"},
		{strings.Repeat("u\u0308", 11), "has 11 characters"}, // composed they are 11
		{strings.Repeat("x", 201), "has 201 characters, at most 200"},
		{strings.Repeat("\ufdfa", 20), "characters, at most 200"}, // each is 18 when normalized
		{strings.Repeat("x", 1<<20), "too long"},
		{"a tab\tin between", "cannot be typed"},
		{"a zero\x00 in between", "cannot be typed"},
		{"not UTF-8: \xff\xff\xff", "cannot be typed"},
	} {
		_, err := people.NormalPassword(c.typed)
		switch {
		case c.words == "" && err != nil:
			t.Errorf("%.40q: %v", c.typed, err)
		case c.words != "" && (err == nil || !strings.Contains(err.Error(), c.words) || !errors.Is(err, archive.ErrRefused)):
			t.Errorf("%.40q: %v, want the words %q", c.typed, err, c.words)
		}
		if err != nil && len(c.typed) > 1 && strings.Contains(err.Error(), c.typed) {
			t.Errorf("the error shows the password: %v", err)
		}
	}
}

func TestThePasswordIsNotTheLogin(t *testing.T) {
	for _, c := range []struct{ login, password string }{
		{"rosalind.dunmoor", "Rosalind.Dunmoor"},
		{"rosalind.dunmoor@example.org", "rosalind.dunmoor@example.org"},
		{"rosalind.dunmoor@example.org", " ROSALIND.DUNMOOR"},
	} {
		o := newOffice(t)
		_, err := o.First(ctx, c.login, "Rosalind", c.password)
		o.is(err, archive.ErrRefused)
		o.says(err, "the password is the login")
	}
}

func TestOnePasswordHoweverItIsTyped(t *testing.T) {
	o := newOffice(t)
	_, err := o.First(ctx, "rosalind", "Rosalind", "grüner Schuppen ﬁx")
	o.ok(err)
	for _, typed := range []string{"grüner Schuppen ﬁx", "gru\u0308ner Schuppen fix", "grüner\u00a0Schuppen ｆｉｘ"} {
		_, _, err := o.SignIn(ctx, "rosalind", typed, "", "")
		if err != nil {
			t.Errorf("%q: %v", typed, err)
		}
	}
	_, _, err = o.SignIn(ctx, "rosalind", "gruner Schuppen fix", "", "")
	o.is(err, archive.ErrDenied)
}
