package compare_test

import (
	"bytes"
	"math"
	"testing"

	"undersod/core/adjust"
	"undersod/core/compare"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile"
)

// Empty and senseless sides are compared without a panic.
func TestNothingAndNonsense(t *testing.T) {
	whole := visit(yard(), base("A", "B", 0, 0, 0), tape, nil)
	nan := unit.Length(math.NaN())
	spoilt := visit(yard(), base("A", "B", 0, 0, 0), tape, nil)
	for i := range spoilt.Plan.Points {
		p := &spoilt.Plan.Points[i]
		switch i % 4 {
		case 0:
			p.At = planar.Vec{East: nan, North: nan}
		case 1:
			p.At = planar.Vec{East: 1e300, North: -1e300}
		case 2:
			p.State, p.Placed = adjust.Undetermined, false
		}
		p.Doubt = nan
	}
	heap := visit(yard(), base("A", "B", 0, 0, 0), tape, nil)
	for i := range heap.Plan.Points {
		heap.Plan.Points[i].At = planar.Vec{}
	}
	bare := compare.Side{Job: whole.Job, Plan: &adjust.Plan{Points: whole.Plan.Points}} // no covariance
	sides := []compare.Side{{}, {Job: &site.Job{}}, {Plan: whole.Plan}, {Job: whole.Job}, whole, spoilt, heap, bare}
	for i, a := range sides {
		for j, b := range sides {
			c := compare.Visits(a, b)
			if c == nil || len(c.Summary) == 0 {
				t.Errorf("%d and %d: %+v", i, j, c)
			}
			for _, p := range c.Places {
				if p.Verdict == compare.Moved && !(p.Within > 0) {
					t.Errorf("%d and %d: %s moved without an uncertainty", i, j, p.Name)
				}
			}
		}
	}
}

// Names exchanged for one another do not hang or panic.
func TestStrangeRenames(t *testing.T) {
	a := visit(yard(), base("A", "B", 0, 0, 0), tape, nil)
	b := visit(yard(), base("A", "B", 0, 0, 0), tape, nil)
	b.Renamed = map[site.Name]site.Name{"A": "B", "B": "A", "Tank": "Tank", "nothing": "D-box", "L1 end": "nowhere"}
	if c := compare.Visits(a, b); c == nil {
		t.Error("nothing came back")
	}
}

func FuzzVisits(f *testing.F) {
	f.Add([]byte(of()), []byte(of("seen", "{at: 20', what: cracked}")))
	f.Add([]byte("undersod: 1"), []byte("undersod: 1\nties: {A: {B: 1e300 ft}}"))
	f.Fuzz(func(t *testing.T, before, after []byte) {
		if len(before)+len(after) > 20_000 {
			return
		}
		var sides [2]compare.Side
		for i, text := range [][]byte{before, after} {
			r, err := jobfile.Read("job.yaml", bytes.NewReader(text))
			if err != nil || len(r.Job.Site.Points) > 60 {
				return
			}
			sides[i] = compare.Side{Job: &r.Job, Plan: adjust.Solve(&r.Job, adjust.Settings{})}
		}
		c := compare.Visits(sides[0], sides[1])
		for _, p := range c.Places {
			if p.Verdict == compare.Moved && !(p.Within > 0) {
				t.Errorf("%s moved without an uncertainty", p.Name)
			}
		}
	})
}
