package web_test

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"io"
	"testing"

	"undersod/internal/archive"
	"undersod/internal/web"
)

func TestABundleIsADownload(t *testing.T) {
	s := stocked(t)
	g := s.send(sent{method: "GET", path: s.fill.Replace("/api/v1/sites/{site}/bundle.zip"), token: s.tokens[archive.Crew]})
	if g.status != 200 || g.header.Get("Content-Type") != "application/zip" || g.header.Get("Content-Disposition") == "" {
		t.Fatalf("status %d, %v", g.status, g.header)
	}
	if _, err := zip.NewReader(bytes.NewReader(g.body), int64(len(g.body))); err != nil {
		t.Error(err)
	}
	if g := s.send(sent{method: "POST", path: "/api/v1/bundles", kind: "application/zip", body: "no zip at all", token: s.tokens[archive.Office]}); g.status != 422 {
		t.Errorf("words passed for a zip: %d", g.status)
	}
}

// breaking breaks off after some bytes.
type breaking struct {
	carrier
	after int
}

func (b breaking) Export(_ context.Context, _ archive.Actor, _ archive.ID, w io.Writer) error {
	_, _ = w.Write(make([]byte, b.after))
	return errors.New("the disk went away")
}

func TestHalfABundleDoesNotPassForAWholeOne(t *testing.T) {
	h := build(t, func(s *web.Settings) { s.Carrier = breaking{after: 100_000} })
	site, _ := h.saved()
	r := h.request(sent{method: "GET", path: "/api/v1/sites/" + site + "/bundle.zip", token: h.tokens[archive.Crew]})
	answer, err := h.at.Client().Do(r)
	if err != nil {
		return // the line was cut before the head came
	}
	defer answer.Body.Close()
	if _, err := io.ReadAll(answer.Body); err == nil {
		t.Error("nothing tells that it broke off")
	}
}
