package sqlite

import (
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"undersod/internal/archive"
)

func addEvent(what string) func(archive.Writer) error {
	return func(w archive.Writer) error {
		_, err := w.AddEvent(archive.Event{What: what})
		return err
	}
}

func eventsOf(t *testing.T, s *Store) (out []string) {
	t.Helper()
	err := s.View(ctx, func(r archive.Reader) error {
		all, err := r.Events(0, 10_000)
		for _, e := range all {
			out = append(out, e.What)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestEveryConnectionIsSafe asks the connections themselves.
func TestEveryConnectionIsSafe(t *testing.T) {
	s := mustOpen(t, filepath.Join(t.TempDir(), "a name with % ? # & ü.db"))
	look := func(c caller) {
		t.Helper()
		for pragma, want := range map[string]int64{"synchronous": 2, "foreign_keys": 1, "cell_size_check": 1, "trusted_schema": 0} {
			got, err := c.number("PRAGMA " + pragma)
			if err != nil || got != want {
				t.Errorf("%s is %d, want %d: %v", pragma, got, want, err)
			}
		}
		if err := walled(c.conn); err != nil {
			t.Error(err)
		}
	}
	look(caller{s.writer, ctx})
	err := s.read(ctx, func(c caller) error {
		look(c)
		return c.exec("DELETE FROM sites")
	})
	if !errors.Is(err, archive.ErrReadOnly) {
		t.Errorf("a view may write: %v", err)
	}
}

// TestUpdatesThatWaitShareACommit holds the first update until nine others
// wait: they are committed together, but for those that fail.
func TestUpdatesThatWaitShareACommit(t *testing.T) {
	s := mustOpen(t, filepath.Join(t.TempDir(), "archive.db"))
	hold := make(chan struct{})
	var all sync.WaitGroup
	start := func(n int, f func(archive.Writer) error, want error) {
		all.Go(func() {
			if err := s.Update(ctx, f); !errors.Is(err, want) {
				t.Errorf("update %d: %v, want %v", n, err, want)
			}
		})
	}
	inside := make(chan struct{})
	start(0, func(w archive.Writer) error {
		close(inside)
		<-hold
		return addEvent("kept")(w)
	}, nil)
	<-inside
	before := commits(t, s)
	refused := errors.New("refused")
	for n := range 9 {
		if n%3 == 0 {
			start(n, func(w archive.Writer) error { return errors.Join(addEvent("refused")(w), refused) }, refused)
		} else {
			start(n, addEvent("kept"), nil)
		}
	}
	for s.waiting.Load() < 9 {
		time.Sleep(time.Millisecond)
	}
	close(hold)
	all.Wait()
	if got := eventsOf(t, s); strings.Join(got, " ") != "kept kept kept kept kept kept kept" {
		t.Errorf("kept are %q", got)
	}
	if n := commits(t, s) - before; n != 1 {
		t.Errorf("%d commits were made, want 1", n)
	}
}

// commits counts the frames of the log that end a transaction: those that state
// the size of the database after it (https://www.sqlite.org/fileformat2.html,
// section 4.1).
func commits(t *testing.T, s *Store) (n int) {
	t.Helper()
	log, err := os.ReadFile(s.file + "-wal")
	if err != nil {
		t.Fatal(err)
	}
	const head, frameHead, page = 32, 24, 4096
	for at := head; at+frameHead+page <= len(log); at += frameHead + page {
		if binary.BigEndian.Uint32(log[at+4:]) != 0 {
			n++
		}
	}
	return n
}

// TestNobodyFailsForAnother breaks the transaction under one of a group, as a
// full disk does: the others are done again alone and are kept.
func TestNobodyFailsForAnother(t *testing.T) {
	s := mustOpen(t, filepath.Join(t.TempDir(), "archive.db"))
	hold, inside := make(chan struct{}), make(chan struct{})
	var all sync.WaitGroup
	var once sync.Once
	all.Go(func() {
		err := s.Update(ctx, func(w archive.Writer) error {
			once.Do(func() { close(inside) })
			<-hold
			return addEvent("first")(w)
		})
		if err != nil {
			t.Error(err)
		}
	})
	<-inside
	all.Go(func() {
		err := s.Update(ctx, func(w archive.Writer) error {
			_ = addEvent("broken")(w)
			return w.(*writer).exec("ROLLBACK") // what SQLite does by itself at some faults
		})
		if err == nil {
			t.Error("it was acknowledged without its transaction")
		}
	})
	for s.waiting.Load() < 1 {
		time.Sleep(time.Millisecond)
	}
	close(hold)
	all.Wait()
	if err := s.Update(ctx, addEvent("last")); err != nil {
		t.Error(err)
	}
	if got := strings.Join(eventsOf(t, s), " "); got != "last first" {
		t.Errorf("kept are %q", got)
	}
	if err := s.Check(ctx); err != nil {
		t.Error(err)
	}
}

// TestAFaultIsNotOverlooked has an update that goes on after a fault.
func TestAFaultIsNotOverlooked(t *testing.T) {
	s := mustOpen(t, filepath.Join(t.TempDir(), "archive.db"))
	if err := (caller{s.writer, ctx}).exec("PRAGMA query_only = 1"); err != nil {
		t.Fatal(err)
	}
	err := s.Update(ctx, func(w archive.Writer) error {
		_ = w.PutSite(archive.Site{ID: "site"})
		return nil
	})
	if !errors.Is(err, archive.ErrReadOnly) {
		t.Errorf("the error is %v", err)
	}
}

func TestReferencesHold(t *testing.T) {
	s := mustOpen(t, filepath.Join(t.TempDir(), "archive.db"))
	err := s.Update(ctx, func(w archive.Writer) error { return w.PutVisit(archive.Visit{ID: "visit", Site: "nowhere"}) })
	if !errors.Is(err, archive.ErrNotFound) {
		t.Errorf("a visit without a site: %v", err)
	}
}

// TestAChangedRowIsNoticed changes each column of each table behind the store's
// back: no read returns it.
func TestAChangedRowIsNoticed(t *testing.T) {
	s := mustOpen(t, filepath.Join(t.TempDir(), "archive.db"))
	if err := s.Update(ctx, putSmall); err != nil {
		t.Fatal(err)
	}
	w := caller{s.writer, ctx}
	if err := w.exec("PRAGMA foreign_keys = 0"); err != nil {
		t.Fatal(err)
	}
	for _, table := range []string{"sites", "visits", "photos", "changes", "accounts", "sessions", "shares", "events", "answers"} {
		for _, column := range texts(t, s, "SELECT name FROM pragma_table_info('"+table+"')") {
			if err := w.exec("SAVEPOINT damage"); err != nil {
				t.Fatal(err)
			}
			change := fmt.Sprintf("UPDATE %s SET %s = CASE typeof(%[2]s) WHEN 'integer' THEN %[2]s + 7 WHEN 'real' THEN %[2]s + 1e-9 WHEN 'null' THEN 1 ELSE %[2]s || 'x' END", table, column)
			if err := w.exec(change); err != nil {
				t.Fatalf("%s.%s: %v", table, column, err)
			}
			if err := errors.Join(rows(w), gaps(w)); !errors.Is(err, archive.ErrDamaged) {
				t.Errorf("%s.%s: the error is %v", table, column, err)
			}
			if err := errors.Join(w.exec("ROLLBACK TO damage"), w.exec("RELEASE damage")); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := rows(w); err != nil {
		t.Error(err)
	}
}

// TestWhatSearchesMissIsNoticed takes a site out of the indexes.
func TestWhatSearchesMissIsNoticed(t *testing.T) {
	for _, damage := range []string{"DELETE FROM search WHERE rowid = 1", "DELETE FROM places WHERE put = 1", "UPDATE places SET latitude = 0.5 WHERE put = 1",
		"DELETE FROM changes WHERE number = 1", "DELETE FROM photos"} {
		s := mustOpen(t, filepath.Join(t.TempDir(), "archive.db"))
		another := func(w archive.Writer) error {
			c := smallChange()
			_, err := w.AddChange(c)
			return err
		}
		if err := errors.Join(s.Update(ctx, putSmall), s.Update(ctx, another), s.Check(ctx)); err != nil {
			t.Fatal(err)
		}
		if err := (caller{s.writer, ctx}).exec(damage); err != nil {
			t.Fatal(err)
		}
		if err := s.Check(ctx); !errors.Is(err, archive.ErrDamaged) {
			t.Errorf("%s: the check says %v", damage, err)
		}
	}
}

func TestCopyTo(t *testing.T) {
	s := mustOpen(t, filepath.Join(t.TempDir(), "archive.db"))
	if err := s.Update(ctx, putSmall); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "copy.db")
	if err := s.CopyTo(ctx, file); err != nil {
		t.Fatal(err)
	}
	if err := s.CopyTo(ctx, file); !errors.Is(err, archive.ErrExists) {
		t.Errorf("over another: %v", err)
	}
	c := mustOpen(t, file)
	if err := c.View(ctx, func(r archive.Reader) error { return holdsSmall(t, r) }); err != nil {
		t.Error(err)
	}
	if err := c.Check(ctx); err != nil {
		t.Error(err)
	}
}
