package archivetest

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"undersod/internal/archive"
)

// everything puts one of each kind, numbered, and tells its own error.
func everything(w archive.Writer, n int) error {
	_, errChange := w.AddChange(change(n, n))
	_, errEvent := w.AddEvent(event(n))
	return errors.Join(w.PutSite(site(n)), w.PutVisit(visit(n, n)), errChange, w.PutAccount(account(n, fmt.Sprintf("login%d", n))),
		w.PutSession(session(n, n)), w.PutShare(share(n, n)), errEvent, w.PutAnswer(fmt.Sprintf("key %d", n), day, []byte("answer")))
}

// snapshot tells all that is kept of some numbers.
func snapshot(b *bench, r archive.Reader, numbers ...int) string {
	b.Helper()
	var all []any
	add := func(v any, err error) {
		if err != nil && !errors.Is(err, archive.ErrNotFound) {
			b.Fatal(err)
		}
		all = append(all, v)
	}
	for _, n := range numbers {
		s, err := r.Site(id("site", n))
		add(s, err)
		visits, err := r.Visits(id("site", n))
		add(told(visits), err)
		sessions, err := r.Sessions(id("account", n))
		add(told(sessions), err)
		answer, err := r.Answered(fmt.Sprintf("key %d", n))
		add(answer, err)
	}
	changes, err := r.Since(0, 1000)
	add(told(changes), err)
	accounts, err := r.Accounts()
	add(told(accounts), err)
	shares, err := r.Shares("")
	add(told(shares), err)
	events, err := r.Events(0, 1000)
	add(told(events), err)
	contents, err := r.Contents()
	add(told(contents), err)
	counts, err := r.Counts()
	add(counts, err)
	found, err := r.Find(archive.Query{Words: "quarry", Most: 1000})
	add(told(found.Sites), err)
	near, err := r.Find(archive.Query{Near: near(44, -93, 1e6), Most: 1000})
	add(told(near.Sites), err)
	due, err := r.Due("9999", 1000)
	add(told(due), err)
	return told(all)
}

func testOwnWrites(b *bench) {
	var inside string
	b.update(func(w archive.Writer) {
		for n := 1; n <= 3; n++ {
			b.ok(everything(w, n))
			found[archive.Site](b, "site")(w.Site(id("site", n)))(site(n))
			found[archive.Visit](b, "visit")(w.Visit(id("visit", n)))(visit(n, n))
			found[archive.Session](b, "session")(w.Session(hash("token", n)))(session(n, n))
			if got := b.names(w, archive.Query{Words: fmt.Sprintf("t-1996-%04d", n)}); got != fmt.Sprintf("Site %d", n) {
				b.Errorf("inside its update, site %d is found as %q", n, got)
			}
		}
		inside = snapshot(b, w, 1, 2, 3)
	})
	b.view(func(r archive.Reader) {
		if after := snapshot(b, r, 1, 2, 3); after != inside {
			b.Errorf("after the update all is\n%.3000s\ninside it was\n%.3000s", after, inside)
		}
	})
}

// alter changes everything that number 1 has, and adds number 2.
func alter(w archive.Writer) error {
	s, v, a := site(1), visit(1, 1), account(1, "another")
	gone := at(77)
	s.Deleted, s.Heading.Owner, s.Heading.Latitude, v.Deleted, v.Photos = &gone, "Nobody", nil, &gone, nil
	return errors.Join(w.PutSite(s), w.PutVisit(v), w.PutAccount(a), w.DropSessions(a.ID), w.DropExpired(day.AddDate(1, 0, 0)), everything(w, 2))
}

func testRollback(b *bench) {
	b.update(func(w archive.Writer) { b.ok(everything(w, 1)) })
	var before, after string
	b.view(func(r archive.Reader) { before = snapshot(b, r, 1, 2) })
	mine := errors.New("the caller's own error")
	err := b.store.Update(context.Background(), func(w archive.Writer) error {
		b.ok(alter(w))
		return fmt.Errorf("wrapped: %w", mine)
	})
	b.is(err, mine)
	b.view(func(r archive.Reader) { after = snapshot(b, r, 1, 2) })
	if after != before {
		b.Errorf("after an update that failed all is\n%.3000s\nbefore it was\n%.3000s", after, before)
	}
	b.update(func(w archive.Writer) {
		n, err := w.AddChange(change(5, 1))
		b.ok(err)
		e, err := w.AddEvent(event(5))
		b.ok(err)
		if n != 2 || e != 2 {
			b.Errorf("after an update that failed the numbers are %d and %d, want 2: no gap", n, e)
		}
	})
	b.is(b.store.View(context.Background(), func(archive.Reader) error { return mine }), mine)
}

func testPanic(b *bench) {
	b.update(func(w archive.Writer) { b.ok(everything(w, 1)) })
	var before, after string
	b.view(func(r archive.Reader) { before = snapshot(b, r, 1, 2) })
	for _, f := range []func(){
		func() {
			_ = b.store.Update(context.Background(), func(w archive.Writer) error {
				b.ok(alter(w))
				panic("the caller's own panic")
			})
		},
		func() {
			_ = b.store.View(context.Background(), func(archive.Reader) error { panic("the caller's own panic") })
		},
	} {
		if told := panics(f); told != "the caller's own panic" {
			b.Errorf("the panic became %v", told)
		}
	}
	b.view(func(r archive.Reader) { after = snapshot(b, r, 1, 2) })
	if after != before {
		b.Errorf("after a panic all is\n%.3000s\nbefore it was\n%.3000s", after, before)
	}
	b.update(func(w archive.Writer) { b.ok(everything(w, 2)) })
}

func panics(f func()) (value any) {
	defer func() { value = recover() }()
	f()
	return nil
}

// patience is how long a test waits for what should come at once.
const patience = 20 * time.Second

// testIsolation updates while a view is open: the view must go on seeing what
// was there, and must hold up nobody.
func testIsolation(b *bench) {
	b.update(func(w archive.Writer) { b.ok(everything(w, 1)) })
	b.view(func(r archive.Reader) {
		before := snapshot(b, r, 1, 2)
		done := make(chan error, 1)
		go func() { done <- b.store.Update(context.Background(), alter) }()
		select {
		case err := <-done:
			b.ok(err)
		case <-time.After(patience):
			b.Fatal("an update waits for a view to end")
		}
		if after := snapshot(b, r, 1, 2); after != before {
			b.Errorf("inside one view all became\n%.3000s\nbefore it was\n%.3000s", after, before)
		}
	})
	b.view(func(r archive.Reader) {
		s, err := r.Site(id("site", 1))
		b.ok(err)
		if s.Deleted == nil {
			b.Error("the update is not seen after the view")
		}
	})
	hidden := make(chan struct{})
	b.update(func(w archive.Writer) {
		b.ok(everything(w, 3))
		go func() {
			defer close(hidden)
			_ = b.store.View(context.Background(), func(r archive.Reader) error {
				missing[archive.Site](b, "a site that is not kept yet")(r.Site(id("site", 3)))
				return nil
			})
		}()
		select {
		case <-hidden:
		case <-time.After(patience):
			b.Error("a view waits for an update to end")
		}
	})
	<-hidden
}

// testConcurrent counts up in one site from many sides; no count may be lost.
func testConcurrent(b *bench) {
	const sides, rounds = 8, 12
	b.update(func(w archive.Writer) {
		s := site(1)
		s.Revision = 0
		b.ok(w.PutSite(s))
	})
	var all sync.WaitGroup
	for side := range sides {
		all.Go(func() {
			for range rounds {
				if err := b.store.Update(context.Background(), countUp); err != nil {
					b.Errorf("side %d: %v", side, err)
				}
				if err := b.store.View(context.Background(), countsAgree); err != nil {
					b.Errorf("side %d: %v", side, err)
				}
			}
		})
	}
	all.Wait()
	b.view(func(r archive.Reader) {
		s, err := r.Site(id("site", 1))
		b.ok(err)
		if s.Revision != sides*rounds {
			b.Errorf("%d updates count %d", sides*rounds, s.Revision)
		}
		b.ok(countsAgree(r))
	})
}

func countUp(w archive.Writer) error {
	s, err := w.Site(id("site", 1))
	if err != nil {
		return err
	}
	s.Revision++
	time.Sleep(100 * time.Microsecond) // so that others would come between
	if err := w.PutSite(s); err != nil {
		return err
	}
	n, err := w.AddChange(change(int(s.Revision), 1))
	if err == nil && n != int64(s.Revision) {
		err = fmt.Errorf("revision %d is change %d", s.Revision, n)
	}
	return err
}

func countsAgree(r archive.Reader) error {
	s, err := r.Site(id("site", 1))
	if err != nil {
		return err
	}
	c, err := r.Counts()
	if err == nil && c.Changes != int64(s.Revision) {
		err = fmt.Errorf("a view sees revision %d and %d changes", s.Revision, c.Changes)
	}
	return err
}

func testCancelled(b *bench) {
	ctx, cancel := context.WithCancel(context.Background())
	err := b.store.Update(ctx, func(w archive.Writer) error {
		err := w.PutSite(site(1))
		cancel()
		return err
	})
	b.is(err, context.Canceled)
	b.is(b.store.Update(ctx, func(archive.Writer) error { return nil }), context.Canceled)
	b.is(b.store.View(ctx, func(archive.Reader) error { return nil }), context.Canceled)
	b.view(func(r archive.Reader) {
		missing[archive.Site](b, "a site of a cancelled update")(r.Site(id("site", 1)))
	})
}

func testClosed(b *bench) {
	b.update(func(w archive.Writer) { b.ok(w.PutSite(site(1))) })
	b.ok(b.store.Close())
	if b.store.View(context.Background(), func(archive.Reader) error { return nil }) == nil {
		b.Error("a closed store can be read")
	}
	if b.store.Update(context.Background(), func(archive.Writer) error { return nil }) == nil {
		b.Error("a closed store can be written")
	}
}
