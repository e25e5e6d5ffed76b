package judgefile_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"undersod/core/adjust"
	"undersod/core/card"
	"undersod/core/judge"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/docs/schema"
	"undersod/examples"
	"undersod/internal/checkfile"
	"undersod/internal/jobfile"
	"undersod/internal/judgefile"
)

// compile makes a published schema ready.
func compile(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	text, ok := schema.ByName(name)
	if !ok {
		t.Fatalf("no schema %s", name)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(name, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// example is a shipped job with what is judged of it.
type example struct {
	name      string
	read      jobfile.Result
	plan      *adjust.Plan
	judgement *judge.Judgement
}

func opened(t *testing.T, name string, text []byte) example {
	t.Helper()
	r, err := jobfile.ReadBeside(name, bytes.NewReader(text), examples.Files)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	e := example{name: name, read: r, plan: adjust.Solve(&r.Job, adjust.Settings{})}
	checkfile.CountMistakes(e.plan, r.Mistakes())
	e.judgement = judge.Judge(&r.Job, e.plan, nil)
	return e
}

func all(t *testing.T) []example {
	t.Helper()
	entries, err := examples.Files.ReadDir(".")
	if err != nil || len(entries) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	var out []example
	for _, e := range entries {
		text, err := examples.Files.ReadFile(e.Name())
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, opened(t, e.Name(), text))
	}
	return out
}

// documents are all the documents of a job, by schema; the card of every point
// that can have one.
func (e example) documents() map[string][]any {
	job := &e.read.Job
	made := judgefile.Make(e.judgement)
	out := map[string][]any{
		"check":  {judgefile.CheckDocument{Document: checkfile.Make(e.name, job, e.plan, e.read.Problems), Judgement: made}},
		"report": {report(e.judgement)},
		"split": {judgefile.SplitDocument{Undersod: 1, Kind: "split", Job: checkfile.Job{File: e.name, Site: job.Site.Name, Date: job.Visit.Date},
			Boxes: made.Boxes, Storage: made.Storage, Missing: made.Missing}},
	}
	for _, p := range job.Site.Parts {
		if c, err := card.Make(job, e.plan, p.Name); err == nil {
			out["card"] = append(out["card"], judgefile.MakeCard(c))
		}
	}
	return out
}

// report is the document of a judgement alone.
func report(j *judge.Judgement) judgefile.ReportDocument {
	return judgefile.ReportDocument{Undersod: 1, Kind: "report", Document: judgefile.Make(j)}
}

// value is a document as a JSON library reads it.
func value(t *testing.T, document any) any {
	t.Helper()
	text, err := json.Marshal(document)
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestEveryExampleKeepsToTheSchemas validates with a general JSON Schema
// library.
func TestEveryExampleKeepsToTheSchemas(t *testing.T) {
	count := map[string]int{}
	for _, e := range all(t) {
		for name, documents := range e.documents() {
			s := compile(t, name)
			for _, d := range documents {
				count[name]++
				if err := s.Validate(value(t, d)); err != nil {
					t.Errorf("%s, %s: %v", e.name, name, err)
				}
			}
		}
	}
	if count["check"] < 10 || count["report"] != count["check"] || count["split"] != count["check"] || count["card"] < 10 {
		t.Errorf("documents: %v", count)
	}
}

// TestEveryPackKeepsToTheSchemas, and so does a job of which nothing is known.
func TestEveryPackKeepsToTheSchemas(t *testing.T) {
	s := compile(t, "report")
	demo := opened(t, "quarry-hollow.yaml", examples.Demo())
	for _, p := range rules.Builtin() {
		if err := s.Validate(value(t, report(judge.Judge(&demo.read.Job, demo.plan, p)))); err != nil {
			t.Errorf("%s: %v", p.Name, err)
		}
	}
	for name, j := range map[string]*judge.Judgement{
		"nothing": {}, "empty job": judge.Judge(&site.Job{}, &adjust.Plan{}, nil),
	} {
		if err := s.Validate(value(t, report(j))); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// objects visits every object of a document, with the way to it.
func objects(v any, path string, visit func(path string, object map[string]any)) {
	switch v := v.(type) {
	case map[string]any:
		visit(path, v)
		for k, inner := range v {
			objects(inner, path+"."+k, visit)
		}
	case []any:
		for i, inner := range v {
			objects(inner, fmt.Sprintf("%s[%d]", path, i), visit)
		}
	}
}

// TestTheSchemasRefuse a key that is not theirs, wherever it stands, and a
// document that lacks one.
func TestTheSchemasRefuse(t *testing.T) {
	demo := opened(t, "quarry-hollow.yaml", examples.Demo())
	for name, documents := range demo.documents() {
		s := compile(t, name)
		v := value(t, documents[0])
		seen := map[string]bool{}
		objects(v, name, func(path string, object map[string]any) {
			kind := strings.Map(func(r rune) rune {
				if r >= '0' && r <= '9' {
					return -1
				}
				return r
			}, path)
			if seen[kind] { // one of a list is enough
				return
			}
			seen[kind] = true
			object["bogus"] = 1
			if s.Validate(v) == nil {
				t.Errorf("%s takes a key of no meaning", path)
			}
			delete(object, "bogus")
		})
		if len(seen) < 2 {
			t.Errorf("%s: only %v was looked at", name, seen)
		}
		if err := s.Validate(v); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for k := range v.(map[string]any) {
			if k != "boxes" && k != "ties" && k != "actions" {
				continue
			}
			kept := v.(map[string]any)[k]
			delete(v.(map[string]any), k)
			if s.Validate(v) == nil {
				t.Errorf("%s is taken without %s", name, k)
			}
			v.(map[string]any)[k] = kept
		}
	}
}

// gallon is 231 cubic inches, the inch 0.0254 m: NIST Handbook 44, Appendix C.
const gallon = 231 * 0.0254 * 0.0254 * 0.0254

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// TestTheNumbersOfASplit: the shares add up to the whole, and a flow is the same
// in both units.
func TestTheNumbersOfASplit(t *testing.T) {
	splits := 0
	for _, e := range all(t) {
		for _, b := range judgefile.Make(e.judgement).Boxes {
			for _, s := range b.Splits {
				splits++
				share, wanted, flow := 0.0, 0.0, 0.0
				for _, h := range s.Shares {
					share, wanted, flow = share+h.Share, wanted+h.Wanted, flow+h.Flow
					if !near(h.FlowGPM*gallon/60, h.Flow, 1e-12) || !near(h.Share*s.Inflow, h.Flow, 1e-12) {
						t.Errorf("%s, %s, %s, %s: %+v", e.name, b.Part, s.Name, h.Line, h)
					}
				}
				if !near(share, 1, 1e-9) || !near(wanted, 1, 1e-9) || !near(flow, s.Inflow, 1e-12) || !near(s.InflowGPM*gallon/60, s.Inflow, 1e-12) {
					t.Errorf("%s, %s, %s: shares %v, wanted %v, flow %v of %v", e.name, b.Part, s.Name, share, wanted, flow, s.Inflow)
				}
			}
		}
	}
	if splits < 3 {
		t.Errorf("only %d splits", splits)
	}
}

// TestTheNumbersOfTheField: water is kept, and the areas add up.
func TestTheNumbersOfTheField(t *testing.T) {
	d := judgefile.Make(opened(t, "quarry-hollow.yaml", examples.Demo()).judgement)
	in := d.Storage.Backed
	for _, c := range d.Storage.Courses {
		in += c.Inflow
		if !near(c.Inflow, c.Soaked+c.End, 1e-9) {
			t.Errorf("%+v", c)
		}
	}
	if !near(in, d.Storage.Inflow, 1e-9) || !near(*d.Capacity.DailyGPD*gallon/86400, *d.Capacity.Daily, 1e-15) {
		t.Errorf("%v of %v; %v gal/day is %v m3/s", in, d.Storage.Inflow, *d.Capacity.DailyGPD, *d.Capacity.Daily)
	}
	sum := 0.0
	for _, a := range d.Capacity.Trenches {
		sum += a.Counted
	}
	if !near(sum, d.Capacity.Present, 1e-9) || d.Added == nil || d.Added.Bedrooms < 1 {
		t.Errorf("%v m2 of %v", sum, d.Capacity.Present)
	}
}

// TestNumbersWithoutEndAreLeftOut: JSON has no word for them.
func TestNumbersWithoutEndAreLeftOut(t *testing.T) {
	inf := math.Inf(1)
	j := &judge.Judgement{Old: &judge.OldDrawing{Misfit: unit.Length(inf)}, Lives: []judge.Life{{Years: math.NaN(), Most: inf}}}
	j.Capacity.Pumping.Known, j.Capacity.Pumping.Years = true, inf
	j.Capacity.Flow.Known, j.Capacity.Required.Known = true, true
	j.Capacity.Required.Area = math.MaxFloat64
	j.Capacity.Required.Area *= 10
	text, err := json.Marshal(judgefile.Make(j))
	if err != nil || bytes.Contains(text, []byte("area_required_m2")) {
		t.Errorf("%s, %v", text, err)
	}
}
