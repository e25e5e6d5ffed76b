package judge_test

import (
	"bytes"
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/judge"
	"undersod/internal/jobfile"
	"undersod/internal/judgefile"
)

var number = regexp.MustCompile(`\d+(\.\d+)?`)

// TestEveryNumberMayBeOdd puts odd values where the job has a number, one at a
// time: whatever the reader lets through is judged without a fall, in order,
// with no water lost and no number that JSON cannot say.
func TestEveryNumberMayBeOdd(t *testing.T) {
	text := small + drawing(true, "A", "B", "C", "D-box") +
		"  lines: 3\n  tank: 1000 gal\n  spacing: 9 ft\n  trench length: 60 ft\n  trench width: 3 ft\n  distances: {D-box: {A: 54 ft}}\n" +
		camera + "    findings: [{at: 41', what: fine roots}, {from: 50', to: 55', what: standing water, depth: 1 1/2\"}]\n"
	text = all(t, text, "persons: 4}", "persons: 4, added bedrooms: 1, surge: 8 gal/min}")
	head := strings.Index(text, "\n") // the version must stay
	judgedOnes := 0
	for _, odd := range []string{"0", "-3", "0.000001", "98765", "1e12"} {
		for _, at := range number.FindAllStringIndex(text, -1) {
			if at[0] < head {
				continue
			}
			changed := text[:at[0]] + odd + text[at[1]:]
			r, err := jobfile.Read("job.yaml", strings.NewReader(changed))
			if err != nil {
				continue
			}
			judgedOnes++
			j := judge.Judge(&r.Job, adjust.Solve(&r.Job, adjust.Settings{}), nil)
			name := odd + " for " + text[max(0, at[0]-30):at[1]]
			sound(t, name, j, r.Job.Visit.Date)
			if t.Failed() {
				t.Fatal(name)
			}
		}
	}
	if judgedOnes < 200 {
		t.Errorf("only %d jobs were judged", judgedOnes)
	}
}

// sound holds what must be true of every judgement.
func sound(t testing.TB, name string, j *judge.Judgement, visit string) {
	t.Helper()
	ordered(t, j, visit)
	document, err := json.Marshal(judgefile.Make(j))
	if err != nil {
		t.Errorf("%s: %v", name, err)
	}
	for _, wrong := range []string{"NaN", "+Inf", "-Inf", "%!"} {
		if !strings.Contains(name, wrong) && bytes.Contains(document, []byte(wrong)) {
			t.Errorf("%s: %s stands in %s", name, wrong, document)
		}
	}
	if s := j.Storage; s != nil && !near(float64(s.Now.Closure), 0, 1e-9*float64(s.Run.Daily)+1e-18) {
		t.Errorf("%s: %v of %v a day is lost", name, s.Now.Closure, s.Run.Daily)
	}
	for _, b := range j.Boxes {
		for _, s := range b.Splits {
			sum := 0.0
			for _, h := range s.Split.Shares {
				sum += h.Share
			}
			if !near(sum, 1, 1e-6) {
				t.Errorf("%s: the shares of %s add up to %v", name, b.Part, sum)
			}
		}
	}
}
