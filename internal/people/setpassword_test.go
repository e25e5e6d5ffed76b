package people_test

import (
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/memory"
)

const better = "four other words of sense"

func (o *office) letsIn(login, password string) bool {
	o.Helper()
	_, _, err := o.SignIn(ctx, login, password, "", "")
	if err != nil {
		o.is(err, archive.ErrDenied)
	}
	return err == nil
}

func TestSetOnesOwnPassword(t *testing.T) {
	o := newOffice(t)
	o.first()
	ann := o.invited("ann", archive.ReadOnly)
	here, session := o.signed("ann")
	there, _ := o.signed("ann")
	rosalinds, _ := o.signed("rosalind")
	a := actor(ann)
	a.Session = session.Token
	for _, c := range []struct {
		old, password string
		kind          error
		words         string
	}{
		{"wrong", better, archive.ErrDenied, "the old password is wrong"},
		{"", better, archive.ErrDenied, "the old password is wrong"},
		{secret, "short", archive.ErrRefused, "at least 12"},
		{secret, secret, archive.ErrRefused, "the new password is the old one"},
	} {
		err := o.SetPassword(ctx, by(a), ann.ID, c.old, c.password)
		o.is(err, c.kind)
		o.says(err, c.words)
	}
	if !o.holds(there) {
		t.Error("a refused password signs out")
	}
	o.pass(time.Minute)
	o.ok(o.SetPassword(ctx, by(a), ann.ID, secret, better))
	if !o.holds(here) || o.holds(there) || !o.holds(rosalinds) {
		t.Errorf("here %t, elsewhere %t, another person %t", o.holds(here), o.holds(there), o.holds(rosalinds))
	}
	if o.letsIn("ann", secret) || !o.letsIn("ann", better) || !o.letsIn("rosalind", secret) {
		t.Error("the wrong password lets in")
	}
	if kept := o.kept(ann.ID); kept.Changed != (archive.Stamp{At: o.now(), By: ann.ID}) || kept.Role != archive.ReadOnly {
		t.Errorf("%+v", kept)
	}
	if got := o.audit(); got[5] != "sign-in failed: ann" || got[6] != "sign-in failed: ann" || got[7] != "password set: ann" {
		t.Errorf("%q", got)
	}
}

func TestWithoutASessionAllAreSignedOut(t *testing.T) {
	o := newOffice(t)
	a := o.first()
	token, _ := o.signed("rosalind")
	o.ok(o.SetPassword(ctx, by(actor(a)), a.ID, secret, better))
	if o.holds(token) {
		t.Error("still signed in")
	}
}

func TestAnOwnerSetsAnothersPassword(t *testing.T) {
	o := newOffice(t)
	owner := o.first()
	ann := o.invited("ann", archive.Crew)
	token, session := o.signed("ann")
	for range 6 {
		o.letsIn("ann", "a wrong password")
	}
	a := actor(owner)
	a.Session = session.Token // of the other: no reason to leave it open
	o.ok(o.SetPassword(ctx, by(a), ann.ID, "", better))
	if o.holds(token) {
		t.Error("still signed in")
	}
	if !o.letsIn("ann", better) {
		t.Error("the new password has to wait for the tries at the old one")
	}
	o.is(o.SetPassword(ctx, by(actor(owner)), "unknown", "", better), archive.ErrNotFound)
	o.is(o.SetPassword(ctx, by(actor(owner)), "", "", better), archive.ErrNotFound)
	o.is(o.SetPassword(ctx, by(actor(owner)), owner.ID, "", better), archive.ErrDenied) // one's own needs the old one
	o.ok(o.SetPassword(ctx, by(archive.Program()), owner.ID, "", better))
}

func TestTheOldPasswordCannotBeGuessed(t *testing.T) {
	o := newOffice(t)
	a := o.first()
	for range 6 {
		o.is(o.SetPassword(ctx, by(actor(a)), a.ID, "a wrong password", better), archive.ErrDenied)
	}
	o.says(o.SetPassword(ctx, by(actor(a)), a.ID, secret, better), "too many sign-ins went wrong; wait 2 seconds")
	if !o.letsIn("rosalind", secret) {
		t.Error("signing in has to wait for that")
	}
	o.pass(2 * time.Second)
	o.ok(o.SetPassword(ctx, by(actor(a)), a.ID, secret, better))
}

func TestTwoNewPasswordsAtOnce(t *testing.T) {
	store := &interposed{Store: memory.New()}
	o := officeOver(t, store, cheap)
	a := o.first()
	store.before = func() {
		store.before = nil
		o.ok(o.SetPassword(ctx, by(archive.Program()), a.ID, "", better))
	}
	err := o.SetPassword(ctx, by(actor(a)), a.ID, secret, "a third set of words")
	o.is(err, archive.ErrStale)
	if !o.letsIn("rosalind", better) {
		t.Error("the first of the two is lost")
	}
	store.before = func() {
		store.before = nil
		o.ok(o.SetPassword(ctx, by(archive.Program()), a.ID, "", secret))
	}
	if o.letsIn("rosalind", better) {
		t.Error("a password lets in that was replaced while it was checked")
	}
}
