package setback_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

// field is a box with a fan of three trenches, 9 ft from middle to middle, each
// led from the box to its bend.
func field() *yard {
	y := &yard{sd: ft(0.1)}
	y.part("Tank", site.SepticTank, at(-20, 0)).Width = ft(4)
	y.part("D-box", site.DistributionBox, at(0, 0))
	for i, n := range []site.Name{"Line 1", "Line 2", "Line 3"} {
		north := 9 * float64(1-i)
		ends := y.put(at(12, north), at(60, north))
		depth, stone := unit.Written{Length: ft(2.5)}, unit.Written{Length: ft(1)}
		y.job.Site.Lines = append(y.job.Site.Lines, site.Line{Name: n, Kind: site.DrainLine, Path: append([]site.Name{"D-box"}, ends...),
			TrenchWidth: ft(3), TrenchDepth: &depth, StoneBelow: &stone})
		y.plan.Footages = append(y.plan.Footages, adjust.LineLength{Line: n, Known: true, Length: ft(float64(60 + i)), SD: ft(0.5)})
	}
	return y
}

func limited(on rules.LimitOn, least, most float64) *rules.Pack {
	return &rules.Pack{Limits: []rules.Limit{{On: on, Least: ft(least), Most: ft(most), Source: rules.Source{Title: "An invented code"}}}}
}

func TestLimitsByHand(t *testing.T) {
	y := field()
	y.job.Visit.Readings = []site.Reading{site.Depth{Point: "D-box", Read: unit.Written{Length: ft(1.5)}}}
	for _, c := range []struct {
		on          rules.LimitOn
		least, most float64
		n           int
		measured    float64
		verdict     setback.Verdict
	}{
		{rules.OnTrenchWidth, 1, 3, 3, 3, setback.Clear},
		{rules.OnTrenchWidth, 3.5, 0, 3, 3, setback.Short},
		{rules.OnTrenchLength, 0, 100, 3, 60, setback.Clear},
		{rules.OnTrenchLength, 0, 60, 3, 60, setback.TooClose},
		{rules.OnTrenchDepth, 0, 2, 3, 2.5, setback.Short},
		{rules.OnStoneBelow, 0.5, 0, 3, 1, setback.Clear},
		{rules.OnSpacing, 5, 0, 2, 6, setback.Clear}, // 9 − 3
		{rules.OnSpacing, 7, 0, 2, 6, setback.Short},
		{rules.OnCentres, 9, 0, 2, 9, setback.TooClose},
		{rules.OnTankToTrench, 6, 0, 1, math.Hypot(19.1, 1.2) - 2, setback.Clear}, // the corner of the first strip, by 3-4-5
		{rules.OnBoxLid, 0, 1, 1, 1.5, setback.Short},
		{rules.OnAccuracy, 0, 0.5, 2, 0.1 * 2.44704, setback.Clear},
	} {
		var rows []setback.LimitRow
		for _, r := range setback.Judge(&y.job, &y.plan, limited(c.on, c.least, c.most)).Limits {
			if c.on != rules.OnAccuracy || !strings.Contains(r.What, "of p") {
				rows = append(rows, r)
			}
		}
		if len(rows) != c.n {
			t.Errorf("%s: %d rows, want %d", c.on, len(rows), c.n)
			continue
		}
		r := rows[0]
		if !r.Known || math.Abs(r.Measured.Feet()-c.measured) > 1e-4 || r.Verdict != c.verdict || r.Words == "" || r.Source.Title == "" {
			t.Errorf("%s at least %v, at most %v: %.5f ft, %s: %s", c.on, c.least, c.most, r.Measured.Feet(), r.Verdict, r.Words)
		}
	}
}

func TestLimitsThatCannotBeTold(t *testing.T) {
	y := field()
	y.job.Site.Lines[0].StoneAbove = nil
	y.job.Site.Lines[1].Path = y.job.Site.Lines[1].Path[:2]
	y.plan.Footages[2].Known = false
	for on, want := range map[rules.LimitOn]string{
		rules.OnStoneAbove: "stone above:", rules.OnSpacing: "no bend where its trench begins",
		rules.OnTrenchLength: "not every point", rules.OnBoxLid: "depths:",
	} {
		all := ""
		for _, r := range setback.Judge(&y.job, &y.plan, limited(on, 1, 2)).Limits {
			if !r.Known && r.Verdict == "" && r.Measured == 0 {
				all += r.Words + "\n"
			}
		}
		if !strings.Contains(all, want) {
			t.Errorf("%s: no %q in %q", on, want, all)
		}
	}
}

// The job's own limit of accuracy wins over the pack's.
func TestTheJobsAccuracyWins(t *testing.T) {
	y := field()
	y.job.Visit.Accuracy = &site.Accuracy{Limit: ft(0.1), Source: "the permit"}
	rows := setback.Judge(&y.job, &y.plan, limited(rules.OnAccuracy, 0, 5)).Limits
	if len(rows) == 0 || rows[0].Most != ft(0.1) || rows[0].Source.Title != "the permit" || rows[0].Verdict != setback.Short {
		t.Errorf("%+v", rows)
	}
}
