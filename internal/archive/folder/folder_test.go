package folder_test

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"undersod/internal/archive"
	"undersod/internal/archive/archivetest"
	"undersod/internal/archive/folder"
)

func open(t testing.TB, root string) *folder.Blobs {
	t.Helper()
	b, err := folder.Open(root)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestBlobs(t *testing.T) {
	archivetest.Blobs(t, func(t *testing.T) archive.Blobs { return open(t, filepath.Join(t.TempDir(), "contents")) })
}

var ctx = context.Background()

func file(root string, h archive.Hash) string { return filepath.Join(root, string(h[:2]), string(h)) }

func TestPutMendsWhatIsDamaged(t *testing.T) {
	root := filepath.Join(t.TempDir(), "contents")
	b := open(t, root)
	content := []byte("a job file")
	h, err := b.Put(ctx, content)
	if err != nil {
		t.Fatal(err)
	}
	for _, damaged := range []string{"a job fole", "a job", ""} {
		if err := os.WriteFile(file(root, h), []byte(damaged), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := b.Get(ctx, h); !errors.Is(err, archive.ErrDamaged) || !strings.Contains(err.Error(), string(h[:12])) {
			t.Errorf("%q: the error is %v", damaged, err)
		}
		var out bytes.Buffer
		if err := b.Copy(ctx, h, &out); err != nil || out.String() != damaged {
			t.Errorf("the copy is %q, %v; want it as it is kept", out.String(), err)
		}
		if _, err := b.Put(ctx, content); err != nil {
			t.Fatal(err)
		}
		if got, err := b.Get(ctx, h); err != nil || !bytes.Equal(got, content) {
			t.Errorf("after it was put again: %q, %v", got, err)
		}
	}
}

// TestOpenThrowsAwayWhatIsHalfWritten opens a folder that a killed program left.
func TestOpenThrowsAwayWhatIsHalfWritten(t *testing.T) {
	root := filepath.Join(t.TempDir(), "contents")
	h, err := open(t, root).Put(ctx, []byte("whole"))
	if err != nil {
		t.Fatal(err)
	}
	half := filepath.Join(root, "aside", "1")
	foreign := filepath.Join(root, "ab", "notes.txt")
	if err := errors.Join(os.WriteFile(half, []byte("ha"), 0o600), os.WriteFile(foreign, nil, 0o600)); err != nil {
		t.Fatal(err)
	}
	b := open(t, root)
	if _, err := os.Stat(half); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("what was half written is still there: %v", err)
	}
	var all []archive.Hash
	err = b.Each(ctx, func(h archive.Hash, bytes int64) error {
		if bytes != 5 {
			t.Errorf("%s has %d bytes", h, bytes)
		}
		all = append(all, h)
		return nil
	})
	if err != nil || len(all) != 1 || all[0] != h {
		t.Errorf("%v are there, %v", all, err)
	}
	if _, err := b.Put(ctx, []byte("another")); err != nil {
		t.Error(err)
	}
}

func TestNothingIsLeftAside(t *testing.T) {
	root := filepath.Join(t.TempDir(), "contents")
	b := open(t, root)
	for n := range 20 {
		if _, err := b.Put(ctx, []byte{byte(n)}); err != nil {
			t.Fatal(err)
		}
	}
	if left, err := os.ReadDir(filepath.Join(root, "aside")); err != nil || len(left) > 0 {
		t.Errorf("%v are left aside, %v", left, err)
	}
}
