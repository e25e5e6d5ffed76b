package sqlite_test

import (
	"context"
	"path/filepath"
	"testing"

	"undersod/internal/archive"
	"undersod/internal/archive/archivetest"
	"undersod/internal/archive/sqlite"
)

// open opens a store in a file, and closes it at the end of the test.
func open(t testing.TB, file string) *sqlite.Store {
	t.Helper()
	s, err := sqlite.Open(context.Background(), file)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

func fresh(t testing.TB) *sqlite.Store { return open(t, filepath.Join(t.TempDir(), "archive.db")) }

func TestStore(t *testing.T) {
	archivetest.Store(t, func(t *testing.T) archive.Store { return fresh(t) })
}
