package examples_test

import (
	"io/fs"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/level"
	"undersod/core/look"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/examples"
)

// TestDemoShowsWhatItIsMadeFor holds the demo's camera runs and its box to the
// story that they tell: the drive over the flattened stretch, the maple beside
// the roots, the water at the end of a line that is short, the tipped box.
func TestDemoShowsWhatItIsMadeFor(t *testing.T) {
	r := read(t, "quarry-hollow.yaml")
	plan := adjust.Solve(&r.Job, adjust.Settings{})
	beside := map[site.Name]string{}
	for _, run := range look.Lay(&r.Job, plan) {
		for _, p := range run.Problems {
			t.Errorf("%s: %v", run.Line, p)
		}
		if len(run.Findings) != 1 || !run.Findings[0].From.Known {
			t.Fatalf("%s: findings %+v", run.Line, run.Findings)
		}
		for _, near := range run.Findings[0].Near {
			if near.Explains {
				beside[run.Line] += string(near.Feature)
			}
		}
		if run.Line == "Line 3" {
			if d := run.Length - 54.75*unit.Foot; d.Abs() > 0.3*unit.Foot {
				t.Errorf("line 3 is %v ft long on the plan, want 54.75", run.Length.Feet())
			}
		}
	}
	if beside["Line 1"] != "Drive" || beside["Line 2"] != "Maple" {
		t.Errorf("what explains the findings: %v", beside)
	}
	net := level.Adjust(r.Job.Visit.Readings, func(site.Reading) unit.Length { return unit.Foot / 100 })
	if c := net.Closures(); len(c) != 1 || !c[0].Closes {
		t.Errorf("the round of the rod: %+v", c)
	}
	for _, o := range level.Measure(r.Job.Visit.Boxes[0], net, unit.Style{}).Outlets {
		want := unit.Inch / 4
		if o.Line == "Line 3" {
			want = 0 // the lowest
		}
		if !o.Known || (o.At-want).Abs() > unit.Inch/100 {
			t.Errorf("the outlet to %s lies %v in over the lowest, want %v", o.Line, o.At/unit.Inch, want/unit.Inch)
		}
	}
}

// TestDemoBringsItsPictures holds every file that the demo names to be in its
// folder.
func TestDemoBringsItsPictures(t *testing.T) {
	job := read(t, "quarry-hollow.yaml").Job
	names := []string{job.Site.Record.Drawing.File}
	for _, p := range job.Visit.Photos {
		names = append(names, p.File)
	}
	for _, run := range job.Visit.Runs {
		for _, f := range run.Findings {
			for _, p := range f.Photos {
				names = append(names, p.File)
			}
		}
	}
	held, err := fs.Glob(examples.DemoFiles(), "photos/*")
	if err != nil || len(held) != len(names) {
		t.Errorf("the folder holds %v, the job names %v: %v", held, names, err)
	}
	for _, name := range append(names, "quarry-hollow.yaml") {
		if _, err := fs.Stat(examples.DemoFiles(), name); err != nil {
			t.Error(err)
		}
	}
	for name, at := range sketched { // the picture shows what the job states
		found := false
		for _, p := range job.Site.Record.Drawing.Points {
			found = found || strings.EqualFold(string(p.Name), name) && p.X == at[0] && p.Y == at[1]
		}
		if !found {
			t.Errorf("the job does not state %s of the sketch at %v", name, at)
		}
	}
}
