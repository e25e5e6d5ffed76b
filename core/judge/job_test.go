package judge_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/judge"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile"
)

// small is an invented job whose geometry is known: everything lies by station
// along A-B and distance to the right of it, the lines turn by 3-4-5 triangles.
// Lines 1 and 2 are 60 ft long, line 3 is 54 ft 9 in; they lie 9 ft apart.
const small = `undersod: 1
visit: {date: 2026-05-14}
show: {lengths: feet-inches, fraction: 1/4}
marks: {A: iron pin, B: iron pin, C: iron pin, D: iron pin}
parts:
  Tank: {kind: septic tank, capacity: 1000 gal, material: concrete, installed: 1996-08}
  D-box: {kind: distribution box, material: concrete, installed: 1996-08}
lines:
  Line 1: {kind: drain line, path: [D-box, L1 bend, L1 end], bore: 4 in, trench width: 3 ft, trench depth: 30", stone below: 12", porosity: 40%, installed: 1996-08}
  Line 2: {kind: drain line, path: [D-box, L2 bend, L2 end], bore: 4 in, trench width: 3 ft, trench depth: 30", stone below: 12", porosity: 40%, installed: 1996-08}
  Line 3: {kind: drain line, path: [D-box, L3 bend, L3 end], bore: 4 in, trench width: 3 ft, trench depth: 30", stone below: 12", porosity: 40%, installed: 1996-08}
ties: {B: {A: 100 ft}}
offsets:
  - {baseline: A-B, point: C, station: 100 ft, right: 80 ft}
  - {baseline: A-B, point: D, station: 0 ft, right: 80 ft}
  - {baseline: A-B, point: Tank, station: 10 ft, right: 30 ft}
  - {baseline: A-B, point: D-box, station: 20 ft, right: 50 ft}
  - {baseline: A-B, point: L1 bend, station: 32 ft, right: 41 ft}
  - {baseline: A-B, point: L1 end, station: 77 ft, right: 41 ft}
  - {baseline: A-B, point: L2 bend, station: 35 ft, right: 50 ft}
  - {baseline: A-B, point: L2 end, station: 80 ft, right: 50 ft}
  - {baseline: A-B, point: L3 bend, station: 32 ft, right: 59 ft}
  - {baseline: A-B, point: L3 end, station: 71.75 ft, right: 59 ft}
boxes:
  D-box:
    bore: 4 in
    outlets: {Line 1: 6", Line 2: 6", Line 3: 6"}
household: {bedrooms: 3, persons: 4}
soil: {loading: 0.9 gal/ft2/day}
care: [{date: 2024-01-10, what: pumped}]
`

// with changes the small job: pairs of what stands there and what shall.
func with(t testing.TB, pairs ...string) string {
	t.Helper()
	text := small
	for i := 0; i+1 < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("the job has no %q", pairs[i])
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}

// all is with, for every place where it stands.
func all(t testing.TB, text, old, now string) string {
	t.Helper()
	if !strings.Contains(text, old) {
		t.Fatalf("the job has no %q", old)
	}
	return strings.ReplaceAll(text, old, now)
}

// open reads a job that has no mistake in it, and adjusts it.
func open(t testing.TB, text string) (*site.Job, *adjust.Plan) {
	t.Helper()
	r, err := jobfile.Read("job.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range r.Problems {
		if p.Severity == site.Mistake {
			t.Fatal(r.Show(p))
		}
	}
	return &r.Job, adjust.Solve(&r.Job, adjust.Settings{})
}

// judged judges a job by the default rule pack.
func judged(t testing.TB, text string) *judge.Judgement {
	t.Helper()
	job, plan := open(t, text)
	return judge.Judge(job, plan, nil)
}

// hears tells whether one of the sentences has all of the words.
func hears(list []string, words ...string) bool {
	for _, s := range list {
		n := 0
		for _, w := range words {
			if strings.Contains(s, w) {
				n++
			}
		}
		if n == len(words) {
			return true
		}
	}
	return false
}

// comparison is the line of the permit that speaks of what is named.
func comparison(t *testing.T, j *judge.Judgement, what string) judge.Comparison {
	t.Helper()
	for _, c := range j.Permit {
		if c.What == what {
			return c
		}
	}
	t.Fatalf("nothing is compared as %q: %+v", what, j.Permit)
	return judge.Comparison{}
}

// action is the action with the words, nil for none.
func action(j *judge.Judgement, words string) *judge.Action {
	for i, a := range j.Actions {
		if strings.Contains(a.What, words) {
			return &j.Actions[i]
		}
	}
	return nil
}

// reminder is the reminder of a key, nil for none.
func reminder(j *judge.Judgement, key string) *judge.Reminder {
	for i, r := range j.Reminders {
		if r.Key == key {
			return &j.Reminders[i]
		}
	}
	return nil
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

func feet(l unit.Length) float64 { return float64(l / unit.Foot) }

// TestTheSmallJobIsWhatItSays holds the ground that the other tests stand on.
func TestTheSmallJobIsWhatItSays(t *testing.T) {
	j := judged(t, small)
	if len(j.Missing) > 0 || len(j.Boxes) != 1 || j.Storage == nil || len(j.Permit) > 0 || j.Old != nil || j.Added != nil {
		t.Fatalf("missing %q, boxes %d, permit %v", j.Missing, len(j.Boxes), j.Permit)
	}
	for i, want := range []float64{180, 180, 164.25} {
		if a := j.Capacity.Trenches[i]; !a.Known || !near(float64(a.Counted/unit.SquareFoot), want, 0.05) {
			t.Errorf("%s: %v sq ft count, want %v", a.Name, float64(a.Counted/unit.SquareFoot), want)
		}
	}
}
