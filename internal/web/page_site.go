package web

import (
	"context"
	"net/http"
	"strconv"

	"undersod/internal/archive"
	"undersod/internal/web/pages"
)

// sitePages are the pages of one site.
func (s *Server) sitePages() []route {
	return []route{
		show("/sites/{site}", viewers, s.sitePage),
		show("/sites/{site}/history", staff, s.historyPage, "before"),
		post("/sites/{site}/remove", crews, s.removeSiteForm),
		post("/sites/{site}/recover", crews, s.recoverSiteForm),
		show("/sites/{site}/shares", offices, s.sharesPage),
		post("/sites/{site}/shares", offices, s.shareForm),
		post("/shares/{share}/revoke", offices, s.revokeForm),
		show("/visits/{visit}", viewers, s.visitPage),
	}
}

// sitePage shows a site with the newest visit that stands.
func (s *Server) sitePage(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "site")
	if err != nil {
		return err
	}
	site, visits, err := s.Records.Site(r.Context(), actorOf(r), id)
	if err != nil {
		return err
	}
	for _, v := range visits {
		if v.Deleted == nil {
			return s.siteWith(w, r, site, visits, &v)
		}
	}
	return s.siteWith(w, r, site, visits, nil)
}

// visitPage shows a site with one of its visits.
func (s *Server) visitPage(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "visit")
	if err != nil {
		return err
	}
	v, err := s.Records.Visit(r.Context(), actorOf(r), id)
	if err != nil {
		return err
	}
	site, visits, err := s.Records.Site(r.Context(), actorOf(r), v.Site)
	if err != nil {
		return err
	}
	return s.siteWith(w, r, site, visits, &v)
}

func (s *Server) siteWith(w http.ResponseWriter, r *http.Request, site archive.Site, visits []archive.Visit, v *archive.Visit) error {
	names, err := s.names(r)
	if err != nil {
		return err
	}
	var here archive.ID
	if v != nil {
		here = v.ID
	}
	view := pages.SiteOf(site, visits, here, names)
	is := askerOf(r).is
	view.MayWrite = is&crews != 0
	view.MayChange = view.MayWrite && site.Deleted == nil && (v == nil || v.Deleted == nil)
	if v != nil {
		view.Visit = pages.VisitOf(*v, names, s.newKey)
		if err := s.judge(r, view.Visit); err != nil {
			return err
		}
	}
	view.Tools = siteTools(is, site, v)
	if v != nil && visitBefore(visits, v.ID) != "" {
		view.Pairs = "/visits/" + string(v.ID) + "/compare"
	}
	if s.Carrier != nil && is&staff != 0 {
		view.Bundle = "/sites/" + string(site.ID) + "/bundle.zip"
	}
	f := s.frame(r, pages.Name(site.Heading))
	f.Trail = trailTo(is)
	return s.page(w, http.StatusOK, "site", f, view)
}

// judge fills in what is computed of a visit. Where it cannot be, the page says
// why and shows the rest.
func (s *Server) judge(r *http.Request, view *pages.Visit) error {
	ctx, cancel := context.WithTimeout(r.Context(), computePatience)
	defer cancel()
	v, text, err := s.Records.Job(ctx, actorOf(r), view.ID)
	if err != nil {
		return err
	}
	j := s.answerJob(ctx, actorOf(r), v, text)
	answer, err := s.Answers.Check(ctx, j)
	if err != nil {
		head, _ := told(err)
		view.Trouble = head.Words
		return nil
	}
	lids, err := s.Answers.Lids(ctx, j)
	if err != nil {
		lids = nil // the page is of use without them
	}
	view.Judge(answer, lids)
	return nil
}

// trailTo is the way back to the lists, for whoever has lists.
func trailTo(is who, more ...pages.Link) []pages.Link {
	if is&staff == 0 {
		return more
	}
	return append([]pages.Link{{To: "/sites", Words: "Sites"}}, more...)
}

// siteTools lists what else may be looked at and done.
func siteTools(is who, site archive.Site, v *archive.Visit) []pages.Link {
	var out []pages.Link
	add := func(may who, to, words string) {
		if is&may != 0 {
			out = append(out, pages.Link{To: to, Words: words})
		}
	}
	if v != nil {
		at := "/visits/" + string(v.ID)
		add(viewers, at+"/setbacks", "Setbacks and checklist")
		add(viewers, at+"/fit", "Does something fit?")
		if is&crews != 0 && site.Deleted == nil && v.Deleted == nil {
			add(crews, at+"/job", "Edit the job file")
		} else {
			add(viewers, at+"/job", "Job file")
		}
	}
	at := "/sites/" + string(site.ID)
	if site.Deleted == nil {
		add(crews, "/visits/new?site="+string(site.ID), "Add a visit")
		add(offices, at+"/shares", "Share links")
	}
	add(staff, at+"/history", "History")
	return out
}

func (s *Server) historyPage(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "site")
	if err != nil {
		return err
	}
	a := askedBy(r)
	before := a.whole("before")
	if a.err != nil {
		return a.err
	}
	site, visits, err := s.Records.Site(r.Context(), actorOf(r), id)
	if err != nil {
		return err
	}
	list, err := s.Records.Changes(r.Context(), actorOf(r), id, before, perPage)
	if err != nil {
		return err
	}
	names, err := s.names(r)
	if err != nil {
		return err
	}
	dates := map[archive.ID]string{}
	for _, v := range visits {
		dates[v.ID] = v.Heading.Date
	}
	view := pages.History{Rows: pages.ChangeRows(list, dates, names)}
	if len(list) == perPage {
		view.Later = "/sites/" + string(id) + "/history?before=" + strconv.FormatInt(list[len(list)-1].Number, 10)
	}
	f := s.frame(r, "History")
	f.Trail = trailTo(askerOf(r).is, siteLink(site))
	return s.page(w, http.StatusOK, "history", f, view)
}

func siteLink(site archive.Site) pages.Link {
	return pages.Link{To: "/sites/" + string(site.ID), Words: pages.Name(site.Heading)}
}

// revisionOf reads the revision that a form starts from.
func revisionOf(text string) (archive.Revision, error) {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n < 0 {
		return 0, refusef(http.StatusBadRequest, "refused", "Load the page anew.", "The form does not say what it starts from.")
	}
	return archive.Revision(n), nil
}

func (s *Server) removeSiteForm(w http.ResponseWriter, r *http.Request) error {
	return s.changeForm(w, r, "site", "removed", s.Records.RemoveSite)
}

func (s *Server) recoverSiteForm(w http.ResponseWriter, r *http.Request) error {
	return s.changeForm(w, r, "site", "recovered", ignoring(s.Records.RecoverSite))
}

// changes of a whole site or visit.
type change func(context.Context, archive.Write, archive.ID, archive.Revision) (archive.Saved, error)

// ignoring is a change that starts from no revision.
func ignoring(f func(context.Context, archive.Write, archive.ID) (archive.Saved, error)) change {
	return func(ctx context.Context, w archive.Write, id archive.ID, _ archive.Revision) (archive.Saved, error) {
		return f(ctx, w, id)
	}
}

// changeForm carries out a change of what the path names, and shows its site.
func (s *Server) changeForm(w http.ResponseWriter, r *http.Request, name, done string, do change) error {
	id, err := idOf(r, name)
	if err != nil {
		return err
	}
	form, err := readForm(r)
	if err != nil {
		return err
	}
	from := archive.Revision(0)
	if form.Has("revision") {
		if from, err = revisionOf(form.Get("revision")); err != nil {
			return err
		}
	}
	saved, err := do(r.Context(), s.writing(r, form), id, from)
	if err != nil {
		return err
	}
	return doneAt(w, r, "/"+name+"s/"+string(id), tellDone(saved, done))
}

// tellDone tells what was done, or that nothing was to do.
func tellDone(saved archive.Saved, done string) string {
	if saved.Change == 0 {
		return "same"
	}
	return done
}
