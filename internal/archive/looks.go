package archive

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// Site returns a site with its visits, the newest first.
func (k *Keeper) Site(ctx context.Context, a Actor, id ID) (Site, []Visit, error) {
	var site Site
	var visits []Visit
	if err := a.looks(id); err != nil {
		return site, nil, err
	}
	err := k.Store.View(ctx, func(r Reader) (err error) {
		if site, err = r.Site(id); err != nil {
			return err
		}
		if err = a.sees(site.Deleted); err != nil {
			return err
		}
		visits, err = r.Visits(id)
		return err
	})
	if err != nil {
		return Site{}, nil, fmt.Errorf("site %.40q: %w", id, err)
	}
	visits = slices.DeleteFunc(visits, func(v Visit) bool { return a.sees(v.Deleted) != nil })
	return site, visits, nil
}

// Visit returns a visit.
func (k *Keeper) Visit(ctx context.Context, a Actor, id ID) (Visit, error) {
	var visit Visit
	if !a.visitor() {
		if err := a.staff(); err != nil {
			return visit, err
		}
	}
	err := k.Store.View(ctx, func(r Reader) (err error) {
		visit, err = seen(r, a, id)
		return err
	})
	if err != nil {
		return Visit{}, fmt.Errorf("visit %.40q: %w", id, err)
	}
	return visit, nil
}

// seen returns a visit that the actor may see.
func seen(r Reader, a Actor, id ID) (Visit, error) {
	v, err := r.Visit(id)
	if err != nil {
		return v, err
	}
	if err := a.looks(v.Site); err != nil {
		return v, err
	}
	site, err := r.Site(v.Site)
	if err != nil {
		return v, err
	}
	if err := a.sees(site.Deleted); err != nil {
		return v, err
	}
	return v, a.sees(v.Deleted)
}

// Job returns a visit with its job file, byte for byte as it was written.
func (k *Keeper) Job(ctx context.Context, a Actor, visit ID) (Visit, []byte, error) {
	v, err := k.Visit(ctx, a, visit)
	if err != nil {
		return v, nil, err
	}
	job, err := k.Blobs.Get(ctx, v.Job)
	if err != nil {
		return Visit{}, nil, fmt.Errorf("the job file of visit %s: %w", visit, err)
	}
	return v, job, nil
}

// JobAt returns a job file that the visit has or had.
func (k *Keeper) JobAt(ctx context.Context, a Actor, visit ID, content Hash) ([]byte, error) {
	return k.contentAt(ctx, a, visit, content, "job file", func(d Deed) bool { return d != PhotoIn && d != PhotoOut })
}

// PictureAt returns a photo that the visit has or had, in full.
func (k *Keeper) PictureAt(ctx context.Context, a Actor, visit ID, content Hash) ([]byte, error) {
	return k.contentAt(ctx, a, visit, content, "photo", func(d Deed) bool { return d == PhotoIn || d == PhotoOut })
}

// contentAt returns a content that changes of some kind of a visit refer to.
func (k *Keeper) contentAt(ctx context.Context, a Actor, visit ID, content Hash, what string, of func(Deed) bool) ([]byte, error) {
	if err := a.lists(); err != nil {
		return nil, err
	}
	had := false
	err := k.Store.View(ctx, func(r Reader) error {
		v, err := r.Visit(visit)
		if err != nil {
			return err
		}
		return eachChange(r, v.Site, func(c Change) bool {
			had = content != "" && c.Visit == visit && of(c.Deed) && (c.Before == content || c.After == content)
			return !had
		})
	})
	if err == nil && !had {
		err = ErrNotFound
	}
	if err != nil {
		return nil, fmt.Errorf("the %s %.12q of visit %.40q: %w", what, content, visit, err)
	}
	return k.Blobs.Get(ctx, content)
}

// Picture returns a photo of a visit, in full or small.
func (k *Keeper) Picture(ctx context.Context, a Actor, visit ID, name string, thumbnail bool) ([]byte, error) {
	v, err := k.Visit(ctx, a, visit)
	if err != nil {
		return nil, err
	}
	at := photoAt(v, name)
	if at < 0 {
		return nil, fmt.Errorf("the photo %.60q of visit %s: %w", name, visit, ErrNotFound)
	}
	content := v.Photos[at].Content
	if thumbnail {
		content = v.Photos[at].Thumbnail
	}
	picture, err := k.Blobs.Get(ctx, content)
	if err != nil {
		return nil, fmt.Errorf("the photo %.60q of visit %s: %w", name, visit, err)
	}
	return picture, nil
}

// Changes returns the history of a site, the newest change first.
func (k *Keeper) Changes(ctx context.Context, a Actor, site ID, before int64, most int) ([]Change, error) {
	var out []Change
	if err := a.lists(); err != nil {
		return nil, err
	}
	err := k.Store.View(ctx, func(r Reader) (err error) {
		if _, err = r.Site(site); err != nil {
			return fmt.Errorf("site %.40q: %w", site, err)
		}
		out, err = r.Changes(site, before, min(most, MostListed))
		return err
	})
	return out, err
}

// Find searches.
func (k *Keeper) Find(ctx context.Context, a Actor, q Query) (Found, error) {
	var out Found
	if err := a.lists(); err != nil {
		return out, err
	}
	q.Words, q.Skip, q.Most = kept(q.Words, LongestSearch), max(0, q.Skip), min(q.Most, MostListed)
	if q.Near != nil {
		if n := *q.Near; !onEarth(n.Latitude, n.Longitude) || math.IsNaN(n.Within.Metres()) {
			return out, fmt.Errorf("the place to search near: a latitude within 90° and a longitude within 180° are expected: %w", ErrRefused)
		}
	}
	err := k.Store.View(ctx, func(r Reader) (err error) {
		out, err = r.Find(q)
		return err
	})
	return out, err
}

// Due returns the sites whose next look is due by a day.
func (k *Keeper) Due(ctx context.Context, a Actor, until string, most int) ([]Site, error) {
	var out []Site
	if err := a.lists(); err != nil {
		return nil, err
	}
	if until != "" && !isDate(until) {
		return nil, fmt.Errorf("the day %.20q: a date such as 2027-05-12 is expected: %w", until, ErrRefused)
	}
	err := k.Store.View(ctx, func(r Reader) (err error) {
		out, err = r.Due(until, min(most, MostListed))
		return err
	})
	return out, err
}
