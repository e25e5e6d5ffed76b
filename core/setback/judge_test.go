package setback_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

// TestDistancesByHand holds every row of the example against distances worked
// with a pencil: the trench is 3 ft wide, so its edge lies at 38.5 and 41.5 ft.
func TestDistancesByHand(t *testing.T) {
	y := example(0)
	table := setback.Judge(&y.job, &y.plan, county())
	for _, c := range []struct {
		part, from site.Name
		measured   float64
		required   float64
		verdict    setback.Verdict
	}{
		{"Tank", "Lot", 36, 5, setback.Clear},   // 40 less the radius of 4
		{"Tank", "House", 16, 5, setback.Clear}, // 80 − 60 − 4
		{"Tank", "Well", math.Hypot(24, 100) - 4, 50, setback.Clear},
		{"D-box", "House", 40, 10, setback.Clear},
		{"Line 1", "Lot", 36, 10, setback.Clear}, // from its east end, 200 − 164, nearer than 38.5 to the south
		{"Line 1", "House", 44, 20, setback.Clear},
		{"Line 1", "Well", 98.5, 100, setback.Short},
		{"Line 1", "Oak", 20 - 1.5 - 1, 10, setback.Clear},
		{"Line 1", "Tank", 24 - 4, 10, setback.Clear},
	} {
		r := find(t, table.Rows, c.part, c.from)
		if !near(r.Measured, ft(c.measured)) || !near(r.Required, ft(c.required)) || !near(r.Margin, r.Measured-r.Required) || r.Verdict != c.verdict {
			t.Errorf("%s from %s: %.4f ft of %.4f ft required, %s; want %v, %v, %s", c.part, c.from, r.Measured.Feet(), r.Required.Feet(), r.Verdict, c.measured, c.required, c.verdict)
		}
		if r.Source.Title != "An invented code" || r.Words == "" {
			t.Errorf("%s from %s: source %v, words %q", c.part, c.from, r.Source, r.Words)
		}
	}
	if table.Rows[0].From.Name != "Well" || table.Rows[0].Part.Name != "Line 1" {
		t.Errorf("first stands %s", table.Rows[0].Words)
	}
	if k := table.Kept; len(k) != 3 || k[2].Part.Name != "Line 1" || k[2].By != ft(20) || k[2].Shape.HalfWidth != ft(1.5) {
		t.Errorf("kept free: %+v", k)
	}
	want := `Line 1 lies 98' 6" from Well (well); 100' 0" required: short by 1' 6".`
	if table.Rows[0].Words != want {
		t.Errorf("words: %s\nwant:  %s", table.Rows[0].Words, want)
	}
}

// Two points known to 0.1 ft in every direction, independently: the distance
// between them has 0.1·√2 as its deviation. A plan made by hand has no joint
// covariance, so the shares are added: 0.2 ft, and 95 % within 0.392 ft.
func TestMarginsUncertainty(t *testing.T) {
	y := example(ft(0.1))
	r := find(t, setback.Judge(&y.job, &y.plan, county()).Rows, "D-box", "Well")
	if want := ft(0.2 * 1.959964); math.Abs(float64(r.Within-want)) > 1e-9 {
		t.Errorf("within %.4f ft, want %.4f", r.Within.Feet(), want.Feet())
	}
	y = example(ft(1))
	r = find(t, setback.Judge(&y.job, &y.plan, county()).Rows, "Line 1", "Well")
	if r.Verdict != setback.TooClose || !strings.Contains(r.Words, "too close to call") {
		t.Errorf("%s: %s", r.Verdict, r.Words)
	}
}

// The number worked in docs/method.md: a well 98.5 ft from the middle of a trench,
// each point known to 0.1 ft, gives 0.05 + 0.05 + 0.1 ft.
func TestTheNumberOfTheMethod(t *testing.T) {
	y := &yard{sd: ft(0.1)}
	y.line("Line 1", site.DrainLine, ft(3), at(104, 40), at(164, 40))
	y.feature("Well", site.Well, false, at(134, 140))
	r := find(t, setback.Judge(&y.job, &y.plan, county()).Rows, "Line 1", "Well")
	if !near(r.Measured, ft(98.5)) || math.Abs((r.Within/1.959964).Feet()-0.2) > 1e-9 || r.Verdict != setback.Short {
		t.Errorf("%v ft ± %v ft, %s", r.Measured.Feet(), r.Within.Feet(), r.Verdict)
	}
}

// A disc whose turn is not known carries (½√(L²+W²) − ½W)/√12.
func TestUnknownTurnOfATank(t *testing.T) {
	y := example(0)
	r := find(t, setback.Judge(&y.job, &y.plan, county()).Rows, "Tank", "Well")
	want := ft((math.Hypot(8, 5) - 5) / 2 / math.Sqrt(12) * 1.959964)
	if math.Abs(float64(r.Within-want)) > 1e-9 {
		t.Errorf("within %.5f ft, want %.5f", r.Within.Feet(), want.Feet())
	}
}

func TestOutsideTheLot(t *testing.T) {
	y := example(0)
	y.part("Stray", site.SepticTank, at(212, 40))
	y.line("Line 2", site.DrainLine, ft(3), at(180, 100), at(205, 100))
	rows := setback.Judge(&y.job, &y.plan, county()).Rows
	if r := find(t, rows, "Stray", "Lot"); !near(r.Measured, ft(-12)) || !near(r.Margin, ft(-17)) || r.Verdict != setback.Short || !strings.Contains(r.Words, "outside") {
		t.Errorf("%v: %s", r.Measured.Feet(), r.Words)
	}
	if r := find(t, rows, "Line 2", "Lot"); !near(r.Measured, ft(-5)) {
		t.Errorf("%v: %s", r.Measured.Feet(), r.Words)
	}
	// A neighbour's outline is an edge alone.
	y.feature("Neighbour", site.PropertyLine, true, box(200, 0, 400, 150)...)
	if r := find(t, setback.Judge(&y.job, &y.plan, county()).Rows, "D-box", "Neighbour"); !near(r.Measured, ft(100)) {
		t.Errorf("%v: %s", r.Measured.Feet(), r.Words)
	}
}

func TestNotLocated(t *testing.T) {
	y := example(0)
	y.plan.Points[len(y.plan.Points)-2].State = adjust.Undetermined // the well's
	y.plan.Points[len(y.plan.Points)-2].Why = "only one tie reaches it"
	table := setback.Judge(&y.job, &y.plan, county())
	r := find(t, table.Rows, "Line 1", "Well")
	if r.Known || r.Verdict != setback.TooClose || r.Required != ft(100) || !strings.Contains(r.Words, "only one tie") {
		t.Errorf("%+v", r)
	}
	if !strings.Contains(strings.Join(table.Missing, "\n"), "only one tie") {
		t.Errorf("missing %q", table.Missing)
	}
}

func TestNoRuleIsSaidForWhatIsThere(t *testing.T) {
	y := example(0)
	y.feature("Pool", site.Pool, true, box(70, 80, 90, 100)...)
	y.feature("Pond", site.SurfaceWater, true, box(170, 80, 190, 100)...)
	table := setback.Judge(&y.job, &y.plan, county())
	want := []string{
		"no rule in this pack for a tank or a distribution box from a tree",
		"no rule in this pack for a tank, a distribution box or a field from a pool",
		"no rule in this pack for a tank, a distribution box or a field from surface water",
	}
	if fmt.Sprint(table.NoRule) != fmt.Sprint(want) {
		t.Errorf("%q", table.NoRule)
	}
	if got := setback.Judge(&y.job, &y.plan, nil); len(got.Rows) != 0 || len(got.NoRule) == 0 {
		t.Errorf("without a pack %d rows, %q", len(got.Rows), got.NoRule)
	}
}

func TestThePermitWins(t *testing.T) {
	y := example(0)
	y.job.Site.Setbacks = &site.Setbacks{Source: "permit T-1", Rows: []site.SetbackRow{
		{From: "well", Distances: map[string]unit.Written{"field": {Length: ft(90)}}}}}
	rows := setback.Judge(&y.job, &y.plan, county()).Rows
	r := find(t, rows, "Line 1", "Well")
	if !r.Permit || r.Required != ft(90) || r.Source.Title != "permit T-1" || r.Source.Status != rules.TheUser || r.Verdict != setback.Clear {
		t.Errorf("%+v", r)
	}
	if r := find(t, rows, "Tank", "Well"); r.Permit || r.Required != ft(50) {
		t.Errorf("%+v", r)
	}
}

// A permit that lets a trench reach up to the well wins as any other distance of
// its does, and the table says who allows it.
func TestAPermitOfNothingWins(t *testing.T) {
	y := example(0)
	y.job.Site.Setbacks = &site.Setbacks{Source: "permit T-1", Rows: []site.SetbackRow{
		{From: "well", Distances: map[string]unit.Written{"field": {Length: 0}}}}}
	r := find(t, setback.Judge(&y.job, &y.plan, county()).Rows, "Line 1", "Well")
	if !r.Permit || r.Required != 0 || r.Source.Title != "permit T-1" || r.Verdict != setback.Clear || !near(r.Margin, r.Measured) {
		t.Errorf("%+v", r)
	}
}

func TestStrictestClassIsSaid(t *testing.T) {
	y, pack := example(0), county()
	pack.Setbacks.Rows = []rules.SetbackRow{
		{From: "well", Class: "private", Distances: map[rules.Column]unit.Length{rules.ToField: ft(90)}},
		{From: "well", Class: "irrigation", Distances: map[rules.Column]unit.Length{rules.ToField: ft(25)}},
	}
	if r := find(t, setback.Judge(&y.job, &y.plan, pack).Rows, "Line 1", "Well"); r.Required != ft(90) || !strings.Contains(r.Assumed, "irrigation") {
		t.Errorf("%+v", r)
	}
	y.job.Site.Features[1].Class = "irrigation"
	if r := find(t, setback.Judge(&y.job, &y.plan, pack).Rows, "Line 1", "Well"); r.Required != ft(25) || r.Assumed != "" {
		t.Errorf("%+v", r)
	}
	y.job.Site.Features[1].Class = "artesian"
	table := setback.Judge(&y.job, &y.plan, pack)
	if all := strings.Join(table.NoRule, "\n"); !strings.Contains(all, "artesian") || !strings.Contains(all, "private") {
		t.Errorf("%q", table.NoRule)
	}
}

// A growing distance never makes a verdict better, and rows stand in order.
func TestVerdictsFollowTheDistance(t *testing.T) {
	rank := map[setback.Verdict]int{setback.Short: 0, setback.TooClose: 1, setback.Clear: 2}
	y := example(ft(0.3))
	y.feature("Pond", site.SurfaceWater, true, box(170, 80, 190, 100)...)
	last := map[string]int{}
	for feet := 0.5; feet < 150; feet += 0.5 {
		pack := county()
		for i := range pack.Setbacks.Rows {
			for c := range pack.Setbacks.Rows[i].Distances {
				pack.Setbacks.Rows[i].Distances[c] = ft(feet)
			}
		}
		rows := setback.Judge(&y.job, &y.plan, pack).Rows
		for i, r := range rows {
			key := string(r.Part.Name + "/" + r.From.Name)
			if was, ok := last[key]; ok && rank[r.Verdict] > was {
				t.Fatalf("%s gets better at %v ft", key, feet)
			}
			last[key] = rank[r.Verdict]
			if i > 0 && (rank[rows[i-1].Verdict] > rank[r.Verdict] || rows[i-1].Verdict == r.Verdict && rows[i-1].Margin > r.Margin) {
				t.Fatalf("row %d stands out of order at %v ft", i, feet)
			}
		}
	}
}

func TestReadingsThatDisagreeLeaveItOpen(t *testing.T) {
	y := example(0)
	y.plan.Points[len(y.plan.Points)-2].Doubt = ft(2)
	r := find(t, setback.Judge(&y.job, &y.plan, county()).Rows, "Line 1", "Well")
	if r.Verdict != setback.TooClose || !near(r.Within, ft(2)) {
		t.Errorf("%s within %v", r.Verdict, r.Within.Feet())
	}
}
