package people_test

import (
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/memory"
	"undersod/internal/people"
)

// together runs a function n times at once.
func together(n int, f func(i int)) {
	var wait sync.WaitGroup
	for i := range n {
		wait.Go(func() { f(i) })
	}
	wait.Wait()
}

func TestManyFirstOwners(t *testing.T) {
	o := newOffice(t)
	var made, existed atomic.Int64
	together(30, func(i int) {
		_, err := o.First(ctx, fmt.Sprintf("owner%d", i), "Owner", secret)
		switch {
		case err == nil:
			made.Add(1)
		case errors.Is(err, archive.ErrExists):
			existed.Add(1)
		default:
			t.Error(err)
		}
	})
	all, err := o.Accounts(ctx, archive.Program())
	o.ok(err)
	if made.Load() != 1 || existed.Load() != 29 || len(all) != 1 {
		t.Errorf("%d made, %d refused, %d kept", made.Load(), existed.Load(), len(all))
	}
}

func TestTwoOwnersDisableEachOther(t *testing.T) {
	for range 50 {
		o := newOffice(t)
		pair := []archive.Account{o.first(), o.invited("ann", archive.Owner)}
		together(2, func(i int) {
			a := pair[1-i]
			_, err := o.Change(ctx, by(actor(pair[i])), a.ID, a.Name, archive.Crew, i == 0)
			if err != nil && !errors.Is(err, archive.ErrDenied) && !errors.Is(err, archive.ErrRefused) {
				t.Error(err)
			}
		})
		owners := 0
		for _, a := range pair {
			if kept := o.kept(a.ID); kept.Role == archive.Owner && !kept.Disabled {
				owners++
			}
		}
		if owners != 1 {
			t.Fatalf("%d owners are left", owners)
		}
	}
}

func TestADisabledAccountHasNoSessionWhateverComesFirst(t *testing.T) {
	for range 30 {
		o := newOffice(t)
		o.first()
		ann := o.invited("ann", archive.Crew)
		token, _ := o.signed("ann")
		o.pass(2 * time.Hour) // so that Who writes
		together(7, func(i int) {
			switch i {
			case 0:
				_, err := o.Change(ctx, by(archive.Program()), ann.ID, ann.Name, archive.Crew, true)
				if err != nil {
					t.Error(err)
				}
			case 1, 2, 3:
				_, _, err := o.SignIn(ctx, "ann", secret, "", "")
				if err != nil && !errors.Is(err, archive.ErrDenied) {
					t.Error(err)
				}
			default:
				_, _, err := o.Who(ctx, token)
				if err != nil && !errors.Is(err, archive.ErrNotFound) {
					t.Error(err)
				}
			}
		})
		if n := o.sessions(ann.ID); n != 0 || o.holds(token) {
			t.Fatalf("%d sessions are left", n)
		}
	}
}

func TestOneRequestSentManyTimesAtOnce(t *testing.T) {
	o := newOffice(t)
	o.site(hollow)
	var accounts, tokens sync.Map
	together(20, func(int) {
		a, err := o.Invite(ctx, keyed(archive.Program(), "one"), "ann", "Ann", archive.Crew, secret)
		if err != nil {
			t.Error(err)
		}
		accounts.Store(a, true)
		token, _, err := o.Desk.Share(ctx, keyed(archive.Program(), "two"), hollow, "owner", 3)
		if err != nil {
			t.Error(err)
		}
		tokens.Store(token, true)
	})
	count := func(m *sync.Map) (n int) {
		m.Range(func(any, any) bool { n++; return true })
		return n
	}
	if count(&accounts) != 1 || count(&tokens) != 1 || len(o.audit()) != 2 {
		t.Errorf("%d accounts, %d links, %q", count(&accounts), count(&tokens), o.audit())
	}
}

// However many sign in, few passwords are hashed at the same time, a bounded
// number waits, and the others are told to come back.
func TestHashingsAtTheSameTimeAreBounded(t *testing.T) {
	d, err := people.New(people.Settings{Store: memory.New(), Now: func() time.Time { return opening }, Random: counter, Cost: cheap, AtOnce: 3})
	if err != nil {
		t.Fatal(err)
	}
	var now, most, done atomic.Int64
	full := make(chan struct{})
	d.CountHashings(func(people.Cost) {
		n := now.Add(1)
		for m := most.Load(); n > m && !most.CompareAndSwap(m, n); m = most.Load() {
		}
		<-full // until nobody else comes
		now.Add(-1)
		done.Add(1)
	})
	const crowd = 400
	var busy atomic.Int64
	var told sync.WaitGroup
	told.Add(crowd - 3 - 64)
	go func() {
		told.Wait()
		close(full)
	}()
	together(crowd, func(i int) {
		_, _, err := d.SignIn(ctx, fmt.Sprintf("login%d", i), secret, "", "")
		var wait *people.Wait
		switch {
		case errors.As(err, &wait):
			if busy.Add(1) <= crowd-3-64 {
				told.Done()
			}
			if wait.RetryAfter() != 5*time.Second {
				t.Errorf("retry after %v", wait.RetryAfter())
			}
		case !errors.Is(err, archive.ErrDenied):
			t.Error(err)
		}
	})
	together(3+64, func(i int) { // all of whom find room again
		_, _, err := d.SignIn(ctx, fmt.Sprintf("login%d", i), secret, "", "")
		var wait *people.Wait
		if errors.As(err, &wait) {
			t.Error(err)
		}
	})
	if most.Load() != 3 || done.Load() != 2*(3+64) || busy.Load() != crowd-3-64 {
		t.Errorf("%d at once, %d hashed, %d told to come back", most.Load(), done.Load(), busy.Load())
	}
}

func TestEverythingAtOnce(t *testing.T) {
	o := newOffice(t)
	owner := o.first()
	o.site(hollow)
	ann := o.invited("ann", archive.Crew)
	token, _ := o.signed("ann")
	together(24, func(i int) {
		switch i % 8 {
		case 0:
			_, _, _ = o.SignIn(ctx, "ann", secret, "", "192.0.2.7")
		case 1:
			_, _, _ = o.SignIn(ctx, "nobody", secret, "", "192.0.2.7")
		case 2:
			_, _, _ = o.Who(ctx, token)
		case 3:
			_ = o.SetPassword(ctx, by(actor(ann)), ann.ID, secret, better)
		case 4:
			_, s, _ := o.Desk.Share(ctx, by(actor(owner)), hollow, "owner", 3)
			_ = o.Revoke(ctx, by(actor(owner)), s.ID)
		case 5:
			_, _ = o.Change(ctx, by(actor(owner)), ann.ID, "Ann", archive.Office, i > 12)
		case 6:
			_ = o.SignOut(ctx, token)
			o.pass(time.Hour)
		default:
			_ = o.everything(actor(owner), ann, "unknown")
		}
	})
	if kept := o.kept(owner.ID); kept.Role != archive.Owner || kept.Disabled {
		t.Errorf("%+v", kept)
	}
}

func BenchmarkSignIn(b *testing.B) {
	d, err := people.New(people.Settings{Store: memory.New(), Now: time.Now, Random: counter})
	if err != nil {
		b.Fatal(err)
	}
	if _, err := d.First(ctx, "rosalind", "Rosalind", secret); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, _, err := d.SignIn(ctx, "rosalind", secret, "", ""); err != nil {
			b.Fatal(err)
		}
	}
}
