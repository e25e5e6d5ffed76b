package compare_test

import (
	"bytes"
	"testing"

	"undersod/core/adjust"
	"undersod/core/compare"
	"undersod/core/judge"
	"undersod/examples"
	"undersod/internal/jobfile"
)

// side opens a job's text.
func side(t testing.TB, name string, text []byte) compare.Side {
	t.Helper()
	r, err := jobfile.Read(name, bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	plan := adjust.Solve(&r.Job, adjust.Settings{})
	return compare.Side{Job: &r.Job, Plan: plan, Judgement: judge.Judge(&r.Job, plan, nil)}
}

func example(t testing.TB, name string) compare.Side {
	t.Helper()
	text, err := examples.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return side(t, name, text)
}

// Every example against itself: nothing moved, changed, grew, is new or gone.
func TestEveryExampleAgainstItself(t *testing.T) {
	entries, err := examples.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		one := example(t, e.Name())
		c := compare.Visits(one, one)
		for _, p := range c.Places {
			if p.Verdict == compare.Moved || p.Verdict == compare.New || p.Verdict == compare.Gone {
				t.Errorf("%s: %s", e.Name(), p.Words)
			}
		}
		for _, o := range c.Outlines {
			if o.Verdict == compare.Moved || o.By > 1e-6 || o.Within <= 0 {
				t.Errorf("%s: %s", e.Name(), o.Words)
			}
		}
		for _, l := range c.Lines {
			if l.Verdict != compare.Unchanged && l.Verdict != compare.NotLocated && l.Verdict != compare.TooClose {
				t.Errorf("%s: %s", e.Name(), l.Words)
			}
		}
		for _, l := range c.Levels {
			if l.Verdict == compare.Moved {
				t.Errorf("%s: %s", e.Name(), l.Words)
			}
		}
		for _, f := range c.Findings {
			if f.Growth != compare.Same {
				t.Errorf("%s: %s", e.Name(), f.Words)
			}
		}
		if len(c.Since)+len(c.Facts)+len(c.Readings) > 0 || len(c.Overlay.Aside) > 0 {
			t.Errorf("%s: %+v %+v %+v", e.Name(), c.Since, c.Facts, c.Readings)
		}
		t.Log(e.Name(), c.Summary, c.Overlay.Words, c.LevelFrom)
	}
}
