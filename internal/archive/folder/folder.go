// Package folder keeps contents in a folder of files, each named by the SHA-256
// of what it holds: ab/abcd... . A file is written aside, read back, synced and
// renamed, so that a name is there with all of its content or not at all.
package folder

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"sync/atomic"

	"undersod/internal/archive"
	"undersod/internal/archive/disk"
)

// Blobs is an archive.Blobs in a folder. Use Open or Look.
type Blobs struct {
	root  string
	aside atomic.Int64 // numbers the files that are being written
}

// asideName is the folder of what is being written.
const asideName = "aside"

// Open returns the contents of a folder, which it makes where there is none.
// What an interrupted program left half written is thrown away, so only one
// program may have the folder open.
func Open(root string) (*Blobs, error) {
	aside := filepath.Join(root, asideName)
	if err := makeFolders(root, aside); err != nil {
		return nil, err
	}
	left, err := os.ReadDir(aside)
	for _, e := range left {
		err = errors.Join(err, os.Remove(filepath.Join(aside, e.Name())))
	}
	if err != nil {
		return nil, disk.Fault(aside, err)
	}
	return Look(root), nil
}

// makeFolders makes all folders at once, so that no write has to.
func makeFolders(root, aside string) error {
	all := []string{root, aside}
	for n := range 256 {
		all = append(all, filepath.Join(root, fmt.Sprintf("%02x", n)))
	}
	made := 0
	for _, f := range all {
		switch err := os.Mkdir(f, 0o700); {
		case err == nil:
			made++
		case !errors.Is(err, fs.ErrExist):
			return disk.Fault(f, err)
		}
	}
	if made == 0 {
		return nil
	}
	return errors.Join(disk.SyncFolder(root), disk.SyncFolder(filepath.Dir(root)))
}

// Look returns the contents of a folder that another program may have open, for
// reading.
func Look(root string) *Blobs { return &Blobs{root: root} }

func (b *Blobs) path(h archive.Hash) string {
	return filepath.Join(b.root, string(h[:2]), string(h))
}

// Put keeps a content. One that is there is left as it is if it is whole, and
// replaced if it is not.
func (b *Blobs) Put(ctx context.Context, content []byte) (archive.Hash, error) {
	if err := ctx.Err(); err != nil {
		return "", err
	}
	h := archive.HashOf(content)
	path := b.path(h)
	if there, err := os.ReadFile(path); err == nil && bytes.Equal(there, content) {
		// Another may have renamed it a moment ago, or a program that was
		// ended before it synced the name.
		return h, disk.SyncFolder(filepath.Dir(path))
	}
	aside := filepath.Join(b.root, asideName, strconv.FormatInt(b.aside.Add(1), 10))
	if err := disk.WriteFile(path, aside, content); err != nil {
		return "", err
	}
	return h, nil
}

// Get returns a content, checked.
func (b *Blobs) Get(ctx context.Context, h archive.Hash) ([]byte, error) {
	f, err := b.open(ctx, h)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	content, err := io.ReadAll(f)
	if err != nil {
		return nil, disk.Fault(b.path(h), err)
	}
	if archive.HashOf(content) != h {
		return nil, fmt.Errorf("content %.12s: %w", h, archive.ErrDamaged)
	}
	return content, nil
}

func (b *Blobs) open(ctx context.Context, h archive.Hash) (*os.File, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if !h.Valid() {
		return nil, fmt.Errorf("content %.12q: %w", h, archive.ErrNotFound)
	}
	f, err := os.Open(b.path(h))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("content %.12s: %w", h, archive.ErrNotFound)
	}
	return f, disk.Fault(b.path(h), err)
}

// Copy writes a content out as it is kept, checked or not.
func (b *Blobs) Copy(ctx context.Context, h archive.Hash, w io.Writer) error {
	f, err := b.open(ctx, h)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = io.Copy(w, f)
	return err
}

// Each calls f for every content, by rising hash. What is put meanwhile may be
// among them or not.
func (b *Blobs) Each(ctx context.Context, f func(h archive.Hash, bytes int64) error) error {
	folders, err := os.ReadDir(b.root)
	if err != nil {
		return disk.Fault(b.root, err)
	}
	for _, d := range folders {
		if d.Name() == asideName || !d.IsDir() {
			continue
		}
		if err := b.eachIn(ctx, d.Name(), f); err != nil {
			return err
		}
	}
	return nil
}

func (b *Blobs) eachIn(ctx context.Context, name string, f func(archive.Hash, int64) error) error {
	files, err := os.ReadDir(filepath.Join(b.root, name))
	if err != nil {
		return disk.Fault(b.root, err)
	}
	for _, e := range files {
		h := archive.Hash(e.Name())
		if !h.Valid() || string(h[:2]) != name {
			continue // not ours
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		info, err := e.Info()
		if err != nil {
			return disk.Fault(b.path(h), err)
		}
		if err := f(h, info.Size()); err != nil {
			return err
		}
	}
	return nil
}
