// Package sqlite keeps an archive in one SQLite file beside its log (WAL), with
// a full sync before anything is acknowledged. Updates that wait at the same
// time are committed together, each undone alone if it fails. Every row has a
// checksum, which is looked at whenever the row is read.
package sqlite

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"

	"undersod/internal/archive"
	"undersod/internal/archive/disk"
)

// Store is an archive.Store in a SQLite file. Use Open or Look.
type Store struct {
	file     string
	readOnly bool
	readMode string // how those that only read open the file

	readers chan *conn // one place each; nil where none is open yet
	closed  atomic.Bool

	waiting atomic.Int64 // updates that want the lock below
	writing sync.Mutex   // of what follows
	writer  *conn
	group   *group // of the transaction that is open; nil for none
}

const readers = 4

var errClosed = errors.New("the archive is closed")

// Open opens a store for reading and writing, makes it where there is none, and
// brings an older one to the newest schema. The caller sees to it that no other
// program writes in it.
func Open(ctx context.Context, file string) (*Store, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := mayWrite(file); err != nil {
		return nil, err
	}
	writer, err := dial(file, "rwc", writerCache, "journal_mode(WAL)")
	if err != nil {
		return nil, err
	}
	if err := errors.Join(walled(writer), migrate(ctx, writer)); err != nil {
		writer.close()
		return nil, err
	}
	s := &Store{file: file, writer: writer, readMode: "rw"}
	s.makePlaces()
	return s, nil
}

// Look opens a store that is there for reading alone, also while another
// program writes in it. Every Update returns archive.ErrReadOnly.
func Look(ctx context.Context, file string) (*Store, error) {
	if _, err := os.Stat(file); errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("%s: %w", filepath.Base(file), archive.ErrNotFound)
	}
	s := &Store{file: file, readOnly: true, readMode: "ro"}
	s.makePlaces()
	err := s.read(ctx, isCurrent)
	if cannotShare(err) && !logged(file) {
		s.readMode = "ro&immutable=1" // nobody can write in the folder, nor lock there
		err = s.read(ctx, isCurrent)
	}
	if err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

func isCurrent(c caller) error {
	version, err := schemaOf(c)
	if err == nil && version < Schema() {
		err = fmt.Errorf("%s: it has the older schema %d; open it once for writing", filepath.Base(c.file), version)
	}
	return err
}

// logged reports whether a log lies beside a database.
func logged(file string) bool {
	i, err := os.Stat(file + "-wal")
	return err == nil && i.Size() > 0
}

// mayWrite says early, and in words, that a file may not be written. SQLite
// would open it for reading and fail at the first change.
func mayWrite(file string) error {
	f, err := os.OpenFile(file, os.O_RDWR|os.O_CREATE, 0o600)
	if err == nil {
		return f.Close()
	}
	return disk.Fault(file, err)
}

func walled(c *conn) error {
	var mode string
	if err := c.c.QueryRowContext(context.Background(), "PRAGMA journal_mode").Scan(&mode); err != nil {
		return fault(c.file, "read", err)
	}
	if mode != "wal" {
		return fmt.Errorf("%s: its disk cannot keep a write-ahead log (journal mode %s); a local disk can", filepath.Base(c.file), mode)
	}
	return nil
}

func (s *Store) makePlaces() {
	s.readers = make(chan *conn, readers)
	for range readers {
		s.readers <- nil
	}
}

// View calls f with what is kept now.
func (s *Store) View(ctx context.Context, f func(archive.Reader) error) error {
	return s.read(ctx, func(c caller) (err error) {
		if err := c.exec("BEGIN"); err != nil {
			return err
		}
		defer func() {
			if end := (caller{c.conn, context.Background()}).exec("ROLLBACK"); err == nil {
				err = end
			}
		}()
		return f(reader{c})
	})
}

// read lends f a connection that only reads.
func (s *Store) read(ctx context.Context, f func(caller) error) (err error) {
	if err := ctx.Err(); err != nil {
		return err
	}
	var c *conn
	select {
	case c = <-s.readers:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { s.readers <- c }()
	if s.closed.Load() {
		return errClosed
	}
	if c == nil {
		if c, err = s.dialReader(); err != nil {
			return err
		}
	}
	err = f(caller{c, ctx})
	if lost(err) {
		c.close()
		c = nil
	}
	return err
}

func (s *Store) dialReader() (*conn, error) {
	return dial(s.file, s.readMode, readerCache, "query_only(1)")
}

// Close waits for what runs, and ends the use of the store. What stood in the
// log is brought into the database file.
func (s *Store) Close() error {
	if s.closed.Swap(true) {
		return nil
	}
	s.writing.Lock()
	defer s.writing.Unlock()
	s.commit()
	var all error
	for range readers {
		if c := <-s.readers; c != nil {
			all = errors.Join(all, c.close())
		}
	}
	for range readers {
		s.readers <- nil // who comes now is told that it is closed
	}
	if s.writer != nil {
		all = errors.Join(all, s.writer.close())
	}
	return all
}
