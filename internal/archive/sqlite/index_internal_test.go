package sqlite

import (
	"bytes"
	"database/sql"
	"encoding/binary"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"undersod/internal/archive"
	"undersod/internal/archive/invented"
)

// indexedStore holds sites; of those of a changed one some were written twice and
// some deleted.
func indexedStore(t *testing.T, file string, changed bool) *Store {
	t.Helper()
	s, m := mustOpen(t, file), invented.New(7)
	for n := range 12 {
		site := m.Site()
		err := s.Update(ctx, func(w archive.Writer) error { return w.PutSite(site) })
		if changed && n%3 == 0 {
			site.Heading.Name += " again"
			if n%2 == 0 {
				site.Deleted = &archive.Stamp{At: site.Changed.At, By: "crew"}
			}
			err = errors.Join(err, s.Update(ctx, func(w archive.Writer) error { return w.PutSite(site) }))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return s
}

// blocks returns the blocks of the index of words.
func blocks(t *testing.T, s *Store) map[int64][]byte {
	t.Helper()
	out := map[int64][]byte{}
	err := (caller{s.writer, ctx}).each("SELECT id, block FROM search_data", func(rows *sql.Rows) error {
		var id int64
		var block []byte
		err := rows.Scan(&id, &block)
		out[id] = block
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestAFlippedBitInAWordOfTheIndexIsNoticed flips the lowest bit of
// letters of its words. A flip in what a half-done merge of the index has done with
// is met by no search, so all of it is merged first.
func TestAFlippedBitInAWordOfTheIndexIsNoticed(t *testing.T) {
	s := indexedStore(t, filepath.Join(t.TempDir(), "archive.db"), false)
	if err := s.Check(ctx); err != nil {
		t.Fatal(err)
	}
	w := caller{s.writer, ctx}
	if err := w.exec("INSERT INTO search (search) VALUES ('optimize')"); err != nil {
		t.Fatal(err)
	}
	tried, missed := 0, 0
	for id, block := range blocks(t, s) {
		letters := func(b byte) bool { return b >= 'a' && b <= 'z' }
		if id <= 10 { // the averages and the structure
			continue
		}
		// Where the words of a block end: the second of its two numbers of 16
		// bits (fts5_index.c of SQLite, "Segment leaf pages").
		end := int(binary.BigEndian.Uint16(block[2:]))
		for at := 8 + int(id%7); at < end; at += 61 { // a step that meets the words at any place
			next := bytes.IndexFunc(block[at:end], func(r rune) bool { return r < 128 && letters(byte(r)) })
			if next < 0 {
				break
			}
			tried++
			flipped := slices.Clone(block)
			flipped[at+next] ^= 1
			if err := w.exec("UPDATE search_data SET block = ? WHERE id = ?", flipped, id); err != nil {
				t.Fatal(err)
			}
			err := s.Check(ctx)
			if err == nil {
				missed++
			} else if !errors.Is(err, archive.ErrDamaged) || !errors.Is(err, ErrUnfound) || !strings.Contains(err.Error(), "run verify --mend") {
				t.Errorf("block %d, byte %d: the check says %v", id, at+next, err)
			}
			if err := w.exec("UPDATE search_data SET block = ? WHERE id = ?", block, id); err != nil {
				t.Fatal(err)
			}
		}
	}
	// SQLite holds the words together by a sum that is not strong: where a word
	// is in an even number of sites, a few flips leave it as it was.
	if tried < 50 || missed > tried/20 {
		t.Errorf("of %d bits that were flipped, %d went unnoticed", tried, missed)
	}
	if err := s.Check(ctx); err != nil {
		t.Fatal(err)
	}
}

// TestReindexMendsWhatSearchesMiss damages both indexes, and looks at the archive
// anew as the next program would.
func TestReindexMendsWhatSearchesMiss(t *testing.T) {
	for _, damage := range []string{
		"UPDATE search_data SET block = CAST(replace(CAST(block AS TEXT), 'n', 'o') AS BLOB) WHERE id > 10", "UPDATE search_data SET block = x'00ff' WHERE id = 10",
		"DELETE FROM search_data WHERE id > 10", "DELETE FROM search_docsize", "DELETE FROM places", "UPDATE places SET id = 'x'",
	} {
		file := filepath.Join(t.TempDir(), "archive.db")
		s := indexedStore(t, file, true)
		if err := errors.Join((caller{s.writer, ctx}).exec(damage), s.Close()); err != nil {
			t.Fatal(err)
		}
		l, err := Look(ctx, file)
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(l.Check(ctx), l.Close()); !errors.Is(err, ErrUnfound) {
			t.Errorf("%s: the check says %v", damage, err)
		}
		s = mustOpen(t, file)
		if err := errors.Join(s.Reindex(ctx), s.Check(ctx)); err != nil {
			t.Errorf("%s: after it was made again: %v", damage, err)
		}
	}
}
