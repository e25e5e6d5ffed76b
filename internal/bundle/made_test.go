package bundle_test

import (
	"archive/zip"
	"bytes"
	"context"
	"io"
	"testing"
	"time"

	"undersod/core/unit"
	"undersod/internal/archive"
	"undersod/internal/bundle"
)

var ctx = context.Background()

// shelf holds contents by their hash.
type shelf map[archive.Hash][]byte

func (s shelf) put(text string) archive.Hash {
	h := archive.HashOf([]byte(text))
	s[h] = []byte(text)
	return h
}

func (s shelf) Get(_ context.Context, h archive.Hash) ([]byte, error) {
	c, ok := s[h]
	if !ok {
		return nil, archive.ErrNotFound
	}
	return c, nil
}

func id(last string) archive.ID {
	return archive.ID("abcdefghijklmnopqrstuvwxyz"[:26-len(last)] + last)
}

// made is an invented site of two visits, two photos and four changes.
func made() (bundle.Site, shelf) {
	s := shelf{}
	stamp := func(minutes int) archive.Stamp {
		return archive.Stamp{At: time.Date(2026, 5, 14, 9, minutes, 7, 250e6, time.UTC), By: id("9")}
	}
	one, two, old := s.put("undersod: 1\nsite: {name: Ü}\n"), s.put(`{"undersod": 1}`), s.put("undersod: 1\n")
	box, pipe := s.put("picture of a box"), s.put("picture of a pipe")
	lat := 42 * unit.Degree
	site := bundle.Site{
		Site: archive.Site{ID: id("1"), Revision: 4, Created: stamp(0), Changed: stamp(4),
			Heading: archive.Heading{Name: "18 Quarry Hollow Lane", Address: "18 Quarry Hollow Lane", Latitude: &lat, Longitude: &lat}},
		Visits: []archive.Visit{
			{ID: id("3"), Site: id("1"), Revision: 1, Created: stamp(3), Changed: stamp(3), Job: two, Format: "json"},
			{ID: id("2"), Site: id("1"), Revision: 3, Created: stamp(0), Changed: stamp(2), Job: one, Format: "yaml", Heading: archive.Heading{Date: "2026-05-14"},
				Photos: []archive.Photo{
					{Name: "photos/pipe.jpg", Content: pipe, Bytes: 17, Width: 4, Height: 3, Added: stamp(1)},
					{Name: "photos/box.jpg", Content: box, Bytes: 16, Width: 4, Height: 3, Added: stamp(1)}}},
		},
		Changes: []archive.Change{
			{Number: 7, Stamp: stamp(0), Deed: archive.Made, Site: id("1"), Visit: id("2"), Revision: 1, After: old, Words: "made"},
			{Number: 8, Stamp: stamp(1), Deed: archive.PhotoIn, Site: id("1"), Visit: id("2"), Revision: 2, After: box, Words: "photo photos/box.jpg added"},
			{Number: 12, Stamp: stamp(2), Deed: archive.Altered, Site: id("1"), Visit: id("2"), Revision: 3, Before: old, After: one,
				Fields: []archive.Field{{Pointer: "/site/name", After: `"Ü"`}}, Words: "1 entry changed"},
			{Number: 13, Stamp: stamp(3), Deed: archive.Made, Site: id("1"), Visit: id("3"), Revision: 1, After: two, Words: "made"},
		},
	}
	removed := stamp(4)
	site.Visits[0].Deleted = &removed
	return site, s
}

func bytesOf(t testing.TB) []byte {
	t.Helper()
	site, s := made()
	out, err := bundle.Bytes(ctx, site, s)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func open(data []byte) (*bundle.Bundle, error) {
	return bundle.Open(ctx, bytes.NewReader(data), int64(len(data)))
}

// entry is a file of a zip that is made for a test.
type entry struct {
	zip.FileHeader
	content []byte
}

// unpacked takes a zip apart.
func unpacked(t testing.TB, data []byte) []entry {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var out []entry
	for _, f := range z.File {
		in, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(in)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, entry{zip.FileHeader{Name: f.Name, Method: f.Method}, content})
	}
	return out
}

// packed puts a zip together.
func packed(t testing.TB, entries []entry) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, e := range entries {
		w, err := z.CreateHeader(&e.FileHeader)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(e.content); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
