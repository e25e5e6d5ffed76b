package jobfile_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"undersod/core/site"
	"undersod/examples"
	"undersod/internal/jobfile"
)

// unplaced returns a copy of v without any place, by printing: two jobs that
// print alike say the same.
func unplaced(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[site.Place]() {
			return ""
		}
		var b strings.Builder
		for i := range v.NumField() {
			fmt.Fprintf(&b, "%s:%s ", v.Type().Field(i).Name, unplaced(v.Field(i)))
		}
		return "{" + b.String() + "}"
	case reflect.Slice:
		var b strings.Builder
		for i := range v.Len() {
			b.WriteString(unplaced(v.Index(i)) + ",\n")
		}
		return "[" + b.String() + "]"
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			return "nil"
		}
		return v.Elem().Type().String() + unplaced(v.Elem())
	}
	return fmt.Sprint(v.Interface())
}

func TestJSONTwinGivesTheSameJob(t *testing.T) {
	for name, text := range map[string]string{"documentation": documented(t), "demo": string(examples.Demo()), "looked": looked} {
		t.Run(name, func(t *testing.T) {
			fromYAML := read(t, text)
			twin := asJSON(t, text)
			if !strings.Contains(twin, "\n\t\t") {
				t.Fatal("the twin is not indented with tabs")
			}
			fromJSON, err := jobfile.Read("job.json", strings.NewReader(twin))
			if err != nil {
				t.Fatal(err)
			}
			a, b := unplaced(reflect.ValueOf(fromYAML.Job)), unplaced(reflect.ValueOf(fromJSON.Job))
			if a != b {
				t.Errorf("YAML:\n%s\nJSON:\n%s", a, b)
			}
			if len(fromYAML.Problems) != len(fromJSON.Problems) {
				t.Errorf("%d problems in YAML, %d in JSON", len(fromYAML.Problems), len(fromJSON.Problems))
			}
		})
	}
}

func TestPlacesCountCharacters(t *testing.T) {
	head := "undersod: 1\nmarks: {Ä: pin, Ö: pin}\n"
	for _, c := range []struct {
		name, text   string
		line, column int
	}{
		{"plain", head + "ties: {Ä: {Ö: 12 quarts}}\n", 3, 18},
		{"after wide ones", "undersod: 1\nmarks: {松の木: pin, Ö: pin}\nties: {松の木: {Ö: 12 quarts}}\n", 3, 20},
		{"double quotes", head + "ties: {Ä: {Ö: \"12' 6\\\" x\"}}\n", 3, 24},
		{"single quotes", head + "ties: {Ä: {Ö: '12'' 6\" x'}}\n", 3, 24},
		{"json", "{\"undersod\": 1,\n\t\"marks\": {\"Ä\": \"pin\", \"Ö\": \"pin\"},\n\t\"ties\": {\"Ä\": {\"Ö\": \"12 quarts\"}}}", 3, 26},
		{"byte order mark", "\ufeffundersod: 1\nsitee: {}\n", 2, 1},
		{"carriage returns", "undersod: 1\r\nsitee: {}\r\n", 2, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			res := read(t, c.text)
			if len(res.Problems) != 1 {
				t.Fatalf("problems %v", res.Problems)
			}
			if p := res.Problems[0].Place; p.Line != c.line || p.Column != c.column {
				t.Errorf("at %d:%d, want %d:%d\n%s", p.Line, p.Column, c.line, c.column, res.Show(res.Problems[0]))
			}
		})
	}
}

func TestShowPutsTheCaretUnderThePlace(t *testing.T) {
	for _, c := range []struct {
		source string
		column int
		want   string
	}{
		{"ab cd", 4, "    ab cd\n       ^\n"},
		{"\tab", 2, "      ab\n      ^\n"},
		{"松の木: x", 6, "    松の木: x\n            ^\n"},
		{"short", 99, "    short\n         ^\n"},
		{strings.Repeat("x", 300), 200, "    …" + strings.Repeat("x", 100) + "…\n" + strings.Repeat(" ", 55-1+1) + "^\n"},
	} {
		p := site.Problem{Place: site.Place{File: "f", Line: 1, Column: c.column}, Subject: "s"}
		got := jobfile.Show([]byte(c.source), p)
		if want := "f:1:" + fmt.Sprint(c.column) + ": s\n" + c.want; got != want {
			t.Errorf("got\n%q want\n%q", got, want)
		}
	}
	p := site.Problem{Subject: "s", Severity: site.Remark, Advice: "Look."}
	if got := jobfile.Show(nil, p); got != "remark: s\n    Look.\n" {
		t.Errorf("without a place: %q", got)
	}
}

func TestNamesOfReadings(t *testing.T) {
	res := read(t, documented(t))
	var got []string
	for _, r := range res.Job.Visit.Readings {
		got = append(got, string(r.Common().ID))
	}
	want := []string{
		"tie A > Tank inlet lid", "tie B > Tank inlet lid", "tie C > Tank inlet lid", "tie C > Tank inlet lid #2",
		"tie A > h1", "tie B > h1", "tie D > h1", "tie A > h2", "tie B > h2", "tie C > h2",
		"tie A > h3", "tie B > h3", "tie C > h3", "tie A > h4", "tie B > h4", "tie D > h4",
		"tie A > D-box", "tie B > D-box", "tie C > D-box", "tie D > D-box",
		"tie A > L1 bend", "tie B > L1 bend", "tie C > L1 bend", "tie D > L1 bend",
		"tie A > L1 end", "tie B > L1 end", "tie D > L1 end",
		"offset A-B > L1 end", "bearing D-box > L1 end", "fix D-box", "depth Tank inlet lid",
		"rod setup 1 > W ground", "rod setup 1 > D-box invert", "rod setup 1 > D-box lid", "footage Line 1 > L1 end",
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %q", got)
	}
}

func TestNamesOfReadingsAreUnique(t *testing.T) {
	res := read(t, `
undersod: 1
marks: {A: pin, B: pin, "B #2": pin}
ties: {B: {A: [3 ft, wrong, 5 ft]}, "B #2": {A: 4 ft}}
`)
	seen := map[site.ReadingID]bool{}
	for _, r := range res.Job.Visit.Readings {
		id := r.Common().ID
		if seen[id] {
			t.Errorf("%q twice", id)
		}
		seen[id] = true
	}
	// The third keeps its name though the second cannot be read.
	if len(seen) != 3 || !seen["tie A > B #3"] {
		t.Errorf("names %v", seen)
	}
}
