package ties_test

import (
	"math"
	"reflect"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/ties"
	"undersod/core/unit"
)

func feet(v float64) unit.Written {
	l := unit.Length(v) * unit.Foot
	return unit.Written{Text: unit.Style{Form: unit.FeetInches, Denominator: 4}.Format(l), Length: l, Form: unit.FeetInches}
}

// invented is a job of two marks, a box and a tank found with a probe.
func invented() (*site.Job, *adjust.Plan) {
	job := &site.Job{}
	job.Site.Points = []site.Point{{Name: "A", Role: site.RoleMark}, {Name: "B", Role: site.RoleMark}, {Name: "Box", Role: site.RolePart}, {Name: "h1", Role: site.RoleHit}}
	job.Site.Parts = []site.Part{{Name: "Box", Kind: site.DistributionBox}, {Name: "Tank", Kind: site.SepticTank}}
	job.Visit.Readings = []site.Reading{
		site.Tie{Taken: site.Taken{ID: "1"}, From: "A", To: "Box", Read: feet(30)},
		site.Tie{Taken: site.Taken{ID: "2"}, From: "Box", To: "B", Read: feet(40)},
		site.Tie{Taken: site.Taken{ID: "3"}, From: "A", To: "Box", Read: feet(30.25)},
		site.Tie{Taken: site.Taken{ID: "4", SetAside: "tape caught"}, From: "B", To: "Box", Read: feet(50)},
		site.Offset{Taken: site.Taken{ID: "5"}, From: "A", To: "B", Point: "Box", Station: feet(10), Right: unit.Written{Text: `-4' 0"`, Length: -4 * unit.Foot, Form: unit.FeetInches}},
		site.Depth{Taken: site.Taken{ID: "6"}, Point: "Box", Read: feet(2)},
	}
	plan := &adjust.Plan{
		Points: []adjust.Point{
			{Name: "A", Role: site.RoleMark, Placed: true}, {Name: "B", Role: site.RoleMark, Placed: true, At: planar.Vec{East: 50 * unit.Foot}},
			{Name: "Box", Role: site.RolePart, Placed: true, At: planar.Vec{East: 18 * unit.Foot, North: -24 * unit.Foot}, Ellipse: adjust.Ellipse{Major: unit.Inch, Minor: unit.Inch, Radius: unit.Inch}},
			{Name: "h1", Role: site.RoleHit, Placed: true, Doubt: 3 * unit.Foot},
		},
		Readings: []adjust.Reading{{ID: "1"}, {ID: "2", Flagged: true}, {ID: "3"}, {ID: "4"}, {ID: "5"}},
		Outlines: []adjust.Outline{{Part: "Tank", Fitted: true, Centre: planar.Vec{East: 3 * unit.Foot, North: -4 * unit.Foot}, Length: 8 * unit.Foot, Width: 5 * unit.Foot, Hits: make([]adjust.HitResult, 5), Freedom: 2}},
	}
	return job, plan
}

func TestTableTellsTheReadingsAsWritten(t *testing.T) {
	job, plan := invented()
	got := ties.Of(ties.NewIndex(job, plan))
	// distances of the tank's centre: 3-4-5 from A, and hypot(47, 4) ft = 47.17 ft from B
	want := ties.Table{
		Rows: []ties.Row{
			{Name: "Box", Cells: []string{`A 30' 0"`, `B 40' 0"*`, `A–B 10' 0", 4' 0" left`, "1 set aside", "and 1 more", `2' 0" deep`}, Sure: `1.0"`},
			{Name: "Tank", Cells: []string{"outline from 5 probe hits", `8' 0" x 5' 0"`, "centre, computed:", `A 5' 0"`, `B 47' 2"`}, Alone: 3, Sure: "?"},
		},
		Notes: []string{"* as written; it disagrees with the others"},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("the table is\n%v\nexpected\n%v", got, want)
	}
}

func TestDoubtIsToldInPlaceOfARadius(t *testing.T) {
	job, plan := invented()
	plan.Points[2].Doubt = 2 * unit.Foot
	plan.Points[2].Hidden = unit.Length(math.Inf(1))
	plan.Outlines[0].Hits[1].Point = "h1"
	for _, r := range ties.Of(ties.NewIndex(job, plan)).Rows {
		if !r.Doubted() {
			t.Errorf("%s is said to be as sure as %q though a reading moves it by feet", r.Name, r.Sure)
		}
	}
}

func TestIndexKnowsNamesAndOnlyThose(t *testing.T) {
	job, plan := invented()
	job.Site.Lines = []site.Line{{Name: "Line 1", Path: []site.Name{"A", "Box"}}}
	plan.Footages = []adjust.LineLength{{Line: "Line 1", Known: true, Length: 30 * unit.Foot}, {Line: "Line 2"}}
	x := ties.NewIndex(job, plan)
	yes := map[string]bool{
		"A is given": x.Given("A"), "A is a mark": x.IsMark("A"), "the line passes A": x.OnLine("A"), "the line ends at the box": x.EndsLine("Box"),
		"the box was read": x.Read("Box"), "the tank has an outline only": x.Outlined("Tank"),
	}
	for what, ok := range yes {
		if !ok {
			t.Errorf("it does not know that %s", what)
		}
	}
	no := map[string]bool{
		"C is given": x.Given("C"), "the box is a mark": x.IsMark("Box"), "the line ends at A": x.EndsLine("A"), "h1 was read": x.Read("h1"), "C has an outline": x.Outlined("C"),
	}
	for what, ok := range no {
		if ok {
			t.Errorf("it believes that %s", what)
		}
	}
	if l, ok := x.Run("Line 1"); !ok || l != 30*unit.Foot {
		t.Errorf("line 1 is %v long, %v", l, ok)
	}
	if _, ok := x.Run("Line 2"); ok {
		t.Error("a length that is not known is told")
	}
	if p, ok := x.Part("Tank"); !ok || p.Kind != site.SepticTank {
		t.Errorf("the tank is %v, %v", p, ok)
	}
	if _, ok := x.All([]site.Name{"A", "C"}); ok {
		t.Error("all points are located though one is not of the plan")
	}
}

func TestPlacesThatAreNoneAreNotLocated(t *testing.T) {
	job, plan := invented()
	for _, v := range []unit.Length{unit.Length(math.NaN()), unit.Length(math.Inf(-1)), 2 * ties.Farthest} {
		plan.Points[2].At.North = v
		x := ties.NewIndex(job, plan)
		if _, ok := x.Located("Box"); ok {
			t.Errorf("a box at %v is located", v)
		}
		if rows := ties.Of(x).Rows; len(rows) != 1 {
			t.Errorf("a box at %v is in the table of %d rows", v, len(rows))
		}
	}
}

func TestAnEmptyJobHasAnEmptyTable(t *testing.T) {
	if got := ties.Of(ties.NewIndex(&site.Job{}, &adjust.Plan{})); len(got.Rows)+len(got.Notes) != 0 {
		t.Errorf("the table is %v", got)
	}
}
