package archive

import (
	"errors"
	"fmt"
	"time"
)

// clock returns the time in what is kept of it.
func (k *Keeper) clock() time.Time { return k.Now().UTC().Truncate(time.Millisecond) }

// stamp returns who and when, never before the last change of the
// site.
func (k *Keeper) stamp(by Actor, site Site) Stamp {
	at := k.clock()
	if site.Changed.At.After(at) {
		at = site.Changed.At
	}
	return Stamp{At: at, By: by.Account}
}

// enter writes a change of a visit in the history, and brings its site up to
// date. What the visit is after the change must be put already.
func enter(tx Writer, site Site, visit Visit, c Change) (Saved, error) {
	visits, err := tx.Visits(site.ID)
	if err != nil {
		return Saved{}, err
	}
	site.Revision++
	site.Changed, site.Heading = c.Stamp, siteHeading(visits)
	if err := tx.PutSite(site); err != nil {
		return Saved{}, err
	}
	c.Site, c.Visit, c.Revision = site.ID, visit.ID, visit.Revision
	number, err := tx.AddChange(c)
	return Saved{Site: site.ID, Visit: visit.ID, Revision: visit.Revision, Change: number}, err
}

// unchanged is the answer where there was nothing to do.
func unchanged(v Visit) Saved { return Saved{Site: v.Site, Visit: v.ID, Revision: v.Revision} }

// stands returns a visit with its site, both of which must take changes.
func stands(tx Reader, id ID) (Site, Visit, error) {
	v, err := tx.Visit(id)
	if err != nil {
		return Site{}, v, fmt.Errorf("visit %.40q: %w", id, err)
	}
	s, err := tx.Site(v.Site)
	if err != nil {
		return s, v, fmt.Errorf("site %.40q of visit %.40q: %w", v.Site, id, err)
	}
	if s.Deleted != nil {
		return s, v, fmt.Errorf("the site of visit %s: %w", id, ErrRemoved)
	}
	if v.Deleted != nil {
		return s, v, fmt.Errorf("visit %s: %w", id, ErrRemoved)
	}
	return s, v, nil
}

// stale returns ErrStale with the two revisions in words.
func stale(what string, id ID, now, base Revision) error {
	return fmt.Errorf("%s %s is at revision %d, and revision %d was worked on: %w", what, id, now, base, ErrStale)
}

// onlyPhotosSince reports whether nothing but photos came or went since a
// revision of a visit.
func onlyPhotosSince(tx Reader, v Visit, base Revision) (bool, error) {
	if base <= 0 || base > v.Revision {
		return false, nil
	}
	only := true
	err := eachChange(tx, v.Site, func(c Change) bool {
		if c.Visit != v.ID {
			return true
		}
		if c.Revision > base && c.Deed != PhotoIn && c.Deed != PhotoOut {
			only = false
		}
		return only && c.Revision > base
	})
	return only, err
}

// eachChange calls f for the changes of a site, the newest first, until it
// returns false.
func eachChange(tx Reader, site ID, f func(Change) bool) error {
	for before := int64(0); ; {
		page, err := tx.Changes(site, before, MostListed)
		if err != nil {
			return err
		}
		for _, c := range page {
			if !f(c) {
				return nil
			}
			before = c.Number
		}
		if len(page) < MostListed {
			return nil
		}
	}
}

// absent tells that something is not there from every other error.
func absent(err error) bool { return errors.Is(err, ErrNotFound) }
