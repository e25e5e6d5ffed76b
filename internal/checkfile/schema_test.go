package checkfile_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"undersod/core/adjust"
	"undersod/docs/schema"
	"undersod/examples"
	"undersod/internal/checkfile"
	"undersod/internal/jobfile"
)

func compile(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.Check()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("check.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("check.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// document makes the JSON of a job.
func document(t *testing.T, name string, text []byte) []byte {
	t.Helper()
	r, err := jobfile.ReadBeside(name, bytes.NewReader(text), examples.Files)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	plan := adjust.Solve(&r.Job, adjust.Settings{})
	checkfile.CountMistakes(plan, r.Mistakes())
	out, err := json.Marshal(checkfile.Make(name, &r.Job, plan, r.Problems))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return out
}

// TestEveryExampleKeepsToTheSchema validates with a general JSON Schema library.
func TestEveryExampleKeepsToTheSchema(t *testing.T) {
	s := compile(t)
	entries, err := examples.Files.ReadDir(".")
	if err != nil || len(entries) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for _, e := range entries {
		text, err := examples.Files.ReadFile(e.Name())
		if err != nil {
			t.Fatal(err)
		}
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(document(t, e.Name(), text)))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(value); err != nil {
			t.Errorf("%s: %v", e.Name(), err)
		}
	}
}

// TestTheSchemaRefuses makes sure that the schema can fail.
func TestTheSchemaRefuses(t *testing.T) {
	s := compile(t)
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(document(t, "demo", examples.Demo())))
	if err != nil {
		t.Fatal(err)
	}
	value.(map[string]any)["verdict"].(map[string]any)["fill"] = "perhaps"
	if s.Validate(value) == nil {
		t.Error("a verdict of its own making passes the schema")
	}
}

// TestDocumentNumbers holds the conversion of angles and lengths on one job
// whose numbers are known: a 3-4-5 triangle on a stated datum.
func TestDocumentNumbers(t *testing.T) {
	job := `undersod: 1
datum: {mark: A, east: 100 m, north: 200 m, toward: B, azimuth: 90°}
marks: {A: iron pin, B: iron pin}
parts: {Lid: {kind: lid, side: left of A-B}}
ties:
  B: {A: 3 m}
  Lid: {A: 4 m, B: 5 m}
bearings:
  Lid: {A: 0°}
`
	var d checkfile.Document
	if err := json.Unmarshal(document(t, "job", []byte(job)), &d); err != nil {
		t.Fatal(err)
	}
	want := map[string][2]float64{"A": {100, 200}, "B": {103, 200}, "Lid": {100, 204}}
	for _, p := range d.Points {
		w := want[p.Name]
		if p.East == nil || abs(*p.East-w[0]) > 1e-6 || abs(*p.North-w[1]) > 1e-6 {
			t.Errorf("%s lies at %v, want %v", p.Name, p, w)
		}
	}
	if d.Global.Freedom != 1 || d.Frame.Azimuth != 90 || d.Frame.North != "given" {
		t.Errorf("frame %+v, global %+v", d.Frame, d.Global)
	}
	for _, r := range d.Readings {
		if c := r.Components[0]; r.ID == "bearing A > Lid" && (c.Unit != "deg" || abs(c.SD-2) > 1e-9) {
			t.Errorf("the bearing is told as %+v", c)
		}
	}
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}
