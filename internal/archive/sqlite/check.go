package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"undersod/internal/archive"
	"undersod/internal/archive/disk"
)

// Check reads everything: SQLite's own integrity check with that of both
// indexes, every reference, every row against its checksum, the numbers of the
// history, which have no gap, and the indexes against the sites. Each fault
// found is archive.ErrDamaged.
func (s *Store) Check(ctx context.Context) error {
	err := s.read(ctx, func(c caller) error {
		if err := c.exec("BEGIN"); err != nil {
			return err
		}
		all := []error{integrity(c), references(c), rows(c), gaps(c), placed(c)}
		end := caller{c.conn, context.Background()}.exec("ROLLBACK")
		return errors.Join(append(all, ctx.Err(), end)...)
	})
	return errors.Join(err, s.checkIndex(ctx))
}

func (c caller) damaged(format string, args ...any) error {
	return fault(c.file, "read", archive.Told(archive.ErrDamaged, format, args...))
}

func integrity(c caller) error {
	var all []error
	err := c.each("PRAGMA integrity_check(20)", func(rows *sql.Rows) error {
		var said string
		if err := rows.Scan(&said); err != nil {
			return err
		}
		if said != "ok" {
			all = append(all, c.damaged("SQLite says %q", said))
		}
		return nil
	})
	return errors.Join(append(all, err)...)
}

func references(c caller) error {
	var all []error
	err := c.each("SELECT DISTINCT \"table\", parent FROM pragma_foreign_key_check", func(rows *sql.Rows) error {
		var from, to string
		err := rows.Scan(&from, &to)
		all = append(all, c.damaged("a row of %s belongs to none of %s", from, to))
		return err
	})
	return errors.Join(append(all, err)...)
}

func rows(c caller) error {
	return errors.Join(sites.check(c), visits.check(c), photos.check(c), changes.check(c), accounts.check(c),
		sessions.check(c), shares.check(c), events.check(c), answers.check(c))
}

// check reads every row of a table and stops at the first that is damaged.
func (t table[T]) check(c caller) error {
	return c.each(t.columns, func(rows *sql.Rows) error {
		var v T
		return t.scan(rows, &v)
	})
}

func gaps(c caller) error {
	var all []error
	for _, t := range []string{"changes", "events"} {
		missing, err := c.number("SELECT coalesce(max(number), 0) - count(*) FROM " + t)
		if err == nil && missing != 0 {
			err = c.damaged("%s lacks %d of its numbers", t, missing)
		}
		all = append(all, err)
	}
	photos, err := c.number("SELECT (SELECT coalesce(sum(photos), 0) FROM visits) - (SELECT count(*) FROM photos)")
	if err == nil && photos != 0 {
		err = c.damaged("visits lack %d of their photos", photos)
	}
	return errors.Join(append(all, err)...)
}

// placed holds where searches look for a site against where it lies.
func placed(c caller) error {
	wrong, err := c.number(`SELECT count(*) FROM sites LEFT JOIN places USING (put) WHERE sites.latitude IS NOT NULL AND sites.longitude IS NOT NULL
		AND (places.put IS NULL OR places.latitude <> sites.latitude OR places.longitude <> sites.longitude OR places.id <> sites.id)`)
	if err == nil && wrong > 0 {
		err = fault(c.file, "read", fmt.Errorf("%d sites are not found by their place: %w", wrong, ErrUnfound))
	}
	return err
}

// CopyTo writes one moment of the store to a new file, while others go on
// writing. The file is on the disk when it returns nil, and not there otherwise.
func (s *Store) CopyTo(ctx context.Context, file string) error {
	if _, err := os.Lstat(file); err == nil {
		return archive.Told(archive.ErrExists, "%s is there already", filepath.Base(file))
	}
	err := s.copyTo(ctx, file)
	if err == nil {
		err = syncFile(file)
	}
	if err != nil {
		os.Remove(file)
		return err
	}
	return disk.SyncFolder(filepath.Dir(file))
}

// copyTo uses a connection of its own: those that only read may not write a
// second file either.
func (s *Store) copyTo(ctx context.Context, file string) error {
	return s.read(ctx, func(caller) error {
		c, err := dial(s.file, s.readMode, readerCache)
		if err != nil {
			return err
		}
		_, err = c.c.ExecContext(ctx, "VACUUM INTO ?", file)
		return errors.Join(fault(file, "write", err), c.close())
	})
}

func syncFile(file string) error {
	f, err := os.OpenFile(file, os.O_RDWR, 0)
	if err == nil {
		err = errors.Join(f.Sync(), f.Close())
	}
	return disk.Fault(file, err)
}
