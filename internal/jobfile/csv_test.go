package jobfile_test

import (
	"errors"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile"
)

const bareJob = `
undersod: 1
marks: {A: pin, B: pin}
parts:
  D-box: distribution box
  Lid: lid
lines: {Line 1: {kind: drain line, path: [D-box, L1 end]}}
ties: {Lid: {A: 12'}}
`

const everyKind = `Kind,From,To,Point,Line,Setup,On,Read,Station,Right,Left,Latitude,Longitude,North,With,SD,Note
tie,A,Lid,,,,,"23' 4 1/2""",,,,,,,steel tape,1/4",second
tie,B,Lid,,,,,31' 9",,,,,,,,,
offset,A,B,L1 end,,,,,12 ft,,3 ft,,,,,,
bearing,D-box,L1 end,,,,,N 34°30' E,,,,,,magnetic,,2°,
fix,,,D-box,,,,,,,,47.05 N,122.7 W,,phone,,
depth,,,Lid,,,,"14""",,,,,,,,,
rod,,,D-box,,setup 1,invert,5.10 ft,,,,,,,,,
footage,,L1 end,,Line 1,,,54' 9",,,,,,,,,

`

func table(t testing.TB, text string) jobfile.Result {
	t.Helper()
	res, err := jobfile.ReadCSV("day.csv", strings.NewReader(text), read(t, bareJob).Job, unit.NoForm)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

func TestEveryKindOfRow(t *testing.T) {
	for name, text := range map[string]string{
		"commas": everyKind, "byte order mark": "\ufeff" + everyKind, "returns": strings.ReplaceAll(everyKind, "\n", "\r\n"),
		"semicolons": strings.ReplaceAll(everyKind, ",", ";"), "tabs": strings.ReplaceAll(everyKind, ",", "\t"),
	} {
		t.Run(name, func(t *testing.T) {
			res := table(t, text)
			for _, p := range res.Problems {
				if p.Severity == site.Mistake {
					t.Error(res.Show(p))
				}
			}
			readings := res.Job.Visit.Readings
			if len(readings) != 9 {
				t.Fatalf("%d readings, want the job's one and eight", len(readings))
			}
			tie := readings[1].(site.Tie)
			if tie.ID != "tie A > Lid #2" || tie.Read.Text != `23' 4 1/2"` || tie.Instrument != "steel tape" || tie.Note != "second" {
				t.Errorf("tie read as %+v", tie)
			}
			if got := readings[3].(site.Offset).Right.Length; (got + 3*unit.Foot).Abs() > 1e-12 {
				t.Errorf("three feet to the left read as %v m", got)
			}
			if place := readings[8].Common().Place; place.File != "day.csv" || place.Line != 9 {
				t.Errorf("footage at %v", place)
			}
		})
	}
}

func TestMistakesInATable(t *testing.T) {
	for _, c := range []struct {
		name, text   string
		line, column int
		words        string
	}{
		{"empty", "", 1, 1, "names the columns"},
		{"no kind", "from,to,read\n", 1, 1, "a column named kind"},
		{"column", "kind,from,to,reed\n", 1, 14, `"read"`},
		{"column twice", "kind,from,from\n", 1, 11, "once"},
		{"row kind", "kind,from,to,read\nty,A,Lid,3 ft\n", 2, 1, `"tie"`},
		{"no end", "kind,from,to,read\ntie,A,,3 ft\n", 2, 1, "no to"},
		{"no read", "kind,from,to,read\ntie,A,Lid,\n", 2, 1, "read"},
		{"length", "kind,from,to,read\ntie,A,Lid,3 quarts\n", 2, 13, "quarts"},
		{"name", "kind,from,to,read\ntie,A,lid,3 ft\n", 2, 7, `"Lid"`},
		{"too long", "kind,from,to,read\ntie,A,Lid,3 ft,4 ft\n", 2, 16, "at most 4 cells"},
		{"foreign column", "kind,from,to,read,station\ntie,A,Lid,3 ft,4 ft\n", 2, 16, "station"},
		{"below zero", "kind,from,to,read\ntie,A,Lid,-3 ft\n", 2, 1, "above zero"},
		{"multi-byte", "kind,note,from,to,read\ntie,größer,A,Lid,3 quarts\n", 2, 20, "quarts"},
	} {
		t.Run(c.name, func(t *testing.T) {
			res := table(t, c.text)
			if len(res.Problems) == 0 {
				t.Fatal("no problem")
			}
			p := res.Problems[0]
			if p.Place.File != "day.csv" || p.Place.Line != c.line || p.Place.Column != c.column {
				t.Errorf("at %v, want %d:%d\n%s", p.Place, c.line, c.column, res.Show(p))
			}
			if !strings.Contains(p.Error(), strings.ReplaceAll(c.words, `"`, ``)) {
				t.Errorf("%q does not say %s", p.Error(), c.words)
			}
		})
	}
}

func TestATableIsNoText(t *testing.T) {
	_, err := jobfile.ReadCSV("day.csv", strings.NewReader("kind\n\xff"), site.Job{}, unit.NoForm)
	if p, ok := err.(site.Problem); !ok || p.Place.Line != 2 {
		t.Errorf("got %v", err)
	}
}

func TestImport(t *testing.T) {
	folder := fstest.MapFS{"day.csv": {Data: []byte(everyKind)}, "deep/day.csv": {Data: []byte("kind,from,to,read\ntie,A,Lid,3 quarts\n")}}
	res, err := jobfile.ReadBeside("job.yaml", strings.NewReader(bareJob+"import: [day.csv, deep/day.csv]\n"), folder)
	if err != nil {
		t.Fatal(err)
	}
	if got := len(res.Job.Visit.Readings); got != 9 {
		t.Errorf("%d readings, want 9", got)
	}
	found := false
	for _, p := range res.Problems {
		if p.Place.File == "deep/day.csv" && p.Place.Line == 2 {
			found = true
			if !strings.Contains(res.Show(p), "tie,A,Lid,3 quarts") {
				t.Errorf("the row is not shown:\n%s", res.Show(p))
			}
		}
	}
	if !found {
		t.Errorf("the mistake in the second table is not told: %v", res.Problems)
	}
}

// prying is a folder that fails the test when it is asked for anything.
type prying struct{ t *testing.T }

func (p prying) Open(name string) (fs.File, error) {
	p.t.Errorf("asked for %q", name)
	return nil, errors.New("no")
}

func TestImportStaysInItsFolder(t *testing.T) {
	for _, name := range []string{"../x.csv", "/etc/x.csv", "a/../../x.csv", ".", "", `..\x.csv`, `C:\x.csv`, "job.yaml", "./x.csv"} {
		text := bareJob + "import: ['" + name + "']\n"
		res, err := jobfile.ReadBeside("job.yaml", strings.NewReader(text), prying{t})
		if err != nil {
			t.Fatal(err)
		}
		if res.Mistakes() != 1 {
			t.Errorf("%q: problems %v", name, res.Problems)
		}
	}
	if res := read(t, bareJob+"import: day.csv\n"); res.Mistakes() != 1 {
		t.Errorf("without a folder: problems %v", res.Problems)
	}
	res, err := jobfile.ReadBeside("job.yaml", strings.NewReader(bareJob+"import: [gone.csv]\n"), fstest.MapFS{})
	if err != nil || res.Mistakes() != 1 {
		t.Errorf("a file that is not there: %v %v", res.Problems, err)
	}
}
