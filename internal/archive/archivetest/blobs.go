package archivetest

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"testing"

	"undersod/internal/archive"
)

// Blobs runs every test of a Blobs. open returns a new and empty one each time.
func Blobs(t *testing.T, open func(t *testing.T) archive.Blobs) {
	for name, run := range map[string]func(*testing.T, archive.Blobs){
		"nothing is there": blobsNothing, "put and get": blobsRoundTrip, "each": blobsEach,
		"belongs to the caller": blobsOwnership, "at the same time": blobsConcurrent, "cancelled": blobsCancelled,
	} {
		t.Run(name, func(t *testing.T) { run(t, open(t)) })
	}
}

// contents returns contents of many sizes, all different.
func contents() [][]byte {
	out := [][]byte{{}, {0}, []byte("site: 18 Quarry Hollow Lane\n"), bytes.Repeat([]byte("0123456789abcdef"), 1<<18)}
	for n := range 40 {
		out = append(out, bytes.Repeat([]byte{byte(n), 0xff, '\n', '\r'}, 1+n*n*7))
	}
	return out
}

func blobsNothing(t *testing.T, b archive.Blobs) {
	ctx := context.Background()
	for _, h := range []archive.Hash{"", "0", ".", "..", "../../../../etc/passwd", "/etc/passwd", hash("nothing", 1), "\x00", hash("nothing", 1) + "/.."} {
		if _, err := b.Get(ctx, h); !errors.Is(err, archive.ErrNotFound) {
			t.Errorf("get %q: the error is %v, want %v", h, err, archive.ErrNotFound)
		}
		var out bytes.Buffer
		if err := b.Copy(ctx, h, &out); !errors.Is(err, archive.ErrNotFound) || out.Len() > 0 {
			t.Errorf("copy %q: the error is %v with %d bytes, want %v", h, err, out.Len(), archive.ErrNotFound)
		}
	}
	err := b.Each(ctx, func(h archive.Hash, _ int64) error { return fmt.Errorf("%s is there", h) })
	if err != nil {
		t.Error(err)
	}
}

func put(t *testing.T, b archive.Blobs, content []byte) archive.Hash {
	t.Helper()
	h, err := b.Put(context.Background(), content)
	if err != nil {
		t.Fatal(err)
	}
	if want := archive.HashOf(content); h != want {
		t.Fatalf("a content of %d bytes is put as %s, want %s", len(content), h, want)
	}
	return h
}

func blobsRoundTrip(t *testing.T, b archive.Blobs) {
	ctx := context.Background()
	for range 2 { // what is there already is put again
		for _, c := range contents() {
			h := put(t, b, c)
			got, err := b.Get(ctx, h)
			if err != nil || !bytes.Equal(got, c) {
				t.Errorf("get a content of %d bytes: %d bytes, %v", len(c), len(got), err)
			}
			var out bytes.Buffer
			if err := b.Copy(ctx, h, &out); err != nil || !bytes.Equal(out.Bytes(), c) {
				t.Errorf("copy a content of %d bytes: %d bytes, %v", len(c), out.Len(), err)
			}
		}
	}
}

func blobsEach(t *testing.T, b archive.Blobs) {
	want := map[archive.Hash]int64{}
	for range 2 {
		for _, c := range contents() {
			want[put(t, b, c)] = int64(len(c))
		}
	}
	var seen []archive.Hash
	err := b.Each(context.Background(), func(h archive.Hash, size int64) error {
		seen = append(seen, h)
		if s, ok := want[h]; !ok || s != size {
			t.Errorf("%s has %d bytes, want %d (put: %v)", h, size, s, ok)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(seen) != len(want) || !slices.IsSorted(seen) {
		t.Errorf("%d contents are listed (sorted: %v), want %d", len(seen), slices.IsSorted(seen), len(want))
	}
	mine, calls := errors.New("the caller's own error"), 0
	err = b.Each(context.Background(), func(archive.Hash, int64) error { calls++; return mine })
	if !errors.Is(err, mine) || calls != 1 {
		t.Errorf("after an error in the first call: %v, %d calls", err, calls)
	}
}

func blobsOwnership(t *testing.T, b archive.Blobs) {
	content := []byte("as it was")
	h := put(t, b, content)
	for range 2 {
		content[0] = 'X'
		got, err := b.Get(context.Background(), h)
		if err != nil || string(got) != "as it was" {
			t.Fatalf("%q, %v", got, err)
		}
		content = got
	}
}

func blobsConcurrent(t *testing.T, b archive.Blobs) {
	ctx, all := context.Background(), contents()
	var sides sync.WaitGroup
	for side := range 6 {
		sides.Go(func() {
			for i := range all {
				c := all[(i+side*3)%len(all)]
				h, err := b.Put(ctx, c)
				if err != nil {
					t.Errorf("put: %v", err)
					continue
				}
				if got, err := b.Get(ctx, h); err != nil || !bytes.Equal(got, c) {
					t.Errorf("get a content of %d bytes: %d bytes, %v", len(c), len(got), err)
				}
			}
		})
	}
	sides.Wait()
	count := 0
	err := b.Each(ctx, func(archive.Hash, int64) error { count++; return nil })
	if err != nil || count != len(all) {
		t.Errorf("%d contents are there, want %d: %v", count, len(all), err)
	}
}

func blobsCancelled(t *testing.T, b archive.Blobs) {
	h := put(t, b, []byte("there"))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, errPut := b.Put(ctx, []byte("not there"))
	_, errGet := b.Get(ctx, h)
	for what, err := range map[string]error{
		"put": errPut, "get": errGet,
		"each": b.Each(ctx, func(archive.Hash, int64) error { return nil }),
		"copy": b.Copy(ctx, h, &bytes.Buffer{}),
	} {
		if !errors.Is(err, context.Canceled) {
			t.Errorf("%s after the caller gave up: %v", what, err)
		}
	}
	if _, err := b.Get(context.Background(), archive.HashOf([]byte("not there"))); !errors.Is(err, archive.ErrNotFound) {
		t.Errorf("a cancelled put was kept: %v", err)
	}
}
