package web

import (
	"errors"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"time"

	"undersod/core/unit"
	"undersod/internal/archive"
	"undersod/internal/web/pages"
)

// listPages are the lists over all sites.
func (s *Server) listPages() []route {
	return []route{
		show("/sites", staff, s.sitesPage, "words", "near", "within", "deleted", "skip"),
		show("/due", staff, s.duePage, "until"),
		show("/audit", offices, s.auditPage, "before"),
	}
}

// today is the day that due dates are held against.
func (s *Server) today() string { return s.Now().UTC().Format(time.DateOnly) }

// perPage is how many sites or entries one page lists.
const perPage = 25

func (s *Server) sitesPage(w http.ResponseWriter, r *http.Request) error {
	a := askedBy(r)
	view := pages.Sites{Words: a.text("words"), Near: a.text("near"), Reaches: pages.Reaches(a.text("within")),
		Deleted: a.yes("deleted"), MayWrite: askerOf(r).is&crews != 0}
	q := archive.Query{Words: view.Words, Deleted: view.Deleted, Skip: int(a.whole("skip")), Most: perPage}
	within, there := a.number("within", 0, 40e6)
	if !there {
		within = 5000
	}
	if a.err != nil {
		return a.err
	}
	f := s.frame(r, "Sites")
	if view.Deleted {
		f.Title = "Removed sites"
	}
	var err error
	if view.Near != "" {
		q.Near, err = placeOf(view.Near, within)
	}
	var found archive.Found
	if err == nil {
		found, err = s.Records.Find(r.Context(), actorOf(r), q)
	}
	if err != nil {
		view.Empty = "Nothing was searched for."
		return s.again(w, "sites", f, view, err, [2]string{"place", "near"}, [2]string{"words", "words"})
	}
	view.Rows = pages.SiteRows(found.Sites, q.Near, s.today())
	view.Empty = emptyWords(q)
	if q.Skip > 0 {
		view.Earlier = "/sites?" + skipped(r.URL.Query(), max(0, q.Skip-perPage))
	}
	if found.More {
		view.Later = "/sites?" + skipped(r.URL.Query(), q.Skip+perPage)
	}
	return s.page(w, http.StatusOK, "sites", f, view)
}

func emptyWords(q archive.Query) string {
	switch {
	case q.Skip > 0:
		return "Nothing further in the list."
	case q.Near != nil:
		return "No site was found there. Try a wider circle, or fewer words."
	case q.Words != "":
		return "No site was found. Every word must occur as the start of one: try fewer, or shorter ones."
	case q.Deleted:
		return "No site was removed."
	}
	return "There are no sites yet. A site begins with the job file of its first visit."
}

// skipped is a search from another entry on.
func skipped(v url.Values, to int) string {
	v.Set("skip", strconv.Itoa(to))
	v.Del("done")
	return v.Encode()
}

// aPlace finds two numbers with the letters of their halves of the Earth.
var aPlace = regexp.MustCompile(`^\s*([NSns])?\s*([-+−]?\d{1,3}(?:\.\d+)?)\s*°?\s*([NSns])?\s*[,; ]\s*([EWew])?\s*([-+−]?\d{1,3}(?:\.\d+)?)\s*°?\s*([EWew])?\s*$`)

// placeOf reads a latitude and a longitude as people type and paste them.
func placeOf(text string, within float64) (*archive.Near, error) {
	m := aPlace.FindStringSubmatch(strings.TrimPrefix(text, "geo:"))
	if m == nil {
		return nil, errPlace
	}
	side := func(number, before, after, minus string) (float64, bool) {
		v, err := strconv.ParseFloat(strings.ReplaceAll(number, "−", "-"), 64)
		if strings.EqualFold(before+after, minus) {
			v = -v
		}
		return v, err == nil && (before == "" || after == "") && (before+after == "" || !strings.HasPrefix(number, "-"))
	}
	latitude, north := side(m[2], m[1], m[3], "S")
	longitude, east := side(m[5], m[4], m[6], "W")
	if !north || !east || latitude < -90 || latitude > 90 || longitude < -180 || longitude > 180 {
		return nil, errPlace
	}
	return &archive.Near{Latitude: unit.Angle(latitude) * unit.Degree, Longitude: unit.Angle(longitude) * unit.Degree, Within: unit.Length(within) * unit.Metre}, nil
}

var errPlace = refusal{"refused", http.StatusBadRequest, "The place to search near cannot be read.", "Write latitude, then longitude, in degrees: 41.0012, -72.3456 or 41.0012 N, 72.3456 W."}

// dueAhead is how many days ahead the list of what is due looks by itself.
const dueAhead = 90

func (s *Server) duePage(w http.ResponseWriter, r *http.Request) error {
	view := pages.Due{Until: askedBy(r).text("until")}
	if view.Until == "" {
		view.Until = s.Now().UTC().AddDate(0, 0, dueAhead).Format(time.DateOnly)
	}
	f := s.frame(r, "Due")
	sites, err := s.Records.Due(r.Context(), actorOf(r), view.Until, archive.MostListed)
	if err != nil {
		return s.again(w, "due", f, view, err, [2]string{"day", "until"})
	}
	view.Rows = pages.DueRows(sites, s.today())
	view.Caption = "The next look or pumping of each site, due by " + pages.Day(view.Until)
	return s.page(w, http.StatusOK, "due", f, view)
}

func (s *Server) auditPage(w http.ResponseWriter, r *http.Request) error {
	a := askedBy(r)
	before := a.whole("before")
	if a.err != nil {
		return a.err
	}
	list, err := s.People.Events(r.Context(), actorOf(r), before, perPage)
	if err != nil {
		return err
	}
	names, err := s.names(r)
	if err != nil {
		return err
	}
	view := pages.Audit{Rows: pages.EventRows(list, names)}
	if len(list) == perPage {
		view.Later = "/audit?before=" + strconv.FormatInt(list[len(list)-1].Number, 10)
	}
	return s.page(w, http.StatusOK, "audit", s.frame(r, "Audit list"), view)
}

// names tells who is who; a visitor is told nobody's name.
func (s *Server) names(r *http.Request) (pages.Names, error) {
	names, err := s.People.Names(r.Context(), actorOf(r))
	if errors.Is(err, archive.ErrDenied) || errors.Is(err, archive.ErrNotFound) {
		return pages.Names{}, nil
	}
	return names, err
}
