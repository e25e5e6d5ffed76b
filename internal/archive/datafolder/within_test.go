package datafolder_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"undersod/internal/archive"
	"undersod/internal/archive/datafolder"
)

// TestNoBackupLiesInItsOwnArchive tells the folder by several names.
func TestNoBackupLiesInItsOwnArchive(t *testing.T) {
	dir := t.TempDir()
	data, link := filepath.Join(dir, "archive"), filepath.Join(dir, "link")
	f, err := datafolder.Open(context.Background(), data)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	inside := []string{data, filepath.Join(data, "copy"), filepath.Join(data, "contents", "copy"), filepath.Join(dir, "none", "..", "archive", "copy")}
	if err := os.Symlink(data, link); err == nil {
		inside = append(inside, link, filepath.Join(link, "copy"))
	}
	for _, to := range inside {
		if err := f.Backup(context.Background(), to); !errors.Is(err, archive.ErrRefused) {
			t.Errorf("a backup into %s: %v", to, err)
		}
	}
	beside := data + "-copy"
	if err := f.Backup(context.Background(), beside); err != nil {
		t.Errorf("a backup beside it: %v", err)
	}
	if a, err := datafolder.Open(context.Background(), beside); !errors.Is(err, archive.ErrRefused) {
		t.Errorf("a backup was opened to be written in: %v, %v", a, err)
	}
}
