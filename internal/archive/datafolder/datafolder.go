// Package datafolder is an archive in one folder: a database, the contents it
// refers to, and a lock against a second program.
package datafolder

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"undersod/internal/archive"
	"undersod/internal/archive/disk"
	"undersod/internal/archive/folder"
	"undersod/internal/archive/sqlite"
)

// What lies in a folder.
const (
	database = "archive.db"
	contents = "contents"
	lockFile = "lock"
	note     = "what-this-is.txt"
	checksum = "archive.db.sha256" // of a backup
)

// Folder is an archive that is open.
type Folder struct {
	Store archive.Store
	Blobs archive.Blobs

	path  string
	store *sqlite.Store
	lock  *disk.Lock // nil for one that is only looked at
}

// Open opens the archive of a folder for reading and writing, and makes it in a
// folder that is empty or not there. The errors say what is wrong with a folder:
// disk.ErrTaken where another program has it, archive.ErrRefused for a backup,
// archive.ErrReadOnly, ErrFull and ErrDamaged.
func Open(ctx context.Context, path string) (*Folder, error) {
	if err := prepare(path); err != nil {
		return nil, err
	}
	lock, err := disk.TakeLock(filepath.Join(path, lockFile))
	if err != nil {
		return nil, err
	}
	f, err := open(ctx, path)
	if err != nil {
		return nil, errors.Join(err, lock.Close())
	}
	f.lock = lock
	return f, nil
}

func open(ctx context.Context, path string) (*Folder, error) {
	blobs, err := folder.Open(filepath.Join(path, contents))
	if err != nil {
		return nil, err
	}
	if err := bereft(ctx, path, blobs); err != nil {
		return nil, err
	}
	if err := explain(path); err != nil {
		return nil, err
	}
	store, err := sqlite.Open(ctx, filepath.Join(path, database))
	if err != nil {
		return nil, err
	}
	if err := disk.SyncFolder(path); err != nil {
		return nil, errors.Join(err, store.Close())
	}
	return &Folder{Store: store, Blobs: blobs, path: path, store: store}, nil
}

// Look opens the archive of a folder for reading alone, also while another
// program has it open.
func Look(ctx context.Context, path string) (*Folder, error) {
	store, err := sqlite.Look(ctx, filepath.Join(path, database))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Base(path), err)
	}
	return &Folder{Store: store, Blobs: folder.Look(filepath.Join(path, contents)), path: path, store: store}, nil
}

// Close ends the use of the archive and gives the folder free.
func (f *Folder) Close() error {
	err := f.store.Close()
	if f.lock != nil {
		err = errors.Join(err, f.lock.Close())
	}
	return err
}

// prepare makes a folder where there is none, and refuses one that holds other
// things than an archive, and a backup: what is changed in one is no backup more.
func prepare(path string) error {
	entries, err := os.ReadDir(path)
	if errors.Is(err, fs.ErrNotExist) {
		return make1(path)
	}
	if err != nil {
		return disk.Fault(path, err)
	}
	holds := func(name string) bool {
		return slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.Name() == name })
	}
	if holds(checksum) && holds(database) && !holds(lockFile) {
		return archive.Told(archive.ErrRefused, "it is a finished backup, which stays as it is; restore it first, as in: undersod restore %s --data archive", filepath.Base(path))
	}
	known := []string{database, database + "-wal", database + "-shm", contents, lockFile, note, note + "~", checksum}
	mine := len(entries) == 0
	for _, e := range entries {
		mine = mine || e.Name() == database || e.Name() == contents || e.Name() == lockFile
	}
	for _, e := range entries {
		if !mine && !slices.Contains(known, e.Name()) {
			return fmt.Errorf("%s: it holds %q and no archive; name a folder that is empty or not there yet", filepath.Base(path), e.Name())
		}
	}
	return nil
}

// make1 makes one folder; a missing one above it is more likely misspelt.
func make1(path string) error {
	err := os.Mkdir(path, 0o700)
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: the folder %s that it should lie in is not there; make it first", filepath.Base(path), filepath.Base(filepath.Dir(path)))
	}
	if err != nil {
		return disk.Fault(path, err)
	}
	return disk.SyncFolder(filepath.Dir(path))
}

// errBereft means that contents are there and the database is not. An empty one
// made in its place would hide that.
var errBereft = archive.Told(archive.ErrDamaged, "the database is missing or empty, but something was kept in this folder; restore the newest backup into an empty folder")

func bereft(ctx context.Context, path string, b *folder.Blobs) error {
	file := filepath.Join(path, database)
	if i, err := os.Stat(file); err == nil && i.Size() > 0 {
		return nil
	}
	if i, err := os.Stat(file + "-wal"); err == nil && i.Size() > 0 {
		return fmt.Errorf("%s: %w", database, errBereft)
	}
	return b.Each(ctx, func(archive.Hash, int64) error { return fmt.Errorf("%s: %w", database, errBereft) })
}

const explanation = `This folder is an archive of septic systems, kept by the program undersod.

archive.db   a SQLite 3 database: sites, visits, the history of changes, people.
             While the program runs, archive.db-wal and archive.db-shm belong to it.
contents/    the job files and photos themselves, unchanged: plain files, each
             named by the SHA-256 of what it holds. "sha256sum" checks them.

Copy this folder only while the program is not running; while it runs, make a
backup with it. Nothing in here is to be edited by hand.
`

// explain leaves a note for whoever finds the folder one day.
func explain(path string) error {
	file := filepath.Join(path, note)
	if _, err := os.Stat(file); err == nil {
		return nil
	}
	os.Remove(file + "~")
	return disk.WriteFile(file, file+"~", []byte(explanation))
}
