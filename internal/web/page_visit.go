package web

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"path"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"undersod/internal/archive"
	"undersod/internal/web/pages"
)

// visitPages are the pages that take job files and photos.
func (s *Server) visitPages() []route {
	return []route{
		show("/visits/new", crews, s.newVisitPage, "site"),
		postFiles("/visits", crews, mostBundle, s.newVisitForm),
		show("/visits/{visit}/job", viewers, s.jobPage),
		postFiles("/visits/{visit}/job", crews, mostJob, s.jobForm),
		post("/visits/{visit}/remove", crews, s.removeVisitForm),
		post("/visits/{visit}/recover", crews, s.recoverVisitForm),
		postFiles("/visits/{visit}/photos", crews, mostPhoto, s.photosForm),
		post("/visits/{visit}/photos/remove", crews, s.removePhotoForm),
		show("/visits/{visit}/setbacks", viewers, s.setbacksPage),
		show("/visits/{visit}/compare", viewers, s.comparePage, "before"),
		show("/visits/{visit}/fit", viewers, s.fitPage, "kind", "length", "width", "near"),
	}
}

// filePages are what pages link to and what is no page: the same files as of
// the interface for programs, whose errors are told as pages here.
func (s *Server) filePages() []route {
	var out []route
	take := func(row route, pattern string) {
		row.pattern = pattern
		out = append(out, row)
	}
	for _, row := range slices.Concat(s.answerRoutes(), s.compareRoutes(), s.carryRoutes(), s.photoRoutes(), s.visitRoutes()) {
		short := strings.TrimPrefix(row.pattern, "/api/v1")
		switch {
		case row.method != http.MethodGet:
		case strings.HasSuffix(short, "/job"):
			take(row, "/visits/{visit}/job-file")
		case strings.HasSuffix(short, "{content}"), row.gives[0].kind != "application/json":
			take(row, short)
		}
	}
	return out
}

// newVisitPage asks for the job file of a new visit.
func (s *Server) newVisitPage(w http.ResponseWriter, r *http.Request) error {
	view, f, err := s.newVisitView(r, archive.ID(askedBy(r).text("site")))
	if err != nil {
		return err
	}
	return s.page(w, http.StatusOK, "newvisit", f, view)
}

func (s *Server) newVisitView(r *http.Request, id archive.ID) (pages.NewVisit, pages.Frame, error) {
	f := s.frame(r, "New site")
	f.Trail = trailTo(askerOf(r).is)
	if id == "" {
		return pages.NewVisit{Bundles: s.Carrier != nil && askerOf(r).is&offices != 0}, f, nil
	}
	site, _, err := s.Records.Site(r.Context(), actorOf(r), id)
	if err != nil {
		return pages.NewVisit{}, f, err
	}
	f.Title = "Add a visit"
	f.Trail = trailTo(askerOf(r).is, siteLink(site))
	return pages.NewVisit{Site: id, SiteName: pages.Name(site.Heading)}, f, nil
}

// readFiles reads a form with files, all of it in memory: its row bounds it.
func readFiles(w http.ResponseWriter, r *http.Request, most int64) (*multipart.Form, error) {
	if err := r.ParseMultipartForm(most + formRoom); err != nil {
		if errors.Is(err, http.ErrNotMultipart) || errors.Is(err, http.ErrMissingBoundary) || errors.Is(err, multipart.ErrMessageTooLarge) {
			return nil, refusef(http.StatusBadRequest, "refused", "Load the page anew and send it again.", "What the form sent cannot be read.")
		}
		return nil, bodyError(err)
	}
	// What is done with it may take longer than it took to arrive.
	_ = http.NewResponseController(w).SetReadDeadline(time.Time{})
	return r.MultipartForm, nil
}

// content reads one file of a form.
func content(h *multipart.FileHeader) ([]byte, error) {
	f, err := h.Open()
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(f)
}

func (s *Server) newVisitForm(w http.ResponseWriter, r *http.Request) error {
	form, err := readFiles(w, r, mostBundle)
	if err != nil {
		return err
	}
	defer form.RemoveAll()
	view, f, err := s.newVisitView(r, archive.ID(r.PostForm.Get("site")))
	if err != nil {
		return err
	}
	view.Text = r.PostForm.Get("text")
	name, job, err := sentJob(form, view.Text)
	if err != nil {
		return s.again(w, "newvisit", f, view, err, [2]string{"", "file"})
	}
	if isZip(job) {
		return s.takeBundle(w, r, f, view, job)
	}
	saved, err := s.Records.SaveVisit(r.Context(), s.writing(r, r.PostForm), view.Site, "", 0, formatOf(name, job), job)
	if err != nil {
		return s.again(w, "newvisit", f, view, err, [2]string{"", "text"})
	}
	return doneAt(w, r, "/visits/"+string(saved.Visit), "kept")
}

// isZip tells a bundle from a job file (PKWARE, ".ZIP File Format
// Specification", 2022, section 4.3.7: how a zip with a file in it begins).
func isZip(content []byte) bool { return bytes.HasPrefix(content, []byte("PK\x03\x04")) }

// takeBundle takes a site in from a bundle.
func (s *Server) takeBundle(w http.ResponseWriter, r *http.Request, f pages.Frame, view pages.NewVisit, bundle []byte) error {
	var in Imported
	var err error
	switch {
	case s.Carrier == nil:
		err = refusef(http.StatusUnprocessableEntity, "refused", "Send a job file.", "This server takes no bundles.")
	case askerOf(r).is&offices == 0:
		return errNotForYou
	case view.Site != "":
		err = refusef(http.StatusUnprocessableEntity, "refused", "Send it on the page for a new site.", "A bundle is a whole site, and cannot be a visit of another.")
	default:
		in, err = s.bringIn(r, bundle)
	}
	if err != nil {
		return s.again(w, "newvisit", f, view, err, [2]string{"", "file"})
	}
	return doneAt(w, r, "/sites/"+string(in.Site), "brought")
}

// bringIn takes a bundle in, one of a few at a time.
func (s *Server) bringIn(r *http.Request, bundle []byte) (Imported, error) {
	if err := s.photos.enter(r.Context()); err != nil {
		return Imported{}, err
	}
	defer s.photos.leave()
	return s.Carrier.Import(r.Context(), s.writing(r, r.PostForm), bytes.NewReader(bundle), int64(len(bundle)))
}

// sentJob is the job file of a form, as a file or as text.
func sentJob(form *multipart.Form, text string) (name string, job []byte, err error) {
	files := form.File["file"]
	if len(files) > 0 && files[0].Size > 0 {
		job, err = content(files[0])
		if err == nil && strings.TrimSpace(text) != "" {
			err = refusef(http.StatusBadRequest, "refused", "Choose the file, or paste the text, and leave the other empty.", "There is a file and a text, and only one of them can be the visit.")
		}
		return files[0].Filename, job, err
	}
	if strings.TrimSpace(text) == "" {
		return "", nil, refusef(http.StatusBadRequest, "refused", "Choose a file, or paste the text of one.", "There is no job file in what was sent.")
	}
	return "", []byte(lines(text)), nil
}

// formatOf tells JSON from YAML.
func formatOf(name string, job []byte) string {
	switch strings.ToLower(path.Ext(name)) {
	case ".json":
		return "json"
	case ".yaml", ".yml":
		return "yaml"
	}
	if bytes.HasPrefix(bytes.TrimSpace(job), []byte("{")) {
		return "json"
	}
	return "yaml"
}

// lines gives a text that a browser sent its line ends back: a form sends
// carriage returns that nobody typed (WHATWG, "HTML", multipart form data).
func lines(text string) string { return strings.ReplaceAll(text, "\r\n", "\n") }

// jobPage shows the job file as text, to change for those who may.
func (s *Server) jobPage(w http.ResponseWriter, r *http.Request) error {
	v, text, f, err := s.jobView(r)
	if err != nil {
		return err
	}
	view := pages.Job{Visit: v.ID, Revision: v.Revision, Format: v.Format, Text: strings.ToValidUTF8(string(text), "\uFFFD"),
		MayWrite: askerOf(r).is&crews != 0 && v.Deleted == nil && utf8.Valid(text)}
	return s.page(w, http.StatusOK, "job", f, view)
}

func (s *Server) jobView(r *http.Request) (archive.Visit, []byte, pages.Frame, error) {
	f := s.frame(r, "Job file")
	id, err := idOf(r, "visit")
	if err != nil {
		return archive.Visit{}, nil, f, err
	}
	v, text, err := s.Records.Job(r.Context(), actorOf(r), id)
	if err != nil {
		return v, nil, f, err
	}
	f.Trail = s.visitTrail(r, v)
	return v, text, f, nil
}

// visitTrail is the way back to a visit.
func (s *Server) visitTrail(r *http.Request, v archive.Visit) []pages.Link {
	words := pages.Name(v.Heading)
	if v.Heading.Date != "" {
		words += ", " + pages.Day(v.Heading.Date)
	}
	return trailTo(askerOf(r).is, pages.Link{To: "/visits/" + string(v.ID), Words: words})
}

func (s *Server) jobForm(w http.ResponseWriter, r *http.Request) error {
	form, err := readFiles(w, r, mostJob)
	if err != nil {
		return err
	}
	defer form.RemoveAll()
	from, err := revisionOf(r.PostForm.Get("revision"))
	if err != nil {
		return err
	}
	v, now, f, err := s.jobView(r)
	if err != nil {
		return err
	}
	text := r.PostForm.Get("text")
	if !bytes.Contains(now, []byte("\r\n")) {
		text = lines(text)
	}
	saved, err := s.Records.SaveVisit(r.Context(), s.writing(r, r.PostForm), v.Site, v.ID, from, v.Format, []byte(text))
	switch {
	case errors.Is(err, archive.ErrStale):
		return s.bothJobs(w, r, from, text)
	case err != nil:
		view := pages.Job{Visit: v.ID, Revision: from, Format: v.Format, Text: text, MayWrite: true}
		return s.again(w, "job", f, view, err, [2]string{"", "text"})
	}
	return doneAt(w, r, "/visits/"+string(v.ID), tellDone(saved, "changed"))
}

// bothJobs shows one's own text beside that which someone else left in the
// meantime; keeping one's own is then a choice.
func (s *Server) bothJobs(w http.ResponseWriter, r *http.Request, from archive.Revision, text string) error {
	v, now, f, err := s.jobView(r)
	if err != nil {
		return err
	}
	names, err := s.names(r)
	if err != nil {
		return err
	}
	view := pages.Job{Visit: v.ID, Revision: v.Revision, Format: v.Format, Text: text, MayWrite: true,
		Theirs: strings.ToValidUTF8(string(now), "\uFFFD"), Who: names.Of(v.Changed)}
	list, err := s.Records.Changes(r.Context(), actorOf(r), v.Site, 0, archive.MostListed)
	if err != nil {
		return err
	}
	for _, c := range list {
		if c.Visit == v.ID && c.Revision > from {
			view.Fields = append(view.Fields, c.Fields...)
		}
	}
	f.Title = "Two changes at once"
	f.Problem = &pages.Problem{Head: "Someone else changed it in the meantime", Words: "Your text is not kept yet.", Field: "text",
		Do: "Compare the two, and choose."}
	return s.page(w, http.StatusConflict, "job", f, view)
}

func (s *Server) removeVisitForm(w http.ResponseWriter, r *http.Request) error {
	return s.changeForm(w, r, "visit", "removed", s.Records.RemoveVisit)
}

func (s *Server) recoverVisitForm(w http.ResponseWriter, r *http.Request) error {
	return s.changeForm(w, r, "visit", "recovered", ignoring(s.Records.RecoverVisit))
}

// photosForm stores the pictures of a form.
func (s *Server) photosForm(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "visit")
	if err != nil {
		return err
	}
	if err := s.photos.enter(r.Context()); err != nil {
		return err
	}
	defer s.photos.leave()
	form, err := readFiles(w, r, mostPhoto)
	if err != nil {
		return err
	}
	defer form.RemoveAll()
	files, as := form.File["photo"], r.PostForm.Get("as")
	switch {
	case len(files) == 0 || len(files) == 1 && files[0].Size == 0:
		return refusef(http.StatusBadRequest, "refused", "Go back and choose one.", "There is no picture in what was sent.")
	case as != "" && len(files) > 1:
		return refusef(http.StatusBadRequest, "refused", "Go back and choose one file for that name.", "%d pictures cannot all be the photo %.60q.", len(files), as)
	}
	if err := s.addPhotoFiles(r, id, files, as); err != nil {
		return err
	}
	return doneAt(w, r, "/visits/"+string(id), "photo")
}

// addPhotoFiles stores each picture that can be taken: one among several that
// cannot does not lose the others. The error tells which was kept and which not.
func (s *Server) addPhotoFiles(r *http.Request, visit archive.ID, files []*multipart.FileHeader, as string) error {
	var kept, not []string
	var status int
	for _, h := range files {
		err := s.addPhotoFile(r.Context(), r, visit, h, as)
		switch {
		case err == nil:
			kept = append(kept, h.Filename)
		case len(files) == 1 || problemOf(err).Status >= http.StatusInternalServerError:
			return err
		default:
			status = cmp.Or(status, problemOf(err).Status)
			not = append(not, fmt.Sprintf("%.80s (%s)", h.Filename, strings.TrimSuffix(plain(problemOf(err).Detail), ".")))
		}
	}
	if status == 0 {
		return nil
	}
	words := "Not taken: " + strings.Join(not, "; ") + ". Kept: " + cmp.Or(strings.Join(kept, ", "), "none") + "."
	return refusal{"some-photos", status, words, "Go back and choose those that were not taken once more, as the words say; the kept ones need not be sent again."}
}

func (s *Server) addPhotoFile(ctx context.Context, r *http.Request, visit archive.ID, h *multipart.FileHeader, as string) error {
	picture, err := content(h)
	if err != nil {
		return err
	}
	name := as
	if name == "" {
		name = "photos/" + pictureName(h.Filename)
	}
	write := s.writing(r, r.PostForm)
	if write.Key != "" {
		// Not its place: the form sent again with other files is another request.
		write.Key += "-" + string(archive.HashOf(append([]byte(name+"\n"), picture...))[:16])
	}
	_, err = s.Records.AddPhoto(ctx, write, visit, name, picture)
	return err
}

// pictureName makes a name for a picture out of what a device calls it.
func pictureName(file string) string {
	file = path.Base(strings.ReplaceAll(file, `\`, "/"))
	name := strings.Map(func(c rune) rune {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '-', c == '_', c == '.':
			return c
		}
		return '-'
	}, file)
	name = strings.Trim(name, "-.")
	if name = name[max(0, len(name)-80):]; name == "" {
		return "photo.jpg"
	}
	return name
}

func (s *Server) removePhotoForm(w http.ResponseWriter, r *http.Request) error {
	return s.changeForm(w, r, "visit", "photo-removed", func(ctx context.Context, write archive.Write, id archive.ID, _ archive.Revision) (archive.Saved, error) {
		return s.Records.RemovePhoto(ctx, write, id, r.PostForm.Get("name"))
	})
}
