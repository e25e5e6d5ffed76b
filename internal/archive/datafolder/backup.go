package datafolder

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"undersod/internal/archive"
	"undersod/internal/archive/disk"
	"undersod/internal/archive/folder"
	"undersod/internal/archive/sqlite"
)

// Backup writes one moment of the archive to a folder that is empty or not
// there, while others go on writing. The database is copied first, then the
// contents that the copy refers to: they are never changed nor removed. The
// backup is finished when its archive.db has its name. Contents that are
// damaged are left out, and told of by a *Lacking once all else is done.
func (f *Folder) Backup(ctx context.Context, to string) error {
	if within(to, f.path) {
		return archive.Told(archive.ErrRefused, "%s lies in the folder of the archive itself, and would be lost with it; name a folder elsewhere, best on another disk", filepath.Base(to))
	}
	if err := emptyFolder(to); err != nil {
		return err
	}
	part := filepath.Join(to, database+".part")
	if err := f.store.CopyTo(ctx, part); err != nil {
		return err
	}
	lacking, err := copyContents(ctx, part, f.Blobs, filepath.Join(to, contents))
	if err != nil {
		return err
	}
	sum, err := sumOf(part)
	if err == nil {
		err = explain(to)
	}
	if err == nil {
		file := filepath.Join(to, checksum)
		err = disk.WriteFile(file, file+"~", fmt.Appendf(nil, "%s  %s\n", sum, database))
	}
	if err == nil {
		err = rename(part, filepath.Join(to, database))
	}
	if err == nil && lacking != nil {
		return fmt.Errorf("the backup is finished without what is damaged here: %w", lacking)
	}
	return err
}

// Restore brings a backup back into a folder that is empty or not there. The
// database is checked whole and brought to the newest schema, every content
// against its hash. Contents that are missing from the backup or damaged are
// told of by a *Lacking once all else is restored.
func Restore(ctx context.Context, backup, path string) error {
	sum, err := os.ReadFile(filepath.Join(backup, checksum))
	if err == nil {
		_, err = os.Stat(filepath.Join(backup, database))
	}
	if errors.Is(err, fs.ErrNotExist) {
		return archive.Told(archive.ErrNotFound, "%s: there is no finished backup in it", filepath.Base(backup))
	}
	if err != nil {
		return disk.Fault(backup, err)
	}
	if err := emptyFolder(path); err != nil {
		return err
	}
	part := filepath.Join(path, database+".part")
	if err := copyFile(filepath.Join(backup, database), part, strings.TrimSpace(string(sum))); err != nil {
		return err
	}
	lacking, err := refill(ctx, part, backup, path)
	if err == nil {
		err = explain(path)
	}
	if err == nil {
		err = rename(part, filepath.Join(path, database))
	}
	if err == nil && lacking != nil {
		return fmt.Errorf("all else is restored: %w", lacking)
	}
	return err
}

// refill checks the database that was copied and fetches its contents.
func refill(ctx context.Context, part, backup, path string) (*Lacking, error) {
	store, err := sqlite.Open(ctx, part) // brings an older one to the newest schema
	if err != nil {
		return nil, err
	}
	err = store.Check(ctx)
	if errors.Is(err, sqlite.ErrUnfound) { // copied from a database that was so; the sites may be whole
		err = store.Reindex(ctx)
		if err == nil {
			err = store.Check(ctx)
		}
	}
	if err := errors.Join(err, store.Close()); err != nil {
		return nil, err
	}
	return copyContents(ctx, part, folder.Look(filepath.Join(backup, contents)), filepath.Join(path, contents))
}

// copyContents copies what a database refers to, each content checked, and
// returns those that are not whole.
func copyContents(ctx context.Context, database string, from archive.Blobs, to string) (*Lacking, error) {
	store, err := sqlite.Look(ctx, database)
	if err != nil {
		return nil, err
	}
	defer store.Close()
	var wanted []archive.Hash
	err = store.View(ctx, func(r archive.Reader) (err error) {
		wanted, err = r.Contents()
		return err
	})
	if err != nil {
		return nil, err
	}
	into, err := folder.Open(to)
	if err != nil {
		return nil, err
	}
	var lacking *Lacking
	err = each(wanted, func(h archive.Hash) error {
		content, err := from.Get(ctx, h)
		if errors.Is(err, archive.ErrDamaged) || errors.Is(err, archive.ErrNotFound) {
			if lacking == nil {
				lacking = &Lacking{}
			}
			lacking.Contents = append(lacking.Contents, h)
			return nil
		}
		if err == nil {
			_, err = into.Put(ctx, content)
		}
		return err
	})
	return lacking, err
}

// within reports whether a path is a folder or lies in it, by whatever names and
// links either is told.
func within(path, folder string) bool {
	home, err := os.Stat(folder)
	if err != nil {
		return false
	}
	if path, err = filepath.Abs(path); err != nil {
		return false
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	} else if real, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil { // not there yet
		path = filepath.Join(real, filepath.Base(path))
	}
	for {
		if at, err := os.Stat(path); err == nil && os.SameFile(at, home) {
			return true
		}
		above := filepath.Dir(path)
		if above == path {
			return false
		}
		path = above
	}
}

// emptyFolder makes a folder where there is none, and refuses one that holds
// anything.
func emptyFolder(path string) error {
	entries, err := os.ReadDir(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return make1(path)
	case err != nil:
		return disk.Fault(path, err)
	case len(entries) > 0:
		return archive.Told(archive.ErrExists, "%s: it holds %q; name a folder that is empty or not there yet", filepath.Base(path), entries[0].Name())
	}
	return nil
}

func rename(from, to string) error {
	if err := os.Rename(from, to); err != nil {
		return disk.Fault(to, err)
	}
	return disk.SyncFolder(filepath.Dir(to))
}

// copyFile copies a file onto the disk and holds it against the line that
// sha256sum writes of it.
func copyFile(from, to, line string) error {
	in, err := os.Open(from)
	if err != nil {
		return disk.Fault(from, err)
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return disk.Fault(to, err)
	}
	sum := sha256.New()
	_, err = io.Copy(io.MultiWriter(out, sum), in)
	if err == nil {
		err = out.Sync()
	}
	if err = errors.Join(err, out.Close()); err != nil {
		return disk.Fault(to, err)
	}
	if found := hex.EncodeToString(sum.Sum(nil)); !strings.HasPrefix(line, found+" ") {
		return archive.Told(archive.ErrDamaged, "%s of the backup does not match %s", filepath.Base(from), checksum)
	}
	return nil
}

func sumOf(file string) (string, error) {
	in, err := os.Open(file)
	if err != nil {
		return "", disk.Fault(file, err)
	}
	defer in.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, in); err != nil {
		return "", disk.Fault(file, err)
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
