package cli_test

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"undersod/internal/cli"
)

// TestTheDocumentedJobAgrees checks the whole job of docs/jobfile.md: whoever
// tries it out must find a job in order.
func TestTheDocumentedJobAgrees(t *testing.T) {
	doc, err := os.ReadFile("../../docs/jobfile.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(doc), "```yaml\n")
	job, _, ok := strings.Cut(rest, "```")
	if !ok {
		t.Fatal("docs/jobfile.md has no example")
	}
	var out, errs bytes.Buffer
	p := &cli.Program{In: strings.NewReader(job), Out: &out, Err: &errs}
	if status := p.Run([]string{"check", "-"}); status != cli.ExitDone {
		t.Errorf("status %d, want %d: %s", status, cli.ExitDone, errs.String())
	}
	for _, bad := range []string{"What disagrees", "In the job file", "IN DOUBT", "failed"} {
		if strings.Contains(out.String(), bad) {
			t.Errorf("%q in\n%s", bad, out.String())
		}
	}
}
