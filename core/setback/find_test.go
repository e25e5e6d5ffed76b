package setback_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

// bare is a lot of 100 ft by 100 ft with one trench along its south side.
func bare(sd unit.Length) *yard {
	y := &yard{sd: sd}
	y.feature("Lot", site.PropertyLine, true, box(0, 0, 100, 100)...)
	y.point("A", at(12, 50))
	y.point("B", at(12, 90))
	y.point("Corner", at(0, 100))
	return y
}

func text(s string) *unit.Written {
	w, err := unit.ParseLength(s, unit.DecimalFeet)
	if err != nil {
		panic(err)
	}
	return &w
}

func shop() site.Proposed {
	north := unit.Angle(0)
	return site.Proposed{Name: "Workshop", Kind: site.Structure, Length: text("24'"), Width: text("16'"), Turn: &north}
}

func fit(t *testing.T, y *yard, pack *rules.Pack, p site.Proposed) *setback.Fit {
	t.Helper()
	q, problems := setback.Ask(&y.job, &y.plan, p)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	f, err := setback.Find(&y.job, &y.plan, pack, q)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func about(a unit.Length, feet float64) bool { return math.Abs(a.Feet()-feet) < 0.01 }

// Length to the north: 100 − 24 leaves 38 ft each side of it, of which the zone
// takes 7; 100 − 16 leaves 42 across. The freest place keeps 31 ft more.
func TestTheFreestPlaceByHand(t *testing.T) {
	f := fit(t, bare(0), county(), shop())
	if !f.Best.Fits || len(f.Limits) != 1 || !about(f.Limits[0].Margin, 31) || f.Verdict != setback.Clear {
		t.Fatalf("%+v", f.Limits)
	}
	// The middle may lie on (100 − 14 − 24)(100 − 14 − 16) square feet.
	if got := float64(f.Region.Area / unit.SquareFoot); math.Abs(got-62*70) > 1 {
		t.Errorf("region of %v sq ft", got)
	}
	if len(f.ByTurn) != 1 {
		t.Errorf("%d turns", len(f.ByTurn))
	}
	all := strings.Join(f.Words, "\n")
	for _, want := range []string{`Workshop, 24' x 16': it fits. The freest place, its length toward north, keeps 31' 0" more than asked from everything; Lot limits it.`,
		"An invented code", "The local authority decides."} {
		if !strings.Contains(all, want) {
			t.Errorf("no %q in\n%s", want, all)
		}
	}
}

// The nearest allowed middle to a corner of the lot: 8 + 7 ft from one side and
// 12 + 7 ft from the other.
func TestTheNearestPlaceByHand(t *testing.T) {
	p := shop()
	p.Near = "Corner"
	f := fit(t, bare(0), county(), p)
	if d := f.Best.At.Minus(at(15, 81)).Length(); d > ft(0.01) || !f.Best.Fits {
		t.Errorf("%.3f, %.3f ft", f.Best.At.East.Feet(), f.Best.At.North.Feet())
	}
	if all := strings.Join(f.Words, "\n"); !strings.Contains(all, "nearest to Corner") {
		t.Error(all)
	}
	// Right at the limit any uncertainty leaves it open.
	if f := fit(t, bare(ft(0.1)), county(), p); f.Verdict != setback.TooClose || !strings.Contains(strings.Join(f.Words, "\n"), "farther off to be sure") {
		t.Errorf("%s: %q", f.Verdict, f.Words)
	}
}

// 12 ft from the west side with half a width of 8 leaves 4 of the 7 ft: short by
// 3, cured by a move of 3 ft to the east.
func TestAStatedPlaceAndItsCure(t *testing.T) {
	p := shop()
	p.At = &site.Stand{Point: "A"}
	f := fit(t, bare(0), county(), p)
	if len(f.Stated) != 1 || !about(f.Stated[0].Margin, -3) || f.Stated[0].Verdict != setback.Short || f.Verdict != setback.Short {
		t.Fatalf("%+v", f.Stated)
	}
	if f.Cure == nil || !about(f.Cure.At.Minus(at(15, 50)).Length(), 0) {
		t.Fatalf("cure %+v", f.Cure)
	}
	all := strings.Join(f.Words, "\n")
	for _, want := range []string{"it breaks 1 distance: Lot by 3' 0\"", "Move it 3' 0\" toward east"} {
		if !strings.Contains(all, want) {
			t.Errorf("no %q in\n%s", want, all)
		}
	}
	// Too close to call: 15.1 ft is 0.1 ft more than asked, within ± 0.4 ft.
	y := bare(ft(0.1))
	y.point("Stake", at(15.1, 50))
	p.At = &site.Stand{Point: "Stake"}
	if f := fit(t, y, county(), p); f.Verdict != setback.TooClose || !strings.Contains(strings.Join(f.Words, "\n"), "too close to call") {
		t.Errorf("%s: %q", f.Verdict, f.Words)
	}
}

// A place given by station and distance right of a line hangs on both its ends:
// halfway along it, 6 ft to the right, looking north.
func TestAStandBesideALine(t *testing.T) {
	p := shop()
	p.At = &site.Stand{From: "A", To: "B", Station: *text("20'"), Right: *text("6'")}
	p.Turn, p.Along = nil, &[2]site.Name{"A", "B"}
	y := bare(ft(0.1))
	q, problems := setback.Ask(&y.job, &y.plan, p)
	if len(problems) > 0 || q.Stated.At.Minus(at(18, 70)).Length() > 1e-9 || q.Turning.Free || q.TurnWords != "along A-B" {
		t.Fatalf("%+v %v", q, problems)
	}
	f, err := setback.Find(&y.job, &y.plan, county(), q)
	if err != nil {
		t.Fatal(err)
	}
	// East and west: half of A's and half of B's 0.1 ft, added, and the lot's side
	// with 0.1 ft in all, as two ends share it; 6 ft to the right do not enter.
	if want := ft(0.2 * 1.959964); math.Abs(float64(f.Stated[0].Within-want)) > float64(ft(0.001)) {
		t.Errorf("within %.4f ft, want %.4f", f.Stated[0].Within.Feet(), want.Feet())
	}
}

func TestNothingFits(t *testing.T) {
	p := shop()
	p.Length, p.Width = text("90'"), text("80'")
	f := fit(t, bare(0), county(), p)
	if f.Best.Fits || f.Verdict != setback.Short || !about(f.Limits[0].Margin, -2) || f.Region.Area != 0 {
		t.Fatalf("%+v", f.Limits)
	}
	if all := strings.Join(f.Words, "\n"); !strings.Contains(all, `fits nowhere: the least it breaks is 2' 0"; Lot limits it.`) {
		t.Error(all)
	}
}

// Every part of the system is kept by its own column, other things by "structure"
// or just not built over.
func TestWhatAFootprintKeepsFrom(t *testing.T) {
	y := example(0)
	f := fit(t, y, county(), shop())
	got := map[string]float64{}
	for _, o := range f.Ground.Obstacles {
		got[o.Name] = o.Setback.Feet()
	}
	for name, want := range map[string]float64{"Tank": 5, "D-box": 10, "Line 1": 20, "House": 0, "Well": 0, "Oak": 0} {
		if d, ok := got[name]; !ok || math.Abs(d-want) > 1e-9 {
			t.Errorf("%s keeps %v ft (%v), want %v", name, d, ok, want)
		}
	}
	if f.Ground.Setback != ft(7) || len(f.Ground.Lot) != 4 || len(f.Ground.Obstacles) != 6 {
		t.Errorf("%v ft from the lot, %d obstacles", f.Ground.Setback.Feet(), len(f.Ground.Obstacles))
	}
	p := shop()
	p.Kind, p.Name, p.Length, p.Width, p.Turn = site.Well, "New well", nil, nil, nil
	y.feature("Next field", site.OtherField, true, box(210, 20, 230, 60)...)
	f = fit(t, y, county(), p)
	fields := 0
	for _, l := range f.Limits {
		if l.Thing.Name == "Line 1" || l.Thing.Name == "Next field" {
			fields++
			if l.Required != ft(100) {
				t.Errorf("a well keeps %v ft from %s", l.Required.Feet(), l.Thing.Name)
			}
		}
	}
	if fields != 2 {
		t.Errorf("a well keeps from %d fields, not from its own and the neighbour's", fields)
	}
	own := shop()
	own.FromLot = text("12'")
	if f := fit(t, y, county(), own); !near(f.Ground.Setback, ft(12)) {
		t.Errorf("%v ft from the lot", f.Ground.Setback.Feet())
	}
}

func TestWithoutALot(t *testing.T) {
	y := bare(0)
	y.job.Site.Features = nil
	y.part("D-box", site.DistributionBox, at(50, 50))
	f := fit(t, y, county(), shop())
	if len(f.Ground.Lot) != 0 || !strings.Contains(strings.Join(f.Missing, "\n"), "property line") || !strings.Contains(strings.Join(f.Caution, "\n"), "near the system") {
		t.Errorf("%q %q", f.Missing, f.Caution)
	}
	y.feature("East line", site.PropertyLine, false, at(100, 0), at(100, 100))
	f = fit(t, y, county(), shop())
	if !strings.Contains(strings.Join(f.Missing, "\n"), "East line is an open line, which is no lot") || f.Ground.Obstacles[len(f.Ground.Obstacles)-1].Setback != ft(7) {
		t.Errorf("%q %+v", f.Missing, f.Ground.Obstacles)
	}
}

func TestFreeTurns(t *testing.T) {
	p := shop()
	p.Turn = nil
	y := example(ft(0.05))
	y.point("Here", at(160, 100))
	f := fit(t, y, county(), p)
	if len(f.ByTurn) < 30 || !f.Best.Fits {
		t.Errorf("%d turns", len(f.ByTurn))
	}
	p.At = &site.Stand{Point: "Here"}
	f = fit(t, y, county(), p)
	if len(f.Stated) == 0 || f.Question.Stated == nil || f.Verdict != setback.Clear {
		t.Errorf("%q", f.Words)
	}
	y.job.Site.Proposed = []site.Proposed{p}
	table := setback.Judge(&y.job, &y.plan, county())
	if r := find(t, table.Rows, "Line 1", "Workshop"); !r.Proposed || r.Required != ft(20) || !r.Known {
		t.Errorf("%+v", r)
	}
}

func TestWhatCannotBeAsked(t *testing.T) {
	y := bare(0)
	for name, spoil := range map[string]func(*site.Proposed){
		"kind":    func(p *site.Proposed) { p.Kind = site.Tree },
		"size":    func(p *site.Proposed) { p.Length = nil },
		"zero":    func(p *site.Proposed) { p.Width = &unit.Written{Text: "0 ft"} },
		"near":    func(p *site.Proposed) { p.Near = "Nowhere" },
		"at":      func(p *site.Proposed) { p.At = &site.Stand{Point: "Nowhere"} },
		"along":   func(p *site.Proposed) { p.Along = &[2]site.Name{"A", "A"} },
		"from":    func(p *site.Proposed) { p.FromLot = &unit.Written{Text: "-1 ft", Length: -1} },
		"outline": func(p *site.Proposed) { p.Outline = []site.Stake{{}, {Along: 1}} },
	} {
		p := shop()
		spoil(&p)
		_, problems := setback.Ask(&y.job, &y.plan, p)
		if len(problems) == 0 || problems[0].Expected == "" {
			t.Errorf("%s: %v", name, problems)
		}
	}
	q, _ := setback.Ask(&y.job, &y.plan, shop())
	for name, spoil := range map[string]func(*setback.Question){
		"kind":      func(q *setback.Question) { q.Kind = site.Fence },
		"footprint": func(q *setback.Question) { q.Footprint = clearance.Footprint{} },
		"wish":      func(q *setback.Question) { q.Near = &planar.Vec{East: unit.Length(math.NaN())} },
	} {
		spoiled := q
		spoil(&spoiled)
		if _, err := setback.Find(&y.job, &y.plan, county(), spoiled); err == nil || !strings.Contains(err.Error(), "Workshop") {
			t.Errorf("%s: %v", name, err)
		}
	}
	crossed := &yard{}
	crossed.feature("Lot", site.PropertyLine, true, at(0, 0), at(100, 100), at(100, 0), at(0, 100))
	if _, err := setback.Find(&crossed.job, &crossed.plan, county(), q); err == nil {
		t.Error("a lot that crosses itself was taken")
	}
}

// An outline by stakes stands about the middle of its area.
func TestOutlineAboutItsMiddle(t *testing.T) {
	y := bare(0)
	p := shop()
	p.Outline = []site.Stake{{Along: 0, Right: 0}, {Along: ft(24), Right: 0}, {Along: ft(24), Right: ft(16)}, {Along: 0, Right: ft(16)}}
	q, problems := setback.Ask(&y.job, &y.plan, p)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for _, c := range q.Footprint.Corners {
		if !near(c.East.Abs(), ft(8)) || !near(c.North.Abs(), ft(12)) {
			t.Errorf("corner at %v, %v ft", c.East.Feet(), c.North.Feet())
		}
	}
}

// The region holds no middle that breaks a distance, and leaves out none that keeps
// all of them by more than the tolerance of its arcs.
func TestTheRegionIsWhereEverythingIsKept(t *testing.T) {
	p := shop()
	turn := 25 * unit.Degree
	p.Turn = &turn
	f := fit(t, example(0), county(), p)
	r := rand.New(rand.NewPCG(1, 2))
	in := 0
	for range 2000 {
		v := at(r.Float64()*200, r.Float64()*150)
		least := unit.Length(math.Inf(1))
		for _, m := range clearance.Margins(f.Ground, f.Question.Footprint, clearance.Placement{At: v, Turn: turn}) {
			least = min(least, m.Margin)
		}
		switch inside := f.Region.Contains(v); {
		case inside && least < -1e-9:
			t.Fatalf("%v, %v ft breaks a distance by %v ft", v.East.Feet(), v.North.Feet(), -least.Feet())
		case !inside && least > 2*setback.RegionTolerance:
			t.Fatalf("%v, %v ft keeps %v ft and is left out", v.East.Feet(), v.North.Feet(), least.Feet())
		case inside:
			in++
		}
	}
	if in < 100 {
		t.Errorf("%d of 2000 places are allowed", in)
	}
}

// BenchmarkFind is a workshop of any turn on a lot with 30 things.
func BenchmarkFind(b *testing.B) {
	y, pack := large(30)
	y.feature("Lot", site.PropertyLine, true, box(-120, -100, 320, 200)...)
	p := shop()
	p.Turn = nil
	q, problems := setback.Ask(&y.job, &y.plan, p)
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := setback.Find(&y.job, &y.plan, pack, q); err != nil {
			b.Fatal(err)
		}
	}
}
