package text_test

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"undersod/core/absorb"
	"undersod/core/adjust"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/examples"
	"undersod/internal/clearfile"
	"undersod/internal/jobfile"
	"undersod/internal/text"
)

// all are the shipped jobs.
func all(t *testing.T) []text.Of {
	t.Helper()
	entries, err := examples.Files.ReadDir(".")
	if err != nil || len(entries) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	var out []text.Of
	for _, e := range entries {
		data, err := examples.Files.ReadFile(e.Name())
		if err != nil {
			t.Fatal(err)
		}
		r, err := jobfile.ReadBeside(e.Name(), bytes.NewReader(data), examples.Files)
		if err != nil {
			t.Fatal(err)
		}
		r.Problems = nil // printed as the file's reader shows them, with the line itself
		out = append(out, text.Of{Name: e.Name(), Read: r, Plan: adjust.Solve(&r.Job, adjust.Settings{})})
	}
	return out
}

// readable holds a text to what a terminal of 80 columns and a person can take.
func readable(t *testing.T, what string, out *bytes.Buffer) {
	t.Helper()
	for line := range strings.Lines(out.String()) {
		if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 80 {
			t.Errorf("%s: %d columns: %s", what, n, line)
		}
	}
	for _, bad := range []string{"NaN", "Inf", "%!", "unknown", "±±", "..", "  - ", "\x1b"} {
		if strings.Contains(strings.NewReplacer("...", "", "tank-of-unknown-size.yaml", "").Replace(out.String()), bad) {
			t.Errorf("%s: %q in\n%s", what, bad, out)
		}
	}
	if !strings.HasSuffix(out.String(), absorb.Decides+"\n") {
		t.Errorf("%s: nobody is said to decide", what)
	}
}

// TestSetbacksAndChecklistsCanBeRead of every example.
func TestSetbacksAndChecklistsCanBeRead(t *testing.T) {
	rows := 0
	packs := rules.Builtin()
	for i, of := range all(t) {
		for k, pack := range packs {
			if of.Name != "quarry-hollow.yaml" && (i+k)%5 != 0 {
				continue // the demo meets every pack, the others some
			}
			var table, list bytes.Buffer
			judged, checks := setback.Judge(&of.Read.Job, of.Plan, pack), setback.Checks(&of.Read.Job, of.Plan, pack)
			rows += len(judged.Rows)
			text.Setbacks(&table, of, judged, checks)
			readable(t, of.Name+", "+pack.Name, &table)
			text.Checklist(&list, of, pack, checks)
			readable(t, of.Name+", checklist of "+pack.Name, &list)
		}
	}
	if rows < 500 {
		t.Errorf("only %d rows", rows)
	}
}

// TestFitsCanBeRead: a shed in every example, a well, and what it proposes.
func TestFitsCanBeRead(t *testing.T) {
	long, wide := unit.Written{Length: 24 * unit.Foot}, unit.Written{Length: 16 * unit.Foot}
	told := 0
	for i, of := range all(t) {
		job := &of.Read.Job
		pack := rules.Builtin()[i%len(rules.Builtin())]
		asked := append([]site.Proposed{
			{Name: "Shed", Kind: site.Structure, Length: &long, Width: &wide},
			{Name: "New well", Kind: site.Well, Class: "private"},
		}, job.Site.Proposed...)
		for _, p := range asked {
			q, problems := setback.Ask(job, of.Plan, p)
			if len(problems) > 0 {
				t.Errorf("%s, %s: %v", of.Name, p.Name, problems)
				continue
			}
			q.Turning.Step = 45 * unit.Degree
			f, err := setback.Find(job, of.Plan, pack, q)
			if err != nil {
				continue // told by the command
			}
			told++
			var out bytes.Buffer
			text.Fits(&out, of, pack, []clearfile.Answered{{Fit: f}})
			readable(t, of.Name+", "+string(p.Name), &out)
		}
	}
	if told < 20 {
		t.Errorf("only %d fits were told", told)
	}
}
