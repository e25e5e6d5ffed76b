package ties_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/level"
	"undersod/core/site"
	"undersod/core/ties"
	"undersod/core/unit"
)

// rods adds rod readings, each a set-up, a point, what the rod stood on and what
// was read in feet, and adjusts the heights.
func rods(job *site.Job, plan *adjust.Plan, readings ...site.Rod) {
	for _, r := range readings {
		r.ID = site.ReadingID(string(r.Setup) + " " + string(r.Point) + " " + string(r.On))
		job.Visit.Readings = append(job.Visit.Readings, r)
	}
	plan.Net = level.Adjust(job.Visit.Readings, func(site.Reading) unit.Length { return 0.01 * unit.Foot })
}

func rod(setup, point site.Name, on site.RodOn, read float64) site.Rod {
	return site.Rod{Setup: setup, Point: point, On: on, Read: unit.Written{Text: "read", Length: unit.Length(read) * unit.Foot, Form: unit.DecimalFeet}}
}

func TestHeightsAreOverTheBenchMark(t *testing.T) {
	job, plan := invented()
	job.Site.LevelPoints = []site.LevelPoint{{Name: "BM", Words: "Bench mark, the porch step"}, {Name: "TP", Words: "a stake"}}
	job.Visit.Boxes = []site.Box{{Part: "Box", Inlet: &site.Opening{Rod: "In"}, Outlets: []site.Opening{{Line: "Line 1", Rod: "Out"}, {Line: "Line 2"}}}}
	rods(job, plan, rod("1", "In", site.OnInvert, 7), rod("1", "Out", site.OnInvert, 7.1),
		rod("1", "A", site.OnGround, 5), rod("1", "BM", site.OnTop, 4), rod("1", "Box", site.OnInvert, 7.25),
		rod("2", "TP", site.OnTop, 4), rod("2", "Tank", site.OnLid, 3.5))
	got := ties.Of(ties.NewIndex(job, plan))
	// The eye stands 4 ft over the bench mark: the invert lies 7.25 - 4 ft under
	// it. Two readings of 0.01 ft each: 1.96 times 0.0141 ft, and as much for the
	// depth. The second set-up is joined to nothing.
	box, tank := got.Rows[0].Cells, got.Rows[1].Cells
	if got := strings.Join(box[len(box)-3:], "; "); got != "invert -3.25 ft; inlet invert -3.00 ft; Line 1 invert -3.10 ft" {
		t.Errorf("the box and its openings have the heights %s", got)
	}
	if !slices.Contains(tank, "lid +0.50 ft over TP") {
		t.Errorf("the tank has %v", tank)
	}
	if want := []string{"Box", "Tank"}; got.Bench != "BM" || !reflect.DeepEqual(got.High, want) {
		t.Errorf("over %s: %v", got.Bench, got.High)
	}
	note := got.Notes[len(got.Notes)-1]
	want := "Heights are over the bench mark, the top of BM (the porch step), taken as 0; known within 0.03 ft (95 %). Nothing checks the rod readings."
	if note != want {
		t.Errorf("the note is %q, expected %q", note, want)
	}
}

func TestBenchMarkWithoutAName(t *testing.T) {
	job, plan := invented()
	rods(job, plan, rod("1", "Box", site.OnInvert, 7), rod("1", "A", site.OnGround, 4), rod("2", "Box", site.OnInvert, 5.01), rod("2", "A", site.OnGround, 2))
	got := ties.Of(ties.NewIndex(job, plan))
	note := got.Notes[len(got.Notes)-1]
	if got.Bench != "A" || !strings.HasPrefix(note, "Heights are over the bench mark, the ground at A, taken as 0;") || strings.Contains(note, "Nothing checks") {
		t.Errorf("over %s: %s", got.Bench, note)
	}
	job, plan = invented()
	rods(job, plan, rod("1", "Box", site.OnInvert, 7), rod("1", "A", site.OnGround, 4), rod("2", "Box", site.OnInvert, 6), rod("2", "A", site.OnGround, 2))
	if note := ties.Of(ties.NewIndex(job, plan)).Notes; !strings.HasSuffix(note[len(note)-1], "Rod readings disagree: see the check.") {
		t.Errorf("a foot of disagreement: %q", note)
	}
	job, plan = invented()
	rods(job, plan, rod("1", "Box", site.OnInvert, 7), rod("1", "Tank", site.OnLid, 4))
	if got := ties.Of(ties.NewIndex(job, plan)); got.Bench != "Box" {
		t.Errorf("without a mark the heights are over %q", got.Bench)
	}
}

// A depth alone is no level: the table stays as it is.
func TestDepthsAloneAreNoHeights(t *testing.T) {
	job, plan := invented()
	before := ties.Of(ties.NewIndex(job, plan))
	rods(job, plan)
	if len(plan.Net.Heights()) == 0 {
		t.Fatal("the depth gives no height at all")
	}
	if got := ties.Of(ties.NewIndex(job, plan)); !reflect.DeepEqual(got, before) {
		t.Errorf("the table is %v, expected %v", got, before)
	}
}
