package archivetest

import (
	"cmp"
	"errors"
	"maps"
	"slices"
	"strings"

	"undersod/internal/archive"
)

// model is the plainest archive there is: lists in the order of their puts,
// looked through from end to end. Its texts are of plain letters and blanks.
type model struct {
	sites    []archive.Site // what was put last at the end
	visits   map[archive.ID]archive.Visit
	changes  []archive.Change
	accounts map[archive.ID]archive.Account
	sessions map[archive.Hash]archive.Session
	shares   map[archive.ID]archive.Share
	events   []archive.Event
	answers  map[string]string
}

func newModel() *model {
	return &model{
		visits: map[archive.ID]archive.Visit{}, accounts: map[archive.ID]archive.Account{}, sessions: map[archive.Hash]archive.Session{},
		shares: map[archive.ID]archive.Share{}, answers: map[string]string{},
	}
}

func (m *model) clone() *model {
	return &model{
		sites: slices.Clone(m.sites), visits: maps.Clone(m.visits), changes: slices.Clone(m.changes), accounts: maps.Clone(m.accounts),
		sessions: maps.Clone(m.sessions), shares: maps.Clone(m.shares), events: slices.Clone(m.events), answers: maps.Clone(m.answers),
	}
}

func (m *model) putSite(s archive.Site) {
	m.sites = append(slices.DeleteFunc(m.sites, func(o archive.Site) bool { return o.ID == s.ID }), s)
}

func (m *model) putAccount(a archive.Account) error {
	for _, o := range m.accounts {
		if o.Login == a.Login && o.ID != a.ID {
			return archive.ErrExists
		}
	}
	m.accounts[a.ID] = a
	return nil
}

func (m *model) putAnswer(key, answer string) error {
	if _, there := m.answers[key]; there {
		return archive.ErrExists
	}
	m.answers[key] = answer
	return nil
}

// matches reports whether each word of a search starts a word of a site.
func matches(s archive.Site, words string) bool {
	has := strings.Fields(strings.ToLower(s.Heading.Searched()))
	for _, w := range strings.Fields(strings.ToLower(words)) {
		if !slices.ContainsFunc(has, func(h string) bool { return strings.HasPrefix(h, w) }) {
			return false
		}
	}
	return true
}

func (m *model) find(q archive.Query) archive.Found {
	var all []archive.FoundSite
	for _, s := range slices.Backward(m.sites) {
		f := archive.FoundSite{Site: s}
		if (s.Deleted != nil) != q.Deleted || !matches(s, q.Words) {
			continue
		}
		if q.Near != nil {
			if s.Heading.Latitude == nil {
				continue
			}
			f.Distance = q.Near.Distance(*s.Heading.Latitude, *s.Heading.Longitude)
			if f.Distance > q.Near.Within {
				continue
			}
		}
		all = append(all, f)
	}
	if q.Near != nil {
		slices.SortFunc(all, func(a, b archive.FoundSite) int {
			return cmp.Or(cmp.Compare(a.Distance, b.Distance), cmp.Compare(a.ID, b.ID))
		})
	}
	all = all[min(q.Skip, len(all)):]
	return archive.Found{Sites: all[:min(q.Most, len(all))], More: len(all) > q.Most}
}

func (m *model) due(until string, most int) []archive.Site {
	var out []archive.Site
	for _, s := range m.sites {
		if s.Deleted == nil && s.Heading.NextLook != "" && s.Heading.NextLook <= until {
			out = append(out, s)
		}
	}
	slices.SortFunc(out, func(a, b archive.Site) int {
		return cmp.Or(strings.Compare(a.Heading.NextLook, b.Heading.NextLook), cmp.Compare(a.ID, b.ID))
	})
	return out[:min(most, len(out))]
}

// newest returns the last of a list that pass, the newest first.
func newest[T any](list []T, most int, pass func(T) bool) []T {
	var out []T
	for _, v := range slices.Backward(list) {
		if pass(v) && len(out) < most {
			out = append(out, v)
		}
	}
	return out
}

func (m *model) visitsOf(site archive.ID) []archive.Visit {
	out := slices.Collect(maps.Values(m.visits))
	out = slices.DeleteFunc(out, func(v archive.Visit) bool { return v.Site != site })
	slices.SortFunc(out, func(a, b archive.Visit) int {
		return cmp.Or(strings.Compare(b.Heading.Date, a.Heading.Date), b.Created.At.Compare(a.Created.At), cmp.Compare(a.ID, b.ID))
	})
	return out
}

func (m *model) contents() []archive.Hash {
	var out []archive.Hash
	for _, v := range m.visits {
		out = append(out, v.Job)
		for _, p := range v.Photos {
			out = append(out, p.Content, p.Thumbnail)
		}
	}
	for _, c := range m.changes {
		out = append(out, c.Before, c.After)
	}
	slices.Sort(out)
	return slices.DeleteFunc(slices.Compact(out), func(h archive.Hash) bool { return h == "" })
}

func (m *model) counts() archive.Counts {
	c := archive.Counts{Sites: int64(len(m.sites)), Visits: int64(len(m.visits)), Changes: int64(len(m.changes))}
	for _, v := range m.visits {
		c.Photos += int64(len(v.Photos))
	}
	return c
}

// agree reports whether a store and the model came to the same error.
func agree(got, want error) error {
	if (want == nil) != (got == nil) || want != nil && !errors.Is(got, want) {
		return errors.Join(errors.New("the store and the model differ"), got, want)
	}
	return nil
}
