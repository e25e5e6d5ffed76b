package disk_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"undersod/internal/archive"
	"undersod/internal/archive/disk"
)

func TestFault(t *testing.T) {
	other := errors.New("something else")
	for _, c := range []struct {
		err, want error
	}{
		{&fs.PathError{Op: "write", Path: "/data/secret/archive.db", Err: syscall.ENOSPC}, archive.ErrFull},
		{&os.LinkError{Op: "rename", Old: "/data/secret/a", New: "/data/secret/b", Err: syscall.EROFS}, archive.ErrReadOnly},
		{&fs.PathError{Op: "open", Path: "/data/secret/archive.db", Err: syscall.EACCES}, archive.ErrReadOnly},
		{&fs.PathError{Op: "write", Path: "/data/secret/archive.db", Err: syscall.EFBIG}, archive.ErrFull},
		{&fs.PathError{Op: "read", Path: "/data/secret/archive.db", Err: syscall.EIO}, archive.ErrDamaged},
	} {
		got := disk.Fault("/data/secret/archive.db", c.err)
		if !errors.Is(got, c.want) || !strings.HasPrefix(got.Error(), "archive.db: ") || strings.Contains(got.Error(), "secret") {
			t.Errorf("%v becomes %v, want %v", c.err, got, c.want)
		}
		if again := disk.Fault("other", got); again != got {
			t.Errorf("told twice: %v", again)
		}
	}
	if got := disk.Fault("x", other); got != other {
		t.Errorf("%v becomes %v", other, got)
	}
	if got := disk.Fault("x", nil); got != nil {
		t.Errorf("nothing becomes %v", got)
	}
}

func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	path, aside := filepath.Join(dir, "whole"), filepath.Join(dir, "aside")
	for _, content := range []string{"one", "", strings.Repeat("two", 100_000)} {
		if err := disk.WriteFile(path, aside, []byte(content)); err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != content {
			t.Errorf("%d bytes are there, %v", len(got), err)
		}
	}
	blocked := filepath.Join(dir, "folder", "in", "the", "way")
	if err := os.MkdirAll(blocked, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := disk.WriteFile(filepath.Join(dir, "folder"), aside, []byte("x")); err == nil {
		t.Error("a folder was replaced by a file")
	}
	if _, err := os.Stat(aside); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("what failed is left aside: %v", err)
	}
}

func TestTakeLock(t *testing.T) {
	file := filepath.Join(t.TempDir(), "lock")
	l, err := disk.TakeLock(file)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := disk.TakeLock(file); !errors.Is(err, disk.ErrTaken) {
		t.Errorf("taken twice: %v", err)
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	if l, err = disk.TakeLock(file); err != nil {
		t.Fatalf("after it was given free: %v", err)
	}
	if err := l.Close(); err != nil {
		t.Error(err)
	}
}
