package datafolder_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/datafolder"
)

// smallDisk mounts a disk in memory of so many bytes, and skips the test where
// this account may not.
func smallDisk(t *testing.T, bytes int) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("none", dir, "tmpfs", 0, fmt.Sprintf("size=%d", bytes)); err != nil {
		t.Skipf("a small disk cannot be mounted here (%v); as root it can", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	return dir
}

// TestFullDisk writes until the disk takes no more, frees some of it and goes
// on: what was acknowledged is there, and what was refused is not.
func TestFullDisk(t *testing.T) {
	disk := smallDisk(t, 4<<20)
	path := filepath.Join(disk, "data")
	ballast := filepath.Join(disk, "ballast")
	if err := os.WriteFile(ballast, make([]byte, 400<<10), 0o600); err != nil {
		t.Fatal(err)
	}
	f := open(t, path)
	k := keeper(f, time.Now)
	var kept []archive.Saved
	writeUntilFull := func() {
		t.Helper()
		for i := range 10_000 {
			job := fmt.Appendf(nil, "owner: Owner %d\n%s", len(kept), strings.Repeat("# a reading\n", i%7*100))
			s, err := k.SaveVisit(ctx, write(fmt.Sprint("full ", len(kept))), "", "", 0, "yaml", job)
			if err != nil {
				is(t, err, archive.ErrFull, "full")
				return
			}
			kept = append(kept, s)
		}
		t.Fatal("the disk is never full")
	}
	writeUntilFull()
	first := len(kept)
	if n := counts(t, f); n.Visits != int64(first) || n.Changes != int64(first) {
		t.Errorf("%+v are kept, %d were acknowledged", n, first)
	}
	_, err := f.Blobs.Put(ctx, make([]byte, 1<<20))
	is(t, err, archive.ErrFull)
	is(t, f.Backup(ctx, filepath.Join(disk, "backup")), archive.ErrFull)
	if err := os.RemoveAll(filepath.Join(disk, "backup")); err != nil {
		t.Fatal(err)
	}

	// A full disk is opened again, or says why not, and loses nothing.
	if err := f.Close(); err != nil {
		t.Logf("closed on a full disk: %v", err)
	}
	if f, err := datafolder.Open(ctx, path); err != nil {
		is(t, err, archive.ErrFull)
	} else if err := f.Close(); err != nil {
		t.Logf("closed on a full disk: %v", err)
	}

	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	f = open(t, path)
	k = keeper(f, time.Now)
	writeUntilFull()
	if len(kept) == first {
		t.Error("with room again, nothing more was taken")
	}
	if err := f.Check(ctx); err != nil {
		t.Error(err)
	}
	for _, s := range kept {
		if v, err := k.Visit(ctx, crew, s.Visit); err != nil || v.Revision != s.Revision {
			t.Errorf("visit %s: %+v, %v", s.Visit, v.Revision, err)
		}
	}
	t.Logf("%d writes, then %d more", first, len(kept)-first)
}

// TestReadOnlyFolder opens a folder on a disk that takes no writes. Root may
// write in spite of a file's mode, so the disk itself is made read-only.
func TestReadOnlyFolder(t *testing.T) {
	disk := smallDisk(t, 8<<20)
	path := filepath.Join(disk, "data")
	f := open(t, path)
	fill(t, f, 2)
	backup := filepath.Join(disk, "backup")
	if err := f.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	remount := func(flags uintptr) {
		t.Helper()
		if err := syscall.Mount("none", disk, "tmpfs", syscall.MS_REMOUNT|flags, ""); err != nil {
			t.Fatal(err)
		}
	}
	remount(syscall.MS_RDONLY)
	_, err := datafolder.Open(ctx, path)
	is(t, err, archive.ErrReadOnly, "may not be written in")
	_, err = datafolder.Open(ctx, filepath.Join(disk, "other"))
	is(t, err, archive.ErrReadOnly, "other")
	is(t, datafolder.Restore(ctx, backup, filepath.Join(disk, "restored")), archive.ErrReadOnly, "restored")

	// It can still be looked at, and a backup brought back elsewhere.
	look, err := datafolder.Look(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	if n := counts(t, look); n.Sites != 2 {
		t.Errorf("%d sites are seen", n.Sites)
	}
	sound(t, look)
	_, err = look.Blobs.Put(ctx, []byte("new"))
	is(t, err, archive.ErrReadOnly)
	if err := errors.Join(look.Backup(ctx, filepath.Join(t.TempDir(), "backup")), look.Close()); err != nil {
		t.Error(err)
	}
	elsewhere := filepath.Join(t.TempDir(), "restored")
	if err := datafolder.Restore(ctx, backup, elsewhere); err != nil {
		t.Fatal(err)
	}
	sound(t, open(t, elsewhere))

	remount(0)
	f = open(t, path)
	fill(t, f, 3)
	sound(t, f)
}
