package web

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"time"

	"undersod/internal/answer"
	"undersod/internal/archive"
)

// Carrier carries one site out of the archive and in again, as one open zip.
type Carrier interface {
	// Export writes a site with everything that belongs to it.
	Export(ctx context.Context, by archive.Actor, site archive.ID, w io.Writer) error
	// Import takes what Export wrote. Errors are of the kinds that archive lists,
	// in words for a person.
	Import(ctx context.Context, by archive.Write, bundle io.ReaderAt, size int64) (Imported, error)
}

// Imported is what came in.
type Imported struct {
	Site    archive.ID   `json:"site"`
	Visits  []archive.ID `json:"visits"`
	Photos  int          `json:"photos"`
	Changed int          `json:"changed"` // how many changes were made; 0 where all of it was here already
	Left    []string     `json:"left"`    // what was left out and why
}

// mostBundle is the largest bundle that is taken over HTTP; the command line
// takes larger ones.
const mostBundle = 40 << 20

// exportPatience is how long a slow line may take to take a bundle.
const exportPatience = 30 * time.Minute

func (s *Server) carryRoutes() []route {
	return []route{
		{method: "GET", pattern: "/api/v1/sites/{site}/bundle.zip", may: staff, handle: s.export,
			does: "Writes a site with all visits, photos and history as one open zip.", gives: file("application/zip", "the bundle; docs/schema/bundle.schema.json describes its manifest")},
		{method: "POST", pattern: "/api/v1/bundles", may: offices, handle: s.bring, query: keyed(),
			takes: body{types: []string{"application/zip"}, most: mostBundle, slow: true, does: "a bundle as bundle.zip of a site gives it"},
			does:  "Takes a site in from a bundle. What is here already is left as it is.", gives: document("Imported", "what came in")},
		s.drawn("plan.geojson", "application/geo+json", "Tells what is located as a FeatureCollection of RFC 7946.", nil,
			func(ctx context.Context, j answer.Job, _ *asked) (answer.File, error) {
				return s.Answers.GeoJSON(ctx, j)
			}),
	}
}

// export writes a bundle. Where it breaks off, the connection does too, so that
// half a bundle does not pass for a whole one.
func (s *Server) export(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "site")
	if err != nil {
		return err
	}
	if s.Carrier == nil {
		return errNoRow
	}
	site, _, err := s.Records.Site(r.Context(), actorOf(r), id)
	if err != nil {
		return err
	}
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(exportPatience))
	late := &begun{w: w, name: fileName(site.Heading, ".zip")}
	err = s.Carrier.Export(r.Context(), actorOf(r), id, late)
	if err != nil && late.n > 0 {
		panic(http.ErrAbortHandler)
	}
	return err
}

// begun is an answer whose head is sent with the first of its content, so that
// what goes wrong before can still be told.
type begun struct {
	w    http.ResponseWriter
	name string
	n    int64
}

// Write writes, and the head first.
func (b *begun) Write(p []byte) (int, error) {
	if b.n == 0 {
		b.w.Header().Set("Content-Type", "application/zip")
		download(b.w, b.name)
	}
	n, err := b.w.Write(p)
	b.n += int64(n)
	return n, err
}

// bring takes a bundle in.
func (s *Server) bring(w http.ResponseWriter, r *http.Request) error {
	if s.Carrier == nil {
		return errNoRow
	}
	if err := s.photos.enter(r.Context()); err != nil {
		return err
	}
	defer s.photos.leave()
	text, err := readBody(w, r)
	if err != nil {
		return err
	}
	in, err := s.Carrier.Import(r.Context(), writeOf(r), bytes.NewReader(text), int64(len(text)))
	if err != nil {
		return err
	}
	in.Visits, in.Left = append([]archive.ID{}, in.Visits...), append([]string{}, in.Left...)
	return giveJSON(w, http.StatusOK, in)
}
