package serve

import (
	"context"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"undersod/examples"
	"undersod/internal/archive"
	"undersod/internal/holding"
)

// Names of the demo's visits.
const (
	demoJob   = "quarry-hollow.yaml"
	laterDemo = "quarry-hollow-later.yaml"
)

// Fill brings the demo with its photos and every other example into an archive
// that has no site, and returns how many visits it made. An archive that has
// one is left as it is: 0.
func Fill(ctx context.Context, a *holding.Archive) (int, error) {
	var counts archive.Counts
	err := a.Folder.Store.View(ctx, func(r archive.Reader) (err error) {
		counts, err = r.Counts()
		return err
	})
	if err != nil || counts.Sites > 0 {
		return 0, err
	}
	demo, err := bringDemo(ctx, a)
	if err != nil {
		return 0, fmt.Errorf("the demo: %w", err)
	}
	names, err := fs.Glob(examples.Files, "*.yaml")
	if err != nil {
		return 0, err
	}
	made := 1
	for _, name := range names {
		text, err := examples.Files.ReadFile(name)
		if err != nil {
			return made, err
		}
		j := holding.Job{Format: "yaml", Bytes: text}
		switch {
		case name == demoJob, strings.Contains(string(text), "\nimport:"):
			continue // what a job imports from a file beside it has no place here
		case name == laterDemo:
			j.Site = demo
		}
		if _, err := a.BringJob(ctx, j); err != nil {
			return made, fmt.Errorf("the example %s: %w", name, err)
		}
		made++
	}
	return made, nil
}

// bringDemo brings in the main job and its photos, and returns its site.
func bringDemo(ctx context.Context, a *holding.Archive) (archive.ID, error) {
	files := examples.DemoFiles()
	photos, err := fs.Glob(files, path.Join("photos", "*"))
	if err != nil {
		return "", err
	}
	c, err := a.BringJob(ctx, holding.Job{Format: "yaml", Bytes: examples.Demo(), Photos: files, Names: photos})
	if err == nil && len(c.Left) > 0 {
		err = fmt.Errorf("%s", strings.Join(c.Left, "; "))
	}
	return c.Site, err
}
