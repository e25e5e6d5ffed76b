package judge_test

import (
	"strings"
	"testing"

	"undersod/core/hydraulic"
	"undersod/core/judge"
	"undersod/core/unit"
)

// box is the small job with other readings in its box.
func box(t *testing.T, lines ...string) string {
	t.Helper()
	return with(t, "    "+outlets+"\n", "    "+strings.Join(lines, "\n    ")+"\n")
}

// TestWhatABoxAsksFor: water over the outlets, closed outlets and a low inlet
// are told before any share is set, and a difference that a rod or a
// straightedge cannot tell is not turned into a setting.
func TestWhatABoxAsksFor(t *testing.T) {
	const tipped = `outlets: {Line 1: 6", Line 2: 6", Line 3: 6 1/2"}`
	for name, c := range map[string]struct {
		text    string
		urgency judge.Urgency
		what    string
		not     string
	}{
		"closed":     {box(t, "outlets: {Line 1: {closed: yes}, Line 2: {closed: yes}, Line 3: {closed: yes}}"), judge.Now, "open an outlet", "set the outlets"},
		"flooded":    {box(t, outlets, `water: 5"`), judge.Soon, "why water stands over its outlets", "set the outlets"},
		"inlet low":  {box(t, tipped, `inlet: 7"`), judge.Soon, "the inlet lies too low", "set the outlets"},
		"inlet near": {box(t, tipped, `inlet: 5 1/2"`), judge.Soon, "raise the outlet of Line 3 by 1/2\"", "inlet lies too low"},
		"noise":      {box(t, `outlets: {Line 1: {down: 6", sd: 1/4"}, Line 2: {down: 6", sd: 1/4"}, Line 3: {down: 6 1/8", sd: 1/4"}}`), judge.CanWait, "filled with water to see", "set the outlets"},
		"not alike":  {all(t, small, "station: 71.75 ft, right: 59 ft", "station: 47 ft, right: 59 ft"), judge.CanWait, "the lines are not alike", "set the outlets"},
	} {
		j := judged(t, c.text)
		a := action(j, c.what)
		if a == nil || a.Urgency != c.urgency || a.About[0] != "D-box" || a.Why == "" || action(j, c.not) != nil {
			t.Errorf("%s: %+v", name, j.Actions)
		}
		if hears(j.Fine, "D-box shares its flow") {
			t.Errorf("%s: fine %q", name, j.Fine)
		}
	}
}

// TestHowHighTheWaterStands in a box whose inlet and lid are known.
func TestHowHighTheWaterStands(t *testing.T) {
	b := judged(t, box(t, outlets, `inlet: 5"`, `lid: 0"`)).Boxes[0]
	for water, words := range map[unit.Length]string{0.5 * unit.Inch: "", 2 * unit.Inch: "inlet pipe", 7 * unit.Inch: "overflow at the lid"} {
		got := b.Above(hydraulic.Split{Water: water})
		if (got == "") != (words == "") || !strings.Contains(got, words) {
			t.Errorf("water %v over the outlets: %q, want %q", water, got, words)
		}
	}
}

// TestAFootagePastTheEnd is to be checked, and nothing is dug for it.
func TestAFootagePastTheEnd(t *testing.T) {
	j := judged(t, small+camera+"    findings: [{at: 95', what: broken}]\n")
	if a := action(j, "check the footage of the broken"); a == nil || a.Urgency != judge.CanWait || action(j, "replaced") != nil {
		t.Errorf("%+v", j.Actions)
	}
}
