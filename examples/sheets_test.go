package examples_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/sheet"
	"undersod/examples"
	"undersod/internal/jobfile"
	"undersod/internal/render"
)

var update = flag.Bool("update", false, "write the sheets anew; look at the difference before you commit it")

// TestEveryExampleHasItsSheet draws each job and compares it with the sheet kept
// beside it, byte for byte: same input, same sheet.
func TestEveryExampleHasItsSheet(t *testing.T) {
	jobs, err := filepath.Glob("*.yaml")
	if err != nil || len(jobs) < 8 {
		t.Fatalf("%d jobs: %v", len(jobs), err)
	}
	for _, job := range jobs {
		text, err := os.ReadFile(job)
		if err != nil {
			t.Fatal(err)
		}
		r, err := jobfile.ReadBeside(job, bytes.NewReader(text), examples.Files)
		if err != nil {
			t.Fatal(err)
		}
		plan := adjust.Solve(&r.Job, adjust.Settings{})
		scene, err := sheet.Draw(r.Job, *plan, render.Metrics(), sheet.Options{})
		if err != nil {
			t.Errorf("%s: %v", job, err)
			continue
		}
		var b bytes.Buffer
		if err := render.SVG(&b, scene); err != nil {
			t.Errorf("%s: %v", job, err)
			continue
		}
		compareSheet(t, filepath.Join("sheets", strings.TrimSuffix(job, ".yaml")+".svg"), b.Bytes())
	}
}

func compareSheet(t *testing.T, name string, drawn []byte) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, drawn, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	kept, err := os.ReadFile(name)
	if err != nil {
		t.Fatalf("%v; run the test with -update and look at the sheet", err)
	}
	if !bytes.Equal(kept, drawn) {
		t.Errorf("%s differs from what is drawn now; look at both, and run the test with -update if the new one is right", name)
	}
}
