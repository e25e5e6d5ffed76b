package sqlite

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	driver "modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"

	"undersod/internal/archive"
)

// Fault is what the database file or its disk did wrong. errors.Is tells
// archive.ErrFull, ErrReadOnly and ErrDamaged apart.
type Fault struct {
	File string // its path
	Code int    // SQLite's extended result code
	kind error  // one of archive, or in words of our own
	said error  // what SQLite said
}

// Error names the file, what is wrong and what SQLite said. What was said in
// words of ours is told alone.
func (f *Fault) Error() string {
	if errors.Is(f.said, f.kind) {
		return fmt.Sprintf("%s: %v", filepath.Base(f.File), f.said)
	}
	return fmt.Sprintf("%s: %v (%v)", filepath.Base(f.File), f.kind, f.said)
}

// Unwrap returns what the fault is for archive, and what SQLite said.
func (f *Fault) Unwrap() []error { return []error{f.kind, f.said} }

var (
	errBusy   = errors.New("another program holds the database; end it or try again")
	errDisk   = errors.New("the disk did not read or write what was asked; look at its state, and keep the newest backup safe")
	errNoFile = errors.New("the database could not be opened; see that the folder is there and that this account may read and write it")
	errMemory = errors.New("the memory of this machine did not suffice")
	errOther  = errors.New("the database refused")
)

// fault puts what SQLite said into words. What is in words already, what is not
// SQLite's and what is about keys is returned as it is.
func fault(file, doing string, err error) error {
	var known *Fault
	var said *driver.Error
	switch {
	case err == nil, errors.As(err, &known), errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	case errors.Is(err, archive.ErrDamaged):
		return &Fault{File: file, Code: lib.SQLITE_CORRUPT, kind: archive.ErrDamaged, said: err}
	case !errors.As(err, &said):
		return fmt.Errorf("%s: %s: %w", filepath.Base(file), doing, err)
	}
	if key := aboutKeys(said.Code()); key != nil {
		return key
	}
	return &Fault{File: file, Code: said.Code(), kind: kind(said.Code()), said: err}
}

// cannotShare reports whether a file could not be opened because the file of
// its shared index could not be made.
func cannotShare(err error) bool {
	var f *Fault
	return errors.As(err, &f) && f.Code&0xff == lib.SQLITE_CANTOPEN
}

// aboutKeys returns what a broken constraint means, nil for all else.
func aboutKeys(code int) error {
	switch code {
	case lib.SQLITE_CONSTRAINT_UNIQUE, lib.SQLITE_CONSTRAINT_PRIMARYKEY, lib.SQLITE_CONSTRAINT_ROWID:
		return archive.ErrExists
	case lib.SQLITE_CONSTRAINT_FOREIGNKEY:
		return fmt.Errorf("what it belongs to: %w", archive.ErrNotFound)
	}
	return nil
}

// kind returns the error of archive, or the words, for a result code.
func kind(code int) error {
	switch code {
	case lib.SQLITE_IOERR_SHMSIZE:
		return archive.ErrFull // the index of the log beside the database did not grow
	case lib.SQLITE_IOERR_CORRUPTFS, lib.SQLITE_IOERR_DATA, lib.SQLITE_IOERR_SHORT_READ:
		return archive.ErrDamaged
	case lib.SQLITE_IOERR_NOMEM:
		return errMemory
	}
	switch code & 0xff {
	case lib.SQLITE_FULL:
		return archive.ErrFull
	case lib.SQLITE_READONLY, lib.SQLITE_PERM:
		return archive.ErrReadOnly
	case lib.SQLITE_CORRUPT, lib.SQLITE_NOTADB, lib.SQLITE_FORMAT:
		return archive.ErrDamaged
	case lib.SQLITE_BUSY, lib.SQLITE_LOCKED:
		return errBusy
	case lib.SQLITE_IOERR:
		return errDisk
	case lib.SQLITE_CANTOPEN:
		return errNoFile
	case lib.SQLITE_NOMEM:
		return errMemory
	}
	return errOther
}
