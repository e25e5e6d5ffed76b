package holding_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"undersod/examples"
	"undersod/internal/archive"
	"undersod/internal/bundle"
	"undersod/internal/holding"
)

// open opens an archive in a folder of its own.
func open(t *testing.T) *holding.Archive {
	t.Helper()
	a, err := holding.Open(context.Background(), filepath.Join(t.TempDir(), "archive"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := a.Close(); err != nil {
			t.Error(err)
		}
	})
	return a
}

// demo is the main job with two of its photos.
func demo(t *testing.T) holding.Job {
	t.Helper()
	photos, err := fs.Glob(examples.DemoFiles(), "photos/*")
	if err != nil || len(photos) < 2 {
		t.Fatal("no photos", err)
	}
	return holding.Job{Format: "yaml", Bytes: examples.Demo(), Photos: examples.DemoFiles(), Names: photos[:2]}
}

func bring(t *testing.T, a *holding.Archive, j holding.Job) holding.Carried {
	t.Helper()
	c, err := a.BringJob(context.Background(), j)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func export(t *testing.T, a *holding.Archive, id archive.ID) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := a.Export(context.Background(), archive.Program(), id, &out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func sound(t *testing.T, a *holding.Archive) {
	t.Helper()
	faults, err := a.Records.Verify(context.Background(), nil)
	if err != nil || len(faults) > 0 {
		t.Errorf("faults %v, %v", faults, err)
	}
	if err := a.Folder.Check(context.Background()); err != nil {
		t.Error(err)
	}
}

// TestTheSameFileTwiceChangesNothing brings a job in, again, and again after the
// visit was altered: what a person wrote since is never overwritten.
func TestTheSameFileTwiceChangesNothing(t *testing.T) {
	a, job := open(t), demo(t)
	first := bring(t, a, job)
	if first.Photos != len(job.Names) || first.Changed != 1+len(job.Names) || len(first.Left) != 0 || first.Heading.Name == "" {
		t.Fatalf("%+v", first)
	}
	again := bring(t, a, job)
	if again.Changed != 0 || again.Site != first.Site || again.Photos != first.Photos {
		t.Fatalf("%+v", again)
	}
	ctx, w := context.Background(), archive.Write{By: archive.Program()}
	v, err := a.Records.Visit(ctx, w.By, first.Visits[0])
	if err != nil {
		t.Fatal(err)
	}
	if _, err := a.Records.SaveVisit(ctx, w, v.Site, v.ID, v.Revision, "yaml", append(bytes.Clone(job.Bytes), "# seen\n"...)); err != nil {
		t.Fatal(err)
	}
	if _, err := a.BringJob(ctx, job); !errors.Is(err, archive.ErrStale) || !strings.Contains(err.Error(), "nothing of it was changed") {
		t.Errorf("%v", err)
	}
	sound(t, a)
}

func TestOneMoreVisitOfASite(t *testing.T) {
	a := open(t)
	first := bring(t, a, demo(t))
	later, err := examples.Files.ReadFile("quarry-hollow-later.yaml")
	if err != nil {
		t.Fatal(err)
	}
	second := bring(t, a, holding.Job{Format: "yaml", Bytes: later, Site: first.Site})
	_, visits, err := a.Records.Site(context.Background(), archive.Program(), first.Site)
	if err != nil || len(visits) != 2 || visits[0].ID != second.Visits[0] {
		t.Errorf("%d visits, %v", len(visits), err)
	}
	unknown := archive.ID(strings.Repeat("a", 26))
	if _, err := a.BringJob(context.Background(), holding.Job{Format: "yaml", Bytes: later, Site: unknown}); !errors.Is(err, archive.ErrNotFound) {
		t.Errorf("a site that is not there: %v", err)
	}
}

// TestPhotosThatCannotBeTakenAreTold leaves out what is no picture or not there.
func TestPhotosThatCannotBeTakenAreTold(t *testing.T) {
	a, job := open(t), demo(t)
	job.Names = []string{job.Names[0], "photos/none.jpg", "../outside.jpg", "quarry-hollow.yaml"}
	c := bring(t, a, job)
	if c.Photos != 1 || len(c.Left) != 3 {
		t.Fatalf("%d photos, left %q", c.Photos, c.Left)
	}
	sound(t, a)
}

// TestASiteTravelsUnchanged exports a site, brings it into another archive, and
// exports it there: job files and photos are the same bytes.
func TestASiteTravelsUnchanged(t *testing.T) {
	from, to := open(t), open(t)
	id := bring(t, from, demo(t)).Site
	text := export(t, from, id)
	ctx, w := context.Background(), archive.Write{By: archive.Program(), Key: "carried"}
	c, err := to.ImportUnchanged(ctx, w, bytes.NewReader(text), int64(len(text)))
	if err != nil || c.Site != id || len(c.Left) > 0 || c.Changed == 0 {
		t.Fatalf("%+v, %v", c, err)
	}
	before, after := contents(t, text), contents(t, export(t, to, id))
	if len(before) != 3 || len(before) != len(after) {
		t.Fatalf("%d and %d contents", len(before), len(after))
	}
	for name, h := range before {
		if after[name] != h {
			t.Errorf("%s changed on its way", name)
		}
	}
	again, err := to.ImportUnchanged(ctx, w, bytes.NewReader(text), int64(len(text)))
	if err != nil || again.Changed != 0 {
		t.Errorf("again: %+v, %v", again, err)
	}
	sound(t, to)
}

// contents lists the hash of every job file and photo of a bundle.
func contents(t *testing.T, text []byte) map[string]archive.Hash {
	t.Helper()
	b, err := bundle.Open(context.Background(), bytes.NewReader(text), int64(len(text)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]archive.Hash{}
	for _, v := range b.Visits {
		out[string(v.ID)] = v.Job
		for _, p := range v.Photos {
			out[string(v.ID)+p.Name] = p.Content
		}
	}
	return out
}

// TestImportByOthersWritesPhotosAnew: what comes over the network is never kept
// as it came; where it was kept before nothing changes.
func TestImportByOthersWritesPhotosAnew(t *testing.T) {
	from, to := open(t), open(t)
	id := bring(t, from, demo(t)).Site
	text := export(t, from, id)
	ctx, w := context.Background(), archive.Write{By: archive.Actor{Account: archive.ID(strings.Repeat("b", 26)), Role: archive.Office}, Key: "once"}
	if own, err := from.Import(ctx, w, bytes.NewReader(text), int64(len(text))); err != nil || own.Changed != 0 || own.Photos != len(demo(t).Names) {
		t.Errorf("into the archive that it comes from: %+v, %v", own, err)
	}
	if _, err := to.Import(ctx, w, bytes.NewReader(text), int64(len(text))); err != nil {
		t.Fatal(err)
	}
	changed := 0
	after := contents(t, export(t, to, id))
	for name, h := range contents(t, text) {
		if after[name] != h {
			changed++
		}
	}
	if changed != len(demo(t).Names) {
		t.Errorf("%d contents changed, the photos alone should: %d", changed, len(demo(t).Names))
	}
	if again, err := to.Import(ctx, w, bytes.NewReader(text), int64(len(text))); err != nil || again.Changed != 0 {
		t.Errorf("again: %+v, %v", again, err)
	}
	looks := archive.Write{By: archive.Actor{Account: w.By.Account, Role: archive.ReadOnly}}
	if _, err := open(t).Import(ctx, looks, bytes.NewReader(text), int64(len(text))); !errors.Is(err, archive.ErrDenied) {
		t.Errorf("who may only look brought a site in: %v", err)
	}
	if _, err := to.Import(ctx, w, strings.NewReader("no zip"), 6); !errors.Is(err, archive.ErrRefused) || !errors.Is(err, bundle.ErrBundle) {
		t.Errorf("no zip: %v", err)
	}
}

func TestFind(t *testing.T) {
	a := open(t)
	id := bring(t, a, demo(t)).Site
	for _, name := range []string{"metric.yaml", "two-corners.yaml"} {
		text, err := examples.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		bring(t, a, holding.Job{Format: "yaml", Bytes: text})
	}
	for words, want := range map[string]error{
		string(id): nil, "quarry hollow": nil, "QUARRY": nil, "18 quarry": nil,
		"nowhere": archive.ErrNotFound, "": archive.ErrRefused, strings.Repeat("q", 26): archive.ErrNotFound,
	} {
		got, err := a.Find(context.Background(), words)
		if !errors.Is(err, want) || want == nil && got != id {
			t.Errorf("%q: %q, %v", words, got, err)
		}
		if want == archive.ErrRefused && !strings.Contains(err.Error(), string(id)) {
			t.Errorf("what to choose from is not told: %v", err)
		}
	}
}

func TestGeoJSON(t *testing.T) {
	a := open(t)
	if _, err := a.GeoJSON(context.Background(), bring(t, a, demo(t)).Site); !errors.Is(err, bundle.ErrNoPlace) {
		t.Errorf("a job without a place: %v", err)
	}
	text, err := examples.Files.ReadFile("two-ties-and-a-fix.yaml")
	if err != nil {
		t.Fatal(err)
	}
	out, err := a.GeoJSON(context.Background(), bring(t, a, holding.Job{Format: "yaml", Bytes: text}).Site)
	if err != nil || !json.Valid(out) || !bytes.Contains(out, []byte("FeatureCollection")) {
		t.Errorf("%v: %s", err, out)
	}
}

// TestLookLeavesItAlone reads beside one that writes.
func TestLookLeavesItAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "archive")
	a, err := holding.Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Close()
	id := bring(t, a, demo(t)).Site
	b, err := holding.Look(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if got, err := b.Find(context.Background(), "quarry"); err != nil || got != id {
		t.Errorf("%q, %v", got, err)
	}
	if _, err := b.BringJob(context.Background(), holding.Job{Format: "yaml", Bytes: []byte("undersod: 1\n")}); !errors.Is(err, archive.ErrReadOnly) {
		t.Errorf("written by who looks: %v", err)
	}
	if free, err := b.Unclaimed(context.Background()); err != nil || !free {
		t.Errorf("%v, %v", free, err)
	}
	if err := errors.Join(b.Ready(context.Background()), a.DropExpired(context.Background())); err != nil {
		t.Error(err)
	}
}
