package jobfile_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"undersod/core/site"
	"undersod/internal/jobfile"
)

// endless gives blanks for ever and counts them.
type endless struct{ given int }

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ' '
	}
	e.given += len(p)
	return len(p), nil
}

func TestHugeFileIsRefusedWithoutReadingIt(t *testing.T) {
	e := &endless{}
	_, err := jobfile.Read("job.yaml", e)
	p, ok := err.(site.Problem)
	if !ok || !strings.Contains(p.Error(), "4 MB") {
		t.Fatalf("got %v", err)
	}
	if e.given > 9<<20 { // the buffer of the reader may run ahead of the limit
		t.Errorf("%d bytes were read", e.given)
	}
}

func TestHostileFilesEndSoon(t *testing.T) {
	var aliases strings.Builder
	aliases.WriteString("a0: &a0 [x,x,x,x,x,x,x,x,x,x]\n")
	for i := 1; i < 12; i++ {
		fmt.Fprintf(&aliases, "a%d: &a%d [%s]\n", i, i, strings.Repeat(fmt.Sprintf("*a%d,", i-1), 10))
	}
	var unknown, points strings.Builder
	unknown.WriteString("undersod: 1\nmarks:\n")
	points.WriteString("undersod: 1\nmarks:\n")
	for i := range 20_000 {
		fmt.Fprintf(&unknown, "  mark number %d of this long yard: pin\n", i)
	}
	unknown.WriteString("ties:\n")
	for i := range 30_000 {
		fmt.Fprintf(&unknown, "  lid number %d of this long yard: {nobody: 3 ft}\n", i)
	}
	for i := range 25_000 {
		fmt.Fprintf(&points, "  p%d: pin\n", i)
	}
	for name, text := range map[string]string{
		"aliases":        aliases.String(),
		"self":           "undersod: 1\nmarks: &m {A: *m}\n",
		"unknown names":  unknown.String(),
		"unknown keys":   strings.Repeat("x: 1\n", 800_000),
		"many points":    points.String(),
		"one long line":  "{" + strings.Repeat(`"a":1,`, 500_000) + `"b":1}`,
		"one long list":  "undersod: 1\nties: [" + strings.Repeat("a,", 1_900_000) + "]",
		"comments":       strings.Repeat("#\n", 2_000_000),
		"hyphens":        "undersod: 1\nmarks: {A: {side: left of " + strings.Repeat("-", 1_000_000) + "}}",
		"spaced hyphens": "undersod: 1\nmarks: {A: {side: left of " + strings.Repeat("a-", 1_000_000) + "}}",
		"open brackets":  strings.Repeat("[", 4_000_000),
		"open braces":    strings.Repeat("{a: ", 1_000_000),
		"open json":      strings.Repeat(`{"a":`, 800_000),
		"merge":          "undersod: 1\nsite: &s {name: x}\nvisit: {<<: *s}\n",
		"long number":    "undersod: 1\nmarks: {A: p, B: p}\nties: {A: {B: " + strings.Repeat("9", 3_000_000) + " ft}}",
	} {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			res, err := jobfile.Read("job.yaml", strings.NewReader(text))
			if err == nil && len(res.Problems) == 0 {
				t.Error("nothing is told")
			}
			if len(res.Problems) > 1_001 {
				t.Errorf("%d problems", len(res.Problems))
			}
			for _, p := range res.Problems {
				if len(p.Error()) > 2_000 {
					t.Errorf("a message of %d letters", len(p.Error()))
				}
			}
			// Generous: a slow machine under the race detector.
			if took := time.Since(start); took > 2*time.Minute {
				t.Errorf("took %v", took)
			}
			t.Logf("%v", time.Since(start))
		})
	}
}

func TestLimitOfPoints(t *testing.T) {
	var b strings.Builder
	b.WriteString("undersod: 1\nmarks:\n")
	for i := range 20_010 {
		fmt.Fprintf(&b, "  p%d: pin\n", i)
	}
	res := read(t, b.String())
	if got := len(res.Job.Site.Points); got != 20_000 || len(res.Problems) != 1 {
		t.Errorf("%d points, problems %v", got, res.Problems)
	}
}
