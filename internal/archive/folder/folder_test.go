package folder_test

import (
	"path/filepath"
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
