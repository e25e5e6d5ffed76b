package setback_test

import (
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

func everything() *rules.Pack {
	p := &rules.Pack{Checklist: &rules.Checklist{Source: rules.Source{Title: "An invented form"}}}
	for _, w := range rules.AllWanted() {
		p.Checklist.Items = append(p.Checklist.Items, rules.Item{What: w})
	}
	return p
}

func answers(t *testing.T, y *yard) map[rules.Wanted]setback.Check {
	t.Helper()
	out := map[rules.Wanted]setback.Check{}
	for _, c := range setback.Checks(&y.job, &y.plan, everything()) {
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
		want := setback.Missing
		switch what {
		case rules.WantScale, rules.WantTitle:
			want = setback.OnSheet
		case rules.WantSettings:
			want = setback.NotApplicable
		}
		if c.Answer != want {
			t.Errorf("%s: %s: %s", what, c.Answer, c.Why)
		}
		if want == setback.Missing && !strings.ContainsAny(c.Why, ":") && what != rules.WantAccuracy {
			t.Errorf("%s does not say what to enter: %s", what, c.Why)
		}
	}
}

func TestChecksOfAFullJob(t *testing.T) {
	y := example(ft(0.1))
	s, v := &y.job.Site, &y.job.Visit
	s.Address, s.Parcel, s.Permit = "1 Invented Lane", "12-3", "T-1"
	v.Date, v.By, v.Licence = "2026-05-14", "J. Example", "L-1"
	s.Parts[0].Detail, s.Parts[0].Material = "1,000 gal concrete", "concrete"
	s.Parts[1].Detail = "plastic"
	y.part("Lid", site.Lid, at(80, 38))
	for _, k := range []site.FeatureKind{site.SoilTest, site.SurfaceWater, site.WaterLine, site.Driveway} {
		y.feature(site.Name(k), k, false, at(150, 100), at(160, 100))
	}
	y.feature("Reserve", site.ReserveArea, true, box(70, 80, 140, 110)...)
	v.Readings = []site.Reading{site.Tie{From: "p1", To: "Tank", Read: unit.Written{Length: 1}}}
	v.Photos = []site.Photo{{File: "box.jpg"}}
	v.Notes = []string{"No easement on the site", "Lot sides 200', 150', 200', 150'", "Elevations: bench mark 100.00 ft", "Signed on paper"}
	s.Care = []site.Care{{Date: "2021-06", What: "pumped"}}
	y.plan.Frame.North = adjust.NorthMeasured
	for what, c := range answers(t, y) {
		want := setback.OnSheet
		switch what {
		case rules.WantEasements, rules.WantSettings, rules.WantPhotos, rules.WantHistory:
			want = setback.NotApplicable
		case rules.WantOther:
			want = setback.Missing
		}
		if c.Answer != want {
			t.Errorf("%s: %s: %s", what, c.Answer, c.Why)
		}
	}
	y.part("Pump", site.PumpTank, at(90, 30))
	y.plan.Points[len(y.plan.Points)-1].State = adjust.TwoAnswers
	got := answers(t, y)
	for _, what := range []rules.Wanted{rules.WantSettings, rules.WantTank, rules.WantAccuracy, rules.WantMaterials} {
		if got[what].Answer != setback.Missing || !strings.Contains(got[what].Why, "Pump") {
			t.Errorf("%s: %s: %s", what, got[what].Answer, got[what].Why)
		}
	}
	if setback.Checks(&y.job, &y.plan, nil) != nil || setback.Checks(&y.job, &y.plan, county()) != nil {
		t.Error("a pack without a checklist has items")
	}
}
