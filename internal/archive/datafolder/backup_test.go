package datafolder_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/datafolder"
)

// TestBackupWhileRunning makes backups while others write, and restores each:
// what was acknowledged before a backup began is in it, and all of it fits.
func TestBackupWhileRunning(t *testing.T) {
	dir := t.TempDir()
	f := open(t, filepath.Join(dir, "data"))
	fill(t, f, 20)
	stop := make(chan struct{})
	var writers sync.WaitGroup
	for n := range 3 {
		writers.Go(func() {
			k := keeper(f, time.Now)
			for i := range 100 {
				select {
				case <-stop:
					return
				default:
				}
				job := fmt.Appendf(nil, "owner: Writer %d\npermit: W-%d\ndate: 2026-06-01\n", n, i)
				if _, err := k.SaveVisit(ctx, write(""), "", "", 0, "yaml", job); err != nil {
					t.Error(err)
					return
				}
			}
		})
	}
	var before []archive.Counts
	for i := range 3 {
		before = append(before, counts(t, f))
		if err := f.Backup(ctx, filepath.Join(dir, fmt.Sprint("backup", i))); err != nil {
			t.Error(err)
		}
	}
	close(stop)
	writers.Wait()
	for i, least := range before {
		to := filepath.Join(dir, fmt.Sprint("restored", i))
		if err := datafolder.Restore(ctx, filepath.Join(dir, fmt.Sprint("backup", i)), to); err != nil {
			t.Fatal(err)
		}
		r := open(t, to)
		if n := counts(t, r); n.Sites < least.Sites || n.Changes < least.Changes || n.Photos != 20 {
			t.Errorf("backup %d holds %+v, at least %+v was acknowledged before", i, n, least)
		}
		sound(t, r)
		fill(t, r, 21) // goes on where it stood: the keys of 20 are known
	}
}

func TestBackupIsCheckedBySha256sum(t *testing.T) {
	tool, err := exec.LookPath("sha256sum")
	if err != nil {
		t.Skip("sha256sum is not installed")
	}
	f := open(t, filepath.Join(t.TempDir(), "data"))
	fill(t, f, 1)
	backup := filepath.Join(t.TempDir(), "backup")
	if err := f.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(tool, "-c", "archive.db.sha256")
	cmd.Dir = backup
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%s: %v", out, err)
	}
}

func TestBackupsThatAreRefused(t *testing.T) {
	dir := t.TempDir()
	f := open(t, filepath.Join(dir, "data"))
	saved := fill(t, f, 2)
	backup := filepath.Join(dir, "backup")
	if err := f.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	is(t, f.Backup(ctx, backup), archive.ErrExists, "backup", "empty")
	is(t, datafolder.Restore(ctx, backup, filepath.Join(dir, "data")), archive.ErrExists, "data", "empty")
	is(t, datafolder.Restore(ctx, filepath.Join(dir, "nothing"), filepath.Join(dir, "new")), archive.ErrNotFound, "nothing")

	unfinished := filepath.Join(dir, "unfinished")
	if err := os.CopyFS(unfinished, os.DirFS(backup)); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(filepath.Join(unfinished, "archive.db"), filepath.Join(unfinished, "archive.db.part")); err != nil {
		t.Fatal(err)
	}
	is(t, datafolder.Restore(ctx, unfinished, filepath.Join(dir, "new")), archive.ErrNotFound, "no finished backup")

	damaged := filepath.Join(dir, "damaged")
	if err := os.CopyFS(damaged, os.DirFS(backup)); err != nil {
		t.Fatal(err)
	}
	flip(t, filepath.Join(damaged, "archive.db"), 20000)
	is(t, datafolder.Restore(ctx, damaged, filepath.Join(dir, "new1")), archive.ErrDamaged, "archive.db", "sha256")

	// A damaged photo does not keep all else from being restored.
	v, err := keeper(f, time.Now).Visit(ctx, crew, saved[0].Visit)
	if err != nil {
		t.Fatal(err)
	}
	h := string(v.Photos[0].Thumbnail)
	flip(t, filepath.Join(backup, "contents", h[:2], h), 3)
	is(t, datafolder.Restore(ctx, backup, filepath.Join(dir, "new2")), archive.ErrDamaged, "all else is restored", h[:12])
	r := open(t, filepath.Join(dir, "new2"))
	if n := counts(t, r); n.Sites != 2 {
		t.Errorf("%d sites are restored", n.Sites)
	}
}

// flip changes one bit of a file.
func flip(t *testing.T, file string, at int) {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	b[at%len(b)] ^= 16
	if err := os.WriteFile(file, b, 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestBackupLeavesNothingElse(t *testing.T) {
	f := open(t, filepath.Join(t.TempDir(), "data"))
	fill(t, f, 1)
	backup := filepath.Join(t.TempDir(), "backup")
	if err := f.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(backup)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if got, want := strings.Join(names, " "), "archive.db archive.db.sha256 contents what-this-is.txt"; got != want {
		t.Errorf("a backup holds %s, want %s", got, want)
	}
}
