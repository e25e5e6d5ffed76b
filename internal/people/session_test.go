package people_test

import (
	"errors"
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/memory"
	"undersod/internal/people"
)

const day = 24 * time.Hour

// holds reports whether a token still opens a session.
func (o *office) holds(token string) bool {
	o.Helper()
	_, _, err := o.Who(ctx, token)
	if err != nil {
		o.is(err, archive.ErrNotFound)
	}
	return err == nil
}

func TestASessionEnds(t *testing.T) {
	for _, c := range []struct {
		name  string
		every time.Duration // between requests
		lasts time.Duration // to the last request that is let in
	}{
		{"idle for 14 days", 14 * day, 0},
		{"a little less than 14 days", 14*day - time.Second, 6 * (14*day - time.Second)},
		{"every day", day, 89 * day},
		{"every half hour", 30 * time.Minute, 90*day - 30*time.Minute},
	} {
		o := newOffice(t)
		o.first()
		token, _ := o.signed("rosalind")
		lasts := time.Duration(0)
		for o.pass(c.every); o.holds(token); o.pass(c.every) {
			lasts += c.every
			if _, s, err := o.Who(ctx, token); err != nil || s.Expires.After(opening.Add(90*day)) {
				t.Fatalf("%s: %+v, %v", c.name, s, err)
			}
		}
		if lasts != c.lasts {
			t.Errorf("%s: let in for %v, want %v", c.name, lasts, c.lasts)
		}
	}
}

// What the store holds is not believed where it says more than the rules.
func TestTheRulesHoldWhateverIsKept(t *testing.T) {
	o := newOffice(t)
	a := o.first()
	token, s := o.signed("rosalind")
	put := func(spoil func(*archive.Session, *archive.Account)) {
		t.Helper()
		session, account := s, o.kept(a.ID)
		spoil(&session, &account)
		o.ok(o.store.Update(ctx, func(w archive.Writer) error {
			return errors.Join(w.PutSession(session), w.PutAccount(account))
		}))
	}
	for name, spoil := range map[string]func(*archive.Session, *archive.Account){
		"made 90 days ago": func(s *archive.Session, _ *archive.Account) {
			s.Created, s.Expires = opening.Add(-90*day), opening.Add(9*day)
		},
		"seen 14 days ago": func(s *archive.Session, _ *archive.Account) {
			s.Created, s.Seen, s.Expires = opening.Add(-14*day), opening.Add(-14*day), opening.Add(9*day)
		},
		"over":     func(s *archive.Session, _ *archive.Account) { s.Expires = opening },
		"disabled": func(_ *archive.Session, a *archive.Account) { a.Disabled = true },
	} {
		put(spoil)
		if o.holds(token) {
			t.Errorf("%s, and let in", name)
		}
		put(func(_ *archive.Session, a *archive.Account) { a.Disabled = false })
		if !o.holds(token) {
			t.Errorf("not %s, and not let in", name)
		}
	}
}

func TestReadingWritesOnceAnHour(t *testing.T) {
	store := &counted{Store: memory.New()}
	o := officeOver(t, store, cheap)
	o.first()
	token, s := o.signed("rosalind")
	store.updates.Store(0)
	for range 24*60 + 1 {
		_, session, err := o.Who(ctx, token)
		o.ok(err)
		if ago := o.now().Sub(session.Seen); ago < 0 || ago >= time.Hour {
			t.Fatalf("seen %v ago", ago)
		}
		if session.Created != s.Created || session.Expires != session.Seen.Add(14*day) {
			t.Fatalf("%+v", session)
		}
		o.pass(time.Minute)
	}
	if n := store.updates.Load(); n != 24 {
		t.Errorf("%d writes in a day", n)
	}
}

func TestASessionWhenTheClockJumpsBack(t *testing.T) {
	o := newOffice(t)
	o.first()
	o.pass(10 * 365 * day)
	token, _ := o.signed("rosalind")
	o.pass(-10 * 365 * day) // somebody set the clock right
	if !o.holds(token) {
		t.Fatal("the session ends where the clock jumps back")
	}
	_, s, err := o.Who(ctx, token)
	o.ok(err)
	if s.Created != opening || s.Seen != opening || s.Expires != opening.Add(14*day) {
		t.Errorf("%+v", s)
	}
	for range 89 {
		o.pass(day)
		o.holds(token)
	}
	if o.pass(day); o.holds(token) {
		t.Error("the session lasts longer than 90 days")
	}
}

func TestNoTokenNoSession(t *testing.T) {
	o := newOffice(t)
	o.first()
	token, s := o.signed("rosalind")
	for _, other := range []string{"", token[:42], token + "A", token + "=", " " + token, string(s.Token), token[:42] + "\n", "________________________________________________"} {
		if o.holds(other) {
			t.Errorf("%q opens a session", other)
		}
		if err := o.SignOut(ctx, other); err != nil {
			t.Errorf("%q: %v", other, err)
		}
	}
	if !o.holds(token) {
		t.Error("the session is gone")
	}
}

func TestTokensHaveOneForm(t *testing.T) {
	const token = "AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA"
	if hash, ok := people.TokenHash(token); !ok || hash != archive.HashOf([]byte(token)) {
		t.Errorf("%s, %t", hash, ok)
	}
	for _, other := range []string{token[:42] + "B", token + "\n", token[:40], token + "AAA", "+" + token[1:], ""} {
		if _, ok := people.TokenHash(other); ok {
			t.Errorf("%q is taken for a token", other)
		}
	}
}

func TestSignOut(t *testing.T) {
	o := newOffice(t)
	o.first()
	one, _ := o.signed("rosalind")
	two, _ := o.signed("rosalind")
	for range 2 {
		o.ok(o.SignOut(ctx, one))
		if o.holds(one) || !o.holds(two) {
			t.Error("the wrong session ended")
		}
	}
	if got := o.audit(); got[len(got)-1] != "signed out: rosalind" || len(got) != 4 {
		t.Errorf("%q", got)
	}
}

func TestAReadOnlyFolderKeepsNobodyFromReading(t *testing.T) {
	store := &failing{Store: memory.New()}
	o := officeOver(t, store, cheap)
	o.first()
	token, _ := o.signed("rosalind")
	o.pass(2 * day)
	for _, store.err = range []error{archive.ErrFull, archive.ErrReadOnly} {
		if _, _, err := o.Who(ctx, token); err != nil {
			t.Error(err)
		}
	}
	store.err = archive.ErrDamaged
	_, _, err := o.Who(ctx, token)
	o.is(err, archive.ErrDamaged)
}

func TestAnAccountHasABoundedNumberOfSessions(t *testing.T) {
	o := newOffice(t)
	a := o.first()
	o.invited("ann", archive.Crew)
	anns, _ := o.signed("ann")
	oldest, _ := o.signed("rosalind")
	for range 49 {
		o.pass(time.Minute)
		o.signed("rosalind")
	}
	if !o.holds(oldest) || o.sessions(a.ID) != 50 {
		t.Errorf("%d sessions", o.sessions(a.ID))
	}
	newest, _ := o.signed("rosalind")
	if o.holds(oldest) || !o.holds(newest) || !o.holds(anns) || o.sessions(a.ID) != 50 {
		t.Errorf("%d sessions, the oldest %t, the newest %t", o.sessions(a.ID), o.holds(oldest), o.holds(newest))
	}
	o.pass(15 * day)
	o.signed("ann")
	if o.sessions(a.ID) != 0 {
		t.Error("a sign-in does not clear away the sessions that are over")
	}
}

func TestASessionThatEndsMeanwhileStaysEnded(t *testing.T) {
	store := &interposed{Store: memory.New()}
	o := officeOver(t, store, cheap)
	o.first()
	token, _ := o.signed("rosalind")
	o.pass(2 * time.Hour)
	store.before = func() { // between the look and the renewal
		store.before = nil
		o.ok(o.SignOut(ctx, token))
	}
	if again := o.holds(token); again || o.holds(token) {
		t.Error("a renewal brought the session back")
	}
}
