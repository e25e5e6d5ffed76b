package holding

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"

	"undersod/internal/archive"
	"undersod/internal/bundle"
)

// Carried tells what came in.
type Carried struct {
	Site    archive.ID
	Heading archive.Heading // of the site as it stands now
	Visits  []archive.ID
	Photos  int      // of them
	Changed int      // how many changes were made; 0 where all of it was here already
	Left    []string // what was left out and why
}

// left notes what was left out.
func (c *Carried) left(format string, args ...any) {
	c.Left = append(c.Left, fmt.Sprintf(format, args...))
}

// Job is a job file to bring in.
type Job struct {
	Format string // "yaml" or "json"
	Bytes  []byte
	Photos fs.FS      // nil for none
	Names  []string   // of the photos, as the job names them
	Site   archive.ID // of which it is a visit; empty for a site of its own
}

// BringJob stores a job file as a visit, with its photos. The IDs come from the
// bytes, so that the same file brought in twice changes nothing the second time.
func (a *Archive) BringJob(ctx context.Context, j Job) (Carried, error) {
	w := archive.Write{By: archive.Program()}
	c := Carried{Site: j.Site}
	if j.Site == "" {
		c.Site = idOf("site", j.Format, string(j.Bytes))
	} else if _, _, err := a.Records.Site(ctx, w.By, j.Site); err != nil {
		return c, err
	}
	visit := idOf("visit", string(c.Site), j.Format, string(j.Bytes))
	saved, err := a.Records.SaveVisit(ctx, w, c.Site, visit, 0, j.Format, j.Bytes)
	if err != nil {
		return c, here(err)
	}
	c.took(saved)
	c.Visits = []archive.ID{visit}
	for _, name := range j.Names {
		picture, err := pictureOf(j.Photos, name)
		if err != nil {
			c.left("photo %s: %v", name, err)
			continue
		}
		if err := bringPhoto(ctx, a.Records, w, &c, visit, name, picture); err != nil {
			return c, err
		}
	}
	return c, a.told(ctx, &c)
}

// pictureOf reads a picture that a job names.
func pictureOf(folder fs.FS, name string) ([]byte, error) {
	if folder == nil || !fs.ValidPath(name) {
		return nil, errors.New("it does not lie beside the job")
	}
	f, err := folder.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, errors.New("it is not there")
	}
	if err != nil {
		return nil, errors.New("it cannot be opened")
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, archive.MostPictureBytes+1))
	if err != nil {
		return nil, errors.New("it cannot be read")
	}
	return text, nil
}

// bringPhoto stores one photo, and notes it where it cannot be taken.
func bringPhoto(ctx context.Context, k *archive.Keeper, w archive.Write, c *Carried, visit archive.ID, name string, picture []byte) error {
	saved, err := k.AddPhoto(ctx, w, visit, name, picture)
	switch {
	case errors.Is(err, archive.ErrRefused), errors.Is(err, archive.ErrTooLarge), errors.Is(err, archive.ErrExists):
		c.left("%v", err)
		return nil
	case err != nil:
		return err
	}
	c.took(saved)
	c.Photos++
	return nil
}

func (c *Carried) took(s archive.Saved) {
	if s.Change != 0 {
		c.Changed++
	}
}

// Import takes a site that Export wrote, under the IDs that it has there. Visits
// that were removed there are left out. What is here already stays as it is; an
// archive.ErrStale tells of a visit that differs. The history that a bundle
// tells of stays in it: here begins a new one. Photos are written anew.
func (a *Archive) Import(ctx context.Context, by archive.Write, file io.ReaderAt, size int64) (Carried, error) {
	return a.bringBundle(ctx, a.Records, by, file, size)
}

// ImportUnchanged does what Import does, and leaves the photos as they are, byte
// for byte, that another archive wrote: for whoever holds the folder itself.
func (a *Archive) ImportUnchanged(ctx context.Context, by archive.Write, file io.ReaderAt, size int64) (Carried, error) {
	k := *a.Records
	k.Rewrite = keeping(k.Rewrite)
	return a.bringBundle(ctx, &k, by, file, size)
}

func (a *Archive) bringBundle(ctx context.Context, k *archive.Keeper, by archive.Write, file io.ReaderAt, size int64) (Carried, error) {
	b, err := bundle.Open(ctx, file, size)
	if errors.Is(err, bundle.ErrBundle) {
		err = fmt.Errorf("%w: %w", archive.ErrRefused, err)
	}
	if err != nil {
		return Carried{}, err
	}
	c := Carried{Site: b.Site.ID}
	visits := slices.Clone(b.Visits)
	slices.SortFunc(visits, func(x, y archive.Visit) int {
		return strings.Compare(x.Heading.Date+string(x.ID), y.Heading.Date+string(y.ID))
	})
	for _, v := range visits {
		if v.Deleted != nil {
			c.left("visit %s of %s, which was removed where it comes from", v.ID, dated(v))
			continue
		}
		if err := a.bringVisit(ctx, k, by, b, &c, v); err != nil {
			return c, err
		}
	}
	if len(c.Visits) == 0 {
		return c, fmt.Errorf("the bundle has no visit that stands: %w", archive.ErrRefused)
	}
	return c, a.told(ctx, &c)
}

// bringVisit stores one visit of a bundle. The key of the request is not for
// its parts: the same visit again changes nothing anyway.
func (a *Archive) bringVisit(ctx context.Context, k *archive.Keeper, by archive.Write, b *bundle.Bundle, c *Carried, v archive.Visit) error {
	by.Key = ""
	text, err := b.Get(ctx, v.Job)
	if err != nil {
		return err
	}
	saved, err := k.SaveVisit(ctx, by, c.Site, v.ID, 0, v.Format, text)
	if err != nil {
		return here(err)
	}
	c.took(saved)
	c.Visits = append(c.Visits, v.ID)
	stands, err := k.Visit(ctx, by.By, v.ID)
	if err != nil {
		return err
	}
	for _, p := range v.Photos {
		same := func(o archive.Photo) bool { return o.Name == p.Name && o.Content == p.Content }
		if slices.ContainsFunc(stands.Photos, same) {
			c.Photos++
			continue
		}
		picture, err := b.Get(ctx, p.Content)
		if err != nil {
			return err
		}
		if err := bringPhoto(ctx, k, by, c, v.ID, p.Name, picture); err != nil {
			return err
		}
	}
	return nil
}

// here tells of a visit that is in the archive and differs.
func here(err error) error {
	if errors.Is(err, archive.ErrStale) {
		return fmt.Errorf("this visit is here already, and what is kept of it differs; nothing of it was changed: %w", err)
	}
	return err
}

func dated(v archive.Visit) string {
	if v.Heading.Date == "" {
		return "no date"
	}
	return v.Heading.Date
}

// told fills in how the site stands now.
func (a *Archive) told(ctx context.Context, c *Carried) error {
	site, _, err := a.Records.Site(ctx, archive.Program(), c.Site)
	c.Heading = site.Heading
	return err
}

// idOf makes an ID that the same texts always give.
func idOf(texts ...string) archive.ID {
	h := sha256.New()
	for _, t := range texts {
		fmt.Fprintf(h, "%d:%s,", len(t), t)
	}
	return archive.NewID(func(b []byte) { copy(b, h.Sum(nil)) })
}
