package judge_test

import (
	"strings"
	"testing"

	"undersod/core/judge"
	"undersod/examples"
)

// explained lists what may explain the standing water of Line 3.
func explained(j *judge.Judgement) string {
	var out []string
	for _, r := range j.Runs {
		for _, f := range r.Findings {
			for _, n := range f.Near {
				if r.Line == "Line 3" && n.Explains {
					out = append(out, n.Words)
				}
			}
		}
	}
	return strings.Join(out, "; ")
}

// TestWaterAtTheLowEndIsExplained: the demo's Line 3 falls to its far end, where
// the water stands. Raise that end, and it explains nothing.
func TestWaterAtTheLowEndIsExplained(t *testing.T) {
	demo := string(examples.Demo())
	if words := explained(judged(t, demo)); !strings.Contains(words, "at the low end of Line 3, which falls 1 3/8\" to L3 end") {
		t.Errorf("explained by %q", words)
	}
	const low = "L3 end: {invert: 6.09 ft}"
	if !strings.Contains(demo, low) {
		t.Fatal("the demo's reading at the end of Line 3 was changed")
	}
	raised := strings.Replace(demo, low, "L3 end: {invert: 5.60 ft}", 1)
	if words := explained(judged(t, raised)); strings.Contains(words, "low end") {
		t.Errorf("raised: explained by %q", words)
	}
}
