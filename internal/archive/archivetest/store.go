// Package archivetest holds every store of an archive to the same: what
// archive.Store and archive.Blobs promise, as tests that a store's own tests
// call with a function that opens a fresh, empty one.
package archivetest

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"undersod/internal/archive"
)

// Store runs every test of a Store. open returns a new and empty store each
// time; the suite closes it.
func Store(t *testing.T, open func(t *testing.T) archive.Store) {
	for _, c := range []struct {
		name string
		run  func(*bench)
	}{
		{"nothing", testNothing},
		{"sites", testSites},
		{"visits", testVisits},
		{"visit order", testVisitOrder},
		{"changes", testChanges},
		{"accounts", testAccounts},
		{"sessions", testSessions},
		{"shares", testShares},
		{"events", testEvents},
		{"answers", testAnswers},
		{"expiry", testExpiry},
		{"contents", testContents},
		{"due", testDue},
		{"unicode and length", testTexts},
		{"times", testTimes},
		{"belongs to the caller", testOwnership},
		{"find words", testFindWords},
		{"find strange words", testFindStrange},
		{"find near", testFindNear},
		{"find pages", testFindPages},
		{"find follows changes", testFindFollows},
		{"reads of own writes", testOwnWrites},
		{"an error rolls back", testRollback},
		{"a panic rolls back", testPanic},
		{"a view sees one moment", testIsolation},
		{"updates at the same time", testConcurrent},
		{"cancelled", testCancelled},
		{"closed", testClosed},
		{"random operations", testRandom},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := open(t)
			t.Cleanup(func() { _ = s.Close() })
			c.run(&bench{t, s})
		})
	}
}

// bench is a test with its store.
type bench struct {
	*testing.T
	store archive.Store
}

// update carries out a change that must succeed.
func (b *bench) update(f func(w archive.Writer)) {
	b.Helper()
	err := b.store.Update(context.Background(), func(w archive.Writer) error {
		f(w)
		return nil
	})
	if err != nil {
		b.Fatalf("update: %v", err)
	}
}

// view reads, which must succeed.
func (b *bench) view(f func(r archive.Reader)) {
	b.Helper()
	err := b.store.View(context.Background(), func(r archive.Reader) error {
		f(r)
		return nil
	})
	if err != nil {
		b.Fatalf("view: %v", err)
	}
}

// ok fails where an error came.
func (b *bench) ok(err error) {
	b.Helper()
	if err != nil {
		b.Fatal(err)
	}
}

// is fails where another error came than the one that must.
func (b *bench) is(err, want error) {
	b.Helper()
	if !errors.Is(err, want) {
		b.Errorf("the error is %v, want %v", err, want)
	}
}

// same compares what is kept, told by its JSON: pointers by what they point at,
// an empty list within like none.
func same[T any](b *bench, what string, got, want T) {
	b.Helper()
	g, w := told(got), told(want)
	if g != w {
		b.Errorf("%s:\n got %.2000s\nwant %.2000s", what, g, w)
	}
}

func told(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		return fmt.Sprintf("%#v: %v", v, err)
	}
	return strings.ReplaceAll(string(text), `":[]`, `":null`)
}

// listed compares a list with its error.
func listed[T any](b *bench, what string) func(got []T, err error) func(want ...T) {
	return func(got []T, err error) func(want ...T) {
		b.Helper()
		b.ok(err)
		return func(want ...T) {
			b.Helper()
			if len(got) != len(want) {
				b.Errorf("%s: %d are listed, want %d: %.2000s", what, len(got), len(want), told(got))
				return
			}
			for i := range want {
				same(b, fmt.Sprintf("%s, entry %d", what, i), got[i], want[i])
			}
		}
	}
}

// found compares one thing with its error.
func found[T any](b *bench, what string) func(got T, err error) func(want T) {
	return func(got T, err error) func(want T) {
		b.Helper()
		if err != nil {
			b.Fatalf("%s: %v", what, err)
		}
		return func(want T) {
			b.Helper()
			same(b, what, got, want)
		}
	}
}

// missing fails where something was found that is not there.
func missing[T any](b *bench, what string) func(got T, err error) {
	return func(got T, err error) {
		b.Helper()
		if !errors.Is(err, archive.ErrNotFound) {
			b.Errorf("%s: the error is %v, want %v", what, err, archive.ErrNotFound)
		}
	}
}

// day is when the first thing of the tests happens.
var day = time.Date(2026, 5, 12, 9, 30, 0, 250_000_000, time.UTC)

// at returns the stamp of a minute of that day.
func at(minute int) archive.Stamp {
	return archive.Stamp{At: day.Add(time.Duration(minute) * time.Minute), By: id("account", 1)}
}

// id returns an ID that tells what it is of.
func id(kind string, n int) archive.ID {
	text := fmt.Sprintf("%s%d", kind, n)
	return archive.ID(fmt.Sprintf("%026s", text))
}

// hash returns the hash of a made-up content.
func hash(name string, n int) archive.Hash {
	return archive.HashOf(fmt.Appendf(nil, "%s %d", name, n))
}
