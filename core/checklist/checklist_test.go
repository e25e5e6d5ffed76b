package checklist_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/checklist"
	"undersod/core/level"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

func ft(v float64) unit.Length { return unit.Length(v) * unit.Foot }

// yard is an invented property whose plan is set by hand.
type yard struct {
	job  site.Job
	plan adjust.Plan
}

func (y *yard) put(names ...site.Name) {
	for i, n := range names {
		y.plan.Points = append(y.plan.Points, adjust.Point{Name: n, Placed: true, At: planar.Vec{East: ft(float64(20 * i)), North: ft(float64(i * i))}})
	}
}

func (y *yard) part(n site.Name, k site.PartKind) {
	y.put(n)
	y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: n, Kind: k})
}

func (y *yard) feature(n site.Name, k site.FeatureKind, closed bool, points ...site.Name) {
	y.put(points...)
	y.job.Site.Features = append(y.job.Site.Features, site.Feature{Name: n, Kind: k, Closed: closed, Points: points})
}

// example has a lot, a house, a well, a tank, a box and a line.
func example() *yard {
	y := &yard{}
	y.feature("Lot", site.PropertyLine, true, "Pin 1", "Pin 2", "Pin 3")
	y.feature("Well", site.Well, false, "Casing")
	y.put("A", "B", "C", "D", "L1 end")
	y.job.Site.Buildings = []site.Building{{Name: "House", Corners: []site.Name{"A", "B", "C", "D"}}}
	y.part("Tank", site.SepticTank)
	y.part("D-box", site.DistributionBox)
	y.job.Site.Lines = []site.Line{{Name: "Line 1", Kind: site.DrainLine, Path: []site.Name{"D-box", "L1 end"}}}
	return y
}

func everything() *rules.Pack {
	p := &rules.Pack{Checklist: &rules.Checklist{Source: rules.Source{Title: "An invented form"}}}
	for _, w := range rules.AllWanted() {
		p.Checklist.Items = append(p.Checklist.Items, rules.Item{What: w})
	}
	return p
}

func answers(t *testing.T, y *yard) map[rules.Wanted]checklist.Check {
	t.Helper()
	out := map[rules.Wanted]checklist.Check{}
	for _, c := range checklist.Checks(&y.job, &y.plan, everything()) {
		out[c.What] = c
		if c.Why == "" || c.Words == "" || c.Source.Title == "" {
			t.Errorf("%s is answered without words", c.What)
		}
	}
	if len(out) != len(rules.AllWanted()) {
		t.Fatalf("%d answers", len(out))
	}
	return out
}

// On an empty job all is missing but what every sheet has, and what only a pump
// could have.
func TestChecksOfAnEmptyJob(t *testing.T) {
	for what, c := range answers(t, &yard{}) {
		want := checklist.Missing
		switch what {
		case rules.WantScale, rules.WantTitle:
			want = checklist.OnSheet
		case rules.WantSettings:
			want = checklist.NotApplicable
		}
		if c.Answer != want {
			t.Errorf("%s: %s: %s", what, c.Answer, c.Why)
		}
		if want == checklist.Missing && !strings.ContainsAny(c.Why, ":") && what != rules.WantAccuracy {
			t.Errorf("%s does not say what to enter: %s", what, c.Why)
		}
	}
}

func TestChecksOfAFullJob(t *testing.T) {
	y := example()
	s, v := &y.job.Site, &y.job.Visit
	s.Address, s.Parcel, s.Permit = "1 Invented Lane", "12-3", "T-1"
	v.Date, v.By, v.Licence = "2026-05-14", "J. Example", "L-1"
	s.Parts[0].Detail, s.Parts[0].Material = "1,000 gal concrete", "concrete"
	s.Parts[1].Detail = "plastic"
	y.part("Lid", site.Lid)
	for _, k := range []site.FeatureKind{site.SoilTest, site.SurfaceWater, site.WaterLine, site.Driveway} {
		y.feature(site.Name(k), k, false, site.Name(k)+" 1", site.Name(k)+" 2")
	}
	y.feature("Reserve", site.ReserveArea, true, "R1", "R2", "R3")
	v.Readings = []site.Reading{site.Tie{From: "p1", To: "Tank", Read: unit.Written{Length: 1}}}
	v.Photos = []site.Photo{{File: "box.jpg"}}
	v.Notes = []string{"No easement on the site", "Lot sides 200', 150', 200', 150'", "Elevations: bench mark 100.00 ft", "Signed on paper"}
	s.Care = []site.Care{{Date: "2021-06", What: "pumped"}}
	y.plan.Frame.North = adjust.NorthMeasured
	for what, c := range answers(t, y) {
		want := checklist.OnSheet
		switch what {
		case rules.WantEasements, rules.WantSettings, rules.WantPhotos, rules.WantHistory:
			want = checklist.NotApplicable
		case rules.WantOther:
			want = checklist.Missing
		}
		if c.Answer != want {
			t.Errorf("%s: %s: %s", what, c.Answer, c.Why)
		}
	}
	y.part("Pump", site.PumpTank)
	y.plan.Points[len(y.plan.Points)-1].State = adjust.TwoAnswers
	got := answers(t, y)
	for _, what := range []rules.Wanted{rules.WantSettings, rules.WantTank, rules.WantAccuracy, rules.WantMaterials} {
		if got[what].Answer != checklist.Missing || !strings.Contains(got[what].Why, "Pump") {
			t.Errorf("%s: %s: %s", what, got[what].Answer, got[what].Why)
		}
	}
	if checklist.Checks(&y.job, &y.plan, nil) != nil || checklist.Checks(&y.job, &y.plan, &rules.Pack{}) != nil {
		t.Error("a pack without a checklist has items")
	}
}

// The lengths of a lot's sides are told as the sheet prints them.
func TestSidesOfALot(t *testing.T) {
	y := &yard{}
	y.feature("Lot", site.PropertyLine, true, "Pin 1", "Pin 2", "Pin 3")
	c := answers(t, y)[rules.WantLot] // at 0, 0; 20, 1; 40, 4 ft
	if c.Answer != checklist.OnSheet || !strings.Contains(c.Why, `as located: 20' 0 1/4", 20' 2 5/8", 40' 2 3/8"`) {
		t.Errorf("%s: %s", c.Answer, c.Why)
	}
	y.plan.Points[1].Doubt = unit.Foot
	if c := answers(t, y)[rules.WantLot]; c.Answer != checklist.Missing || !strings.Contains(c.Why, "Pin 1 to Pin 2 has none, as readings disagree about Pin 2") {
		t.Errorf("%s: %s", c.Answer, c.Why)
	}
	y.job.Visit.Notes = []string{"Lot sides 20', 20', 40'"}
	if c := answers(t, y)[rules.WantLot]; c.Answer != checklist.OnSheet || !strings.Contains(c.Why, "as a note") {
		t.Errorf("%s: %s", c.Answer, c.Why)
	}
	y.job.Visit.Notes = []string{"No lot side was measured"}
	if c := answers(t, y)[rules.WantLot]; c.Answer != checklist.Missing {
		t.Errorf("%s: %s", c.Answer, c.Why)
	}
}

// level reads the rod on a bench mark and on one more point.
func (y *yard) level(on site.Name) {
	for i, n := range []site.Name{"BM 1", on} {
		feet := ft(float64(4 + 3*i))
		y.job.Visit.Readings = append(y.job.Visit.Readings, site.Rod{Taken: site.Taken{ID: site.ReadingID(n)}, Setup: "S", Point: n, On: site.OnTop,
			Read: unit.Written{Text: "read", Length: feet, Form: unit.DecimalFeet}})
	}
	y.plan.Net = level.Adjust(y.job.Visit.Readings, func(site.Reading) unit.Length { return ft(0.01) })
}

func TestElevations(t *testing.T) {
	y := example()
	y.level("Tank")
	for i := range y.plan.Points {
		y.plan.Points[i].Role = site.RolePart
	}
	c := answers(t, y)[rules.WantElevations]
	if c.Answer != checklist.OnSheet || c.Why != "In the table of parts, over the bench mark BM 1, taken as 0: Tank." {
		t.Errorf("%s: %s", c.Answer, c.Why)
	}
	y = example()
	y.level("TP 1")
	if c := answers(t, y)[rules.WantElevations]; c.Answer != checklist.Missing || !strings.Contains(c.Why, "none of them at a part that is located") {
		t.Errorf("%s: %s", c.Answer, c.Why)
	}
	y.job.Visit.Notes = []string{"Bench mark: the sill, 100.00 ft"}
	if c := answers(t, y)[rules.WantElevations]; c.Answer != checklist.OnSheet || !strings.Contains(c.Why, "As a note: Bench mark") {
		t.Errorf("%s: %s", c.Answer, c.Why)
	}
}

func TestSpoiledJobs(t *testing.T) {
	nan := unit.Length(math.NaN())
	y := example()
	y.plan.Points = y.plan.Points[3:]
	y.plan.Points[0].At = planar.Vec{East: nan, North: nan}
	y.job.Site.Lines = append(y.job.Site.Lines, site.Line{Kind: site.DrainLine}, site.Line{Name: "\xff", Path: []site.Name{"nowhere"}})
	y.job.Site.Features = append(y.job.Site.Features, site.Feature{Kind: site.PropertyLine, Closed: true})
	for what, c := range answers(t, y) {
		if c.Answer == checklist.OnSheet && (what == rules.WantLot || what == rules.WantWells || what == rules.WantBends) {
			t.Errorf("%s: %s", what, c.Why)
		}
	}
	if got := checklist.Checks(nil, nil, everything()); len(got) != len(rules.AllWanted()) {
		t.Errorf("%d answers", len(got))
	}
}

// A metric job is told what to enter in metres and litres.
func TestExamplesAreInTheUnitsOfTheJob(t *testing.T) {
	pack := &rules.Pack{Checklist: &rules.Checklist{Items: []rules.Item{{What: rules.WantElevations}, {What: rules.WantMaterials}, {What: rules.WantTies}}}}
	for form, want := range map[unit.Form][3]string{
		unit.Metres:     {"1.317 m", "3,800 L", "7.13 m"},
		unit.FeetInches: {"4.32 ft", "1,000 gal", "23' 4 1/2\""},
	} {
		checks := checklist.Checks(&site.Job{Show: site.Show{Form: form}}, &adjust.Plan{}, pack)
		for i, w := range want {
			if !strings.Contains(checks[i].Why, w) {
				t.Errorf("no %q in %q", w, checks[i].Why)
			}
		}
	}
}
