package setback_test

import (
	"slices"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

func has(t *testing.T, in []string, want ...string) {
	t.Helper()
	all := strings.Join(in, "\n")
	for _, w := range want {
		if !strings.Contains(all, w) {
			t.Errorf("no %q in\n%s", w, all)
		}
	}
}

// A pool beside a well that no rule speaks of: no rule is no permission.
func TestNoRuleIsToldAndNotTakenForNone(t *testing.T) {
	y := example(0)
	p := shop()
	p.Kind, p.Name, p.Near = site.Pool, "Pool", "Well"
	f := fit(t, y, county(), p)
	has(t, f.Words, "No rule in this pack for a pool from a building or a well: it is only kept from being built over; ask the authority.")
	has(t, f.Caution, "A tree: only kept from being built over.")
	for _, l := range f.Limits {
		if want := l.Thing.Name == "Lot"; l.Ruled != want {
			t.Errorf("%s: ruled %v", l.Thing.Name, l.Ruled)
		}
		if strings.Contains(l.Words, "no distance is required") {
			t.Error(l.Words)
		}
	}
}

// A house keeps from a pool what the pool keeps from the house.
func TestARowHoldsBothWays(t *testing.T) {
	pack := county()
	pack.Setbacks.Rows = append(pack.Setbacks.Rows, rules.SetbackRow{From: "pool", Distances: map[rules.Column]unit.Length{rules.ToStructure: ft(9)}})
	p := shop()
	p.Kind, p.Name = site.Pool, "Pool"
	for _, o := range fit(t, example(0), pack, p).Ground.Obstacles {
		if o.Name == "House" && !near(o.Setback, ft(9)) {
			t.Errorf("a pool keeps %v ft from the house", o.Setback.Feet())
		}
	}
}

// What crosses itself has no distance: a lot, a drive, a reserve area.
func TestWhatCrossesItselfIsNotJudged(t *testing.T) {
	for _, kind := range []site.FeatureKind{site.PropertyLine, site.Driveway, site.ReserveArea} {
		y := &yard{}
		y.part("Tank", site.SepticTank, at(50, 20))
		y.feature("Bow", kind, true, at(0, 0), at(100, 100), at(100, 0), at(0, 100))
		pack := county()
		pack.Setbacks.Rows = append(pack.Setbacks.Rows, rules.SetbackRow{From: "driveway", Distances: map[rules.Column]unit.Length{rules.ToTank: ft(5)}})
		table := setback.Judge(&y.job, &y.plan, pack)
		has(t, table.Missing, "Bow crosses itself: its side from corner 1 to corner 2 meets the one from corner 3 to corner 4")
		for _, r := range table.Rows {
			if (r.From.Name == "Bow" || r.Part.Name == "Bow") && (r.Known || r.Verdict != setback.TooClose) {
				t.Errorf("%s: %+v", kind, r)
			}
		}
		q, _ := setback.Ask(&y.job, &y.plan, shop())
		if _, err := setback.Find(&y.job, &y.plan, pack, q); err == nil || !strings.Contains(err.Error(), "crosses itself") {
			t.Errorf("%s: %v", kind, err)
		}
	}
}

// What is not located may lie just there: no yes without it.
func TestWhatIsLeftOutStandsInTheAnswer(t *testing.T) {
	y := example(0)
	for i := range y.plan.Points {
		if y.plan.Points[i].Name == y.job.Site.Features[1].Points[0] {
			y.plan.Points[i].State, y.plan.Points[i].Placed = adjust.TwoAnswers, false
		}
	}
	f := fit(t, y, county(), shop())
	if f.Settled() || f.Verdict != setback.TooClose || f.Outcome() != setback.FitsByLocated || len(f.LeftOut) != 1 || f.LeftOut[0] != "Well" {
		t.Errorf("%s %s %q", f.Outcome(), f.Verdict, f.LeftOut)
	}
	has(t, f.Words[:1], "Well is not located and left out, so that this is no answer yet.")
}

// The move and the place that are sure: what is asked and the uncertainty. With
// 0.1 ft at the pin and at the stated place, and what the lot's side carries.
func TestThePlaceThatIsSure(t *testing.T) {
	p := shop()
	p.At = &site.Stand{Point: "A"}
	f := fit(t, bare(ft(0.1)), county(), p)
	if f.Cure == nil || f.Sure == nil || !f.Sure.Fits {
		t.Fatalf("cure %v, sure %v", f.Cure, f.Sure)
	}
	l := f.Stated[0]
	if got, want := f.Sure.At.East-at(12, 0).East, -l.Margin+l.Within; (got - want).Abs() > unit.Millimetre*2 {
		t.Errorf("moved %.4f ft, want %.4f", got.Feet(), want.Feet())
	}
	has(t, f.Words, `Move it 3' 0" toward east, away from Lot, and it keeps just what is asked.`, "toward east, away from Lot is the smallest move that makes it sure")
	p.At, p.Near = nil, "Corner"
	f = fit(t, bare(ft(0.1)), county(), p)
	if f.Sure == nil || f.Sure.Moved <= f.Best.Moved {
		t.Fatalf("%+v", f.Sure)
	}
	has(t, f.Words, "The nearest place that is sure has its middle", "from Corner: peg that.")
	if f := fit(t, bare(0), county(), p); f.Sure != nil {
		t.Errorf("sure %+v of a place that is clear", f.Sure)
	}
}

// Something else that is proposed is marked, judged itself, and told where it
// breaks a distance.
func TestWhatElseIsProposed(t *testing.T) {
	y := bare(0)
	shed := shop()
	shed.Name, shed.At = "Shed", &site.Stand{Point: "A"}
	y.job.Site.Proposed = []site.Proposed{shed}
	p := shop()
	p.Near = "A"
	f := fit(t, y, county(), p)
	if len(f.Others) != 1 || f.Others[0].Verdict != setback.Short || len(f.Others[0].Outline) != 4 {
		t.Fatalf("%+v", f.Others)
	}
	has(t, f.Caution, `Shed, where it is to stand, breaks 1 distance: Lot by 3' 0"`, "take it out of the job to have it left out")
	for _, l := range f.Limits {
		if l.Proposed != (l.Thing.Name == "Shed") || l.Proposed && !strings.Contains(l.Words, "Shed (also proposed)") {
			t.Errorf("%+v", l)
		}
	}
	table := setback.Judge(&y.job, &y.plan, county())
	if len(table.Proposed) != 1 || table.Proposed[0].Verdict != setback.Short {
		t.Fatalf("%+v", table.Proposed)
	}
	has(t, []string{table.Proposed[0].Words}, `Lot by 3' 0"`)
}

// What a proposal leaves open in its turn is not asked of the table: the well is
// missing there as it is without it, and not left out.
func TestAnOpenTurnAsksNothingOfTheTable(t *testing.T) {
	y := example(0)
	for i := range y.plan.Points {
		if y.plan.Points[i].Name == y.job.Site.Features[1].Points[0] {
			y.plan.Points[i].State, y.plan.Points[i].Placed = adjust.TwoAnswers, false
		}
	}
	y.point("A", at(150, 100))
	want := setback.Judge(&y.job, &y.plan, county()).Missing
	p := shop()
	p.At, p.Turn = &site.Stand{Point: "A"}, nil
	y.job.Site.Proposed = []site.Proposed{p}
	table := setback.Judge(&y.job, &y.plan, county())
	if len(want) == 0 || !slices.Equal(table.Missing, want) || len(table.Proposed) != 1 {
		t.Errorf("%q, without the workshop %q", table.Missing, want)
	}
}

// Two tanks 1.4 ft apart lie one on the other whatever their turn; 9 ft apart
// they do not for certain; a trench may begin at a box.
func TestPartsOnTopOfEachOther(t *testing.T) {
	for feet, want := range map[float64]int{1.4: 1, 9: 0} {
		y := &yard{}
		for i, n := range []site.Name{"Tank", "Pump"} {
			tank := y.part(n, []site.PartKind{site.SepticTank, site.PumpTank}[i], at(float64(i)*feet, 0))
			tank.Length, tank.Width = ft(8.5), ft(5)
		}
		y.part("D-box", site.DistributionBox, at(40, 0)).Width = ft(2)
		y.line("Line 1", site.DrainLine, ft(3), at(41, 0), at(90, 0))
		table := setback.Judge(&y.job, &y.plan, county())
		if len(table.Clashes) != want {
			t.Errorf("%v ft: %q", feet, table.Clashes)
		}
		if q, _ := setback.Ask(&y.job, &y.plan, shop()); want > 0 {
			f, err := setback.Find(&y.job, &y.plan, county(), q)
			if err != nil {
				t.Fatal(err)
			}
			has(t, f.Caution, "Tank and Pump occupy the same ground")
		}
	}
}

// Too close to call comes with what would narrow it.
func TestAdvice(t *testing.T) {
	y := example(ft(0.2))
	pack := county()
	tree := func(d float64) {
		for i := range pack.Setbacks.Rows {
			if pack.Setbacks.Rows[i].From == "tree" {
				pack.Setbacks.Rows[i].Distances = map[rules.Column]unit.Length{rules.ToTank: ft(d), rules.ToField: ft(17.5)}
			}
		}
	}
	tree(39.7)
	table := setback.Judge(&y.job, &y.plan, pack)
	has(t, []string{find(t, table.Rows, "Tank", "Oak").Advice}, "the turn of Tank is not known", "probe its edges")
	if a := find(t, table.Rows, "Line 1", "Oak").Advice; !strings.Contains(a, "by station and offset along p") {
		t.Error(a)
	}
	for _, r := range table.Rows {
		if (r.Verdict == setback.TooClose) != (r.Advice != "") {
			t.Errorf("%s from %s: %s, %q", r.Part.Name, r.From.Name, r.Verdict, r.Advice)
		}
	}
}

// Without a lot the freest place, its margin and the ground have no end: none is told.
func TestWithoutALotNoFreestPlaceIsTold(t *testing.T) {
	y := example(0)
	y.job.Site.Features = y.job.Site.Features[1:]
	for _, w := range fit(t, y, county(), shop()).Words {
		if strings.Contains(w, "freest place") || strings.Contains(w, "may lie on") || strings.Contains(w, "more than asked") {
			t.Error(w)
		}
	}
}

func TestNoLotIsTold(t *testing.T) {
	y := example(0)
	if setback.Judge(&y.job, &y.plan, county()).Lotless {
		t.Error("there is a lot")
	}
	y.job.Site.Features = y.job.Site.Features[1:]
	if !setback.Judge(&y.job, &y.plan, county()).Lotless {
		t.Error("there is none")
	}
}

// A part that was found by its outline has a middle to stand at.
func TestStandAtAPartFoundByItsOutline(t *testing.T) {
	y := bare(0)
	y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: "Tank", Kind: site.SepticTank, Outline: &site.Outline{}})
	y.plan.Outlines = []adjust.Outline{{Part: "Tank", Fitted: true, Centre: at(50, 50), Sigma: adjust.Sigma{East: ft(0.1), North: ft(0.1)}, Length: ft(8), Width: ft(5)}}
	copy(y.plan.Outlines[0].Corners[:], box(46, 48, 54, 52))
	p := shop()
	p.At = &site.Stand{Point: "Tank"}
	q, problems := setback.Ask(&y.job, &y.plan, p)
	if len(problems) > 0 || q.Stated == nil || q.Stated.At != at(50, 50) {
		t.Fatalf("%v %+v", problems, q.Stated)
	}
	f, err := setback.Find(&y.job, &y.plan, county(), q)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range f.Stated {
		if l.Lot && !near(l.Within, ft(0.1)*1.959964) {
			t.Errorf("the place is known to %.3f ft", l.Within.Feet())
		}
	}
	y.plan.Outlines[0].Fitted = false
	if _, problems = setback.Ask(&y.job, &y.plan, p); len(problems) != 1 || strings.Contains(problems[0].Error(), "no reading speaks of it") {
		t.Error(problems)
	}
}

func TestABadOutlineIsTold(t *testing.T) {
	p := shop()
	p.Length, p.Width = nil, nil
	for _, v := range [][2]float64{{0, 0}, {10, 0}, {2, 2}, {0, 10}} {
		p.Outline = append(p.Outline, site.Stake{Along: ft(v[0]), Right: ft(v[1])})
	}
	y := bare(0)
	_, problems := setback.Ask(&y.job, &y.plan, p)
	if len(problems) != 1 || !strings.HasPrefix(problems[0].Expected, "an outline that bulges") || !strings.Contains(problems[0].Found, `[10' 0", 0"]`) {
		t.Errorf("%+v", problems)
	}
}
