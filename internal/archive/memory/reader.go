package memory

import (
	"bytes"
	"cmp"
	"maps"
	"slices"
	"strings"

	"undersod/internal/archive"
)

// reader reads one state.
type reader struct{ *state }

// one returns a copy of a row.
func one[K comparable, V any](t table[K, V], k K, copied func(V) V) (V, error) {
	v, ok := t.rows[k]
	if !ok {
		return v, archive.ErrNotFound
	}
	return copied(v), nil
}

// some returns copies of the rows that are wanted, sorted.
func some[K comparable, V any](t table[K, V], wanted func(V) bool, order func(a, b V) int, copied func(V) V) []V {
	var out []V
	for _, v := range t.rows {
		if wanted(v) {
			out = append(out, copied(v))
		}
	}
	slices.SortFunc(out, order)
	return out
}

func limit(most int) int {
	if most <= 0 {
		return archive.DefaultMost
	}
	return most
}

func (r reader) Site(id archive.ID) (archive.Site, error) {
	row, ok := r.sites.rows[id]
	if !ok {
		return archive.Site{}, archive.ErrNotFound
	}
	return copySite(row.site), nil
}

func (r reader) Visit(id archive.ID) (archive.Visit, error) { return one(r.visits, id, copyVisit) }

func (r reader) Visits(site archive.ID) ([]archive.Visit, error) {
	return some(r.visits, func(v archive.Visit) bool { return v.Site == site }, func(a, b archive.Visit) int {
		return cmp.Or(cmp.Compare(b.Heading.Date, a.Heading.Date), b.Created.At.Compare(a.Created.At), cmp.Compare(a.ID, b.ID))
	}, copyVisit), nil
}

func (r reader) Changes(site archive.ID, before int64, most int) ([]archive.Change, error) {
	var out []archive.Change
	for i := len(r.changes) - 1; i >= 0 && len(out) < limit(most); i-- {
		if c := r.changes[i]; c.Site == site && (before <= 0 || c.Number < before) {
			out = append(out, copyChange(c))
		}
	}
	return out, nil
}

func (r reader) Since(number int64, most int) ([]archive.Change, error) {
	var out []archive.Change
	for i := max(0, number); i < int64(len(r.changes)) && len(out) < limit(most); i++ {
		out = append(out, copyChange(r.changes[i]))
	}
	return out, nil
}

func (r reader) Due(until string, most int) ([]archive.Site, error) {
	var out []archive.Site
	for _, row := range r.sites.rows {
		next := row.site.Heading.NextLook
		if row.site.Deleted == nil && next != "" && (until == "" || next <= until) {
			out = append(out, copySite(row.site))
		}
	}
	slices.SortFunc(out, func(a, b archive.Site) int {
		return cmp.Or(cmp.Compare(a.Heading.NextLook, b.Heading.NextLook), cmp.Compare(a.ID, b.ID))
	})
	return out[:min(len(out), limit(most))], nil
}

func (r reader) Account(id archive.ID) (archive.Account, error) {
	return one(r.accounts, id, copyAccount)
}

func (r reader) AccountByLogin(login string) (archive.Account, error) {
	for _, a := range r.accounts.rows {
		if a.Login == login {
			return copyAccount(a), nil
		}
	}
	return archive.Account{}, archive.ErrNotFound
}

func (r reader) Accounts() ([]archive.Account, error) {
	return some(r.accounts, func(archive.Account) bool { return true }, func(a, b archive.Account) int {
		return strings.Compare(a.Login, b.Login)
	}, copyAccount), nil
}

func (r reader) Session(token archive.Hash) (archive.Session, error) {
	return one(r.sessions, token, copySession)
}

func (r reader) Sessions(account archive.ID) ([]archive.Session, error) {
	return some(r.sessions, func(s archive.Session) bool { return s.Account == account }, func(a, b archive.Session) int {
		return cmp.Or(b.Created.Compare(a.Created), cmp.Compare(a.Token, b.Token))
	}, copySession), nil
}

func (r reader) Share(id archive.ID) (archive.Share, error) { return one(r.shares, id, copyShare) }

func (r reader) ShareByToken(token archive.Hash) (archive.Share, error) {
	for _, s := range r.shares.rows {
		if s.Token == token {
			return copyShare(s), nil
		}
	}
	return archive.Share{}, archive.ErrNotFound
}

func (r reader) Shares(site archive.ID) ([]archive.Share, error) {
	return some(r.shares, func(s archive.Share) bool { return site == "" || s.Site == site }, func(a, b archive.Share) int {
		return cmp.Or(b.Created.At.Compare(a.Created.At), cmp.Compare(a.ID, b.ID))
	}, copyShare), nil
}

func (r reader) Events(before int64, most int) ([]archive.Event, error) {
	var out []archive.Event
	for i := len(r.events) - 1; i >= 0 && len(out) < limit(most); i-- {
		if before <= 0 || r.events[i].Number < before {
			out = append(out, r.events[i])
		}
	}
	return out, nil
}

func (r reader) Answered(key string) ([]byte, error) {
	a, ok := r.answers.rows[key]
	if !ok {
		return nil, archive.ErrNotFound
	}
	return bytes.Clone(a.text), nil
}

func (r reader) Contents() ([]archive.Hash, error) {
	all := map[archive.Hash]bool{}
	for _, v := range r.visits.rows {
		all[v.Job] = true
		for _, p := range v.Photos {
			all[p.Content], all[p.Thumbnail] = true, true
		}
	}
	for _, c := range r.changes {
		all[c.Before], all[c.After] = true, true
	}
	delete(all, "")
	return slices.Sorted(maps.Keys(all)), nil
}

func (r reader) Counts() (archive.Counts, error) {
	c := archive.Counts{Sites: int64(len(r.sites.rows)), Visits: int64(len(r.visits.rows)), Changes: int64(len(r.changes))}
	for _, v := range r.visits.rows {
		c.Photos += int64(len(v.Photos))
	}
	return c, nil
}
