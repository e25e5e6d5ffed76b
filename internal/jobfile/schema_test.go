package jobfile_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"strings"
	"testing"
	"time"

	"undersod/docs/schema"
	"undersod/examples"
	"undersod/internal/jobfile"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v3"
)

func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.Job()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("job.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("job.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asJSON turns YAML into JSON as an editor does, in the order of the file.
func asJSON(t testing.TB, text string) string {
	t.Helper()
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(text), &doc); err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	writeJSON(t, &b, doc.Content[0], 1)
	return b.String()
}

// writeJSON indents with tabs, which JSON allows and YAML does not.
func writeJSON(t testing.TB, b *strings.Builder, n *yaml.Node, depth int) {
	indent := "\n" + strings.Repeat("\t", depth)
	switch n.Kind {
	case yaml.MappingNode:
		b.WriteString("{")
		for i := 0; i < len(n.Content); i += 2 {
			fmt.Fprintf(b, "%s%s: ", indent, quoted(n.Content[i].Value))
			writeJSON(t, b, n.Content[i+1], depth+1)
			if i+2 < len(n.Content) {
				b.WriteString(",")
			}
		}
		b.WriteString("}")
	case yaml.SequenceNode:
		b.WriteString("[")
		for i, c := range n.Content {
			if i > 0 {
				b.WriteString(", ")
			}
			writeJSON(t, b, c, depth+1)
		}
		b.WriteString("]")
	default:
		var v any
		if err := n.Decode(&v); err != nil {
			t.Fatal(err)
		}
		if day, ok := v.(time.Time); ok {
			v = day.Format(time.DateOnly)
		}
		s, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		b.Write(s)
	}
}

func quoted(s string) string {
	b, _ := json.Marshal(s) // a string always marshals
	return string(b)
}

func valid(t testing.TB, s *jsonschema.Schema, text string) error {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatalf("%v in %s", err, text)
	}
	return s.Validate(v)
}

func TestExamplesAgreeWithSchemaAndReader(t *testing.T) {
	s := compiled(t)
	jobs := map[string]string{"documentation": documented(t), "every key": looked}
	names, err := fs.Glob(examples.Files, "*.yaml")
	if err != nil || len(names) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for _, name := range names {
		data, err := fs.ReadFile(examples.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		jobs[name] = string(data)
	}
	for name, text := range jobs {
		t.Run(name, func(t *testing.T) {
			res, err := jobfile.Read(name, strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			schemaErr := valid(t, s, asJSON(t, text))
			if res.Mistakes() == 0 && schemaErr != nil {
				t.Errorf("the reader finds no mistake, the schema does: %v", schemaErr)
			}
		})
	}
}

func TestSchemaAndReaderRefuseTheSame(t *testing.T) {
	s := compiled(t)
	for _, text := range []string{
		`{"undersod": 2}`,
		`{"undersod": 1, "sitee": {}}`,
		`{"undersod": 1, "bare": "furlongs"}`,
		`{"undersod": 1, "show": {"fraction": "1/3"}}`,
		`{"undersod": 1, "visit": {"date": "May 14"}}`,
		`{"undersod": 1, "datum": {"mark": "A"}}`,
		`{"undersod": 1, "lines": {"L": {"kind": "hose", "path": ["a", "b"]}}}`,
		`{"undersod": 1, "lines": {"L": {"kind": "drain line", "path": ["a"]}}}`,
		`{"undersod": 1, "parts": {"T": {"kind": "tank"}}}`,
		`{"undersod": 1, "buildings": {"H": {"corners": ["A", "B", "C"]}}}`,
		`{"undersod": 1, "marks": {"A": {"side": "north of it"}}}`,
		`{"undersod": 1, "marks": {"A": "pin", "B": "pin"}, "ties": {"A": {"B": {"with": "steel tape"}}}}`,
		`{"undersod": 1, "marks": {"A": "pin"}, "fixes": {"A": {"latitude": 47}}}`,
		`{"undersod": 1, "marks": {"A": "pin", "B": "pin"}, "offsets": [{"baseline": "A-B", "point": "A", "station": "3 ft"}]}`,
		`{"undersod": 1, "marks": {"A": "pin"}, "rods": {"s": {"A": {"roof": "3 ft"}}}}`,
		`{"undersod": 1, "lines": {"L": {"kind": "drain line", "path": ["a", "b"]}}, "cameras": {"L": {"findings": [{"at": "3 ft"}]}}}`,
		`{"undersod": 1, "lines": {"L": {"kind": "drain line", "path": ["a", "b"]}}, "cameras": {"L": {"ended": "tea"}}}`,
		`{"undersod": 1, "lines": {"L": {"kind": "drain line", "path": ["a", "b"], "porosity": 0.4}}}`,
		`{"undersod": 1, "parts": {"X": "drop box"}, "boxes": {"X": {"rim": {"north": "3 in"}}}}`,
		`{"undersod": 1, "record": {"lines": "three"}}`,
		`{"undersod": 1, "household": {"hours": [1, 2]}}`,
		`{"undersod": 1, "care": [{"date": "2016"}]}`,
		`{"undersod": 1, "photos": ["/etc/a.jpg"]}`,
		`{"undersod": 1, "proposed": {"Shed": {"kind": "structure"}}}`,
		`{"undersod": 1, "proposed": {"Shed": {"kind": "tree", "size": "3' x 4'"}}}`,
		`{"undersod": 1, "proposed": {"Shed": {"kind": "structure", "outline": [["0'", "0'"], ["4'", "0'"]]}}}`,
		`{"undersod": 1, "proposed": {"New well": {"kind": "well", "size": "3' x 4'"}}}`,
		`{"undersod": 1, "proposed": {"Shed": {"kind": "structure", "size": "3' x 4'", "at": {"station": "3'"}}}}`,
		`{"undersod": 1, "setbacks": {"source": "permit"}}`,
		`{"undersod": 1, "setbacks": {"rows": [{"from": "well"}]}}`,
		`{"undersod": 1, "setbacks": {"rows": [{"from": "moon", "field": "3'"}]}}`,
		`{"undersod": 1, "setbacks": {"rows": [{"field": "3'"}]}}`,
		`[]`, `{}`,
	} {
		res, err := jobfile.Read("job.json", strings.NewReader(text))
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		if res.Mistakes() == 0 {
			t.Errorf("the reader finds no mistake in %s", text)
		}
		if valid(t, s, text) == nil {
			t.Errorf("the schema finds no mistake in %s", text)
		}
	}
}
