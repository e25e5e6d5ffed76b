package judge_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/judge"
	"undersod/core/storage"
	"undersod/examples"
)

// balanced holds that no water is lost: what came in stands in a trench, soaked
// away or backed up, each trench by itself and all together.
func balanced(t *testing.T, name string, run storage.Run, r storage.Result) {
	t.Helper()
	within := 1e-9 * float64(run.Daily)
	if !near(float64(r.Inflow), float64(run.Daily)*float64(run.Days), within) || math.Abs(float64(r.Closure)) > within {
		t.Errorf("%s: inflow %v, closure %v of %v a day", name, r.Inflow, r.Closure, run.Daily)
	}
	sum := float64(r.Backed)
	for i, c := range r.Courses {
		sum += float64(c.Inflow)
		if !near(float64(c.Start+c.Inflow), float64(c.End+c.Soaked), within) {
			t.Errorf("%s: %s takes %v, soaks %v, keeps %v of %v", name, c.Name, c.Inflow, c.Soaked, c.End, c.Start)
		}
		for _, l := range c.Level {
			if l < 0 || l > run.Trenches[i].Height*(1+1e-12) {
				t.Fatalf("%s: water stands %v in %s", name, l, c.Name)
			}
		}
	}
	if !near(sum, float64(r.Inflow), within) {
		t.Errorf("%s: %v goes somewhere of %v", name, sum, r.Inflow)
	}
}

// TestNoWaterIsLost in the field as it is and with every line out of use in
// turn, whatever the box does and however small the field is for the house.
func TestNoWaterIsLost(t *testing.T) {
	const tipped = `outlets: {Line 1: 6", Line 2: 6 1/8", Line 3: 6 1/4"}`
	for name, text := range map[string]string{
		"level": small, "tipped": with(t, outlets, tipped), "demo": string(examples.Demo()),
		"large house": with(t, outlets, tipped, household, "household: {bedrooms: 8, persons: 4}"),
		"slow soil":   with(t, loading, "soil: {loading: 0.2 gal/ft2/day}\n"),
		"both faces":  with(t, "visit:", "rules: own\nvisit:"),
	} {
		j := judged(t, text)
		if j.Storage == nil {
			t.Fatalf("%s: %q", name, j.Missing)
		}
		balanced(t, name, j.Storage.Run, j.Storage.Now)
		if len(j.Storage.Without) != len(j.Storage.Run.Trenches) {
			t.Fatalf("%s: %d lines out of use in turn", name, len(j.Storage.Without))
		}
		for i, w := range j.Storage.Without {
			if string(w.Line) != j.Storage.Run.Trenches[i].Name || w.Result.Courses[i].Inflow != 0 || w.Result.Courses[i].Full {
				t.Errorf("%s without %s: %+v", name, w.Line, w.Result.Courses[i].Inflow)
			}
			balanced(t, name+" without "+string(w.Line), j.Storage.Run, w.Result)
			if !hears(j.Storage.Words, "With "+string(w.Line)+" out of use:") {
				t.Errorf("%s: %q", name, j.Storage.Words)
			}
		}
	}
}

// TestALineOutOfUse takes no water, whatever is known of it.
func TestALineOutOfUse(t *testing.T) {
	off := with(t, "Line 3: {", "Line 3: {out of use: yes, ")
	j := judged(t, off)
	if len(j.Storage.Without) != 2 || j.Storage.Now.Courses[2].Inflow != 0 || !hears(j.Storage.Words, "Line 3 is out of use and takes no flow.") {
		t.Errorf("%d, %q", len(j.Storage.Without), j.Storage.Words)
	}
	i := strings.Index(off, "Line 3: {out of use")
	unknown := off[:i] + strings.Replace(off[i:], `stone below: 12", `, "", 1)
	j = judged(t, unknown)
	if j.Storage == nil || len(j.Storage.Run.Trenches) != 2 {
		t.Fatalf("the stone of a line out of use is asked for: %q", j.Missing)
	}
	balanced(t, "unknown", j.Storage.Run, j.Storage.Now)
	one := all(t, off, "Line 2: {kind", "Line 2: {out of use: yes, kind")
	if j := judged(t, one); len(j.Storage.Without) != 0 {
		t.Errorf("the only line in use is taken out: %+v", j.Storage.Without)
	}
}

func TestWhatStorageLacks(t *testing.T) {
	for name, c := range map[string]struct {
		text  string
		words []string
	}{
		"flow":  {with(t, household+"\n", ""), []string{"the daily flow is not known", "enter household: bedrooms"}},
		"rate":  {with(t, loading, ""), []string{"takes water is not known", "enter soil: loading"}},
		"width": {with(t, "trench width: 3 ft, ", ""), []string{"width of the trench of Line 1", "enter its trench width"}},
		"stone": {with(t, `stone below: 12", `, ""), []string{"depth of stone under Line 1", "enter its stone below"}},
		"end":   {with(t, "  - {baseline: A-B, point: L3 end, station: 71.75 ft, right: 59 ft}\n", ""), []string{"the length of Line 3 is not known"}},
		"lines": {all(t, small, "kind: drain line", "kind: effluent pipe"), []string{"no drain line"}},
	} {
		j := judged(t, c.text)
		if j.Storage != nil || !hears(j.Missing, append(c.words, "How the field fills and drains")...) {
			t.Errorf("%s: %q", name, j.Missing)
		}
	}
}

// TestWhatWasAssumedIsSaid beside the answer.
func TestWhatWasAssumedIsSaid(t *testing.T) {
	text := all(t, all(t, small, "porosity: 40%, ", ""), "bore: 4 in, trench", "trench")
	text = text[:strings.Index(text, "boxes:")] + text[strings.Index(text, "household:"):]
	s := judged(t, text).Storage
	for _, words := range []string{"Voids of the stone: 35 % (common practice, no source)", "up to the bottom of its pipe",
		"bore of its pipe is not known", "equal shares are taken", "Every trench starts empty", "the loading rate that the job states"} {
		if s == nil || !hears(s.Assumptions, words) {
			t.Errorf("%q is not said: %+v", words, s)
		}
	}
	if s := judged(t, small).Storage; hears(s.Assumptions, "Voids of the stone") || hears(s.Assumptions, "equal shares") {
		t.Errorf("what the job states is said to be assumed: %q", s.Assumptions)
	}
}

// TestAFieldThatFails: a large house on slow soil backs up, and that matters.
func TestAFieldThatFails(t *testing.T) {
	j := judged(t, with(t, loading, "soil: {loading: 0.2 gal/ft2/day}\n", household, "household: {bedrooms: 8, persons: 8}"))
	a := action(j, "cannot take the water of the house")
	if j.Storage.Now.Backed <= 0 || !hears(j.Storage.Words, "water backs up") || a == nil || a.Urgency != judge.Soon {
		t.Errorf("%q, %+v", j.Storage.Words, a)
	}
}
