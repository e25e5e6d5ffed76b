package people_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"undersod/internal/archive"
	"undersod/internal/people"
)

func FuzzLogin(f *testing.F) {
	for _, s := range []string{"rosalind", " R@Example.org ", "ＲＯＳＡ", "a@b@c", "\xff", "İ", "a.-b", strings.Repeat("é", 600)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		login, err := people.NormalLogin(typed)
		if err != nil {
			return
		}
		again, err := people.NormalLogin(login)
		if err != nil || again != login {
			t.Errorf("%q becomes %q, and that %q (%v)", typed, login, again, err)
		}
		if people.Tidy(typed) != login {
			t.Errorf("%q: %q is looked for and %q was kept", typed, people.Tidy(typed), login)
		}
		for _, c := range []byte(login) {
			if c <= ' ' || c >= 0x7f || c >= 'A' && c <= 'Z' {
				t.Errorf("%q keeps %q", typed, login)
			}
		}
	})
}

func FuzzPassword(f *testing.F) {
	for _, s := range []string{secret, "gru\u0308ner Schuppen ﬁx", strings.Repeat("\ufdfa", 20), "\x00", "\xff", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		normal, err := people.NormalPassword(typed)
		if err != nil {
			return
		}
		if again, err := people.NormalPassword(normal); err != nil || again != normal {
			t.Errorf("%q becomes %q, and that %q (%v)", typed, normal, again, err)
		}
		if n := utf8.RuneCountInString(normal); n < people.LeastPassword || n > people.MostPassword {
			t.Errorf("%q has %d characters", normal, n)
		}
	})
}

func FuzzToken(f *testing.F) {
	o := newOffice(&testing.T{})
	if _, err := o.First(ctx, "rosalind", "Rosalind", secret); err != nil {
		f.Fatal(err)
	}
	token, session, err := o.SignIn(ctx, "rosalind", secret, "", "")
	if err != nil {
		f.Fatal(err)
	}
	for _, s := range []string{token, token + "=", token[:42], token + "\n", strings.ToLower(token), string(session.Token), "", "..", "\x00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		hash, ok := people.TokenHash(s)
		if ok && hash != archive.HashOf([]byte(s)) {
			t.Errorf("%q is kept as %s", s, hash)
		}
		_, _, err := o.Who(ctx, s)
		if (err == nil) != (s == token) {
			t.Errorf("%q: %v", s, err)
		}
		if _, _, err := o.Visitor(ctx, s); err == nil {
			t.Errorf("%q opens a site", s)
		}
	})
}

func FuzzHash(f *testing.F) {
	for _, s := range vectors {
		f.Add(s)
	}
	f.Add("$argon2id$v=19$m=4294967295,t=4294967295,p=255$$")
	f.Fuzz(func(t *testing.T, s string) {
		if !strings.Contains(s, "m=256,") && !strings.Contains(s, "m=8,") {
			_, _ = people.ReadHash(s)
			return // too dear to run for each
		}
		_, _ = people.Fits(s, "password")
	})
}

func FuzzSignIn(f *testing.F) {
	o := newOffice(&testing.T{})
	if _, err := o.First(ctx, "rosalind", "Rosalind", secret); err != nil {
		f.Fatal(err)
	}
	f.Add("rosalind", "wrong", "a browser", "192.0.2.7:1")
	f.Add("\x00", "\xff", "\u202e", "%")
	f.Fuzz(func(t *testing.T, login, password, agent, from string) {
		token, s, err := o.SignIn(ctx, login, password, agent, from)
		right := people.Tidy(login) == "rosalind" && people.SamePassword(password, secret)
		if err == nil && (!right || token == "") {
			t.Errorf("%q %q lets in", login, password)
		}
		if !utf8.ValidString(s.Agent) || len(s.Agent) > 200 || strings.ContainsRune(s.Agent, 0) {
			t.Errorf("agent %q", s.Agent)
		}
	})
}
