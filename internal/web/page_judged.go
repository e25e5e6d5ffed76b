package web

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"regexp"

	"undersod/core/site"
	"undersod/internal/answer"
	"undersod/internal/archive"
	"undersod/internal/web/pages"
)

// setbacksPage shows distances and the checklist.
func (s *Server) setbacksPage(w http.ResponseWriter, r *http.Request) error {
	v, j, err := s.jobOf(r)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(r.Context(), computePatience)
	defer cancel()
	distances, err := s.Answers.Setbacks(ctx, j)
	if err != nil {
		return err
	}
	list, err := s.Answers.Checklist(ctx, j)
	if err != nil {
		return err
	}
	f := s.frame(r, "Setbacks and checklist")
	f.Trail = s.visitTrail(r, v)
	return s.page(w, http.StatusOK, "setbacks", f, pages.SetbacksOf(v.ID, distances, list))
}

// fitPage tells where something fits: what is asked for in the form, or what
// the job proposes.
func (s *Server) fitPage(w http.ResponseWriter, r *http.Request) error {
	v, j, err := s.jobOf(r)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(r.Context(), computePatience)
	defer cancel()
	a := askedBy(r)
	view := pages.Fit{Visit: v.ID, Length: a.text("length"), Width: a.text("width"), Near: a.text("near")}
	kind := site.FeatureKind(a.text("kind"))
	if kind == "" {
		kind = site.Structure
	}
	view.Kinds = pages.Choices(site.ProposedKinds(), kind)
	view.Names = s.placeNames(ctx, j)
	f := s.frame(r, "Does something fit?")
	f.Trail = s.visitTrail(r, v)
	var proposed []byte
	if asks := view.Length+view.Width+view.Near != "" || a.text("kind") != ""; asks {
		if proposed, err = proposedOf(view, kind); err != nil {
			return err
		}
	}
	found, err := s.Answers.Fit(ctx, j, proposed)
	switch {
	case errors.Is(err, archive.ErrNotFound) && proposed == nil:
		view.Empty = "The job proposes nothing. Say above what shall stand there."
	case err != nil:
		return s.again(w, "fit", f, view, unplaced(err), [2]string{"near", "near"}, [2]string{"width", "width"}, [2]string{"length", "length"}, [2]string{"size", "length"})
	}
	view.Fits, view.NotAsked = pages.FitsOf(found), found.NotAsked
	return s.page(w, http.StatusOK, "fit", f, view)
}

// placeInFile is where in a file something is wrong, which says nothing to
// whoever filled in a form.
var placeInFile = regexp.MustCompile(`(?m)^what is proposed:\d+:\d+: `)

// unplaced leaves the places in the file out that the form was turned into.
func unplaced(err error) error {
	p := problemOf(err)
	if !errors.Is(err, archive.ErrRefused) {
		return err
	}
	return refusal{"refused", p.Status, sentence(placeInFile.ReplaceAllString(err.Error(), "")), "Lengths are written as 24, 24' 6\", or 7.5 m."}
}

// proposedOf writes what a form asks for as the job file would propose it.
func proposedOf(view pages.Fit, kind site.FeatureKind) ([]byte, error) {
	entry := map[string]any{"kind": string(kind)}
	if view.Length != "" || view.Width != "" {
		entry["size"] = view.Length + " x " + view.Width
	}
	if view.Near != "" {
		entry["near"] = view.Near
	}
	return json.Marshal(map[string]any{"New " + string(kind): entry})
}

// comparePage holds a visit against another of its site: the one asked for, or
// the one before it.
func (s *Server) comparePage(w http.ResponseWriter, r *http.Request) error {
	v, j, err := s.jobOf(r)
	if err != nil {
		return err
	}
	_, visits, err := s.Records.Site(r.Context(), actorOf(r), v.Site)
	if err != nil {
		return err
	}
	a := askedBy(r)
	a.actor, a.site = actorOf(r), v.Site
	before := archive.ID(a.text("before"))
	if before == "" {
		before = visitBefore(visits, v.ID)
		a.values.Set("before", string(before))
	}
	view := pages.Compare{Visit: v.ID, Date: pages.Day(v.Heading.Date), Others: pages.OtherVisits(visits, v.ID, before)}
	f := s.frame(r, "Two visits compared")
	f.Trail = s.visitTrail(r, v)
	if before == "" {
		view.Empty = "There is no other visit of this site to compare with."
		return s.page(w, http.StatusOK, "compare", f, view)
	}
	ctx, cancel := context.WithTimeout(r.Context(), computePatience)
	defer cancel()
	pair, err := s.pair(ctx, j, a)
	if err != nil {
		return err
	}
	found, err := s.Answers.Compare(ctx, pair)
	if err != nil {
		return s.again(w, "compare", f, view, err)
	}
	view.Fill(found)
	at := "/visits/" + string(v.ID) + "/compare."
	view.Plan, view.PDF = at+"svg?before="+string(before), at+"pdf?before="+string(before)
	return s.page(w, http.StatusOK, "compare", f, view)
}

// visitBefore is the newest visit behind one in the list, or else the newest
// other one; empty where there is none that stands.
func visitBefore(visits []archive.Visit, id archive.ID) archive.ID {
	var other archive.ID
	behind := false
	for _, v := range visits {
		switch {
		case v.ID == id:
			behind = true
		case v.Deleted != nil:
		case behind:
			return v.ID
		case other == "":
			other = v.ID
		}
	}
	return other
}

// placeNames lists what something can stand near, as far as it is known.
func (s *Server) placeNames(ctx context.Context, j answer.Job) []string {
	d, err := s.Answers.Setbacks(ctx, j)
	if err != nil {
		return nil
	}
	return pages.PlaceNames(d)
}
