package jobfile_test

import (
	"strings"
	"testing"

	"undersod/internal/jobfile"
)

// TestWordsOfAnOutlinedTankMakeNoPoint: a picture, a record and an old drawing
// may speak of a tank that was found by its edges; it stays without a point of
// its own, which nothing would locate.
func TestWordsOfAnOutlinedTankMakeNoPoint(t *testing.T) {
	const job = `undersod: 1
buildings: {House: {corners: [A, B, C, D], size: 44' x 28'}}
parts: {Tank: {kind: septic tank, outline: {hits: [h1, h2, h3]}}}
photos: [{file: tank.jpg, of: Tank}]
record:
  distances: {Tank: {A: 20'}}
  drawing: {points: {Tank: [1, 2]}}
`
	r, err := jobfile.Read("job.yaml", strings.NewReader(job))
	if err != nil || len(r.Problems) > 0 {
		t.Fatalf("%v, %v", err, r.Problems)
	}
	for _, p := range r.Job.Site.Points {
		if p.Name == "Tank" {
			t.Error("the tank became a point")
		}
	}
	s := r.Job.Site
	if len(r.Job.Visit.Photos) != 1 || len(s.Record.Distances) != 1 || len(s.Record.Drawing.Points) != 1 {
		t.Errorf("something was lost: %+v, %+v", r.Job.Visit.Photos, s.Record)
	}
}
