package comparefile_test

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"undersod/core/adjust"
	"undersod/core/compare"
	"undersod/core/judge"
	"undersod/core/unit"
	"undersod/docs/schema"
	"undersod/examples"
	"undersod/internal/checkfile"
	"undersod/internal/comparefile"
	"undersod/internal/jobfile"
)

func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, ok := schema.ByName("compare")
	if !ok {
		t.Fatal("no schema compare")
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("compare", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("compare")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func side(t *testing.T, name string) compare.Side {
	t.Helper()
	text, err := examples.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	r, err := jobfile.ReadBeside(name, bytes.NewReader(text), examples.Files)
	if err != nil {
		t.Fatal(err)
	}
	plan := adjust.Solve(&r.Job, adjust.Settings{})
	return compare.Side{Job: &r.Job, Plan: plan, Judgement: judge.Judge(&r.Job, plan, nil)}
}

func held(t *testing.T, s *jsonschema.Schema, d comparefile.Document) {
	t.Helper()
	text, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(v); err != nil {
		t.Error(err)
	}
}

// Every example against the one before it, and against itself, keeps the schema.
func TestDocumentsKeepTheSchema(t *testing.T) {
	s := compiled(t)
	entries, err := examples.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var last compare.Side
	for _, e := range entries {
		one := side(t, e.Name())
		for _, before := range []compare.Side{one, last, {}} {
			held(t, s, comparefile.Make(checkfile.Job{File: "before.yaml"}, checkfile.Job{File: e.Name()}, compare.Visits(before, one)))
		}
		last = one
	}
	held(t, s, comparefile.Make(checkfile.Job{}, checkfile.Job{}, &compare.Comparison{}))
}

// What JSON cannot hold does not spoil a document.
func TestNumbersThatAreNone(t *testing.T) {
	nan := unit.Length(math.NaN())
	held(t, compiled(t), comparefile.Make(checkfile.Job{}, checkfile.Job{}, &compare.Comparison{
		Places: []compare.Place{{Verdict: compare.Moved, By: nan, Within: unit.Length(math.Inf(1)), Toward: unit.Angle(math.NaN())}},
		Lines:  []compare.Line{{Verdict: compare.Changed, Known: true, Before: nan}},
	}))
}

// The demo two years on: what a program reads of it.
func TestTheDemoTwoYearsOn(t *testing.T) {
	d := comparefile.Make(checkfile.Job{}, checkfile.Job{}, compare.Visits(side(t, "quarry-hollow.yaml"), side(t, "quarry-hollow-later.yaml")))
	moved := 0
	for _, p := range d.Places {
		if p.Verdict == "moved" {
			moved++
			if p.Name != "D-box" || p.By == nil || p.Within == nil || p.Toward == nil || *p.By < 0.1 || *p.By > 0.2 {
				t.Errorf("%+v", p)
			}
		}
	}
	if moved != 1 || len(d.Since) != 4 || d.Since[0].Date != "2026-06-09" || len(d.Boxes) != 1 || d.Boxes[0].Spread.Verdict != "changed" {
		t.Errorf("%d moved, %+v, %+v", moved, d.Since, d.Boxes)
	}
}
