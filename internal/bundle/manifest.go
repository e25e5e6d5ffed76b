package bundle

import (
	"fmt"
	"time"

	"undersod/internal/archive"
)

// manifest is manifest.json. Its fields keep their order and names for ever;
// what is added later comes with a new version.
type manifest struct {
	Undersod int      `json:"undersod"` // 1
	Kind     string   `json:"kind"`     // "site bundle"
	Version  int      `json:"version"`
	Site     siteDoc  `json:"site"`
	Visits   []visit  `json:"visits"`
	History  []file   `json:"history"` // job files that only changes name
	Changes  []change `json:"changes"` // oldest first
}

type stamp struct {
	At string `json:"at"` // RFC 3339, UTC, milliseconds
	By string `json:"by"` // account; empty for the program
}

type siteDoc struct {
	ID       string `json:"id"`
	Name     string `json:"name"` // for people; the job files are what counts
	Address  string `json:"address"`
	Revision int64  `json:"revision"`
	Created  stamp  `json:"created"`
	Changed  stamp  `json:"changed"`
	Deleted  *stamp `json:"deleted,omitempty"`
}

type file struct {
	File   string `json:"file"` // in the bundle
	SHA256 string `json:"sha256"`
	Bytes  int64  `json:"bytes"`
}

type visit struct {
	ID       string  `json:"id"`
	Date     string  `json:"date"` // ISO 8601, empty where the job states none
	Format   string  `json:"format"`
	Revision int64   `json:"revision"`
	Created  stamp   `json:"created"`
	Changed  stamp   `json:"changed"`
	Deleted  *stamp  `json:"deleted,omitempty"`
	Job      file    `json:"job"`
	Photos   []photo `json:"photos"`
}

type photo struct {
	Name string `json:"name"` // as the job names it
	file
	Width  int   `json:"width"`
	Height int   `json:"height"`
	Added  stamp `json:"added"`
}

type change struct {
	Number   int64   `json:"number"`
	Stamp    stamp   `json:"stamp"`
	Deed     string  `json:"deed"`
	Visit    string  `json:"visit,omitempty"`
	Revision int64   `json:"revision"`
	Before   string  `json:"before,omitempty"` // SHA-256
	After    string  `json:"after,omitempty"`
	Fields   []field `json:"fields"`
	Words    string  `json:"words"`
}

type field struct {
	Pointer string `json:"pointer"`
	Before  string `json:"before"`
	After   string `json:"after"`
}

const milliseconds = "2006-01-02T15:04:05.000Z"

func stampOf(s archive.Stamp) stamp {
	return stamp{s.At.UTC().Format(milliseconds), string(s.By)}
}

func stampRef(s *archive.Stamp) *stamp {
	if s == nil {
		return nil
	}
	out := stampOf(*s)
	return &out
}

func siteOf(s archive.Site) siteDoc {
	return siteDoc{ID: string(s.ID), Name: s.Heading.Name, Address: s.Heading.Address, Revision: int64(s.Revision),
		Created: stampOf(s.Created), Changed: stampOf(s.Changed), Deleted: stampRef(s.Deleted)}
}

func changeOf(c archive.Change) change {
	out := change{Number: c.Number, Stamp: stampOf(c.Stamp), Deed: string(c.Deed), Visit: string(c.Visit), Revision: int64(c.Revision),
		Before: string(c.Before), After: string(c.After), Fields: []field{}, Words: c.Words}
	for _, f := range c.Fields {
		out.Fields = append(out.Fields, field{f.Pointer, f.Before, f.After})
	}
	return out
}

// reader turns documents back, and keeps the first thing that cannot be right.
type reader struct{ err error }

func (r *reader) failf(format string, args ...any) {
	if r.err == nil {
		r.err = refusef("manifest.json: "+format, args...)
	}
}

func (r *reader) id(what, text string) archive.ID {
	if !archive.ID(text).Valid() {
		r.failf("%s is %.60q, and 26 lower case letters and digits are expected", what, text)
	}
	return archive.ID(text)
}

func (r *reader) hash(what, text string) archive.Hash {
	if !archive.Hash(text).Valid() {
		r.failf("%s has the SHA-256 %.80q, and 64 hexadecimal digits are expected", what, text)
	}
	return archive.Hash(text)
}

// maybe is a hash that may be empty.
func (r *reader) maybe(what, text string) archive.Hash {
	if text == "" {
		return ""
	}
	return r.hash(what, text)
}

func (r *reader) stamp(what string, s stamp) archive.Stamp {
	at, err := time.Parse(milliseconds, s.At)
	if err != nil {
		r.failf("%s: the time %.60q; expected one such as 2026-05-14T09:30:00.000Z", what, s.At)
	}
	if s.By != "" {
		r.id(what+": by", s.By)
	}
	return archive.Stamp{At: at, By: archive.ID(s.By)}
}

func (r *reader) stampRef(what string, s *stamp) *archive.Stamp {
	if s == nil {
		return nil
	}
	out := r.stamp(what, *s)
	return &out
}

func (r *reader) site(d siteDoc) archive.Site {
	out := archive.Site{ID: r.id("the site", d.ID), Revision: archive.Revision(d.Revision), Created: r.stamp("the site's making", d.Created),
		Changed: r.stamp("the site's last change", d.Changed), Deleted: r.stampRef("the site's removal", d.Deleted)}
	out.Heading.Name, out.Heading.Address = d.Name, d.Address
	r.revision("the site", d.Revision)
	return out
}

func (r *reader) revision(what string, n int64) {
	if n < 0 {
		r.failf("%s has the revision %d", what, n)
	}
}

func (r *reader) visit(site archive.ID, d visit) archive.Visit {
	what := fmt.Sprintf("visit %.40s", d.ID)
	out := archive.Visit{ID: r.id("a visit", d.ID), Site: site, Revision: archive.Revision(d.Revision), Created: r.stamp(what, d.Created),
		Changed: r.stamp(what, d.Changed), Deleted: r.stampRef(what, d.Deleted), Job: r.hash(what, d.Job.SHA256), Format: d.Format}
	out.Heading.Date = d.Date
	r.revision(what, d.Revision)
	if _, err := time.Parse(time.DateOnly, d.Date); d.Date != "" && err != nil {
		r.failf("%s: the date %.40q; expected one such as 2026-05-14, or none", what, d.Date)
	}
	if d.Format != "yaml" && d.Format != "json" {
		r.failf("%s: the format %.40q; expected yaml or json", what, d.Format)
	}
	if len(d.Photos) > archive.MostPhotos {
		r.failf("%s has %d photos, at most %d are taken", what, len(d.Photos), archive.MostPhotos)
	}
	for _, p := range d.Photos {
		out.Photos = append(out.Photos, archive.Photo{Name: p.Name, Content: r.hash("photo "+p.Name, p.SHA256), Bytes: p.Bytes,
			Width: p.Width, Height: p.Height, Added: r.stamp("photo "+p.Name, p.Added)})
		if p.File != folder(out)+p.Name || !archive.SafePath(p.Name) || len(p.Name) > archive.LongestName {
			r.failf("the photo %.80q of %s lies at %.120q; expected its own name behind %s", p.Name, what, p.File, folder(out))
		}
	}
	if d.Job.File != jobFile(out) {
		r.failf("the job of %s lies at %.120q; expected %s", what, d.Job.File, jobFile(out))
	}
	return out
}

func (r *reader) change(site archive.ID, d change) archive.Change {
	what := fmt.Sprintf("change %d", d.Number)
	out := archive.Change{Number: d.Number, Stamp: r.stamp(what, d.Stamp), Deed: archive.Deed(d.Deed), Site: site,
		Revision: archive.Revision(d.Revision), Before: r.maybe(what, d.Before), After: r.maybe(what, d.After), Words: d.Words}
	if d.Visit != "" {
		out.Visit = r.id(what, d.Visit)
	}
	r.revision(what, d.Revision)
	switch out.Deed {
	case archive.Made, archive.Altered, archive.Removed, archive.Recovered, archive.PhotoIn, archive.PhotoOut:
	default:
		r.failf("%s did %.40q, which is nothing that a change does", what, d.Deed)
	}
	for _, f := range d.Fields {
		out.Fields = append(out.Fields, archive.Field{Pointer: f.Pointer, Before: f.Before, After: f.After})
	}
	return out
}
