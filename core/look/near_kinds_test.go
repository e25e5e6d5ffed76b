package look_test

import (
	"strings"
	"testing"

	"undersod/core/look"
	"undersod/core/planar"
	"undersod/core/site"
)

// TestEveryKindThatBringsWaterIsOffered puts one thing of each kind beside
// standing water, and beside a cracked pipe.
func TestEveryKindThatBringsWaterIsOffered(t *testing.T) {
	for _, c := range []struct {
		kind            site.FeatureKind
		away            float64 // feet from the line, which runs east there
		water, cracked  string  // what is offered; empty where nothing is
		neither, hidden bool    // hidden: not even told
	}{
		{site.Spring, 20, "water in the ground beside it", "", false, false},
		{site.Spring, 40, "", "", true, false},
		{site.Wetland, 20, "water in the ground beside it", "", false, false},
		{site.Ditch, 20, "water in the ground beside it", "", false, false},
		{site.SurfaceWater, 20, "water in the ground beside it", "", false, false},
		{site.Drain, 12, "the water that it carries", "", false, false},
		{site.Drain, 0.5, "the water that it carries", "digging for it", false, false},
		{site.DryWell, 12, "the water that it carries", "", false, false},
		{site.Cistern, 4, "a leak of it", "", false, false},
		{site.Cistern, 12, "", "", true, false},
		{site.StormPipe, 4, "a leak of it", "", false, false},
		{site.StormPipe, 0.5, "a leak of it", "digging for it", false, false},
		{site.Bank, 8, "", "the ground may give way", false, false},
		{site.Bank, 20, "", "", true, false},
		{site.Sinkhole, 8, "", "the ground may give way", false, false},
		{site.OtherField, 20, "the water of that field", "", false, false},
		{site.Easement, 1, "", "", true, true},
		{site.FloodPlain, 1, "", "", true, true},
		{site.ReserveArea, 1, "", "", true, true},
		{site.SoilTest, 1, "", "", true, true},
	} {
		y := bent(0)
		y.put(0, map[site.Name]planar.Vec{"spot": at(8, -c.away)}, "spot")
		y.job.Site.Features = []site.Feature{{Name: "Spot", Kind: c.kind, Points: []site.Name{"spot"}}}
		y.run(site.Run{}, seen(site.StandingWater, 8), seen(site.Cracked, 8))
		found := look.Lay(&y.job, &y.plan)[0].Findings
		for i, want := range []string{c.water, c.cracked} {
			near := found[i].Near
			if told := len(near) == 1; told == c.hidden {
				t.Errorf("%s: %+v", c.kind, near)
				continue
			}
			if !c.hidden && (near[0].Explains != (want != "") || !strings.Contains(near[0].Words, want)) {
				t.Errorf("%s, %g ft away, %s: %q, want %q", c.kind, c.away, found[i].What, near[0].Words, want)
			}
		}
	}
}
