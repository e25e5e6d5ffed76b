package memory

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"maps"
	"slices"
	"sync"

	"undersod/internal/archive"
)

// Blobs is an archive.Blobs in memory. Its zero value is empty and ready.
type Blobs struct {
	mu   sync.RWMutex
	kept map[archive.Hash][]byte
}

// Put keeps a content.
func (b *Blobs) Put(ctx context.Context, content []byte) (archive.Hash, error) {
	if err := ctx.Err(); err != nil {
		return "", err
	}
	h := archive.HashOf(content)
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.kept == nil {
		b.kept = map[archive.Hash][]byte{}
	}
	if _, there := b.kept[h]; !there {
		b.kept[h] = append([]byte{}, content...)
	}
	return h, nil
}

// Get returns a content, checked.
func (b *Blobs) Get(ctx context.Context, h archive.Hash) ([]byte, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	b.mu.RLock()
	defer b.mu.RUnlock()
	content, there := b.kept[h]
	switch {
	case !there:
		return nil, fmt.Errorf("content %.12q: %w", h, archive.ErrNotFound)
	case archive.HashOf(content) != h:
		return nil, fmt.Errorf("content %.12q: %w", h, archive.ErrDamaged)
	}
	return bytes.Clone(content), nil
}

// Each calls f for every content that is kept when it is called.
func (b *Blobs) Each(ctx context.Context, f func(h archive.Hash, bytes int64) error) error {
	b.mu.RLock()
	kept := maps.Clone(b.kept)
	b.mu.RUnlock()
	for _, h := range slices.Sorted(maps.Keys(kept)) {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := f(h, int64(len(kept[h]))); err != nil {
			return err
		}
	}
	return nil
}

// Copy writes a content out as it is kept, checked or not.
func (b *Blobs) Copy(ctx context.Context, h archive.Hash, w io.Writer) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	b.mu.RLock()
	content, there := b.kept[h]
	b.mu.RUnlock()
	if !there {
		return fmt.Errorf("content %.12q: %w", h, archive.ErrNotFound)
	}
	_, err := w.Write(content)
	return err
}

// Damage changes a byte of a content, or takes an empty one away, and reports
// whether it was there: for tests of what happens then.
func (b *Blobs) Damage(h archive.Hash) bool {
	b.mu.Lock()
	defer b.mu.Unlock()
	content, there := b.kept[h]
	if len(content) > 0 {
		content = bytes.Clone(content)
		content[len(content)/2] ^= 1
		b.kept[h] = content
	} else {
		delete(b.kept, h)
	}
	return there
}
