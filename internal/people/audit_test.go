package people_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/memory"
	"undersod/internal/people"
)

func TestFailedSignInsAreCountedBeyondABound(t *testing.T) {
	o := newOffice(t)
	o.first()
	for n := range 40 {
		o.letsIn(fmt.Sprintf("nobody%d", n), "a wrong password")
	}
	got := o.audit()
	if len(got) != 1+30 || got[30] != "sign-in failed: an unknown login" {
		t.Errorf("%q", got)
	}
	o.pass(time.Hour)
	o.letsIn("rosalind", "a wrong password")
	o.letsIn("rosalind", "a wrong password")
	got = o.audit()[31:]
	if want := []string{"sign-in failed: rosalind; 10 more before it not listed", "sign-in failed: rosalind"}; strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%q, want %q", got, want)
	}
	for range 100 {
		o.letsIn("rosalind", "a wrong password") // which wait, all but a few
	}
	o.pass(time.Hour)
	o.signed("rosalind")
	got = o.audit()
	want := "signed in: rosalind, after 6 tries that went wrong; 96 failed sign-ins since the last entry not listed"
	if got[len(got)-1] != want {
		t.Errorf("%q, want %q", got[len(got)-1], want)
	}
	o.signed("rosalind")
	if got = o.audit(); got[len(got)-1] != "signed in: rosalind" {
		t.Errorf("%q", got[len(got)-1])
	}
}

func TestTheAuditBoundWhenTheClockJumpsBack(t *testing.T) {
	o := newOffice(t)
	o.first()
	for n := range 40 {
		o.letsIn(fmt.Sprintf("nobody%d", n), "a wrong password")
	}
	o.pass(-10 * 365 * day)
	o.letsIn("nobody", "a wrong password")
	if got := o.audit(); len(got) != 32 || got[31] != "sign-in failed: an unknown login; 10 more before it not listed" {
		t.Errorf("%d entries, the last %q", len(got), got[len(got)-1])
	}
}

func TestExported(t *testing.T) {
	o := newOffice(t)
	a := o.first()
	o.ok(o.Exported(ctx, actor(a), "site "+string(hollow)+" as a bundle"))
	visitor := archive.Actor{Share: "linkofthecounty", Site: hollow}
	for range 40 {
		o.ok(o.Exported(ctx, visitor, "the sheet"))
	}
	o.pass(time.Hour)
	o.ok(o.Exported(ctx, visitor, "the sheet"))
	o.is(o.Exported(ctx, actor(a), "a\nb"), archive.ErrRefused)
	events, err := o.Events(ctx, actor(a), 0, 1000)
	o.ok(err)
	if len(events) != 33 {
		t.Fatalf("%d entries", len(events))
	}
	if e := events[31]; e.What != people.Exported || e.About != "site "+string(hollow)+" as a bundle" || e.Stamp != (archive.Stamp{At: opening, By: a.ID}) {
		t.Errorf("%+v", e)
	}
	if e := events[0]; e.About != "the sheet, by a visitor with the link linkofthecounty; 10 more before it not listed" || e.Stamp.By != "" {
		t.Errorf("%+v", e)
	}
	if some, err := o.Events(ctx, actor(a), events[30].Number, 0); err != nil || len(some) != 2 {
		t.Errorf("%d entries before, %v", len(some), err)
	}
}

func TestWhatCannotBeListedIsToldLater(t *testing.T) {
	store := &failing{Store: memory.New()}
	o := officeOver(t, store, cheap)
	o.first()
	store.err = archive.ErrFull
	o.letsIn("rosalind", "a wrong password")
	o.letsIn("nobody", "a wrong password")
	store.err = nil
	o.letsIn("nobody", "a wrong password")
	if got := o.audit()[1]; got != "sign-in failed: an unknown login; 2 more before it not listed" {
		t.Errorf("%q", got)
	}
}
