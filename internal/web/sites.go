package web

import (
	"context"
	"errors"
	"net/http"
	"strings"

	"undersod/core/unit"
	"undersod/internal/archive"
)

type foundShape struct {
	Sites []siteShape `json:"sites"`
	More  bool        `json:"more"`
}

// findSites searches.
func (s *Server) findSites(w http.ResponseWriter, r *http.Request) error {
	q, err := queryOf(r)
	if err != nil {
		return err
	}
	found, err := s.Records.Find(r.Context(), actorOf(r), q)
	if err != nil {
		return err
	}
	out := foundShape{Sites: []siteShape{}, More: found.More}
	for _, f := range found.Sites {
		site := siteOf(f.Site)
		if q.Near != nil {
			d := f.Distance.Metres()
			site.Distance = &d
		}
		out.Sites = append(out.Sites, site)
	}
	return giveJSON(w, http.StatusOK, out)
}

// queryOf reads a search.
func queryOf(r *http.Request) (archive.Query, error) {
	a := askedBy(r)
	q := archive.Query{Words: a.text("words"), Deleted: a.yes("deleted"), Skip: int(a.whole("skip")), Most: int(a.whole("most"))}
	latitude, north := a.number("latitude", -90, 90)
	longitude, east := a.number("longitude", -180, 180)
	within, _ := a.number("within", 0, 40e6)
	switch {
	case a.err != nil:
		return q, a.err
	case len(q.Words) > archive.LongestSearch:
		return q, refusef(http.StatusBadRequest, "query", "Search for fewer words.", "The words to search for have more than %d bytes.", archive.LongestSearch)
	case north != east:
		return q, refusef(http.StatusBadRequest, "query", "Give both, as in latitude=44.5&longitude=-93.1.", "A place has a latitude and a longitude; one of them is missing.")
	case north:
		q.Near = &archive.Near{Latitude: unit.Angle(latitude) * unit.Degree, Longitude: unit.Angle(longitude) * unit.Degree, Within: unit.Length(within) * unit.Metre}
	}
	return q, nil
}

// dueSites lists what is due.
func (s *Server) dueSites(w http.ResponseWriter, r *http.Request) error {
	a := askedBy(r)
	until, most := a.text("until"), int(a.whole("most"))
	if a.err != nil {
		return a.err
	}
	sites, err := s.Records.Due(r.Context(), actorOf(r), until, most)
	if err != nil {
		return err
	}
	return giveJSON(w, http.StatusOK, foundShape{Sites: shapes(sites, siteOf)})
}

// site tells one site with its visits.
func (s *Server) site(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "site")
	if err != nil {
		return err
	}
	site, visits, err := s.Records.Site(r.Context(), actorOf(r), id)
	if err != nil {
		return err
	}
	out := siteOf(site)
	out.Visits = shapes(visits, visitOf)
	w.Header().Set("ETag", tag(site.Revision))
	return giveJSON(w, http.StatusOK, out)
}

func (s *Server) removeSite(w http.ResponseWriter, r *http.Request) error {
	return s.change(w, r, "site", func(ctx context.Context, write archive.Write, id archive.ID) (archive.Saved, error) {
		from, err := base(r)
		if err != nil {
			return archive.Saved{}, err
		}
		saved, err := s.Records.RemoveSite(ctx, write, id, from)
		return saved, s.withSiteRevision(r, id, err)
	})
}

func (s *Server) recoverSite(w http.ResponseWriter, r *http.Request) error {
	return s.change(w, r, "site", s.Records.RecoverSite)
}

// change carries out a change of what the path names, and answers with what
// came of it.
func (s *Server) change(w http.ResponseWriter, r *http.Request, name string, do func(context.Context, archive.Write, archive.ID) (archive.Saved, error)) error {
	id, err := idOf(r, name)
	if err != nil {
		return err
	}
	saved, err := do(r.Context(), writeOf(r), id)
	if err != nil {
		return err
	}
	return giveSaved(w, http.StatusOK, saved)
}

func giveSaved(w http.ResponseWriter, status int, saved archive.Saved) error {
	w.Header().Set("ETag", tag(saved.Revision))
	return giveJSON(w, status, savedShape(saved))
}

// withSiteRevision adds to an error of a change that came too late the revision
// that the site is at now.
func (s *Server) withSiteRevision(r *http.Request, id archive.ID, err error) error {
	if !errors.Is(err, archive.ErrStale) {
		return err
	}
	if site, _, readErr := s.Records.Site(r.Context(), actorOf(r), id); readErr == nil {
		return stale{err, site.Revision}
	}
	return err
}

type historyShape struct {
	Changes []changeShape `json:"changes"`
}

// changes tells the history of a site.
func (s *Server) changes(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "site")
	if err != nil {
		return err
	}
	a := askedBy(r)
	before, most := a.whole("before"), int(a.whole("most"))
	if a.err != nil {
		return a.err
	}
	list, err := s.Records.Changes(r.Context(), actorOf(r), id, before, most)
	if err != nil {
		return err
	}
	return giveJSON(w, http.StatusOK, historyShape{shapes(list, changeOf)})
}

// formats are the media types of job files. YAML's is that of RFC 9512.
func formats() map[string]string {
	return map[string]string{"application/yaml": "yaml", "application/json": "json"}
}

// typeOf is the media type of a format.
func typeOf(format string) string {
	for kind, f := range formats() {
		if f == format {
			return kind
		}
	}
	return "application/octet-stream"
}

// fileName makes a name for a download out of a heading: letters that every
// system takes, and never a path.
func fileName(h archive.Heading, ending string) string {
	words := strings.FieldsFunc(strings.ToLower(h.Name), func(c rune) bool { return (c < 'a' || c > 'z') && (c < '0' || c > '9') })
	name := strings.Join(words, "-")
	if name = name[:min(len(name), 60)]; name == "" {
		name = "site"
	}
	if h.Date != "" {
		name += "-" + h.Date
	}
	return name + ending
}
