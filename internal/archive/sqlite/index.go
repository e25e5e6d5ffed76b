package sqlite

import (
	"context"
	"errors"
	"fmt"

	"undersod/internal/archive"
)

// ErrUnfound means that what searches look at is not what the sites say. The
// sites themselves may be whole: Reindex makes it again from them. It is
// archive.ErrDamaged.
var ErrUnfound error = unfound{}

type unfound struct{}

func (unfound) Error() string {
	return "what searches look at does not match the sites; run verify --mend, which makes it again from them"
}

func (unfound) Unwrap() error { return archive.ErrDamaged }

// twin is an index of the same words that knows its texts. FTS5 can hold only
// such a one against them, and reads the texts and every word of the index for
// it, those cut short among them.
const twin = `
CREATE TABLE found (put INTEGER PRIMARY KEY, words TEXT NOT NULL);
CREATE VIRTUAL TABLE search USING fts5(
  words, tokenize = 'ascii', content = 'found', content_rowid = 'put', detail = 'none', prefix = '1 2 3 4 5 6 7 8 9 10 11 12'
);
BEGIN;
INSERT INTO found SELECT put, found_by FROM kept.sites;
DELETE FROM search_data;
INSERT INTO search_data SELECT id, block FROM kept.search_data;
DELETE FROM search_idx;
INSERT INTO search_idx SELECT segid, term, pgno FROM kept.search_idx;
DELETE FROM search_docsize;
INSERT INTO search_docsize SELECT id, sz FROM kept.search_docsize;
COMMIT`

// checkIndex holds every word of the index against those of the sites. It does so
// in a copy of both that is thrown away, on the disk where it is large: the
// check is a write to SQLite, and this store may be open for reading alone.
func (s *Store) checkIndex(ctx context.Context) error {
	c, err := dial("", "rwc")
	if err != nil {
		return err
	}
	defer c.close()
	run := func(query string, args ...any) error {
		if err != nil {
			return err
		}
		_, err = c.c.ExecContext(ctx, query, args...)
		return err
	}
	run("ATTACH ? AS kept", address(s.file, s.readMode))
	run(twin)
	run("INSERT INTO search (search, rank) VALUES ('integrity-check', 1)")
	err = fault(s.file, "read", err)
	if errors.Is(err, archive.ErrDamaged) || errors.Is(err, archive.ErrExists) { // a row of the index is there twice
		return fmt.Errorf("the index of words: %w", ErrUnfound)
	}
	return err
}

// Reindex makes what searches look at again from the sites, all of it or
// nothing.
func (s *Store) Reindex(ctx context.Context) error {
	return s.Update(ctx, func(tx archive.Writer) error {
		w, ok := tx.(*writer)
		if !ok {
			return fmt.Errorf("an index is made again by a %T alone", w)
		}
		for _, step := range []string{
			"INSERT INTO search (search) VALUES ('delete-all')",
			"INSERT INTO search (rowid, words) SELECT put, found_by FROM sites ORDER BY put",
			"DELETE FROM places",
			`INSERT INTO places (put, west, east, south, north, latitude, longitude, id, deleted)
				SELECT put, longitude, longitude, latitude, latitude, latitude, longitude, id, deleted_at IS NOT NULL
				FROM sites WHERE latitude IS NOT NULL AND longitude IS NOT NULL ORDER BY put`,
		} {
			if err := w.exec(step); err != nil {
				return err
			}
		}
		return nil
	})
}
