package people

import (
	"context"
	"fmt"
	"sync"
	"time"

	"undersod/internal/archive"
)

// What stands in the audit list.
const (
	FirstMade    = "first account made"
	SignedIn     = "signed in"
	SignedOut    = "signed out"
	SignInFailed = "sign-in failed"
	Invited      = "invited"
	Changed      = "account changed"
	Disabled     = "account disabled"
	Enabled      = "account enabled"
	PasswordSet  = "password set"
	ShareMade    = "share made"
	ShareRevoked = "share revoked"
	Exported     = "exported"
)

// Events returns the audit list, the newest first, to owners and the office.
func (d *Desk) Events(ctx context.Context, a archive.Actor, before int64, most int) ([]archive.Event, error) {
	return view(ctx, d, func(r archive.Reader) ([]archive.Event, error) {
		if err := may(r, a, shares()); err != nil {
			return nil, err
		}
		return r.Events(before, min(most, archive.MostListed))
	})
}

// Exported enters in the audit list that something left the archive: about says
// in words what, on one line. Everyone who may look may have done it, a visitor
// with a link included.
func (d *Desk) Exported(ctx context.Context, a archive.Actor, about string) error {
	about, err := line("what was exported", about, 500)
	if err != nil {
		return err
	}
	if a.Share != "" && a.Site != "" {
		return d.visitorTook(ctx, a, about)
	}
	return d.store.Update(ctx, func(tx archive.Writer) error {
		if err := may(tx, a, staff()); err != nil {
			return err
		}
		return d.enter(tx, a, Exported, about)
	})
}

// visitorTook enters what a visitor took, bounded as failed sign-ins are: a
// visitor has no account that could be disabled.
func (d *Desk) visitorTook(ctx context.Context, a archive.Actor, about string) error {
	hidden, list := d.taken.add(d.clock())
	if !list {
		return nil
	}
	about += ", by a visitor with the link " + shortened(string(a.Share), 40) + notListed(hidden)
	err := d.store.Update(ctx, func(tx archive.Writer) error { return d.enter(tx, a, Exported, about) })
	if err != nil {
		d.taken.hide(hidden + 1)
	}
	return err
}

// enter adds an entry to the audit list.
func (d *Desk) enter(tx archive.Writer, by archive.Actor, what, about string) error {
	_, err := tx.AddEvent(archive.Event{Stamp: d.stamp(by), What: what, About: about})
	return err
}

// How many failed sign-ins are listed one by one, and how many exports by
// visitors.
const (
	mostListed = 30
	listedIn   = time.Hour
)

// tally bounds what people without an account write: beyond so many in an hour they are
// counted, and told with the next entry.
type tally struct {
	mu     sync.Mutex
	since  time.Time
	listed int
	hidden int
}

// add counts one more. It reports whether it is to be listed, and with
// how many that were not.
func (t *tally) add(now time.Time) (hidden int, list bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if now.Before(t.since) || now.Sub(t.since) >= listedIn {
		t.since, t.listed = now, 0
	}
	if t.listed >= mostListed {
		t.hidden++
		return 0, false
	}
	t.listed++
	hidden, t.hidden = t.hidden, 0
	return hidden, true
}

// hide counts some that were not listed.
func (t *tally) hide(n int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.hidden += n
}

// take returns how many were not listed, and forgets them.
func (t *tally) take() int {
	t.mu.Lock()
	defer t.mu.Unlock()
	n := t.hidden
	t.hidden = 0
	return n
}

// failed enters a failed sign-in in the audit list, with the same work whether
// there is such an account or not. What was typed for a login is not entered: it
// may have been a password. That the list cannot be written does not make the
// sign-in a better one.
func (d *Desk) failed(ctx context.Context, account archive.Account, known bool) {
	hidden, list := d.tally.add(d.clock())
	if !list {
		return
	}
	about := "an unknown login"
	if known {
		about = account.Login
	}
	err := d.store.Update(ctx, func(tx archive.Writer) error {
		return d.enter(tx, archive.Actor{}, SignInFailed, about+notListed(hidden))
	})
	if err != nil {
		d.tally.hide(hidden + 1)
	}
}

func notListed(hidden int) string {
	if hidden == 0 {
		return ""
	}
	return fmt.Sprintf("; %d more before it not listed", hidden)
}
