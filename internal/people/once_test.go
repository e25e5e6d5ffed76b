package people_test

import (
	"encoding/json"
	"strings"
	"testing"

	"undersod/internal/archive"
)

func TestARepeatedRequestChangesNothing(t *testing.T) {
	o := newOffice(t)
	owner := o.first()
	o.site(hollow)
	key := func(k string) archive.Write { return keyed(actor(owner), k) }
	invite := func() (archive.Account, error) {
		return o.Invite(ctx, key("invite"), "ann", "Ann", archive.Crew, secret)
	}
	ann, err := invite()
	o.ok(err)
	change := func() (archive.Account, error) {
		return o.Change(ctx, key("change"), ann.ID, "Ann Fernleaf", archive.Office, false)
	}
	changed, err := change()
	o.ok(err)
	password := func() error { return o.SetPassword(ctx, key("password"), owner.ID, secret, better) }
	o.ok(password())
	_, s, err := o.Desk.Share(ctx, key("share"), hollow, "owner", 30)
	o.ok(err)
	revoke := func() error { return o.Revoke(ctx, key("revoke"), s.ID) }
	o.ok(revoke())

	_, err = o.Change(ctx, key("later"), ann.ID, "Ann", archive.Crew, true)
	o.ok(err)
	entries, hashings := len(o.audit()), o.hashings.Load()
	o.pass(day)
	if again, err := invite(); err != nil || again != ann {
		t.Errorf("%+v %v, want %+v", again, err, ann)
	}
	if again, err := change(); err != nil || again != changed {
		t.Errorf("%+v %v, want %+v", again, err, changed)
	}
	o.ok(password()) // although the old one is no longer right
	o.ok(revoke())
	if kept := o.kept(ann.ID); !kept.Disabled || kept.Name != "Ann" {
		t.Errorf("a repeated request undid a later one: %+v", kept)
	}
	if n := len(o.audit()); n != entries || o.hashings.Load() != hashings {
		t.Errorf("%d entries and %d hashings more", n-entries, o.hashings.Load()-hashings)
	}
}

func TestAKeyIsForOneRequest(t *testing.T) {
	o := newOffice(t)
	owner := o.first()
	w := keyed(actor(owner), "one")
	ann, err := o.Invite(ctx, w, "ann", "Ann", archive.Crew, secret)
	o.ok(err)
	_, err = o.Invite(ctx, w, "ann", "Ann", archive.Office, secret)
	o.is(err, archive.ErrKeyUsed)
	_, err = o.Change(ctx, w, ann.ID, "Ann", archive.Crew, true)
	o.is(err, archive.ErrKeyUsed)
	o.is(o.Revoke(ctx, w, "unknown"), archive.ErrKeyUsed)
	o.is(o.SetPassword(ctx, w, ann.ID, "", better), archive.ErrKeyUsed)
	_, err = o.Change(ctx, keyed(archive.Program(), "one"), ann.ID, "Ann", archive.Crew, true)
	o.ok(err) // a key is one's own
	for _, bad := range []string{strings.Repeat("k", 201), "a\nb", "\xff"} {
		_, err := o.Change(ctx, keyed(actor(owner), bad), ann.ID, "Ann", archive.Crew, true)
		o.is(err, archive.ErrRefused)
		o.says(err, "the key of the request")
	}
}

// A key that a request about the records used is used here too, and the other
// way round.
func TestOneKeyForRecordsAndPeople(t *testing.T) {
	o := newOffice(t)
	site := o.site(hollow)
	keeper := archive.Keeper{Store: o.store, Now: o.now}
	_, err := keeper.RemoveSite(ctx, keyed(archive.Program(), "one"), hollow, site.Revision)
	o.ok(err)
	_, err = o.Invite(ctx, keyed(archive.Program(), "one"), "ann", "Ann", archive.Crew, secret)
	o.is(err, archive.ErrKeyUsed)
	_, err = o.Invite(ctx, keyed(archive.Program(), "two"), "ann", "Ann", archive.Crew, secret)
	o.ok(err)
	_, err = keeper.RecoverSite(ctx, keyed(archive.Program(), "two"), hollow)
	o.is(err, archive.ErrKeyUsed)
	// An answer of another form, as that of a link revoked, is no damage.
	_, err = keeper.RecoverSite(ctx, by(archive.Program()), hollow)
	o.ok(err)
	_, link, err := o.Share(ctx, by(archive.Program()), hollow, "county", 7)
	o.ok(err)
	o.ok(o.Revoke(ctx, keyed(archive.Program(), "three"), link.ID))
	_, err = keeper.RecoverSite(ctx, keyed(archive.Program(), "three"), hollow)
	o.is(err, archive.ErrKeyUsed)
}

func TestAnAnswerIsForNobodyElse(t *testing.T) {
	o := newOffice(t)
	owner, other := o.first(), o.invited("other", archive.Owner)
	w := keyed(actor(other), "one")
	_, err := o.Invite(ctx, w, "ann", "Ann", archive.Crew, secret)
	o.ok(err)
	_, err = o.Change(ctx, by(actor(owner)), other.ID, "Other", archive.Crew, false)
	o.ok(err)
	_, err = o.Invite(ctx, w, "ann", "Ann", archive.Crew, secret)
	o.is(err, archive.ErrDenied)
}

func TestWhatIsRefusedIsNotRemembered(t *testing.T) {
	o := newOffice(t)
	o.first()
	w := keyed(archive.Program(), "one")
	_, err := o.Invite(ctx, w, "rosalind", "Rosalind", archive.Crew, secret)
	o.is(err, archive.ErrExists)
	_, err = o.Invite(ctx, w, "ann", "Ann", archive.Crew, secret)
	o.ok(err)
}

// Nothing that opens a door stands anywhere in the store, and no digest that is
// cheaper to guess a password from than its hash.
func TestNoSecretIsKept(t *testing.T) {
	o := newOffice(t)
	owner := o.first()
	o.site(hollow)
	w := func(k string) archive.Write { return keyed(actor(owner), k) }
	ann, err := o.Invite(ctx, w("invite"), "ann", "Ann", archive.Crew, secret)
	o.ok(err)
	o.ok(o.SetPassword(ctx, w("password"), ann.ID, "", better))
	link, s, err := o.Desk.Share(ctx, w("share"), hollow, "owner", 30)
	o.ok(err)
	session, _, err := o.SignIn(ctx, "ann", better, "", "")
	o.ok(err)
	o.letsIn(better, "a wrong password") // typed in the wrong field
	var all strings.Builder
	o.ok(o.store.View(ctx, func(r archive.Reader) error {
		accounts, _ := r.Accounts()
		sessions, _ := r.Sessions(ann.ID)
		links, _ := r.Shares("")
		events, _ := r.Events(0, 100)
		for _, k := range []string{"invite", "password", "share"} {
			answer, err := r.Answered(string(owner.ID) + " " + k)
			o.ok(err)
			if strings.Contains(string(answer), "argon2id") {
				t.Errorf("the answer to %s holds the hash of a password", k)
			}
			all.Write(answer)
		}
		return json.NewEncoder(&all).Encode([]any{accounts, sessions, links, events})
	}))
	for what, opens := range map[string]string{"the password": secret, "the new password": better, "the link": link, "the session": session} {
		if strings.Contains(all.String(), opens) {
			t.Errorf("%s is kept", what)
		}
	}
	if !strings.Contains(all.String(), string(s.Token)) {
		t.Error("the search found nothing, not even what is kept")
	}
}
