package archive

import (
	"context"
	"fmt"
	"slices"
)

// AddPhoto stores a picture of a visit.
func (k *Keeper) AddPhoto(ctx context.Context, w Write, visit ID, name string, picture []byte) (Saved, error) {
	if err := w.By.writer(); err != nil {
		return Saved{}, err
	}
	if err := photoName(name); err != nil {
		return Saved{}, err
	}
	if len(picture) > MostPictureBytes {
		return Saved{}, fmt.Errorf("the photo %s has %d bytes, at most %d are taken: %w", name, len(picture), MostPictureBytes, ErrTooLarge)
	}
	asked := Request("add photo", visit, name, HashOf(picture))
	if saved, there, err := peek[Saved](ctx, k.Store, w, asked); there || err != nil {
		return saved, err
	}
	err := k.Store.View(ctx, func(r Reader) error { _, _, err := stands(r, visit); return err })
	if err != nil {
		return Saved{}, err
	}
	photo, err := k.rewrite(ctx, name, picture)
	if err != nil {
		return Saved{}, err
	}
	return Once(ctx, k.Store, k.clock(), w, asked, nil, func(tx Writer) (Saved, error) { return k.addPhoto(tx, w, visit, photo) })
}

// rewrite writes a picture anew and stores it in full and small.
func (k *Keeper) rewrite(ctx context.Context, name string, picture []byte) (Photo, error) {
	full, thumbnail, width, height, err := k.Rewrite(picture)
	if err != nil {
		return Photo{}, fmt.Errorf("the photo %s: %w: %w", name, ErrRefused, err)
	}
	p := Photo{Name: name, Bytes: int64(len(full)), Width: width, Height: height}
	if p.Content, err = k.Blobs.Put(ctx, full); err == nil {
		p.Thumbnail, err = k.Blobs.Put(ctx, thumbnail)
	}
	if err != nil {
		return Photo{}, fmt.Errorf("the photo %s: %w", name, err)
	}
	return p, nil
}

func (k *Keeper) addPhoto(tx Writer, w Write, visit ID, p Photo) (Saved, error) {
	site, v, err := stands(tx, visit)
	if err != nil {
		return Saved{}, err
	}
	if at := photoAt(v, p.Name); at >= 0 {
		if v.Photos[at].Content == p.Content {
			return unchanged(v), nil
		}
		return Saved{}, fmt.Errorf("the photo %.60q: a picture of that name is kept with this visit; give it another name, or remove that one first: %w", p.Name, ErrExists)
	}
	if err := besides(v, p.Name); err != nil {
		return Saved{}, err
	}
	if len(v.Photos) >= MostPhotos {
		return Saved{}, fmt.Errorf("the visit has %d photos, more are not taken: %w", len(v.Photos), ErrRefused)
	}
	p.Added = k.stamp(w.By, site)
	v.Photos = append(v.Photos, p)
	return k.alter(tx, w, site, v, Change{Deed: PhotoIn, After: p.Content, Words: "photo " + p.Name + " added"})
}

// RemovePhoto takes a photo away from a visit. Its picture is kept, as the
// history refers to it.
func (k *Keeper) RemovePhoto(ctx context.Context, w Write, visit ID, name string) (Saved, error) {
	return k.change(ctx, w, Request("remove photo", visit, name), func(tx Writer) (Saved, error) {
		site, v, err := stands(tx, visit)
		if err != nil {
			return Saved{}, err
		}
		at := photoAt(v, name)
		if at < 0 {
			return Saved{}, fmt.Errorf("the photo %.60q of visit %s: %w", name, visit, ErrNotFound)
		}
		c := Change{Deed: PhotoOut, Before: v.Photos[at].Content, Words: "photo " + v.Photos[at].Name + " removed"}
		v.Photos = slices.Delete(v.Photos, at, at+1)
		return k.alter(tx, w, site, v, c)
	})
}

// photoAt returns where a photo is among those of a visit, -1 where it is not.
func photoAt(v Visit, name string) int {
	return slices.IndexFunc(v.Photos, func(p Photo) bool { return p.Name == name })
}

// alter puts a visit that was changed, stamped, and enters the change.
func (k *Keeper) alter(tx Writer, w Write, site Site, v Visit, c Change) (Saved, error) {
	stamp := k.stamp(w.By, site)
	v.Revision++
	v.Changed, c.Stamp = stamp, stamp
	if err := tx.PutVisit(v); err != nil {
		return Saved{}, err
	}
	return enter(tx, site, v, c)
}
