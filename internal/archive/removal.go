package archive

import (
	"context"
	"fmt"
)

// change carries out a change that needs nothing but the store.
func (k *Keeper) change(ctx context.Context, w Write, asked Hash, f func(tx Writer) (Saved, error)) (Saved, error) {
	if err := w.By.writer(); err != nil {
		return Saved{}, err
	}
	return Once(ctx, k.Store, k.clock(), w, asked, nil, f)
}

// RemoveVisit puts a visit among the deleted ones. Removing it again changes
// nothing.
func (k *Keeper) RemoveVisit(ctx context.Context, w Write, visit ID, base Revision) (Saved, error) {
	return k.change(ctx, w, Request("remove visit", visit, base), func(tx Writer) (Saved, error) {
		if v, err := tx.Visit(visit); err == nil && v.Deleted != nil {
			return unchanged(v), nil
		}
		site, v, err := stands(tx, visit)
		if err != nil {
			return Saved{}, err
		}
		if v.Revision != base {
			return Saved{}, stale("visit", visit, v.Revision, base)
		}
		stamp := k.stamp(w.By, site)
		v.Deleted = &stamp
		return k.alter(tx, w, site, v, Change{Deed: Removed, Before: v.Job, Words: "visit removed"})
	})
}

// RecoverVisit brings a visit back that was removed. One that stands is left as
// it is.
func (k *Keeper) RecoverVisit(ctx context.Context, w Write, visit ID) (Saved, error) {
	return k.change(ctx, w, Request("recover visit", visit), func(tx Writer) (Saved, error) {
		v, err := tx.Visit(visit)
		if err != nil {
			return Saved{}, fmt.Errorf("visit %.40q: %w", visit, err)
		}
		site, err := tx.Site(v.Site)
		switch {
		case err != nil:
			return Saved{}, fmt.Errorf("site %.40q: %w", v.Site, err)
		case v.Deleted == nil:
			return unchanged(v), nil
		case site.Deleted != nil:
			return Saved{}, fmt.Errorf("the site of visit %s: %w", visit, ErrRemoved)
		}
		v.Deleted = nil
		return k.alter(tx, w, site, v, Change{Deed: Recovered, After: v.Job, Words: "visit recovered"})
	})
}

// RemoveSite puts a site among the deleted ones, with all its visits as they
// are. Removing it again changes nothing.
func (k *Keeper) RemoveSite(ctx context.Context, w Write, site ID, base Revision) (Saved, error) {
	return k.change(ctx, w, Request("remove site", site, base), func(tx Writer) (Saved, error) {
		return k.alterSite(tx, w, site, func(s *Site, stamp Stamp) (Change, error) {
			if s.Deleted != nil {
				return Change{}, nil
			}
			if s.Revision != base {
				return Change{}, stale("site", site, s.Revision, base)
			}
			s.Deleted = &stamp
			return Change{Deed: Removed, Words: "site removed"}, nil
		})
	})
}

// RecoverSite brings a site back that was removed. One that stands is left as it
// is.
func (k *Keeper) RecoverSite(ctx context.Context, w Write, site ID) (Saved, error) {
	return k.change(ctx, w, Request("recover site", site), func(tx Writer) (Saved, error) {
		return k.alterSite(tx, w, site, func(s *Site, _ Stamp) (Change, error) {
			if s.Deleted == nil {
				return Change{}, nil
			}
			s.Deleted = nil
			return Change{Deed: Recovered, Words: "site recovered"}, nil
		})
	})
}

// alterSite changes a site alone. A change without a deed is none.
func (k *Keeper) alterSite(tx Writer, w Write, id ID, edit func(*Site, Stamp) (Change, error)) (Saved, error) {
	s, err := tx.Site(id)
	if err != nil {
		return Saved{}, fmt.Errorf("site %.40q: %w", id, err)
	}
	stamp := k.stamp(w.By, s)
	c, err := edit(&s, stamp)
	if err != nil || c.Deed == "" {
		return Saved{Site: id, Revision: s.Revision}, err
	}
	s.Revision++
	s.Changed = stamp
	if err := tx.PutSite(s); err != nil {
		return Saved{}, err
	}
	c.Stamp, c.Site, c.Revision = stamp, id, s.Revision
	number, err := tx.AddChange(c)
	return Saved{Site: id, Revision: s.Revision, Change: number}, err
}
