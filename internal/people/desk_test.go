package people_test

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/memory"
	"undersod/internal/people"
)

// cheap is a cost for tests, in which no guesser is kept waiting.
var cheap = people.Cost{Memory: 16, Passes: 1, Threads: 1}

const secret = "four words of no sense"

// office is a desk over a store in memory, with a clock that the test sets.
type office struct {
	*testing.T
	*people.Desk
	store archive.Store

	mu       sync.Mutex
	at       time.Time
	hashings atomic.Int64
}

var opening = time.Date(2026, 5, 12, 8, 0, 0, 0, time.UTC)

var filled atomic.Uint64

// counter fills in bytes that never come again and look random.
func counter(b []byte) {
	var n [8]byte
	for len(b) > 0 {
		binary.BigEndian.PutUint64(n[:], filled.Add(1))
		sum := sha256.Sum256(n[:])
		b = b[copy(b, sum[:]):]
	}
}

func newOffice(t *testing.T) *office {
	return officeOver(t, memory.New(), cheap)
}

func officeOver(t *testing.T, store archive.Store, cost people.Cost) *office {
	t.Helper()
	o := &office{T: t, store: store, at: opening}
	d, err := people.New(people.Settings{Store: o.store, Now: o.now, Random: counter, Cost: cost})
	if err != nil {
		t.Fatal(err)
	}
	o.Desk = d
	d.CountHashings(func(people.Cost) { o.hashings.Add(1) })
	return o
}

func (o *office) now() time.Time {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.at
}

// pass moves the clock.
func (o *office) pass(t time.Duration) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.at = o.at.Add(t)
}

var ctx = context.Background()

// ok ends the test at an error.
func (o *office) ok(err error) {
	o.Helper()
	if err != nil {
		o.Fatal(err)
	}
}

// is checks the kind of an error.
func (o *office) is(err, kind error) {
	o.Helper()
	if !errors.Is(err, kind) {
		o.Errorf("%v, want %v", err, kind)
	}
}

// says checks the words of an error.
func (o *office) says(err error, words string) {
	o.Helper()
	if err == nil || !strings.Contains(err.Error(), words) {
		o.Errorf("%v, want the words %q", err, words)
	}
}

// first makes the first owner.
func (o *office) first() archive.Account {
	o.Helper()
	a, err := o.First(ctx, "rosalind", "Rosalind Dunmoor", secret)
	o.ok(err)
	return a
}

// invited makes an account in the name of the program.
func (o *office) invited(login string, role archive.Role) archive.Account {
	o.Helper()
	a, err := o.Invite(ctx, by(archive.Program()), login, login+" by name", role, secret)
	o.ok(err)
	return a
}

// signed signs in.
func (o *office) signed(login string) (string, archive.Session) {
	o.Helper()
	token, s, err := o.SignIn(ctx, login, secret, "a browser", "192.0.2.7:4711")
	o.ok(err)
	return token, s
}

// site puts a site.
func (o *office) site(id archive.ID) archive.Site {
	o.Helper()
	s := archive.Site{ID: id, Revision: 1}
	o.ok(o.store.Update(ctx, func(w archive.Writer) error { return w.PutSite(s) }))
	return s
}

// kept returns an account as it is in the store.
func (o *office) kept(id archive.ID) archive.Account {
	o.Helper()
	var a archive.Account
	o.ok(o.store.View(ctx, func(r archive.Reader) (err error) {
		a, err = r.Account(id)
		return err
	}))
	return a
}

// sessions returns how many sessions an account has in the store.
func (o *office) sessions(id archive.ID) int {
	o.Helper()
	n := 0
	o.ok(o.store.View(ctx, func(r archive.Reader) error {
		all, err := r.Sessions(id)
		n = len(all)
		return err
	}))
	return n
}

// audit returns the audit list, the oldest first, as "what: about".
func (o *office) audit() []string {
	o.Helper()
	events, err := o.Events(ctx, archive.Program(), 0, 500)
	o.ok(err)
	out := make([]string, len(events))
	for i, e := range events {
		out[len(events)-1-i] = e.What + ": " + e.About
	}
	return out
}

// actor is an account as a request brings it.
func actor(a archive.Account) archive.Actor {
	return archive.Actor{Account: a.ID, Role: a.Role}
}

// by is a request without a key.
func by(a archive.Actor) archive.Write { return archive.Write{By: a} }

// keyed is a request with a key.
func keyed(a archive.Actor, key string) archive.Write { return archive.Write{By: a, Key: key} }

const (
	hollow = archive.ID("quarryhollow18aaaaaaaaaaaa")
	meadow = archive.ID("lowermeadow7aaaaaaaaaaaaaa")
)

func TestNewWantsItsSettings(t *testing.T) {
	good := people.Settings{Store: memory.New(), Now: time.Now, Random: counter}
	for name, spoil := range map[string]func(*people.Settings){
		"no store":       func(s *people.Settings) { s.Store = nil },
		"no clock":       func(s *people.Settings) { s.Now = nil },
		"no random":      func(s *people.Settings) { s.Random = nil },
		"no passes":      func(s *people.Settings) { s.Cost = people.Cost{Memory: 64, Threads: 1} },
		"no threads":     func(s *people.Settings) { s.Cost = people.Cost{Memory: 64, Passes: 1} },
		"little memory":  func(s *people.Settings) { s.Cost = people.Cost{Memory: 15, Passes: 1, Threads: 2} },
		"endless memory": func(s *people.Settings) { s.Cost = people.Cost{Memory: 1<<20 + 1, Passes: 1, Threads: 2} },
		"endless passes": func(s *people.Settings) { s.Cost = people.Cost{Memory: 64, Passes: 17, Threads: 2} },
	} {
		s := good
		spoil(&s)
		if _, err := people.New(s); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := people.New(good); err != nil {
		t.Error(err)
	}
}

// interposed is a store in which something else happens first.
type interposed struct {
	archive.Store
	before func()
}

func (i *interposed) Update(ctx context.Context, change func(archive.Writer) error) error {
	if i.before != nil {
		i.before()
	}
	return i.Store.Update(ctx, change)
}
