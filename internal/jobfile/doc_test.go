package jobfile_test

import (
	"math"
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
	if got := len(res.Job.Visit.Readings); got != 35 {
		t.Errorf("%d readings, want 35", got)
	}
}

func TestDocumentedEllCloses(t *testing.T) {
	doc, err := os.ReadFile("../../docs/jobfile.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := strings.Split(string(doc), "```yaml\n")
	if len(blocks) < 3 {
		t.Fatal("docs/jobfile.md has no second example")
	}
	block, _, _ := strings.Cut(blocks[2], "```")
	res := read(t, "undersod: 1\nbuildings:\n  "+strings.ReplaceAll(strings.TrimSpace(block), "\n", "\n  ")+"\n")
	if len(res.Problems) > 0 || len(res.Job.Site.Buildings) != 1 {
		t.Fatalf("problems %v", res.Problems)
	}
	// Walk the walls: they must come back to where they set out.
	b := res.Job.Site.Buildings[0]
	east, north, de, dn := 0.0, 0.0, 1.0, 0.0
	for i, side := range b.Sides {
		east, north = east+de*side.Length.Feet(), north+dn*side.Length.Feet()
		turn := float64(b.Turns[(i+1)%len(b.Turns)])
		de, dn = dn*turn, -de*turn
	}
	if math.Hypot(east, north) > 1e-9 || de != 1 {
		t.Errorf("the walls end %.3f ft east and %.3f ft north of their start", east, north)
	}
}

func TestASideThatWasNotMeasured(t *testing.T) {
	for _, word := range []string{"none", "None", `"?"`, "null", "~"} {
		res := read(t, "undersod: 1\nbuildings:\n  House:\n    corners: [A, B, C, D, E, F]\n"+
			"    turns: [right, right, right, right, left, right]\n    sides: [44', "+word+", 30', 12', 14', 16']\n")
		if len(res.Problems) > 0 {
			t.Errorf("%q: %v", word, res.Problems)
		}
		if b := res.Job.Site.Buildings; len(b) != 1 || b[0].Sides[1].Text != "" || b[0].Sides[0].Text == "" {
			t.Errorf("%q: read as %+v", word, b)
		}
	}
}

// TestDocumentedSectionsRead reads each section shown by itself, together with
// the things it speaks of.
func TestDocumentedSectionsRead(t *testing.T) {
	const known = `undersod: 1
marks: {A: pin, B: pin, D: pin, E: pin}
parts: {D-box: distribution box, Tank: septic tank}
lines:
  Tank pipe: {kind: effluent pipe, path: [Tank, D-box]}
  Line 1: {kind: drain line, path: [D-box, L1 end]}
  Line 2: {kind: drain line, path: [D-box, L2 end]}
  Line 3: {kind: drain line, path: [D-box, L3 end]}
rods: {setup 1: {O3: {invert: 5 ft}}}
`
	doc, err := os.ReadFile("../../docs/jobfile.md")
	if err != nil {
		t.Fatal(err)
	}
	read := map[string]bool{}
	for _, block := range strings.Split(string(doc), "```yaml\n")[2:] {
		block, _, _ = strings.Cut(block, "```")
		section, _, _ := strings.Cut(block, ":")
		if section == "House" {
			continue // walked by another test
		}
		read[section] = true
		text := known + block
		if section == "boxes" {
			text = strings.Replace(text, "rods:", "# the opening brings O3\nrods:", 1)
		} else {
			text = strings.Replace(text, "rods: {setup 1: {O3: {invert: 5 ft}}}\n", "", 1)
		}
		res, err := jobfile.Read("job.yaml", strings.NewReader(text))
		if err != nil {
			t.Fatalf("%s: %v", section, err)
		}
		for _, p := range res.Problems {
			t.Error(res.Show(p))
		}
	}
	for _, section := range []string{"ties", "cameras", "boxes", "record", "proposed", "setbacks"} {
		if !read[section] {
			t.Errorf("docs/jobfile.md shows no section %s", section)
		}
	}
}
