package sqlite

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"undersod/internal/archive"
)

// group is the updates that one commit puts on the disk.
type group struct {
	size   int           // how many wait for it
	broken error         // why it cannot be committed
	done   chan struct{} // closed when it is on the disk, or failed
	err    error         // why it failed, from then on
}

// mostTogether bounds how long the first of a group waits.
const mostTogether = 64

// Update calls f and keeps what it put if it returns nil. Where several wait,
// they share one commit. A group that fails is tried again one by one, so that
// nobody fails for what another wrote.
func (s *Store) Update(ctx context.Context, f func(archive.Writer) error) error {
	err := s.update(ctx, f, false)
	var failed *Fault
	if errors.As(err, &failed) {
		err = s.update(ctx, f, true)
	}
	return err
}

func (s *Store) update(ctx context.Context, f func(archive.Writer) error, alone bool) error {
	if s.readOnly {
		return fmt.Errorf("%s: %w", filepath.Base(s.file), archive.ErrReadOnly)
	}
	g, err := s.enter(ctx, f, alone)
	if err != nil {
		return err
	}
	<-g.done
	return g.err
}

// enter runs f in the transaction that is open, or in a new one. Whoever leaves
// while nobody waits for the lock commits; all others leave that to the next.
func (s *Store) enter(ctx context.Context, f func(archive.Writer) error, alone bool) (*group, error) {
	s.waiting.Add(1)
	s.writing.Lock()
	defer s.writing.Unlock()
	s.waiting.Add(-1)
	if alone {
		s.commit()
	}
	defer func() {
		if g := s.group; g != nil && (alone || s.waiting.Load() == 0 || g.size >= mostTogether || g.broken != nil) {
			s.commit()
		}
	}()
	return s.join(ctx, f)
}

// join runs f between two marks, and goes back to the first if it fails.
func (s *Store) join(ctx context.Context, f func(archive.Writer) error) (g *group, err error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if s.closed.Load() {
		return nil, errClosed
	}
	c := caller{s.writer, context.Background()}
	if err := s.begin(c); err != nil {
		return nil, err
	}
	if err := c.exec("SAVEPOINT one"); err != nil {
		s.group.broken = err
		return nil, err
	}
	kept := false
	defer func() {
		if !kept {
			s.back(c) // also where f panics
		}
	}()
	w := &writer{reader: reader{c}}
	err = f(w)
	if err = cmp.Or(err, w.failed, ctx.Err()); err != nil {
		return nil, err
	}
	if err := c.exec("RELEASE one"); err != nil {
		return nil, err
	}
	kept = true
	s.group.size++
	return s.group, nil
}

func (s *Store) begin(c caller) error {
	if s.group != nil {
		return nil
	}
	if err := c.exec("BEGIN IMMEDIATE"); err != nil {
		return err
	}
	s.group = &group{done: make(chan struct{})}
	return nil
}

// back undoes one update. Where the database has undone the whole transaction
// by itself, the group is lost.
func (s *Store) back(c caller) {
	err := c.exec("ROLLBACK TO one")
	if err == nil {
		err = c.exec("RELEASE one")
	}
	if err != nil {
		s.group.broken = &Fault{File: s.file, kind: errOther, said: err}
	}
}

// commit puts the open group on the disk and tells those who wait for it.
func (s *Store) commit() {
	g := s.group
	if g == nil {
		return
	}
	s.group = nil
	c := caller{s.writer, context.Background()}
	g.err = g.broken
	if g.err == nil && g.size > 0 {
		g.err = c.exec("COMMIT")
	}
	if g.err != nil || g.size == 0 {
		c.exec("ROLLBACK") // nothing is open where the database did it itself
	}
	close(g.done)
}
