package judge_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"undersod/core/judge"
)

// drawing puts points of the small job on a page: ten units a foot, turned,
// counted down the page as a scan is.
func drawing(down bool, names ...string) string {
	at := map[string][2]float64{"A": {0, 0}, "B": {100, 0}, "C": {100, 80}, "D": {0, 80}, "D-box": {20, 50},
		"Tank": {10, 35}, "L3 end": {71.75, 59}} // the tank is drawn 5 ft off
	sin, cos := math.Sincos(0.3)
	text := fmt.Sprintf("record:\n  drawing:\n    down: %v\n    sd: 2\n    points:\n", down)
	for _, n := range names {
		s, r := at[n][0], at[n][1]
		text += fmt.Sprintf("      %s: [%.6f, %.6f]\n", n, 400+10*(s*cos-r*sin), 50+10*(s*sin+r*cos))
	}
	return text
}

func TestOldDrawing(t *testing.T) {
	j := judged(t, small+drawing(true, "A", "B", "C", "D", "D-box", "Tank"))
	o := j.Old
	if o == nil || len(o.Points) != 6 {
		t.Fatalf("%+v, missing %q", o, j.Missing)
	}
	if !near(o.Scale, 10/0.3048, 1e-6) || feet(o.Misfit) > 1e-6 { // the foot is 0.3048 m: NIST Handbook 44, Appendix C
		t.Errorf("scale %v, misfit %v", o.Scale, o.Misfit)
	}
	for _, p := range o.Points {
		want, off := judge.Agrees, 0.0
		if p.Name == "Tank" {
			want, off = judge.Differs, 5
		}
		if p.Answer != want || !near(feet(p.Off), off, 1e-4) || p.Control != (len(p.Name) == 1) || p.Radius <= 0 {
			t.Errorf("%+v", p)
		}
	}
}

// TestOldDrawingTheWrongWayUp: a scan whose numbers count down the page, taken
// as if they counted up, is a mirror image that no turn makes fit.
func TestOldDrawingTheWrongWayUp(t *testing.T) {
	j := judged(t, small+drawing(false, "A", "B", "C", "D"))
	if j.Old == nil || feet(j.Old.Misfit) < 10 {
		t.Errorf("the mirror image fits within %v", j.Old)
	}
}

func TestOldDrawingNeedsTwoMarks(t *testing.T) {
	j := judged(t, small+drawing(true, "A", "D-box"))
	if j.Old != nil || !hears(j.Missing, "old drawing", "two marks", "record: drawing: points") {
		t.Errorf("%+v, %q", j.Old, j.Missing)
	}
	if j := judged(t, small+drawing(true, "A", "B")); j.Old == nil || !strings.Contains(j.Old.Words, "a third would show") {
		t.Errorf("two marks: %+v", j.Old)
	}
}

// TestOldDrawingTellsWhereToSearch: a part that nobody measured gets a circle.
func TestOldDrawingTellsWhereToSearch(t *testing.T) {
	j := judged(t, with(t, "  - {baseline: A-B, point: L3 end, station: 71.75 ft, right: 59 ft}\n", "")+
		drawing(true, "A", "B", "C", "D", "L3 end"))
	p := j.Old.Points[4]
	if p.Answer != judge.CannotTell || p.Control || p.Radius <= 0 || !strings.Contains(p.Words, "search within") {
		t.Errorf("%+v", p)
	}
}
