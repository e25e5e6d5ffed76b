package jobfile_test

import (
	"os"
	"strings"
	"testing"

	"undersod/internal/jobfile"
)

// documented returns the first YAML block of the documentation.
func documented(t testing.TB) string {
	t.Helper()
	doc, err := os.ReadFile("../../docs/jobfile.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(doc), "```yaml\n")
	block, _, ok2 := strings.Cut(rest, "```")
	if !ok || !ok2 {
		t.Fatal("docs/jobfile.md has no example")
	}
	return block
}

func TestDocumentedJobReadsWithoutProblem(t *testing.T) {
	res, err := jobfile.Read("job.yaml", strings.NewReader(documented(t)))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range res.Problems {
		t.Error(res.Show(p))
	}
	if got := len(res.Job.Visit.Readings); got != 12 {
		t.Errorf("%d readings, want 12", got)
	}
}
