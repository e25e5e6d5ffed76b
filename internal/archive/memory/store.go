// Package memory keeps an archive in memory: for tests, and as the plainest
// store that does what archive asks for. Every update works on tables of its
// own, which take the place of the old ones at its end, so that a view never
// waits and never sees half a change.
package memory

import (
	"context"
	"errors"
	"sync"

	"undersod/internal/archive"
)

// Store is an archive.Store in memory. Use New.
type Store struct {
	writing sync.Mutex // one update after another

	mu     sync.Mutex // of what follows
	now    *state     // never changed once it is here
	closed bool
}

// New returns an empty store.
func New() *Store { return &Store{now: empty()} }

var errClosed = errors.New("the store in memory is closed")

// View calls f with what is kept now.
func (s *Store) View(ctx context.Context, f func(archive.Reader) error) error {
	now, err := s.current(ctx)
	if err != nil {
		return err
	}
	return f(reader{now})
}

// Update calls f and keeps what it put if it returns nil.
func (s *Store) Update(ctx context.Context, f func(archive.Writer) error) error {
	s.writing.Lock()
	defer s.writing.Unlock()
	now, err := s.current(ctx)
	if err != nil {
		return err
	}
	next := now.begin()
	if err := f(writer{reader{next}}); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.now = next
	return nil
}

func (s *Store) current(ctx context.Context) (*state, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed {
		return nil, errClosed
	}
	return s.now, nil
}

// Close ends the use of the store. What it held is gone.
func (s *Store) Close() error {
	s.writing.Lock()
	defer s.writing.Unlock()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.closed, s.now = true, nil
	return nil
}
