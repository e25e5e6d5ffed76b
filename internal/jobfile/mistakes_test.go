package jobfile_test

import (
	"flag"
	"os"
	"strings"
	"testing"

	"undersod/core/site"
	"undersod/internal/jobfile"
)

var update = flag.Bool("update", false, "write the golden files anew")

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := "testdata/" + name
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; look, and accept with -update. Got:\n%s", path, got)
	}
}

func read(t testing.TB, text string) jobfile.Result {
	t.Helper()
	res, err := jobfile.Read("job.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return res
}

func TestManyMistakesAreAllToldInOneRun(t *testing.T) {
	text, err := os.ReadFile("testdata/mistakes.yaml")
	if err != nil {
		t.Fatal(err)
	}
	res := read(t, string(text))
	var b strings.Builder
	distinct := map[string]bool{}
	for _, p := range res.Problems {
		b.WriteString(res.Show(p) + "\n")
		distinct[p.Subject+p.Found+p.Expected] = true
		if p.Place.Line < 1 || p.Place.Column < 1 {
			t.Errorf("no place: %v", p)
		}
		if p.Expected == "" && p.Advice == "" {
			t.Errorf("no help: %v", p)
		}
	}
	if len(distinct) < 20 {
		t.Errorf("%d different messages, want 20 at least", len(distinct))
	}
	golden(t, "mistakes.golden", b.String())
}

func TestWhatIsRightInAWrongJobIsUsed(t *testing.T) {
	text, err := os.ReadFile("testdata/mistakes.yaml")
	if err != nil {
		t.Fatal(err)
	}
	job := read(t, string(text)).Job
	if job.Site.Name != "3 Rushmere Bend" || job.Visit.By != "J. Example" {
		t.Errorf("the right words are lost: %+v", job.Site)
	}
	// Ties that cannot be right stay as written, for the adjustment to refuse
	// by name; the one that cannot be read is not there.
	ids := map[site.ReadingID]bool{}
	for _, r := range job.Visit.Readings {
		ids[r.Common().ID] = true
	}
	for id, want := range map[site.ReadingID]bool{
		"tie C > Tank inlet lid": true, "tie W > Tank inlet lid": true, "tie L1 end > L1 end": true,
		"tie B > Tank inlet lid": false, "tie A > tank inlet lid": false,
	} {
		if ids[id] != want {
			t.Errorf("%s kept: %v, want %v", id, ids[id], want)
		}
	}
}

func TestFilesThatCannotBeRead(t *testing.T) {
	for _, c := range []struct {
		name, text   string
		line, column int
		words        string
	}{
		{"tab", "undersod: 1\nsite:\n\tname: x\n", 3, 0, "tabs"},
		{"colon", "undersod: 1\nsite:\n  name: a: b\n", 3, 0, "colon"},
		{"open list", "undersod: 1\nvisit: {notes: [a, b}\n", 2, 0, "closed"},
		{"open quote", "undersod: 1\nsite: {name: \"a}\n", 0, 0, "quote"},
		{"empty", "", 1, 1, "undersod: 1"},
		{"binary", "undersod: 1\n\xff\xfe", 2, 1, "UTF-8"},
		{"json comma", "{\"undersod\": 1\n \"site\": {}}", 2, 2, "comma"},
		{"json end", "{\"undersod\": 1,\n", 2, 1, "ends in the middle"},
		{"deep", "undersod: 1\nsite: " + strings.Repeat("[", 200) + strings.Repeat("]", 200), 2, 0, ""},
		{"deep json", `{"undersod":` + strings.Repeat("[", 5000) + strings.Repeat("]", 5000) + `}`, 1, 0, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := jobfile.Read("job.yaml", strings.NewReader(c.text))
			p, ok := err.(site.Problem)
			if !ok {
				t.Fatalf("got %v, want a problem", err)
			}
			if c.line > 0 && p.Place.Line != c.line || c.column > 0 && p.Place.Column != c.column {
				t.Errorf("at %v, want %d:%d", p.Place, c.line, c.column)
			}
			if !strings.Contains(p.Error(), c.words) {
				t.Errorf("%q does not say %q", p.Error(), c.words)
			}
			if strings.Contains(p.Advice, "yaml:") {
				t.Errorf("%q is not a person's language", p.Error())
			}
		})
	}
}
