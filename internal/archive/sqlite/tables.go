package sqlite

import (
	"slices"
	"strings"
	"time"

	"undersod/internal/archive"
)

// The rows that hold more than the things themselves.
type (
	siteRow struct {
		archive.Site
		put     int64
		foundBy string // its words, as indexed makes them
	}
	visitRow struct {
		archive.Visit
		photos int64
	}
	photoRow struct {
		archive.Photo
		visit archive.ID
		place int64
	}
	answerRow struct {
		key    string
		at     time.Time
		answer []byte
	}
)

func names(list string) []string { return strings.Fields(list) }

const (
	stampNames   = " created_at created_by changed_at changed_by "
	deletedNames = " deleted_at deleted_by "
	headingNames = " name address county owner parcel permit authority date measurer latitude longitude fill mistakes acts next_look next_what words "
)

var sites = newTable("sites", "id", names("put found_by id revision"+stampNames+deletedNames+headingNames), func(s *siteRow) []field {
	return slices.Concat([]field{whole(&s.put), text(&s.foundBy), text(&s.ID), whole(&s.Revision)},
		stamp(&s.Created), stamp(&s.Changed), stampOrNone(&s.Deleted), heading(&s.Heading))
})

var visits = newTable("visits", "id", names("id site revision"+stampNames+deletedNames+"job format"+headingNames+"photos"), func(v *visitRow) []field {
	return slices.Concat([]field{text(&v.ID), text(&v.Site), whole(&v.Revision)},
		stamp(&v.Created), stamp(&v.Changed), stampOrNone(&v.Deleted), []field{text(&v.Job), text(&v.Format)},
		heading(&v.Heading), []field{whole(&v.photos)})
})

var photos = newTable("photos", "visit, place", names("visit place name content thumbnail bytes width height added_at added_by"), func(p *photoRow) []field {
	return append([]field{text(&p.visit), whole(&p.place), text(&p.Name), text(&p.Content), text(&p.Thumbnail),
		whole(&p.Bytes), whole(&p.Width), whole(&p.Height)}, stamp(&p.Added)...)
})

var changes = newTable("changes", "number", names("number at by deed site visit revision before after fields words"), func(c *archive.Change) []field {
	return slices.Concat([]field{whole(&c.Number)}, stamp(&c.Stamp),
		[]field{text(&c.Deed), text(&c.Site), text(&c.Visit), whole(&c.Revision), text(&c.Before), text(&c.After), entries(&c.Fields), text(&c.Words)})
})

var accounts = newTable("accounts", "id", names("id login name role password disabled"+stampNames), func(a *archive.Account) []field {
	return slices.Concat([]field{text(&a.ID), text(&a.Login), text(&a.Name), text(&a.Role), text(&a.Password), flag(&a.Disabled)},
		stamp(&a.Created), stamp(&a.Changed))
})

var sessions = newTable("sessions", "token", names("token account created seen expires agent"), func(s *archive.Session) []field {
	return []field{text(&s.Token), text(&s.Account), moment(&s.Created), moment(&s.Seen), moment(&s.Expires), text(&s.Agent)}
})

var shares = newTable("shares", "id", names("id token site label created_at created_by expires revoked_at revoked_by"), func(s *archive.Share) []field {
	return slices.Concat([]field{text(&s.ID), text(&s.Token), text(&s.Site), text(&s.Label)}, stamp(&s.Created),
		[]field{moment(&s.Expires)}, stampOrNone(&s.Revoked))
})

var events = newTable("events", "number", names("number at by what about"), func(e *archive.Event) []field {
	return slices.Concat([]field{whole(&e.Number)}, stamp(&e.Stamp), []field{text(&e.What), text(&e.About)})
})

var answers = newTable("answers", "key", names("key at answer"), func(a *answerRow) []field {
	return []field{text(&a.key), moment(&a.at), content(&a.answer)}
})
