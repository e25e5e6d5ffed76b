package web

import (
	"context"
	"errors"
	"net/http"

	"undersod/internal/archive"
)

// visit tells one visit.
func (s *Server) visit(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "visit")
	if err != nil {
		return err
	}
	v, err := s.Records.Visit(r.Context(), actorOf(r), id)
	if err != nil {
		return err
	}
	w.Header().Set("ETag", tag(v.Revision))
	return giveJSON(w, http.StatusOK, visitOf(v))
}

// newVisit stores a job file as a new visit, whose ID is made here.
func (s *Server) newVisit(w http.ResponseWriter, r *http.Request) error {
	return s.save(w, r, "", 0)
}

// saveVisit stores a job file as the visit that the path names.
func (s *Server) saveVisit(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "visit")
	if err != nil {
		return err
	}
	from, err := base(r)
	if err != nil {
		return err
	}
	return s.save(w, r, id, from)
}

// save stores a job file.
func (s *Server) save(w http.ResponseWriter, r *http.Request, visit archive.ID, from archive.Revision) error {
	format := formats()[mediaType(r)]
	site := archive.ID(askedBy(r).text("site"))
	job, err := readBody(w, r)
	if err != nil {
		return err
	}
	saved, err := s.Records.SaveVisit(r.Context(), writeOf(r), site, visit, from, format, job)
	if err != nil {
		return s.withVisitRevision(r, visit, err)
	}
	status := http.StatusOK
	if from == 0 {
		status = http.StatusCreated
		w.Header().Set("Location", "/api/v1/visits/"+string(saved.Visit))
	}
	return giveSaved(w, status, saved)
}

// withVisitRevision adds to an error of a change that came too late the
// revision that the visit is at now.
func (s *Server) withVisitRevision(r *http.Request, id archive.ID, err error) error {
	if !errors.Is(err, archive.ErrStale) {
		return err
	}
	if v, readErr := s.Records.Visit(r.Context(), actorOf(r), id); readErr == nil {
		return stale{err, v.Revision}
	}
	return err
}

func (s *Server) removeVisit(w http.ResponseWriter, r *http.Request) error {
	return s.change(w, r, "visit", func(ctx context.Context, write archive.Write, id archive.ID) (archive.Saved, error) {
		from, err := base(r)
		if err != nil {
			return archive.Saved{}, err
		}
		saved, err := s.Records.RemoveVisit(ctx, write, id, from)
		return saved, s.withVisitRevision(r, id, err)
	})
}

func (s *Server) recoverVisit(w http.ResponseWriter, r *http.Request) error {
	return s.change(w, r, "visit", s.Records.RecoverVisit)
}

// job gives the job file back, byte for byte.
func (s *Server) job(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "visit")
	if err != nil {
		return err
	}
	v, text, err := s.Records.Job(r.Context(), actorOf(r), id)
	if err != nil {
		return err
	}
	if fresh(w, r, tag(v.Revision)) {
		return nil
	}
	download(w, fileName(v.Heading, "."+v.Format))
	return give(w, typeOf(v.Format), text)
}

// contentOf reads which content of the history of which visit is asked for.
func contentOf(r *http.Request) (archive.ID, archive.Hash, error) {
	id, err := idOf(r, "visit")
	if err != nil {
		return "", "", err
	}
	content := archive.Hash(r.PathValue("content"))
	if !content.Valid() {
		return "", "", refusef(http.StatusNotFound, "not-found", "The history of the site lists every content of its visits.", "There is no content of that name.")
	}
	return id, content, nil
}

// oldJob gives a job file that the visit once had.
func (s *Server) oldJob(w http.ResponseWriter, r *http.Request) error {
	id, content, err := contentOf(r)
	if err != nil {
		return err
	}
	text, err := s.Records.JobAt(r.Context(), actorOf(r), id, content)
	if err != nil {
		return err
	}
	download(w, string(content[:12])+".txt")
	return give(w, "application/octet-stream", text)
}

// download asks the browser to keep a content as a file, not to show it as a
// page of this server.
func download(w http.ResponseWriter, name string) {
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
}
