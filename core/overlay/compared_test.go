package overlay_test

import (
	"math"
	"testing"

	"undersod/core/compare"
	"undersod/core/overlay"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// What moved is drawn on the later plan, which lies turned a quarter and shifted,
// with the runs of both lines at it.
func TestWhatMovedIsDrawnOnTheLaterPlan(t *testing.T) {
	c := &compare.Comparison{
		Overlay: compare.Overlay{Known: true, Turn: unit.Angle(math.Pi / 2), Shift: at(10, 0)},
		Places: []compare.Place{
			{Name: "Tank", Verdict: compare.Unchanged, Was: at(0, 0), Is: at(0, 0)},
			{Name: "Box", Earlier: "D-box", Verdict: compare.Moved, Was: at(10, 20), Is: at(10, 21), Short: "Box moved"},
			{Name: "End", Verdict: compare.TooClose, Was: at(10, 60), Is: at(10, 60)},
			{Name: "Bend", Verdict: compare.NotLocated, Was: at(5, 5)},
		},
		Outlines: []compare.Outline{{Part: "Pump", Verdict: compare.Moved, WasCorner: [4]planar.Vec{at(0, 0), at(1, 0), at(1, 1), at(0, 1)}, Short: "Pump moved"}, {Part: "Tank", Verdict: compare.Unchanged}},
	}
	before := &site.Job{Site: site.Site{Lines: []site.Line{
		{Name: "Tank pipe", Path: []site.Name{"Tank", "D-box"}}, {Name: "Line 1", Path: []site.Name{"D-box", "Bend", "End"}}, {Name: "Line 2", Path: []site.Name{"D-box", "End"}}}}}
	shifts := overlay.OfComparison(before, c).Shifts
	if len(shifts) != 2 || shifts[0].Words != "Pump moved" || !shifts[0].Closed || len(shifts[0].Before) != 1 || len(shifts[0].Before[0]) != 4 {
		t.Fatalf("%+v", shifts)
	}
	s := shifts[1]
	// (10, 20) less the shift is (0, 20), which a turn back by a quarter brings to (-20, 0).
	if s.From.Minus(at(-20, 0)).Length() > 1e-9 || s.To.Minus(at(-21, 0)).Length() > 1e-9 || s.Words != "Box moved" {
		t.Errorf("%+v", s)
	}
	if len(s.Before) != 3 || len(s.Before[0]) != 2 || len(s.Before[1]) != 1 || len(s.Before[2]) != 2 || s.Before[2][1].Minus(at(-60, 0)).Length() > 1e-9 {
		t.Errorf("%+v", s.Before)
	}
	c.Overlay.Known = false
	for _, c := range []*compare.Comparison{nil, c} {
		if out := overlay.OfComparison(nil, c); out == nil || len(out.Shifts) != 0 {
			t.Errorf("%+v", out)
		}
	}
}
