package judge_test

import (
	"strings"
	"testing"

	"undersod/core/judge"
	"undersod/core/level"
	"undersod/core/rules"
	"undersod/core/unit"
)

// TestTheBoreOfTheBoxStandsIn where the line does not say its pipe's.
func TestTheBoreOfTheBoxStandsIn(t *testing.T) {
	j := judged(t, all(t, small, "bore: 4 in, trench", "trench"))
	for _, trench := range j.Storage.Run.Trenches {
		if !near(feet(trench.Height), 16.0/12, 1e-9) { // 12 in of stone and a 4 in pipe
			t.Errorf("%s holds water up to %v", trench.Name, feet(trench.Height))
		}
	}
}

// TestTheFacesAreTheRules: what counts as area is what water soaks away
// through.
func TestTheFacesAreTheRules(t *testing.T) {
	job, plan := open(t, small)
	for counts, words := range map[rules.Counts]string{
		rules.CountBottom: "through the bottom of each trench",
		rules.CountSides:  "through the wetted sides of each trench",
		rules.CountBoth:   "through the bottom and the wetted sides of each trench",
	} {
		j := judge.Judge(job, plan, &rules.Pack{Name: "a test's", Field: &rules.FieldRule{Counts: counts},
			Flow: &rules.FlowRule{PerBedroom: 150 * unit.GallonPerDay}})
		if j.Storage == nil || !hears(j.Storage.Assumptions, words) {
			t.Errorf("%s: %+v, %q", counts, j.Storage, j.Missing)
			continue
		}
		balanced(t, string(counts), j.Storage.Run, j.Storage.Now)
	}
}

// TestSpacingNeedsTwoLines, and tells each pair of neighbours once.
func TestSpacingNeedsTwoLines(t *testing.T) {
	text := small + "record: {spacing: 9 ft}\n"
	for _, end := range []string{"L2 end, station: 80 ft, right: 50 ft", "L3 end, station: 71.75 ft, right: 59 ft"} {
		text = all(t, text, "  - {baseline: A-B, point: "+end+"}\n", "")
	}
	if c := comparison(t, judged(t, text), "spacing of the lines"); c.Answer != judge.CannotTell || !strings.Contains(c.Words, "fewer than two lines") {
		t.Errorf("%+v", c)
	}
	n := 0
	for _, c := range judged(t, small+"record: {spacing: 9 ft}\n").Permit {
		if strings.HasPrefix(c.What, "spacing of ") {
			n++
		}
	}
	if n != 2 {
		t.Errorf("%d spacings between three lines", n)
	}
}

// TestDistancesReachTheMiddleOfATank that was found by probe and has
// no point of its own.
func TestDistancesReachTheMiddleOfATank(t *testing.T) {
	const outline = `
points:
  h1: {kind: probe hit}
  h2: {kind: probe hit}
  h3: {kind: probe hit}
  h4: {kind: probe hit}
record: {distances: {Tank: {A: 32 ft}}}
`
	text := with(t, "installed: 1996-08}\n  D-box", "installed: 1996-08, outline: {hits: {h1: near, h2: near, h3: far, h4: left}, length: 10 ft, width: 5 ft}}\n  D-box",
		"  - {baseline: A-B, point: Tank, station: 10 ft, right: 30 ft}\n",
		"  - {baseline: A-B, point: h1, station: 7 ft, right: 32.5 ft}\n  - {baseline: A-B, point: h2, station: 12 ft, right: 32.5 ft}\n"+
			"  - {baseline: A-B, point: h3, station: 8 ft, right: 27.5 ft}\n  - {baseline: A-B, point: h4, station: 5 ft, right: 30 ft}\n") + outline
	c := comparison(t, judged(t, text), "distance from A to Tank") // 10 ft along and 30 ft off: 31.62 ft
	if c.Answer != judge.Agrees || !strings.HasPrefix(c.Measured, `31' 7`) {
		t.Errorf("%+v", c)
	}
}

// TestAPipeThatRunsBackwards is told, and a round of levels that does not
// close is to be repeated before anything is filled.
func TestAPipeThatRunsBackwards(t *testing.T) {
	const pipe = "lines:\n  Tank pipe: {kind: effluent pipe, path: [Tank, D-box], bore: 4 in}\n"
	const rods = "rods:\n  one:\n    Tank: {invert: 5.00 ft}\n    D-box: {invert: 4.60 ft}\n    A: {top: 3.00 ft}\n  two:\n    Tank: {invert: 6.00 ft}\n    A: {top: "
	j := judged(t, with(t, "lines:\n", pipe)+rods+"4.00 ft}\n")
	if len(j.Levels.Falls) != 1 || j.Levels.Falls[0].Way != level.Backwards {
		t.Fatalf("%+v", j.Levels.Falls)
	}
	f := j.Levels.Falls[0]
	if !near(feet(f.Drop), -0.4, 1e-6) || !f.RunKnown || !near(feet(f.Run), 22.36, 0.01) { // 10 ft and 20 ft: the root of 500
		t.Errorf("%+v", f)
	}
	if a := action(j, "Tank pipe runs backwards"); a == nil || a.Urgency != judge.Soon {
		t.Errorf("%+v", j.Actions)
	}
	if action(j, "Repeat the level readings") != nil {
		t.Errorf("a round that closes is to be repeated: %+v", j.Levels.Closures)
	}
	j = judged(t, with(t, "lines:\n", pipe)+rods+"4.50 ft}\n")
	if a := action(j, "Repeat the level readings"); a == nil || a.Urgency != judge.Now {
		t.Errorf("%+v, %+v", j.Levels.Closures, j.Actions)
	}
}

// TestTheStyleOfTheJob prints small lengths as a person of that trade would.
func TestTheStyleOfTheJob(t *testing.T) {
	tipped := with(t, outlets, `outlets: {Line 1: 6", Line 2: 6", Line 3: 6 1/4"}`)
	for form, spread := range map[string]string{"feet-inches": `1/4"`, "decimal feet": "1/4 in", "metres": "6 mm"} {
		j := judged(t, all(t, tipped, "lengths: feet-inches, fraction: 1/4", "lengths: "+form))
		if !strings.Contains(j.Boxes[0].SpreadWords, "differ by "+spread) {
			t.Errorf("%s: %q", form, j.Boxes[0].SpreadWords)
		}
	}
}

// TestWhatIsMissingIsSaidOnce, however often it is met.
func TestWhatIsMissingIsSaidOnce(t *testing.T) {
	text := all(t, small[:strings.Index(small, "household:")], ", installed: 1996-08", "")
	j := judged(t, all(t, text, "    bore: 4 in\n", "")+"cameras: {Line 2: {entry: D-box}}\n")
	seen := map[string]bool{}
	for _, m := range j.Missing {
		if seen[m] || m == "" {
			t.Errorf("%q", m)
		}
		seen[m] = true
	}
	if len(seen) < 3 {
		t.Errorf("%q", j.Missing)
	}
}
