package web

import (
	"time"

	"undersod/internal/archive"
)

// The shapes in which the interface tells what the archive keeps. They are
// apart from the archive's own types, so that a change there does not change
// what programs out there read.

type stampShape struct {
	At string     `json:"at"` // RFC 3339, UTC
	By archive.ID `json:"by,omitempty"`
}

func stampOf(s archive.Stamp) stampShape { return stampShape{instant(s.At), s.By} }

func stampIf(s *archive.Stamp) *stampShape {
	if s == nil {
		return nil
	}
	out := stampOf(*s)
	return &out
}

func instant(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05.000Z") }

type headingShape struct {
	Name      string   `json:"name"`
	Address   string   `json:"address"`
	County    string   `json:"county"`
	Owner     string   `json:"owner"`
	Parcel    string   `json:"parcel"`
	Permit    string   `json:"permit"`
	Authority string   `json:"authority"`
	Date      string   `json:"date"`
	By        string   `json:"by"`
	Latitude  *float64 `json:"latitude_deg,omitempty"`
	Longitude *float64 `json:"longitude_deg,omitempty"`
	Fill      string   `json:"fill"`
	Mistakes  int      `json:"mistakes"`
	Acts      int      `json:"acts"`
	NextLook  string   `json:"next_look"`
	NextWhat  string   `json:"next_what"`
}

func headingOf(h archive.Heading) headingShape {
	out := headingShape{
		Name: h.Name, Address: h.Address, County: h.County, Owner: h.Owner, Parcel: h.Parcel, Permit: h.Permit, Authority: h.Authority,
		Date: h.Date, By: h.By, Fill: h.Fill, Mistakes: h.Mistakes, Acts: h.Acts, NextLook: h.NextLook, NextWhat: h.NextWhat,
	}
	if h.Latitude != nil && h.Longitude != nil {
		la, lo := h.Latitude.Degrees(), h.Longitude.Degrees()
		out.Latitude, out.Longitude = &la, &lo
	}
	return out
}

type siteShape struct {
	ID       archive.ID       `json:"id"`
	Revision archive.Revision `json:"revision"`
	Created  stampShape       `json:"created"`
	Changed  stampShape       `json:"changed"`
	Deleted  *stampShape      `json:"deleted,omitempty"`
	Heading  headingShape     `json:"heading"` // of its newest visit
	Distance *float64         `json:"distance_m,omitempty"`
	Visits   []visitShape     `json:"visits,omitempty"`
}

func siteOf(s archive.Site) siteShape {
	return siteShape{ID: s.ID, Revision: s.Revision, Created: stampOf(s.Created), Changed: stampOf(s.Changed),
		Deleted: stampIf(s.Deleted), Heading: headingOf(s.Heading)}
}

type visitShape struct {
	ID       archive.ID       `json:"id"`
	Site     archive.ID       `json:"site"`
	Revision archive.Revision `json:"revision"`
	Created  stampShape       `json:"created"`
	Changed  stampShape       `json:"changed"`
	Deleted  *stampShape      `json:"deleted,omitempty"`
	Job      archive.Hash     `json:"job_sha256"`
	Format   string           `json:"format"`
	Heading  headingShape     `json:"heading"`
	Photos   []photoShape     `json:"photos"`
}

type photoShape struct {
	Name    string       `json:"name"`
	Content archive.Hash `json:"sha256"`
	Bytes   int64        `json:"bytes"`
	Width   int          `json:"width_dots"`
	Height  int          `json:"height_dots"`
	Added   stampShape   `json:"added"`
}

func visitOf(v archive.Visit) visitShape {
	return visitShape{ID: v.ID, Site: v.Site, Revision: v.Revision, Created: stampOf(v.Created), Changed: stampOf(v.Changed),
		Deleted: stampIf(v.Deleted), Job: v.Job, Format: v.Format, Heading: headingOf(v.Heading), Photos: photosOf(v.Photos)}
}

func photosOf(list []archive.Photo) []photoShape {
	out := make([]photoShape, 0, len(list))
	for _, p := range list {
		out = append(out, photoShape{p.Name, p.Content, p.Bytes, p.Width, p.Height, stampOf(p.Added)})
	}
	return out
}

type savedShape struct {
	Site     archive.ID       `json:"site"`
	Visit    archive.ID       `json:"visit,omitempty"`
	Revision archive.Revision `json:"revision"`
	Change   int64            `json:"change"` // 0 where nothing changed
}

type changeShape struct {
	Number   int64            `json:"number"`
	Stamp    stampShape       `json:"stamp"`
	Deed     archive.Deed     `json:"deed"`
	Site     archive.ID       `json:"site"`
	Visit    archive.ID       `json:"visit,omitempty"`
	Revision archive.Revision `json:"revision"`
	Before   archive.Hash     `json:"before_sha256,omitempty"`
	After    archive.Hash     `json:"after_sha256,omitempty"`
	Fields   []fieldShape     `json:"fields"`
	Words    string           `json:"words"`
}

type fieldShape struct {
	Pointer string `json:"pointer"`
	Before  string `json:"before,omitempty"` // JSON
	After   string `json:"after,omitempty"`  // JSON
}

func changeOf(c archive.Change) changeShape {
	fields := make([]fieldShape, 0, len(c.Fields))
	for _, f := range c.Fields {
		fields = append(fields, fieldShape(f))
	}
	return changeShape{c.Number, stampOf(c.Stamp), c.Deed, c.Site, c.Visit, c.Revision, c.Before, c.After, fields, c.Words}
}

type accountShape struct {
	ID       archive.ID   `json:"id"`
	Login    string       `json:"login"`
	Name     string       `json:"name"`
	Role     archive.Role `json:"role"`
	Disabled bool         `json:"disabled"`
	Created  stampShape   `json:"created"`
	Changed  stampShape   `json:"changed"`
}

// accountOf leaves the password's hash behind.
func accountOf(a archive.Account) accountShape {
	return accountShape{a.ID, a.Login, a.Name, a.Role, a.Disabled, stampOf(a.Created), stampOf(a.Changed)}
}

type shareShape struct {
	ID      archive.ID  `json:"id"`
	Site    archive.ID  `json:"site"`
	Label   string      `json:"label"`
	Created stampShape  `json:"created"`
	Expires string      `json:"expires"`
	Revoked *stampShape `json:"revoked,omitempty"`
	Token   string      `json:"token,omitempty"` // once, when it is made
}

// shareOf leaves the token's hash behind.
func shareOf(s archive.Share) shareShape {
	return shareShape{ID: s.ID, Site: s.Site, Label: s.Label, Created: stampOf(s.Created), Expires: instant(s.Expires), Revoked: stampIf(s.Revoked)}
}

type eventShape struct {
	Number int64      `json:"number"`
	Stamp  stampShape `json:"stamp"`
	What   string     `json:"what"`
	About  string     `json:"about"`
}

// shapes turns a list; an empty one is a list too.
func shapes[T, S any](list []T, shape func(T) S) []S {
	out := make([]S, 0, len(list))
	for _, v := range list {
		out = append(out, shape(v))
	}
	return out
}
