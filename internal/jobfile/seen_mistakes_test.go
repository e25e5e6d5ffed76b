package jobfile_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"undersod/internal/jobfile"
)

func TestMistakesInWhatIsSeen(t *testing.T) {
	for _, c := range []struct {
		was, is      string // what is spoilt in the job with every key
		line, column int
		words        string
	}{
		{"entry: D-box", "entri: D-box", 36, 5, `Did you mean "entry"`},
		{"  Line 1:\n    entry", "  Lime 1:\n    entry", 35, 3, `Did you mean "Line 1"`},
		{"toward: L1 end", "toward: L2 end", 35, 3, "D-box, L1 bend, L1 end"},
		{"pushed: 1%", "pushed: 0.01", 39, 13, "with its %"},
		{"with: reel", "with: real", 40, 11, `Did you mean "reel"`},
		{"ended: line end", "ended: lineend", 42, 12, `Did you mean "line end"`},
		{"ended at: 61' 7\"", "ended at: 61' 17\"", 43, 19, "below 12"},
		{"what: fine roots", "what: fin roots", 46, 25, `Did you mean "fine roots"`},
		{"what: flattened", "what: crushed", 48, 34, `Did you mean "flattened"`},
		{"grade: watch, note: \"by", "grade: wacht, note: \"by", 46, 44, `Did you mean "watch"`},
		{"at: 41'", "at: 41", 46, 16, "unit"},
		{"at: 41', ", "", 46, 9, "at: 41'"},
		{"at: 20'", "at: 20', from: 3'", 48, 25, "only one of at and from"},
		{"percent: 12%", "percent: a lot", 48, 54, "0 to 100"},
		{"photos/a.jpg", "../a.jpg", 48, 67, "without .."},
		{"  D-box:\n    length", "  D-bux:\n    length", 53, 3, `Did you mean "D-box"`},
		{"boxes:\n  D-box", "boxes:\n  Tank", 53, 3, "drop box"},
		{"lid: -4\"", "lid: four", 57, 10, "number"},
		{"rod: O1", "rod: [O1]", 63, 33, "a name"},
		{"wall: far", "wall: back", 63, 43, "near, right, far or left"},
		{"closed: yes", "closed: perhaps", 63, 71, "true or false"},
		{"narrowed: 20%", "narrowed: 0.2", 63, 86, "with its %"},
		{"Line 2: 3 1/4\"", "Line 9: 3 1/4\"", 64, 7, "line of the job"},
		{"O1: {invert", "O7: {invert", 33, 35, "level point"},
		{"date: 1996-08", "date: August 1996", 68, 9, "a year as 1996"},
		{"lines: 3", "lines: three", 69, 10, "whole number"},
		{"tank: 1,000 gal", "tank: 1,000", 72, 14, "unit"},
		{"D-box: {A: 20'", "D-bix: {A: 20'", 80, 15, `Did you mean "D-box"`},
		{"A: [120, 340]", "A: 120", 81, 69, "two numbers"},
		{"1.5, 1, 1, 0]", "1.5, 1, 1]", 89, 10, "24 numbers"},
		{"18 min/in", "18 quarts", 90, 24, "minutes per inch"},
		{"date: 2021-06,", "date: June,", 92, 12, "a day as 2026-05-14"},
		{"what: pumped}", "note: pumped}", 93, 5, "what was done"},
		{"of: D-box", "of: D-bix", 96, 32, `Did you mean "D-box"`},
		{"of: Maple", "of: Mapel", 97, 34, `Did you mean "Maple"`},
		{"porosity: 40%", "porosity: 40", 21, 15, "with its %"},
		{"installed: 1996\n", "installed: 96\n", 9, 16, "a year as 1996"},
		{"findings: [piece missing,", "findings: [peace missing,", 10, 16, `Did you mean "piece missing"`},
	} {
		t.Run(c.is, func(t *testing.T) {
			text := strings.Replace(looked, c.was, c.is, 1)
			if text == looked {
				t.Fatalf("%q is not in the job", c.was)
			}
			res := read(t, text)
			if len(res.Problems) == 0 {
				t.Fatal("nothing is told")
			}
			p := res.Problems[0]
			if p.Place.Line != c.line || p.Place.Column != c.column || !strings.Contains(p.Error(), c.words) {
				t.Errorf("want %d:%d and %q, got\n%s", c.line, c.column, c.words, res.Show(p))
			}
			if runs := len(res.Job.Visit.Runs); runs < 2 {
				t.Errorf("only %d runs are left", runs)
			}
		})
	}
}

// A file full of what is seen is cut at its limit, in words and soon.
func TestManyFindings(t *testing.T) {
	var b strings.Builder
	b.WriteString("undersod: 1\nlines: {L: {kind: drain line, path: [a, b]}}\ncameras:\n  L:\n    findings:\n")
	for i := range 60_000 {
		fmt.Fprintf(&b, "      - {at: %d ft, what: fine root}\n", i%900)
	}
	b.WriteString("photos:\n")
	for range 20_000 {
		b.WriteString("  - {file: a.jpg, of: nobody at all}\n")
	}
	start := time.Now()
	res, err := jobfile.Read("job.yaml", strings.NewReader(b.String()))
	if err != nil {
		t.Fatal(err)
	}
	if n := len(res.Job.Visit.Runs); n > 1 || len(res.Problems) == 0 {
		t.Errorf("%d runs, %d problems", n, len(res.Problems))
	}
	if n := len(res.Job.Visit.Photos); n > 10_000 {
		t.Errorf("%d photos", n)
	}
	if took := time.Since(start); took > time.Minute {
		t.Errorf("took %v", took)
	}
}
