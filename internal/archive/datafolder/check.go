package datafolder

import (
	"context"
	"errors"
	"fmt"

	"undersod/core/english"
	"undersod/internal/archive"
)

// Lacking means that contents which the database refers to are missing or
// damaged. All else is whole. It is archive.ErrDamaged.
type Lacking struct{ Contents []archive.Hash }

// Error names the first of them.
func (l *Lacking) Error() string {
	return fmt.Sprintf("%s missing or damaged, the first %.12s; look for it in a backup, under %s",
		english.Count(len(l.Contents), "content"), l.Contents[0], contents)
}

// Is reports whether a target is archive.ErrDamaged.
func (l *Lacking) Is(target error) bool { return target == archive.ErrDamaged }

// Check verifies everything: the database, and every content against its hash,
// whether something refers to it or not. The error names each thing found.
func (f *Folder) Check(ctx context.Context) error {
	var wanted []archive.Hash
	err := f.store.View(ctx, func(r archive.Reader) (err error) {
		wanted, err = r.Contents()
		return err
	})
	bad := map[archive.Hash]bool{}
	var list []archive.Hash
	look := func(h archive.Hash) error {
		if bad[h] {
			return nil
		}
		err := whole(ctx, f.Blobs, h)
		if errors.Is(err, archive.ErrDamaged) {
			bad[h] = true
			list = append(list, h)
			err = nil
		}
		return err
	}
	err = errors.Join(f.store.Check(ctx), err, each(wanted, look),
		f.Blobs.Each(ctx, func(h archive.Hash, _ int64) error { return look(h) }))
	if len(list) > 0 {
		err = errors.Join(err, &Lacking{list})
	}
	return err
}

// Reindex makes what searches look at again from the sites.
func (f *Folder) Reindex(ctx context.Context) error { return f.store.Reindex(ctx) }

func each(list []archive.Hash, f func(archive.Hash) error) error {
	for _, h := range list {
		if err := f(h); err != nil {
			return err
		}
	}
	return nil
}

// whole returns archive.ErrDamaged for a content that is missing or damaged.
func whole(ctx context.Context, b archive.Blobs, h archive.Hash) error {
	_, err := b.Get(ctx, h)
	if errors.Is(err, archive.ErrNotFound) {
		return fmt.Errorf("%w: %w", archive.ErrDamaged, err)
	}
	return err
}
