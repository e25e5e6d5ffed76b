package look_test

import (
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/look"
	"undersod/core/planar"
	"undersod/core/site"
)

// yardWithThings adds things of the property beside the bent line.
func yardWithThings(y *yard) *yard {
	places := map[site.Name]planar.Vec{
		"trunk": at(31, 21), "d1": at(5, -3), "d2": at(12, -3), "d3": at(12, 30), "d4": at(5, 30),
		"spout": at(20, 54), "A": at(-30, 60), "B": at(21, 60), "C": at(21, 90), "D": at(-30, 90),
		"pin 1": at(-4, -60), "pin 2": at(-4, 20), "well": at(80, 0), "w1": at(15, -9), "w2": at(15, 9), "far": at(500, 500),
	}
	y.put(0, places, "trunk", "d1", "d2", "d3", "d4", "spout", "A", "B", "C", "D", "pin 1", "pin 2", "well", "w1", "w2", "far")
	y.job.Site.Buildings = []site.Building{{Name: "House", Corners: []site.Name{"A", "B", "C", "D"}}}
	y.job.Site.Features = []site.Feature{
		{Name: "Maple", Kind: site.Tree, Points: []site.Name{"trunk"}, Radius: ft(14)},
		{Name: "Drive", Kind: site.Driveway, Points: []site.Name{"d1", "d2", "d3", "d4"}, Closed: true},
		{Name: "Spout", Kind: site.Downspout, Points: []site.Name{"spout"}},
		{Name: "West side", Kind: site.PropertyLine, Points: []site.Name{"pin 1", "pin 2"}},
		{Name: "Well", Kind: site.Well, Points: []site.Name{"well"}, Radius: ft(2)},
		{Name: "Main", Kind: site.WaterLine, Points: []site.Name{"w1", "w2"}},
		{Name: "Oak", Kind: site.Tree, Points: []site.Name{"far"}},
		{Name: "Lost", Kind: site.Tree, Points: []site.Name{"nowhere"}},
	}
	return y
}

func TestWhatStandsNear(t *testing.T) {
	for _, c := range []struct {
		name string
		f    site.Finding
		want []string
	}{
		{"roots by the maple", seen(site.FineRoots, 41), []string{
			`8' from Drive (driveway)`,
			`11' from the trunk of Maple, under its crown: its roots may explain this`,
			`61' 7" from Well (well)`,
		}},
		{"flattened under the drive", seen(site.Flattened, 8), []string{
			`under Drive (driveway): wheels over it may explain this`,
			`7' from Main (water line)`,
			`70' from Well (well)`,
		}},
		{"cracked where the water line crosses", seen(site.Cracked, 13.5, 16), []string{
			`where Main (water line) crosses: digging for it may explain this`,
			`1' 6" from Drive (driveway): wheels over it may explain this`,
			`25' 10" from the trunk of Maple`,
			`62' from Well (well)`,
		}},
		{"flattened just beside the drive", seen(site.Flattened, 13), []string{
			`1' from Drive (driveway), and as well as the place is known it may lie under it: wheels over it may explain this`,
			`2' from Main (water line)`,
			`27' 8" from the trunk of Maple`,
			`65' from Well (well)`,
		}},
		{"water at the low end", seen(site.StandingWater, 54.5, 62.5), []string{
			`9' 2" from Drive (driveway)`,
			`11' 6" from Spout (downspout): roof water may explain this`,
			`17' 5" from the trunk of Maple`,
			`67' 3" from Well (well)`,
		}},
	} {
		y := yardWithThings(bent(0))
		y.run(site.Run{}, c.f)
		f := look.Lay(&y.job, &y.plan)[0].Findings[0]
		var got []string
		for i, n := range f.Near {
			got = append(got, n.Words)
			if i > 0 && n.Distance < f.Near[i-1].Distance {
				t.Errorf("%s: %v is not nearest first", c.name, n)
			}
			if n.Explains != strings.Contains(n.Words, ":") {
				t.Errorf("%s: %+v", c.name, n)
			}
		}
		if strings.Join(got, "\n") != strings.Join(c.want, "\n") {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, strings.Join(got, "\n"), strings.Join(c.want, "\n"))
		}
	}
}

func TestFindingsAtParts(t *testing.T) {
	y := yardWithThings(bent(ft(0.1)))
	y.job.Site.Parts = []site.Part{
		{Name: "D-box", Kind: site.DistributionBox, Findings: []site.Finding{{What: site.WaterOverPipe}}},
		{Name: "Tank", Kind: site.SepticTank, Findings: []site.Finding{{What: site.Corroded, Grade: site.Act}}},
		{Name: "Lost lid", Kind: site.Lid, Findings: []site.Finding{{What: site.PieceMissing}}},
		{Name: "Sound lid", Kind: site.Lid},
	}
	y.plan.Outlines = []adjust.Outline{{Part: "Tank", Fitted: true, Centre: at(0, 58), Sigma: adjust.Sigma{East: ft(0.1), North: ft(0.1)}}}
	f := look.AtParts(&y.job, &y.plan)
	if len(f) != 3 {
		t.Fatalf("%d findings", len(f))
	}
	lies(t, "the box", f[0].From.At, at(0, 0))
	if d := f[0].From.Radius - ft(0.24477); d.Abs() > ft(0.001) { // 0.1 ft × √(-2 ln 0.05), the Rayleigh quantile
		t.Errorf("radius %v ft", f[0].From.Radius.Feet())
	}
	lies(t, "the tank", f[1].From.At, at(0, 58))
	if f[0].Words != "water over the outlet at D-box" || f[0].Grade != site.Act || f[0].Why == "" || len(f[0].Path) != 1 {
		t.Errorf("%+v", f[0])
	}
	if f[1].Why != "" || f[1].Near[0].Words != "2' from House" || !f[1].Near[0].Building {
		t.Errorf("%+v", f[1])
	}
	if f[2].From.Known || f[2].Path != nil || f[2].Near != nil || !strings.Contains(f[2].Words, "not known") {
		t.Errorf("%+v", f[2])
	}
}

func TestGrades(t *testing.T) {
	share := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		f    site.Finding
		want site.Grade
		why  string
	}{
		{site.Finding{What: site.FineRoots}, site.Watch, "mass"},
		{site.Finding{What: site.FineRoots, Percent: share(60)}, site.Act, "60 %"},
		{site.Finding{What: site.RootMass}, site.Act, "grows"},
		{site.Finding{What: site.RootMass, Grade: site.Note}, site.Note, ""},
		{site.Finding{What: site.Cracked}, site.Watch, "roots"},
		{site.Finding{What: site.Broken}, site.Act, "soil"},
		{site.Finding{What: site.Blocked}, site.Act, "backs up"},
		{site.Finding{What: site.SoilEntering}, site.Act, "hollow"},
		{site.Finding{What: site.JointShifted}, site.Watch, "joint"},
		{site.Finding{What: site.StandingWater}, site.Watch, "low"},
		{site.Finding{What: site.StandingWater, To: reads(62.5)}, site.Watch, "end of the line"},
		{site.Finding{What: site.StandingWater, Depth: reads(1.0 / 3)}, site.Act, "full"},
		{site.Finding{What: site.Sediment, Depth: reads(1.0 / 12)}, site.Watch, "solids"},
		{site.Finding{What: site.Sediment, Depth: reads(2.5 / 12)}, site.Act, "half"},
		{site.Finding{What: site.Flattened}, site.Watch, "measure"},
		{site.Finding{What: site.Flattened, Percent: share(5)}, site.Note, "5 %"},
		{site.Finding{What: site.Flattened, Percent: share(5.1)}, site.Watch, "Greentown"},
		{site.Finding{What: site.Flattened, Percent: share(7.5)}, site.Watch, "7.5 %"},
		{site.Finding{What: site.Flattened, Percent: share(8)}, site.Act, "advice only"},
		{site.Finding{What: site.Flattened, Percent: share(180)}, site.Watch, "measure"},
		{site.Finding{What: site.LineEndSeen}, site.Note, "no fault"},
		{site.Finding{What: site.AnotherFinding}, site.Note, "note"},
		{site.Finding{What: "gnomes"}, site.Note, "does not know"},
	} {
		y := bent(0)
		y.job.Site.Lines[0].Bore = ft(4.0 / 12)
		c.f.At = reads(40)
		y.run(site.Run{}, c.f)
		r := look.Lay(&y.job, &y.plan)[0]
		got := r.Findings[0]
		if got.Grade != c.want || !strings.Contains(got.Why, c.why) || (c.why == "") != (got.Why == "") {
			t.Errorf("%+v: %v because %q, want %v because %q", c.f, got.Grade, got.Why, c.want, c.why)
		}
	}
	for _, k := range site.FindingKinds() {
		y := bent(0)
		y.run(site.Run{}, seen(k, 3))
		if f := look.Lay(&y.job, &y.plan)[0].Findings[0]; f.Grade == site.GradeUnstated || f.Why == "" {
			t.Errorf("%s: no grade", k)
		}
	}
}
