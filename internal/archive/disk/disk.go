// Package disk does what an archive on a disk needs beyond reading and writing:
// it puts faults into words, writes files that are whole or not there, and
// keeps a second program out.
package disk

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"undersod/internal/archive"
)

// Fault puts what a disk said into words: archive.ErrFull, ErrReadOnly and
// ErrDamaged wrapped with the file's name, what it said itself kept beside.
// All else is returned as it is.
func Fault(path string, err error) error {
	kind := kind(err)
	if kind == nil || errors.Is(err, kind) {
		return err
	}
	return fmt.Errorf("%s: %w (%w)", filepath.Base(path), kind, bare(err))
}

// bare takes the path off an error, since it may tell more than is wanted.
func bare(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}

func kind(err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EFBIG), isQuota(err):
		return archive.ErrFull
	case errors.Is(err, syscall.EROFS), errors.Is(err, fs.ErrPermission):
		return archive.ErrReadOnly
	case errors.Is(err, syscall.EIO):
		return archive.ErrDamaged
	}
	return nil
}

// SyncFolder puts the names in a folder on the disk.
func SyncFolder(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return Fault(path, err)
	}
	defer f.Close()
	if err := f.Sync(); err != nil && !noFolderSync(err) {
		return Fault(path, err)
	}
	return nil
}

// WriteFile writes a file that is on the disk under its name when it returns
// nil, and is not there otherwise. It is made under the name aside first, and
// read back.
func WriteFile(path, aside string, content []byte) error {
	err := writeAside(aside, content)
	if err == nil {
		err = os.Rename(aside, path)
	}
	if err != nil {
		os.Remove(aside)
		return Fault(path, err)
	}
	return SyncFolder(filepath.Dir(path))
}

func writeAside(path string, content []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	back, err := os.ReadFile(path)
	if err == nil && !bytes.Equal(back, content) {
		err = archive.ErrDamaged
	}
	return err
}
