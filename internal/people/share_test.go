package people_test

import (
	"strings"
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/memory"
)

func TestShare(t *testing.T) {
	o := newOffice(t)
	a := o.first()
	o.site(hollow)
	token, s, err := o.Desk.Share(ctx, by(actor(a)), hollow, " county  office ", 30)
	o.ok(err)
	want := archive.Share{
		ID: s.ID, Token: archive.HashOf([]byte(token)), Site: hollow, Label: "county  office",
		Created: archive.Stamp{At: opening, By: a.ID}, Expires: opening.Add(30 * day),
	}
	if s != want || !s.ID.Valid() || len(token) != 43 {
		t.Errorf("%+v, want %+v; token %q", s, want, token)
	}
	who, share, err := o.Visitor(ctx, token)
	o.ok(err)
	if share != s || who != (archive.Actor{Share: s.ID, Site: hollow}) {
		t.Errorf("%+v visits with %+v", who, share)
	}
	if got, want := o.audit()[1], "share made: site "+string(hollow)+" for county  office, until 2026-06-11"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	list, err := o.Shares(ctx, actor(a), "")
	o.ok(err)
	if len(list) != 1 || list[0] != s {
		t.Errorf("%+v", list)
	}
}

func TestALinkThatIsNotOpen(t *testing.T) {
	o := newOffice(t)
	o.first()
	o.site(hollow)
	program := by(archive.Program())
	short, _, err := o.Desk.Share(ctx, program, hollow, "a day", 1)
	o.ok(err)
	long, _, err := o.Desk.Share(ctx, program, hollow, "a year", 365)
	o.ok(err)
	revoked, s, err := o.Desk.Share(ctx, program, hollow, "nobody", 365)
	o.ok(err)
	session, _ := o.signed("rosalind")
	for range 2 {
		o.ok(o.Revoke(ctx, program, s.ID))
		o.pass(time.Minute)
	}
	closed := func(token string) string {
		t.Helper()
		who, share, err := o.Visitor(ctx, token)
		o.is(err, archive.ErrNotFound)
		if who != (archive.Actor{}) || share != (archive.Share{}) {
			t.Errorf("%+v, %+v", who, share)
		}
		return err.Error()
	}
	o.pass(day - 2*time.Minute - time.Millisecond)
	_, _, err = o.Visitor(ctx, short)
	o.ok(err)
	o.pass(time.Millisecond)
	words := closed(short)
	for _, token := range []string{revoked, session, "", "unknown", long + "=", long[:42], strings.ToUpper(long)} {
		if got := closed(token); got != words {
			t.Errorf("%q tells one link from another that is not open", got)
		}
	}
	o.pass(364*day - time.Millisecond)
	_, _, err = o.Visitor(ctx, long)
	o.ok(err)
	o.pass(time.Millisecond)
	closed(long)
	if _, _, err := o.Who(ctx, long); err == nil {
		t.Error("a link signs in")
	}
	if got := o.audit(); strings.Count(strings.Join(got, "\n"), "share revoked: site ") != 1 {
		t.Errorf("%q", got)
	}
	o.is(o.Revoke(ctx, program, "unknown"), archive.ErrNotFound)
}

func TestSharesThatAreRefused(t *testing.T) {
	o := newOffice(t)
	o.site(hollow)
	gone := o.site(meadow)
	gone.Deleted = &archive.Stamp{At: opening}
	o.ok(o.store.Update(ctx, func(w archive.Writer) error { return w.PutSite(gone) }))
	for _, c := range []struct {
		site  archive.ID
		label string
		days  int
		kind  error
		words string
	}{
		{hollow, "owner", 0, archive.ErrRefused, "0; 1 to 365 are"},
		{hollow, "owner", 366, archive.ErrRefused, "366; 1 to 365 are"},
		{hollow, "owner", -1 << 62, archive.ErrRefused, "1 to 365"},
		{hollow, "", 30, archive.ErrRefused, "for whom the link is"},
		{hollow, "a\nb", 30, archive.ErrRefused, "for whom the link is"},
		{meadow, "owner", 30, archive.ErrRemoved, "recover it first"},
		{"unknown", "owner", 30, archive.ErrNotFound, `site "unknown"`},
		{"", "owner", 30, archive.ErrNotFound, "site"},
	} {
		_, _, err := o.Desk.Share(ctx, by(archive.Program()), c.site, c.label, c.days)
		o.is(err, c.kind)
		o.says(err, c.words)
	}
	if got := o.audit(); len(got) != 0 {
		t.Errorf("%q", got)
	}
}

func TestASiteHasABoundedNumberOfLinks(t *testing.T) {
	o := newOffice(t)
	o.site(hollow)
	var s archive.Share
	for range 100 {
		var err error
		_, s, err = o.Desk.Share(ctx, by(archive.Program()), hollow, "owner", 2)
		o.ok(err)
	}
	_, _, err := o.Desk.Share(ctx, by(archive.Program()), hollow, "owner", 2)
	o.is(err, archive.ErrRefused)
	o.says(err, "100 open links")
	o.ok(o.Revoke(ctx, by(archive.Program()), s.ID))
	_, _, err = o.Desk.Share(ctx, by(archive.Program()), hollow, "owner", 2)
	o.ok(err)
	o.pass(2 * day)
	_, _, err = o.Desk.Share(ctx, by(archive.Program()), hollow, "owner", 2)
	o.ok(err)
}

func TestTheSameLinkForTheSameRequest(t *testing.T) {
	store := memory.New()
	o := officeOver(t, store, cheap)
	o.site(hollow)
	w := keyed(archive.Program(), "one")
	token, s, err := o.Desk.Share(ctx, w, hollow, "owner", 30)
	o.ok(err)
	o.pass(time.Hour)
	again, same, err := o.Desk.Share(ctx, w, hollow, "owner", 30)
	o.ok(err)
	if again != token || same != s {
		t.Errorf("%q %+v, then %q %+v", token, s, again, same)
	}
	if _, _, err := o.Visitor(ctx, again); err != nil {
		t.Error(err)
	}
	other, _, err := o.Desk.Share(ctx, keyed(archive.Program(), "two"), hollow, "owner", 30)
	o.ok(err)
	if other == token {
		t.Error("another request gets the same token")
	}
	_, _, err = o.Desk.Share(ctx, w, hollow, "owner", 31)
	o.is(err, archive.ErrKeyUsed)
	if n := len(o.audit()); n != 2 {
		t.Errorf("%d entries in the audit list", n)
	}
	anew := officeOver(t, store, cheap) // the program was started again
	_, same, err = anew.Desk.Share(ctx, w, hollow, "owner", 30)
	o.is(err, archive.ErrExists)
	o.says(err, "revoke it and make another")
	if same != s {
		t.Errorf("%+v, want %+v, for revoking it", same, s)
	}
}
