package people_test

import (
	"context"
	"errors"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/memory"
	"undersod/internal/people"
)

func TestSignIn(t *testing.T) {
	o := newOffice(t)
	a := o.first()
	token, s, err := o.SignIn(ctx, " Rosalind ", secret, "a\x00 \u202ebrowser", "192.0.2.7:1")
	o.ok(err)
	want := archive.Session{
		Token: archive.HashOf([]byte(token)), Account: a.ID, Created: opening, Seen: opening,
		Expires: opening.Add(14 * 24 * time.Hour), Agent: "a browser",
	}
	if s != want {
		t.Errorf("session %+v, want %+v", s, want)
	}
	if len(token) != 43 || token == string(s.Token) {
		t.Errorf("token %q", token)
	}
	who, session, err := o.Who(ctx, token)
	o.ok(err)
	if who != a || session != s || who.Password != "" {
		t.Errorf("%+v holds the token with %+v", who, session)
	}
	other, _ := o.signed("rosalind")
	if other == token {
		t.Error("the same token twice")
	}
}

func TestWhoIsNotLetIn(t *testing.T) {
	o := newOffice(t)
	o.first()
	gone := o.invited("ann", archive.Crew)
	_, err := o.Change(ctx, by(archive.Program()), gone.ID, "Ann", archive.Crew, true)
	o.ok(err)
	o.damage("zoe")
	var words []string
	for _, c := range []struct{ login, password string }{
		{"rosalind", "a wrong password"}, {"rosalind", ""}, {"rosalind", secret + " "}, {"rosalind", strings.Repeat("x", 1<<20)},
		{"rosalind", "\xff"}, {"nobody", secret}, {"", secret}, {"no login\x00", secret}, {strings.Repeat("x", 1<<20), secret},
		{"ann", secret}, {"zoe", secret}, {"zoe", "a wrong password"},
	} {
		token, s, err := o.SignIn(ctx, c.login, c.password, "", "")
		o.is(err, archive.ErrDenied)
		if token != "" || s != (archive.Session{}) {
			t.Errorf("%.20q is let in", c.login)
		}
		words = append(words, err.Error())
	}
	if words = slices.Compact(words); len(words) != 1 {
		t.Errorf("the words differ: %q", words)
	}
	if got := o.audit(); !slices.Contains(got, "sign-in failed: ann") || !slices.Contains(got, "sign-in failed: zoe") {
		t.Errorf("%q", got)
	}
}

// damage makes an account whose password that is kept cannot be read.
func (o *office) damage(login string) {
	a := o.invited(login, archive.Crew)
	a.Password = "$argon2id$v=19$m=damaged"
	o.ok(o.store.Update(ctx, func(w archive.Writer) error { return w.PutAccount(a) }))
}

// counted counts what a store is asked for.
type counted struct {
	archive.Store
	views, updates atomic.Int64
}

func (c *counted) View(ctx context.Context, f func(archive.Reader) error) error {
	c.views.Add(1)
	return c.Store.View(ctx, f)
}

func (c *counted) Update(ctx context.Context, f func(archive.Writer) error) error {
	c.updates.Add(1)
	return c.Store.Update(ctx, f)
}

func TestNobodyLearnsWhichLoginsExist(t *testing.T) {
	store := &counted{Store: memory.New()}
	o := officeOver(t, store, cheap)
	o.first()
	o.invited("disabled", archive.Crew)
	accounts, err := o.Accounts(ctx, archive.Program())
	o.ok(err)
	_, err = o.Change(ctx, by(archive.Program()), accounts[0].ID, "x", archive.Crew, true)
	o.ok(err)
	type work struct {
		hashings, views, updates int64
		costs                    string
		waits                    int
		words                    string
	}
	var costs []string
	o.CountHashings(func(c people.Cost) {
		o.hashings.Add(1)
		costs = append(costs, string(rune('0'+c.Passes)))
	})
	done := map[string]work{}
	for _, login := range []string{"rosalind", "nobody", "disabled", "not a login", ""} {
		o.hashings.Store(0)
		store.views.Store(0)
		store.updates.Store(0)
		costs = nil
		var w work
		for range 12 {
			_, _, err := o.SignIn(ctx, login, "a wrong password", "", "")
			var wait *people.Wait
			if errors.As(err, &wait) {
				w.waits++
			}
			w.words += err.Error() + "\n"
			o.pass(time.Second)
		}
		o.pass(2 * time.Hour) // the audit list takes entries again
		w.hashings, w.views, w.updates, w.costs = o.hashings.Load(), store.views.Load(), store.updates.Load(), strings.Join(costs, "")
		done[login] = w
	}
	for login, w := range done {
		if w != done["rosalind"] {
			t.Errorf("%q: %+v\nrosalind: %+v", login, w, done["rosalind"])
		}
	}
	if w := done["rosalind"]; w.hashings == 0 || w.hashings == 12 || int(w.hashings)+w.waits != 12 || w.updates != w.hashings {
		t.Errorf("%+v", w)
	}
}

// After the cost was raised, an account that has not signed in since still has a
// cheaper hash. Logins that do not exist look like some account, each always
// like the same.
func TestNobodyLearnsItFromOldHashesEither(t *testing.T) {
	store := memory.New()
	officeOver(t, store, cheap).first()
	dear := people.Cost{Memory: 32, Passes: 2, Threads: 1}
	o := officeOver(t, store, dear)
	o.invited("ann", archive.Crew)
	var last people.Cost
	o.CountHashings(func(c people.Cost) { last = c })
	costs := map[people.Cost]int{}
	for i := range 64 {
		login := "nobody" + string(rune('a'+i%26)) + string(rune('a'+i/26))
		var first people.Cost
		for range 3 {
			_, _, err := o.SignIn(ctx, login, "a wrong password", "", "")
			o.is(err, archive.ErrDenied)
			if first == (people.Cost{}) {
				first = last
			}
			if last != first {
				t.Errorf("%s cost %+v and then %+v", login, first, last)
			}
		}
		costs[first]++
	}
	if costs[cheap] < 10 || costs[dear] < 10 || len(costs) != 2 {
		t.Errorf("logins that do not exist cost %v", costs)
	}
}

func TestAHigherCostHashesAnew(t *testing.T) {
	store := memory.New()
	old := officeOver(t, store, people.Cost{Memory: 32, Passes: 1, Threads: 1})
	a := old.first()
	before := old.kept(a.ID)
	for _, c := range []struct {
		cost people.Cost
		anew bool
	}{
		{people.Cost{Memory: 32, Passes: 1, Threads: 1}, false},
		{people.Cost{Memory: 32, Passes: 1, Threads: 2}, false}, // no dearer for a guesser
		{people.Cost{Memory: 16, Passes: 1, Threads: 1}, false},
		{people.Cost{Memory: 32, Passes: 2, Threads: 1}, true},
		{people.Cost{Memory: 64, Passes: 2, Threads: 1}, true},
		{people.Cost{Memory: 64, Passes: 2, Threads: 1}, false},
	} {
		o := officeOver(t, store, c.cost)
		_, _, err := o.SignIn(ctx, "rosalind", "a wrong password", "", "")
		o.is(err, archive.ErrDenied)
		if o.kept(a.ID) != before {
			t.Error("a wrong password changed the account")
		}
		o.signed("rosalind")
		after := o.kept(a.ID)
		if (after.Password != before.Password) != c.anew {
			t.Errorf("cost %+v: hashed anew %t, want %t", c.cost, !c.anew, c.anew)
		}
		if cost, ok := people.ReadHash(after.Password); c.anew && (!ok || cost != c.cost) {
			t.Errorf("hashed anew at %+v, want %+v", cost, c.cost)
		}
		if after.Changed != before.Changed {
			t.Error("the account looks as if it was changed")
		}
		before = after
	}
}

func TestTooManyTriesWait(t *testing.T) {
	o := newOffice(t)
	o.first()
	wrong := func(from string) error {
		_, _, err := o.SignIn(ctx, "rosalind", "a wrong password", "", from)
		return err
	}
	for range 5 {
		o.says(wrong(""), "the login or the password is wrong")
	}
	o.says(wrong(""), "the login or the password is wrong") // the wait follows the sixth
	_, _, err := o.SignIn(ctx, "Rosalind", secret, "", "")
	o.is(err, archive.ErrDenied)
	o.says(err, "too many sign-ins went wrong; wait 2 seconds and try again")
	var wait *people.Wait
	if !errors.As(err, &wait) || wait.RetryAfter() != 2*time.Second {
		t.Errorf("%#v", err)
	}
	if hashed := o.hashings.Load(); hashed != 1+6 {
		t.Errorf("%d hashings: a try that waits costs one", hashed)
	}
	o.pass(2*time.Second - time.Millisecond)
	o.says(wrong(""), "wait 1 second and")
	o.pass(time.Millisecond)
	o.says(wrong(""), "is wrong")
	o.says(wrong(""), "wait 4 seconds and")
	for range 20 {
		o.pass(time.Hour)
		o.says(wrong(""), "is wrong")
	}
	o.says(wrong(""), "wait 15 minutes and")
	o.pass(15 * time.Minute)
	o.signed("rosalind") // and all is forgotten
	for range 5 {
		o.says(wrong(""), "is wrong")
	}
	o.signed("rosalind")
}

func TestTriesAreCountedByAddressToo(t *testing.T) {
	o := newOffice(t)
	o.first()
	var err error
	n := 0
	for ; n < 100; n++ {
		_, _, err = o.SignIn(ctx, "nobody"+strings.Repeat("x", n), "a wrong password", "", "[2001:db8::"+string(rune('a'+n%6))+"]:99")
		if strings.Contains(err.Error(), "too many") {
			break
		}
	}
	if n != 31 {
		t.Errorf("%d tries from one household", n)
	}
	_, _, err = o.SignIn(ctx, "rosalind", secret, "", "2001:db8::1")
	o.says(err, "too many")
	_, _, err = o.SignIn(ctx, "rosalind", secret, "", "2001:db8:0:1::1")
	o.ok(err)
	o.pass(2 * time.Second)
	_, _, err = o.SignIn(ctx, "rosalind", secret, "", "2001:db8::1")
	o.ok(err) // which gives the household no tries back
	_, _, err = o.SignIn(ctx, "nobody", "a wrong password", "", "2001:db8::1")
	o.says(err, "is wrong")
	_, _, err = o.SignIn(ctx, "nobody", "a wrong password", "", "2001:db8::1")
	o.says(err, "wait 4 seconds")
}

func TestTheClockMayJump(t *testing.T) {
	o := newOffice(t)
	o.first()
	for range 30 {
		_, _, err := o.SignIn(ctx, "rosalind", "a wrong password", "", "192.0.2.7")
		o.is(err, archive.ErrDenied)
		o.pass(time.Hour)
	}
	o.pass(-time.Hour)
	o.pass(-20 * 365 * 24 * time.Hour)
	_, _, err := o.SignIn(ctx, "rosalind", secret, "", "192.0.2.7")
	o.says(err, "wait 15 minutes")
	o.pass(15 * time.Minute)
	o.signed("rosalind")
}

func TestAFailedWriteIsNotAWrongPassword(t *testing.T) {
	store := &failing{Store: memory.New()}
	o := officeOver(t, store, cheap)
	o.first()
	store.err = archive.ErrFull
	_, _, err := o.SignIn(ctx, "rosalind", "a wrong password", "", "192.0.2.7")
	o.is(err, archive.ErrDenied)
	for range 20 {
		_, _, err := o.SignIn(ctx, "rosalind", secret, "", "192.0.2.7")
		o.is(err, archive.ErrFull)
	}
	store.err = nil
	o.signed("rosalind")
	if got, want := o.audit()[1], "signed in: rosalind, after 1 try that went wrong; 1 failed sign-in since the last entry not listed"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// failing is a store that takes no changes while it has an error.
type failing struct {
	archive.Store
	err error
}

func (f *failing) Update(ctx context.Context, change func(archive.Writer) error) error {
	if f.err != nil {
		return f.err
	}
	return f.Store.Update(ctx, change)
}

func TestACancelledSignInDoesNotCount(t *testing.T) {
	o := newOffice(t)
	o.first()
	over, cancel := context.WithCancel(ctx)
	cancel()
	for range 20 {
		_, _, err := o.SignIn(over, "rosalind", secret, "", "192.0.2.7")
		o.is(err, context.Canceled)
	}
	o.signed("rosalind")
}
