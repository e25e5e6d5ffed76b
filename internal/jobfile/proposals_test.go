package jobfile_test

import (
	"strings"
	"testing"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile"
)

const proposingJob = `undersod: 1
marks: {A: pin, B: pin, C: pin}
parts: {D-box: distribution box}
features: {Maple: tree}
buildings: {Barn: {corners: [E, F, G, H], sides: [10', 8', 10', 8']}}
ties: {D-box: {A: 10 ft, B: 12 ft, C: 9 ft}, A: {B: 20 ft, C: 14 ft}, B: {C: 15 ft}}
proposed: {Shed: {kind: structure, size: 8' x 6'}}
`

func proposing(t *testing.T) site.Job {
	t.Helper()
	r, err := jobfile.Read("job.yaml", strings.NewReader(proposingJob))
	if err != nil || len(r.Job.Site.Proposed) != 1 {
		t.Fatalf("%v: %v, %v", err, r.Job.Site.Proposed, r.Problems)
	}
	return r.Job
}

func TestReadProposedTakesThePlaceOfWhatTheJobProposes(t *testing.T) {
	known := proposing(t)
	for _, near := range []string{"D-box", "Barn", "A"} {
		text := `{"Workshop": {"kind": "structure", "size": "24' x 16'", "near": "` + near + `"}}`
		r, err := jobfile.ReadProposed("proposal", strings.NewReader(text), known, unit.FeetInches)
		if err != nil || len(r.Problems) > 0 {
			t.Fatalf("near %s: %v, %v", near, err, r.Problems)
		}
		if got := r.Job.Site.Proposed; len(got) != 1 || got[0].Name != "Workshop" || got[0].Near != site.Name(near) {
			t.Errorf("near %s: got %v", near, got)
		}
	}
	if got := known.Site.Proposed[0].Name; got != "Shed" {
		t.Errorf("the known job now proposes %s", got)
	}
}

func TestReadProposedTellsWhatIsWrong(t *testing.T) {
	for text, want := range map[string]string{
		`{"Workshop": {"size": "24' x"}}`:                                       "size of proposed Workshop",
		`{"Workshop": {"kind": "structure", "size": "8'x6'", "near": "D-bxo"}}`: "D-box",
		`{"Workshop": {"kind": "strucutre", "size": "8'x6'"}}`:                  "structure",
	} {
		r, err := jobfile.ReadProposed("proposal", strings.NewReader(text), proposing(t), unit.FeetInches)
		if err != nil {
			t.Fatal(err)
		}
		var told string
		for _, p := range r.Problems {
			told += p.Error() + "\n"
		}
		if !strings.Contains(told, want) {
			t.Errorf("%s: %q does not tell of %q", text, told, want)
		}
	}
	if _, err := jobfile.ReadProposed("proposal", strings.NewReader("{"), proposing(t), unit.FeetInches); err == nil {
		t.Error("half a brace was taken")
	}
}

func FuzzReadProposed(f *testing.F) {
	f.Add(`{"Workshop": {"kind": "structure", "size": "24' x 16'"}}`)
	f.Add("Pool:\n  kind: pool\n  outline: [[0, 0], [8', 0], [8', 4']]\n  at: {baseline: A-B, station: 3', left: 2'}\n")
	r, err := jobfile.Read("job.yaml", strings.NewReader(proposingJob))
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := jobfile.ReadProposed("proposal", strings.NewReader(text), r.Job, unit.FeetInches)
		if err == nil && len(got.Job.Site.Points) != len(r.Job.Site.Points) {
			t.Error("a proposal made points of its own")
		}
	})
}
