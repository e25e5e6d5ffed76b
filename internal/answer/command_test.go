package answer_test

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"undersod/core/unit"
	"undersod/examples"
	"undersod/internal/answer"
	"undersod/internal/cli"
)

// printed is what the command line prints about the demo as JSON, without the
// name of the file.
func printed(t *testing.T, args ...string) map[string]any {
	t.Helper()
	name := filepath.Join(t.TempDir(), "job.yaml")
	if err := os.WriteFile(name, examples.Demo(), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, told bytes.Buffer
	p := cli.Program{In: strings.NewReader(""), Out: &out, Err: &told}
	if p.Run(append([]string{args[0], name}, args[1:]...)) == cli.ExitUsage {
		t.Fatal(told.String())
	}
	return read(t, out.Bytes())
}

// read reads a document and leaves the name of its file out.
func read(t *testing.T, text []byte) map[string]any {
	t.Helper()
	var d map[string]any
	if err := json.Unmarshal(text, &d); err != nil {
		t.Fatal(err)
	}
	if job, ok := d["job"].(map[string]any); ok {
		delete(job, "file")
	}
	return d
}

func TestAnswersAreThoseOfTheCommandLine(t *testing.T) {
	d, ctx, job := answer.New(), context.Background(), demo()
	for name, c := range map[string]struct {
		args []string
		ask  func() (any, error)
	}{
		"check":     {[]string{"check"}, func() (any, error) { return d.Check(ctx, job) }},
		"split":     {[]string{"split", "--inflow", "12 gpm"}, func() (any, error) { return d.Split(ctx, job, 12*unit.GallonPerMinute) }},
		"report":    {[]string{"report"}, func() (any, error) { return d.Report(ctx, job) }},
		"setbacks":  {[]string{"setbacks"}, func() (any, error) { return d.Setbacks(ctx, job) }},
		"checklist": {[]string{"checklist"}, func() (any, error) { return d.Checklist(ctx, job) }},
		"fit":       {[]string{"fit"}, func() (any, error) { return d.Fit(ctx, job, nil) }},
		"card":      {[]string{"card", "D-box"}, func() (any, error) { return d.Card(ctx, job, "D-box") }},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := c.ask()
			if err != nil {
				t.Fatal(err)
			}
			text, err := json.Marshal(got)
			if err != nil {
				t.Fatal(err)
			}
			ours, theirs := read(t, text), printed(t, append(c.args, "--json")...)
			for key := range theirs {
				if key == "problems" { // they name the file
					continue
				}
				if !reflect.DeepEqual(ours[key], theirs[key]) {
					t.Errorf("%s differs", key)
				}
			}
			if len(ours) != len(theirs) {
				t.Errorf("%d entries, want %d", len(ours), len(theirs))
			}
		})
	}
}
