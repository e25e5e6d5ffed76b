package archive

import (
	"context"
	"fmt"
)

// save is a job file on its way to become a visit.
type save struct {
	site, visit ID // as asked for; empty ones are to be made
	newSite     ID // what to call a site that is to be made
	newVisit    ID // and a visit
	base        Revision
	format      string
	job         []byte
	content     Hash
	heading     Heading
	compared    compared
}

// compared is how a job file differs from one before it.
type compared struct {
	with   Hash
	fields []Field
	words  string
}

// SaveVisit stores a job file as a visit.
func (k *Keeper) SaveVisit(ctx context.Context, w Write, site, visit ID, base Revision, format string, job []byte) (Saved, error) {
	s := save{site: site, visit: visit, newSite: site, newVisit: visit, base: base, format: format, job: job}
	if err := w.By.writer(); err != nil {
		return Saved{}, err
	}
	if err := s.check(); err != nil {
		return Saved{}, err
	}
	asked := Request("save", site, visit, base, format, HashOf(job))
	if saved, there, err := peek[Saved](ctx, k.Store, w, asked); there || err != nil {
		return saved, err
	}
	if site == "" {
		s.newSite = NewID(k.Random)
	}
	if visit == "" {
		s.newVisit = NewID(k.Random)
	}
	content, err := k.Blobs.Put(ctx, job)
	if err != nil {
		return Saved{}, fmt.Errorf("the job file: %w", err)
	}
	s.content, s.heading = content, k.heading(format, job)
	if s.compared, err = k.compareAhead(ctx, s); err != nil {
		return Saved{}, err
	}
	return Once(ctx, k.Store, k.clock(), w, asked, nil, func(tx Writer) (Saved, error) { return k.saveVisit(ctx, tx, w, s) })
}

// check refuses what no visit can be made of.
func (s save) check() error {
	switch {
	case s.format != "yaml" && s.format != "json":
		return fmt.Errorf("the format %.20q: yaml or json is expected: %w", s.format, ErrRefused)
	case len(s.job) > MostJobBytes:
		return fmt.Errorf("the job file has %d bytes, at most %d are taken: %w", len(s.job), MostJobBytes, ErrTooLarge)
	case s.site != "" && !s.site.Valid():
		return fmt.Errorf("the site %.40q: %s: %w", s.site, idExpected, ErrRefused)
	case s.visit != "" && !s.visit.Valid():
		return fmt.Errorf("the visit %.40q: %s: %w", s.visit, idExpected, ErrRefused)
	case s.base < 0:
		return fmt.Errorf("the revision %d: 0 or more is expected: %w", s.base, ErrRefused)
	}
	return nil
}

const idExpected = "26 lower case letters and digits are expected"

func (k *Keeper) saveVisit(ctx context.Context, tx Writer, w Write, s save) (Saved, error) {
	_, err := tx.Visit(s.newVisit)
	switch {
	case absent(err) && s.base == 0:
		return k.makeVisit(tx, w, s)
	case err != nil:
		return Saved{}, fmt.Errorf("visit %s: %w", s.newVisit, err)
	}
	site, old, err := stands(tx, s.newVisit)
	switch {
	case err != nil:
		return Saved{}, err
	case s.site != "" && s.site != old.Site:
		return Saved{}, fmt.Errorf("visit %s is of another site than %s: %w", old.ID, s.site, ErrRefused)
	case old.Job == s.content && old.Format == s.format:
		return unchanged(old), nil
	}
	current, err := onlyPhotosSince(tx, old, s.base)
	if err != nil {
		return Saved{}, err
	}
	if !current {
		return Saved{}, stale("visit", old.ID, old.Revision, s.base)
	}
	return k.alterVisit(ctx, tx, w, site, old, s)
}

// makeVisit puts a new visit, and its site where that is new too.
func (k *Keeper) makeVisit(tx Writer, w Write, s save) (Saved, error) {
	site, err := tx.Site(s.newSite)
	fresh := absent(err)
	switch {
	case fresh:
		site = Site{ID: s.newSite}
	case err != nil:
		return Saved{}, err
	case site.Deleted != nil:
		return Saved{}, fmt.Errorf("site %s: %w", site.ID, ErrRemoved)
	}
	stamp := k.stamp(w.By, site)
	words := "visit made"
	if fresh {
		words = "site and visit made"
		site.Created, site.Changed = stamp, stamp
		if err := tx.PutSite(site); err != nil {
			return Saved{}, err
		}
	}
	v := Visit{ID: s.newVisit, Site: site.ID, Revision: 1, Created: stamp, Changed: stamp, Job: s.content, Format: s.format, Heading: s.heading}
	if err := tx.PutVisit(v); err != nil {
		return Saved{}, err
	}
	return enter(tx, site, v, Change{Stamp: stamp, Deed: Made, After: v.Job, Words: words})
}

// alterVisit puts a visit's job file in place of the one before.
func (k *Keeper) alterVisit(ctx context.Context, tx Writer, w Write, site Site, old Visit, s save) (Saved, error) {
	stamp := k.stamp(w.By, site)
	if s.compared.with != old.Job { // it changed a moment ago
		s.compared = k.compare(ctx, old.Job, s)
	}
	v := old
	v.Revision++
	v.Changed, v.Job, v.Format, v.Heading = stamp, s.content, s.format, s.heading
	if err := tx.PutVisit(v); err != nil {
		return Saved{}, err
	}
	return enter(tx, site, v, Change{Stamp: stamp, Deed: Altered, Before: old.Job, After: v.Job, Fields: s.compared.fields, Words: s.compared.words})
}

// compareAhead compares the job file with the one that the visit has now, before
// the update, which others wait for.
func (k *Keeper) compareAhead(ctx context.Context, s save) (compared, error) {
	var old Visit
	err := k.Store.View(ctx, func(r Reader) (err error) {
		old, err = r.Visit(s.newVisit)
		return err
	})
	if absent(err) || err == nil && old.Job == s.content {
		return compared{}, nil
	}
	if err != nil {
		return compared{}, err
	}
	return k.compare(ctx, old.Job, s), nil
}

// compare compares the job file with one before. One that is lost or damaged
// does not keep anyone from writing: the words say so.
func (k *Keeper) compare(ctx context.Context, with Hash, s save) compared {
	before, err := k.Blobs.Get(ctx, with)
	if err != nil {
		return compared{with: with, words: "the job file changed; the one before could not be read to tell what"}
	}
	fields, all := k.Compare(before, s.job, MostFields)
	fields = fields[:min(len(fields), MostFields)]
	for i, f := range fields {
		fields[i] = Field{kept(f.Pointer, longestEntry), kept(f.Before, longestWords), kept(f.After, longestWords)}
	}
	return compared{with, fields, entriesChanged(all, len(fields))}
}

func entriesChanged(all, listed int) string {
	switch {
	case all == 0:
		return "no entry changed, only how they are written"
	case all == 1:
		return "1 entry changed"
	case all > listed:
		return fmt.Sprintf("%d entries changed, of which the first %d are listed and %d more are not", all, listed, all-listed)
	}
	return fmt.Sprintf("%d entries changed", all)
}
