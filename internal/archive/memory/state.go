package memory

import (
	"maps"
	"time"

	"undersod/internal/archive"
)

// table is a map that is copied before its first change since begin.
type table[K comparable, V any] struct {
	rows map[K]V
	own  bool
}

func (t *table[K, V]) unshare() {
	if !t.own {
		t.rows, t.own = maps.Clone(t.rows), true
		if t.rows == nil {
			t.rows = map[K]V{}
		}
	}
}

func (t *table[K, V]) put(k K, v V) {
	t.unshare()
	t.rows[k] = v
}

func (t *table[K, V]) drop(gone func(K, V) bool) {
	t.unshare()
	maps.DeleteFunc(t.rows, gone)
}

// siteRow is a site with what it is found by.
type siteRow struct {
	site  archive.Site
	put   int64 // rises with every put
	index []string
}

type answer struct {
	at   time.Time
	text []byte
}

// state is everything at one moment. Slices only ever grow at their end, past
// what an older state sees of them.
type state struct {
	puts     int64
	sites    table[archive.ID, siteRow]
	visits   table[archive.ID, archive.Visit]
	changes  []archive.Change
	accounts table[archive.ID, archive.Account]
	sessions table[archive.Hash, archive.Session]
	shares   table[archive.ID, archive.Share]
	events   []archive.Event
	answers  table[string, answer]
}

func empty() *state { return &state{} }

// begin returns a state that shares everything until it is changed.
func (s *state) begin() *state {
	next := *s
	next.sites.own, next.visits.own, next.accounts.own = false, false, false
	next.sessions.own, next.shares.own, next.answers.own = false, false, false
	return &next
}

// moment brings a time to what is kept of it.
func moment(t time.Time) time.Time { return time.UnixMilli(t.UnixMilli()).UTC() }

func stamp(s archive.Stamp) archive.Stamp { return archive.Stamp{At: moment(s.At), By: s.By} }

func stampOrNil(s *archive.Stamp) *archive.Stamp {
	if s == nil {
		return nil
	}
	c := stamp(*s)
	return &c
}

// The copies below keep what is inside apart from what is outside.

func copySite(s archive.Site) archive.Site {
	s.Created, s.Changed, s.Deleted = stamp(s.Created), stamp(s.Changed), stampOrNil(s.Deleted)
	s.Heading = copyHeading(s.Heading)
	return s
}

func copyHeading(h archive.Heading) archive.Heading {
	if h.Latitude != nil {
		v := *h.Latitude
		h.Latitude = &v
	}
	if h.Longitude != nil {
		v := *h.Longitude
		h.Longitude = &v
	}
	return h
}

func copyVisit(v archive.Visit) archive.Visit {
	v.Created, v.Changed, v.Deleted = stamp(v.Created), stamp(v.Changed), stampOrNil(v.Deleted)
	v.Heading = copyHeading(v.Heading)
	v.Photos = append([]archive.Photo(nil), v.Photos...)
	for i := range v.Photos {
		v.Photos[i].Added = stamp(v.Photos[i].Added)
	}
	return v
}

func copyChange(c archive.Change) archive.Change {
	c.Stamp = stamp(c.Stamp)
	c.Fields = append([]archive.Field(nil), c.Fields...)
	return c
}

func copyAccount(a archive.Account) archive.Account {
	a.Created, a.Changed = stamp(a.Created), stamp(a.Changed)
	return a
}

func copySession(s archive.Session) archive.Session {
	s.Created, s.Seen, s.Expires = moment(s.Created), moment(s.Seen), moment(s.Expires)
	return s
}

func copyShare(s archive.Share) archive.Share {
	s.Created, s.Expires, s.Revoked = stamp(s.Created), moment(s.Expires), stampOrNil(s.Revoked)
	return s
}

func copyEvent(e archive.Event) archive.Event {
	e.Stamp = stamp(e.Stamp)
	return e
}
