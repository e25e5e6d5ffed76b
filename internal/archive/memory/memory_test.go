package memory_test

import (
	"context"
	"errors"
	"testing"

	"undersod/internal/archive"
	"undersod/internal/archive/archivetest"
	"undersod/internal/archive/memory"
)

func TestStore(t *testing.T) {
	archivetest.Store(t, func(*testing.T) archive.Store { return memory.New() })
}

func TestBlobs(t *testing.T) {
	archivetest.Blobs(t, func(*testing.T) archive.Blobs { return new(memory.Blobs) })
}

func TestDamageIsNoticed(t *testing.T) {
	var b memory.Blobs
	for _, c := range []string{"content", ""} {
		h, err := b.Put(context.Background(), []byte(c))
		if err != nil {
			t.Fatal(err)
		}
		if !b.Damage(h) {
			t.Errorf("%q was not there", c)
		}
		_, err = b.Get(context.Background(), h)
		if want := map[bool]error{true: archive.ErrDamaged, false: archive.ErrNotFound}[c != ""]; !errors.Is(err, want) {
			t.Errorf("%q after damage: %v, want %v", c, err, want)
		}
	}
	if b.Damage("unknown") {
		t.Error("an unknown content was damaged")
	}
}
