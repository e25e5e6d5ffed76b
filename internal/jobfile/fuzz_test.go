package jobfile_test

import (
	"os"
	"strings"
	"testing"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/examples"
	"undersod/internal/jobfile"
)

// told checks what must hold of every result: places inside the file, help in
// every problem, readings of points that exist, and no name twice.
func told(t *testing.T, res jobfile.Result) {
	t.Helper()
	for _, p := range res.Problems {
		if p.Subject == "" || p.Expected == "" && p.Advice == "" {
			t.Errorf("no help: %+v", p)
		}
		if shown := res.Show(p); !strings.Contains(shown, "\n") {
			t.Errorf("shown as %q", shown)
		}
	}
	seen := map[site.ReadingID]bool{}
	for _, r := range res.Job.Visit.Readings {
		if id := r.Common().ID; id == "" || seen[id] {
			t.Errorf("name %q twice or empty", id)
		} else {
			seen[id] = true
		}
	}
	// What Usable let through it lets through again.
	again, _ := site.Usable(res.Job)
	if len(again.Visit.Runs) != len(res.Job.Visit.Runs) || len(again.Visit.Boxes) != len(res.Job.Visit.Boxes) ||
		len(again.Site.LevelPoints) != len(res.Job.Site.LevelPoints) || len(again.Visit.Photos) != len(res.Job.Visit.Photos) {
		t.Error("what was looked at shrinks when it is checked again")
	}
	if len(again.Site.Proposed) != len(res.Job.Site.Proposed) ||
		res.Job.Site.Setbacks != nil && len(again.Site.Setbacks.Rows) != len(res.Job.Site.Setbacks.Rows) {
		t.Error("what is planned shrinks when it is checked again")
	}
	if len(again.Visit.Readings) != len(res.Job.Visit.Readings) || len(again.Site.Points) != len(res.Job.Site.Points) {
		t.Error("the job shrinks when it is checked again")
	}
}

func FuzzRead(f *testing.F) {
	f.Add(documented(f))
	f.Add(asJSON(f, documented(f)))
	f.Add(string(examples.Demo()))
	f.Add(looked)
	f.Add(asJSON(f, looked))
	if text, err := os.ReadFile("testdata/mistakes.yaml"); err == nil {
		f.Add(string(text))
	}
	for _, s := range []string{"", "{", "[]", "a: *a", "undersod: 1\nties: {A: {}}", "undersod: 1\nmarks:\n? [a]\n: b\n",
		"undersod: 1\nparts: {T: {kind: lid, outline: {hits: {}}}}\nmarks: {A: {side: left of T-T}}", "\ufeff{\"undersod\":1}"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		res, err := jobfile.Read("job.yaml", strings.NewReader(text))
		if err != nil {
			if p, ok := err.(site.Problem); !ok || strings.Contains(p.Advice, "inside the program") {
				t.Fatalf("%v", err)
			}
			return
		}
		told(t, res)
	})
}

func FuzzReadCSV(f *testing.F) {
	f.Add(everyKind)
	f.Add("kind,from,to,read\ntie,A,Lid,\"23' 4 1/2\"\n")
	f.Add("kind;from\n\"")
	f.Add("")
	known := read(f, bareJob).Job
	f.Fuzz(func(t *testing.T, text string) {
		res, err := jobfile.ReadCSV("day.csv", strings.NewReader(text), known, unit.NoForm)
		if err != nil {
			if p, ok := err.(site.Problem); !ok || strings.Contains(p.Advice, "inside the program") {
				t.Fatalf("%v", err)
			}
			return
		}
		told(t, res)
	})
}
