package web

import (
	"net/http"

	"undersod/internal/archive"
)

// photo gives a picture of a visit.
func (s *Server) photo(w http.ResponseWriter, r *http.Request) error {
	return s.picture(w, r, false)
}

func (s *Server) thumbnail(w http.ResponseWriter, r *http.Request) error {
	return s.picture(w, r, true)
}

func (s *Server) picture(w http.ResponseWriter, r *http.Request, small bool) error {
	id, err := idOf(r, "visit")
	if err != nil {
		return err
	}
	picture, err := s.Records.Picture(r.Context(), actorOf(r), id, r.PathValue("name"), small)
	if err != nil {
		return err
	}
	if fresh(w, r, `"`+string(archive.HashOf(picture))+`"`) {
		return nil
	}
	return give(w, "image/jpeg", picture)
}

// oldPhoto gives a picture that the visit has or once had.
func (s *Server) oldPhoto(w http.ResponseWriter, r *http.Request) error {
	id, content, err := contentOf(r)
	if err != nil {
		return err
	}
	picture, err := s.Records.PictureAt(r.Context(), actorOf(r), id, content)
	if err != nil {
		return err
	}
	if fresh(w, r, `"`+string(content)+`"`) {
		return nil
	}
	return give(w, "image/jpeg", picture)
}

// addPhoto stores a picture under the name that the job gives it. What it is
// shows its content, not what the request calls it.
func (s *Server) addPhoto(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "visit")
	if err != nil {
		return err
	}
	if err := s.photos.enter(r.Context()); err != nil {
		return err
	}
	defer s.photos.leave()
	picture, err := readBody(w, r)
	if err != nil {
		return err
	}
	saved, err := s.Records.AddPhoto(r.Context(), writeOf(r), id, r.PathValue("name"), picture)
	if err != nil {
		return err
	}
	return giveSaved(w, http.StatusOK, saved)
}

func (s *Server) removePhoto(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "visit")
	if err != nil {
		return err
	}
	saved, err := s.Records.RemovePhoto(r.Context(), writeOf(r), id, r.PathValue("name"))
	if err != nil {
		return err
	}
	return giveSaved(w, http.StatusOK, saved)
}
