package clearfile_test

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"undersod/core/absorb"
	"undersod/core/adjust"
	"undersod/core/clearance"
	"undersod/core/judge"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/docs/schema"
	"undersod/examples"
	"undersod/internal/checkfile"
	"undersod/internal/clearfile"
	"undersod/internal/jobfile"
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

// full are documents with every key, by schema.
func full(t *testing.T) map[string]any {
	t.Helper()
	source := rules.Source{Title: "A code", Section: "4.2", Year: "2019", Status: rules.Read, Note: "single houses"}
	gap := clearance.Gap{Distance: 5, From: clearance.Spot{At: planar.Vec{East: 1}}, To: clearance.Spot{At: planar.Vec{East: 6}}}
	thing := setback.Thing{Name: "Well", Kind: "well", Class: "private"}
	table := &setback.Table{Pack: "ours", Place: "Our County", NoRule: []string{"none"}, Missing: []string{"the well"},
		Rows: []setback.Row{{Part: setback.Thing{Name: "Tank", Kind: "septic tank"}, Column: rules.ToTank, From: thing, Required: 15, Measured: 5,
			Known: true, Margin: -10, Within: 0.1, Verdict: setback.Short, Gap: gap, Words: "w", Source: source, Permit: true, Assumed: "a", Note: "n", Proposed: true, Advice: "tie it"}}, Clashes: []string{"c"},
		Proposed: []setback.Stands{{Thing: thing, Size: "8 m x 5 m", Outline: planar.Ring{{}, {East: 1}, {East: 1, North: 1}}, Verdict: setback.Short, Words: "w"}},
		Limits: []setback.LimitRow{{What: "trench width of Line 1", On: rules.OnTrenchWidth, Least: 0.3, Most: 0.9, Measured: 0.6, Within: 0.05,
			Known: true, Verdict: setback.Clear, Words: "w", Source: source}}}
	checks := []setback.Check{{What: rules.WantTank, Words: "w", Answer: setback.OnSheet, Why: "y", Source: source},
		{What: rules.WantLot, Answer: setback.Missing}, {What: rules.WantWells, Answer: setback.NotApplicable}}
	footprint, err := clearance.Rectangle(8, 5)
	if err != nil {
		t.Fatal(err)
	}
	fromLot, wish := 3*unit.Metre, planar.Vec{East: 2}
	limit := setback.Limiting{Thing: thing, Required: 15, Margin: 1, Measured: 16, Within: 0.1, Verdict: setback.Clear, Gap: gap, Words: "w", Source: source, Permit: true, Assumed: "a", Ruled: true, Proposed: true, Advice: "tie it"}
	found := clearance.Found{Placement: clearance.Placement{At: planar.Vec{East: 20, North: 10}, Turn: 30 * unit.Degree}, Fits: true, Moved: 1, Searched: 7}
	square := planar.Ring{{}, {East: 1}, {East: 1, North: 1}}
	f := &setback.Fit{
		Question: setback.Question{Name: "Workshop", Kind: site.Structure, Class: "occupied", Footprint: footprint, Size: "8 m x 5 m",
			Turning: setback.Turning{Free: true, Step: 5 * unit.Degree}, Stated: &clearance.Placement{}, Near: &wish, NearWords: "Tank", FromLot: &fromLot, Bedrooms: 1},
		Region: clearance.Region{Pieces: []clearance.Piece{{Outer: square, Holes: []planar.Ring{square}}}, Area: 12, Tolerance: 0.005},
		ByTurn: []clearance.TurnArea{{Turn: 0, Area: 12}, {Turn: 5 * unit.Degree, Area: 11}}, Best: found,
		Limits: []setback.Limiting{limit}, Stated: []setback.Limiting{limit}, Cure: &found, Sure: &found, LeftOut: []string{"Well"}, Verdict: setback.Clear,
		Words: []string{"It fits."}, Missing: []string{"m"}, Caution: []string{"c"},
	}
	capacity := &setback.Capacity{Rooms: 1, ReserveArea: 100, ReserveNeeded: 90, Reserve: absorb.Enough, Words: []string{"w"}}
	job, plan := yard()
	head := checkfile.Job{File: "job.yaml", Site: "S", Date: "2026-05-14"}
	pack := &rules.Pack{Name: "ours", Place: "Our County"}
	return map[string]any{
		"setbacks":  clearfile.MakeSetbacks(head, plan, table, checks),
		"packs":     clearfile.MakePacks(append(clearfile.Builtin(), clearfile.ReadPack("my.json", []byte(`{"name": "mine", "bogus": 1}`)))),
		"checklist": clearfile.MakeChecklist(head, plan, pack, checks),
		"fit":       clearfile.MakeFits(head, job, plan, pack, []clearfile.Answered{{Fit: f, Capacity: capacity}}, []string{"Pool: it has no size"}),
	}
}

// yard is a job of two marks and its plan.
func yard() (*site.Job, *adjust.Plan) {
	job, plan := &site.Job{}, &adjust.Plan{}
	for i, at := range []planar.Vec{{}, {East: 30}} {
		name := site.Name("AB"[i : i+1])
		job.Site.Points = append(job.Site.Points, site.Point{Name: name})
		plan.Points = append(plan.Points, adjust.Point{Name: name, State: adjust.Determined, Placed: true, At: at})
	}
	return job, plan
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
		for _, inner := range v {
			objects(inner, path+"[]", visit)
		}
	}
}

// TestTheSchemasTakeAFullDocumentAndNoMore: no key is optional for want of a
// test, and none of no meaning passes, wherever it stands.
func TestTheSchemasTakeAFullDocumentAndNoMore(t *testing.T) {
	for name, document := range full(t) {
		s, v := compile(t, name), value(t, document)
		if err := s.Validate(v); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		seen := 0
		objects(v, name, func(path string, object map[string]any) {
			seen++
			object["bogus"] = 1
			if s.Validate(v) == nil {
				t.Errorf("%s takes a key of no meaning", path)
			}
			delete(object, "bogus")
		})
		if seen < 3 {
			t.Errorf("%s: only %d objects were looked at", name, seen)
		}
		for k, kept := range v.(map[string]any) {
			delete(v.(map[string]any), k)
			if s.Validate(v) == nil {
				t.Errorf("%s is taken without %s", name, k)
			}
			v.(map[string]any)[k] = kept
		}
	}
}

// TestEveryKeyOfTheSchemasIsMade reads the properties back out of the schemas
// and looks for each in the full documents.
func TestEveryKeyOfTheSchemasIsMade(t *testing.T) {
	for name, document := range full(t) {
		made := map[string]bool{}
		objects(value(t, document), "", func(_ string, object map[string]any) {
			for k := range object {
				made[k] = true
			}
		})
		text, _ := schema.ByName(name)
		var doc map[string]any
		if err := json.Unmarshal(text, &doc); err != nil {
			t.Fatal(err)
		}
		known := strings.Fields("latitude_deg longitude_deg fixed_deg pumping daily_flow_m3_per_s daily_flow_gal_per_day area_required_m2 present_m3 required_m3 years")
		objects(doc, "", func(_ string, object map[string]any) {
			properties, _ := object["properties"].(map[string]any)
			for k := range properties {
				if !made[k] && !contains(known, k) && !contains(trench(), k) {
					t.Errorf("%s: nothing makes %s", name, k)
				}
			}
		})
	}
}

// trench is the keys of a trench, which another document's test makes.
func trench() []string {
	return strings.Fields("line known bottom_m2 side_m2 standard_length_share counted_m2 sd_counted_m2 words")
}

func contains(list []string, v string) bool {
	for _, w := range list {
		if w == v {
			return true
		}
	}
	return false
}

// TestNothingIsStillADocument: an empty answer keeps to the schemas, and no
// number without end gets into one.
func TestNothingIsStillADocument(t *testing.T) {
	head := checkfile.Job{}
	inf := unit.Length(math.Inf(1))
	odd := &setback.Fit{Question: setback.Question{Kind: site.Well, Footprint: clearance.Point()}, Verdict: setback.Short,
		Limits: []setback.Limiting{{Measured: inf, Margin: inf, Within: unit.Length(math.NaN()), Verdict: setback.TooClose}}}
	for name, document := range map[string]any{
		"setbacks":  clearfile.MakeSetbacks(head, &adjust.Plan{}, &setback.Table{Rows: []setback.Row{{Column: rules.ToTank, Verdict: setback.TooClose}}, Limits: []setback.LimitRow{{}}}, nil),
		"checklist": clearfile.MakeChecklist(head, &adjust.Plan{}, nil, nil),
		"fit":       clearfile.MakeFits(head, &site.Job{}, &adjust.Plan{}, nil, []clearfile.Answered{{Fit: odd}}, nil),
	} {
		if err := compile(t, name).Validate(value(t, document)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// opened is a shipped job with its plan.
func opened(t *testing.T, name string) (*site.Job, *adjust.Plan) {
	t.Helper()
	text, err := examples.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	r, err := jobfile.ReadBeside(name, bytes.NewReader(text), examples.Files)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return &r.Job, adjust.Solve(&r.Job, adjust.Settings{})
}

// TestEveryExampleKeepsToTheSchemas: the table, the checklist,
// and a shed of 24 ft by 16 ft.
func TestEveryExampleKeepsToTheSchemas(t *testing.T) {
	tables, lists, fits := compile(t, "setbacks"), compile(t, "checklist"), compile(t, "fit")
	entries, err := examples.Files.ReadDir(".")
	if err != nil || len(entries) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	packs, rows := rules.Builtin(), 0
	for i, e := range entries {
		job, plan := opened(t, e.Name())
		head := checkfile.Job{File: e.Name(), Site: job.Site.Name, Date: job.Visit.Date}
		for k, pack := range packs {
			if e.Name() != "quarry-hollow.yaml" && (i+k)%5 != 0 {
				continue // the demo meets every pack, the others some
			}
			checks, table := setback.Checks(job, plan, pack), setback.Judge(job, plan, pack)
			rows += len(table.Rows)
			if err := tables.Validate(value(t, clearfile.MakeSetbacks(head, plan, table, checks))); err != nil {
				t.Errorf("%s, %s: %v", e.Name(), pack.Name, err)
			}
			if err := lists.Validate(value(t, clearfile.MakeChecklist(head, plan, pack, checks))); err != nil {
				t.Errorf("%s, %s: %v", e.Name(), pack.Name, err)
			}
		}
		pack := packs[i%len(packs)]
		planned := *job
		planned.Site.Household.AddedBedrooms++
		j := judge.Judge(&planned, plan, pack)
		now, then := j.Capacity, j.Added
		for _, p := range append([]site.Proposed{shed()}, job.Site.Proposed...) {
			q, problems := setback.Ask(job, plan, p)
			if len(problems) > 0 {
				t.Errorf("%s, %s: %v", e.Name(), p.Name, problems)
				continue
			}
			q.Turning.Step = 30 * unit.Degree
			f, err := setback.Find(job, plan, pack, q)
			if err != nil {
				continue // a job may have a lot in which nothing can be sought; that is told
			}
			document := clearfile.MakeFits(head, job, plan, pack, []clearfile.Answered{{Fit: f, Capacity: setback.Bedrooms(job, plan, pack, now, then, 1)}}, nil)
			if err := fits.Validate(value(t, document)); err != nil {
				t.Errorf("%s, %s, %s: %v", e.Name(), p.Name, pack.Name, err)
			}
		}
	}
	if rows == 0 {
		t.Error("no row was made")
	}
}

func shed() site.Proposed {
	return site.Proposed{Name: "Shed", Kind: site.Structure, Length: &unit.Written{Text: "24'", Length: 24 * unit.Foot}, Width: &unit.Written{Text: "16'", Length: 16 * unit.Foot}}
}

// Who reads the JSON alone learns what the check says, and what was not used.
func TestTheCheckStandsInEveryDocument(t *testing.T) {
	plan := &adjust.Plan{}
	checkfile.CountMistakes(plan, 2)
	plan.Search.Accused = make([]adjust.Accusation, 1)
	want := clearfile.Check{Fill: "no", Words: "Do not fill yet.", Accused: 1, Unused: 2}
	head := checkfile.Job{}
	if got := clearfile.MakeSetbacks(head, plan, &setback.Table{}, nil).Check; got != want {
		t.Errorf("%+v", got)
	}
	if got := clearfile.MakeFits(head, &site.Job{}, plan, nil, nil, nil).Check; got != want {
		t.Errorf("%+v", got)
	}
	if got := clearfile.MakeChecklist(head, plan, nil, nil).Check; got != want {
		t.Errorf("%+v", got)
	}
}
