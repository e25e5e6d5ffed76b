// Package people keeps who may use an archive: accounts and their passwords,
// sessions, links for visitors, and the list of who did what. Its rules hold
// over every archive.Store.
//
// Nothing that opens a door is kept: of a password its argon2id hash, of a
// session's or a link's token its SHA-256.
package people

import (
	"context"
	"errors"
	"fmt"
	"time"

	"undersod/internal/archive"
)

// Settings is what a Desk is made from.
type Settings struct {
	Store archive.Store
	// Now is the clock. It may jump back: no session and no wait then lasts longer
	// from the time that it shows than its rule says.
	Now func() time.Time
	// Random fills a slice with random bytes that nobody can guess.
	Random func([]byte)
	// Cost is that of new password hashes; its zero value takes DefaultCost. A
	// password with a lower one is hashed anew when its owner signs in.
	Cost Cost
	// AtOnce is how many passwords are hashed at the same time, each with the
	// memory of its cost; 0 takes 2.
	AtOnce int
}

// Desk implements archive.People. Use New. Its methods may be called at the
// same time.
type Desk struct {
	store  archive.Store
	now    func() time.Time
	random func([]byte)
	cost   Cost
	secret []byte // of this process alone, kept nowhere

	derive func(password, salt []byte, c Cost, length uint32) []byte
	slots  *slots
	gate   *gate
	tally  tally // of failed sign-ins
	taken  tally // of what visitors took with them
}

var _ archive.People = (*Desk)(nil)

// New returns a desk. It is an error where a setting is missing or the cost is
// not one.
func New(s Settings) (*Desk, error) {
	if s.Store == nil || s.Now == nil || s.Random == nil {
		return nil, errors.New("people: a store, a clock and a source of random bytes are needed")
	}
	if s.Cost == (Cost{}) {
		s.Cost = DefaultCost()
	}
	if err := s.Cost.check(); err != nil {
		return nil, fmt.Errorf("people: the cost of new passwords: %w", err)
	}
	if s.AtOnce <= 0 {
		s.AtOnce = 2
	}
	d := &Desk{
		store: s.Store, now: s.Now, random: s.Random, cost: s.Cost,
		secret: make([]byte, tokenBytes), derive: argon2id,
		slots: newSlots(s.AtOnce), gate: newGate(),
	}
	s.Random(d.secret)
	return d, nil
}

// clock returns the time in what is kept of it.
func (d *Desk) clock() time.Time { return d.now().UTC().Truncate(time.Millisecond) }

// stamp returns who and when.
func (d *Desk) stamp(a archive.Actor) archive.Stamp {
	return archive.Stamp{At: d.clock(), By: a.Account}
}

// view reads one thing from one moment of the store.
func view[T any](ctx context.Context, d *Desk, f func(archive.Reader) (T, error)) (T, error) {
	var out, none T
	err := d.store.View(ctx, func(r archive.Reader) (err error) {
		out, err = f(r)
		return err
	})
	if err != nil {
		return none, err
	}
	return out, nil
}
