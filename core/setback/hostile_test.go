package setback_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"undersod/core/absorb"
	"undersod/core/adjust"
	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

// odd numbers and names that a plan or a job could hold.
var (
	oddLengths = []float64{0, 1, -1, 3.5, 1e-300, 1e9, -1e12, 1e308, math.NaN(), math.Inf(1), math.Inf(-1)}
	oddNames   = []site.Name{"", "Lot", "Tank", "p1", "p2", "p3", "nowhere", "\x00\xff", "Line 1"}
)

type odd struct{ *rand.Rand }

func (o odd) length() unit.Length {
	if o.IntN(3) > 0 {
		return ft(o.Float64() * 100)
	}
	return unit.Length(oddLengths[o.IntN(len(oddLengths))])
}

func (o odd) vec() planar.Vec { return planar.Vec{East: o.length(), North: o.length()} }

func (o odd) name() site.Name { return oddNames[o.IntN(len(oddNames))] }

func (o odd) names() []site.Name {
	out := make([]site.Name, o.IntN(5))
	for i := range out {
		out[i] = o.name()
	}
	return out
}

func (o odd) written() *unit.Written {
	if o.IntN(3) == 0 {
		return nil
	}
	return &unit.Written{Length: o.length()}
}

// spoil changes a yard at random.
func (o odd) spoil(y *yard) {
	s := &y.job.Site
	for range 1 + o.IntN(8) {
		switch o.IntN(11) {
		case 0:
			p := &y.plan.Points[o.IntN(len(y.plan.Points))]
			p.At, p.State, p.Doubt = o.vec(), adjust.State(o.IntN(5)), o.length()
			p.Sigma = adjust.Sigma{East: o.length(), North: o.length(), Correlation: float64(o.length())}
		case 1:
			y.plan.Points = slices.Delete(y.plan.Points, 0, o.IntN(2))
		case 2:
			s.Features = append(s.Features, site.Feature{Name: o.name(), Kind: site.FeatureKinds()[o.IntN(len(site.FeatureKinds()))],
				Points: o.names(), Closed: o.IntN(2) == 0, Radius: o.length(), Trunk: o.length()})
		case 3:
			s.Lines = append(s.Lines, site.Line{Name: o.name(), Kind: site.LineKinds()[o.IntN(4)], Path: o.names(), TrenchWidth: o.length(), TrenchDepth: o.written()})
		case 4:
			s.Parts = append(s.Parts, site.Part{Name: o.name(), Kind: site.PartKinds()[o.IntN(8)], Width: o.length(), Length: o.length(), Outline: &site.Outline{}})
		case 5:
			y.plan.Outlines = append(y.plan.Outlines, adjust.Outline{Part: "Tank", Fitted: true, Centre: o.vec(), Corners: [4]planar.Vec{o.vec(), o.vec(), o.vec(), o.vec()}, LengthSD: o.length(), AzimuthSD: unit.Angle(o.length())})
			s.Parts[0].Outline = &site.Outline{}
		case 6:
			s.Buildings = append(s.Buildings, site.Building{Name: o.name(), Corners: o.names()})
		case 7:
			s.Setbacks = &site.Setbacks{Rows: []site.SetbackRow{{From: string(o.name()), Distances: map[string]unit.Written{"field": {Length: o.length()}, "structure": {Length: o.length()}}}, {From: "property line", Distances: map[string]unit.Written{"structure": {Length: o.length()}}}}}
		case 8:
			p := o.proposed()
			s.Proposed = append(s.Proposed, p)
		case 9:
			s.Record = &site.Record{TrenchWidth: o.written(), Spacing: o.written()}
		case 10:
			y.plan.Footages = append(y.plan.Footages, adjust.LineLength{Line: o.name(), Known: true, Length: o.length(), SD: o.length()})
		}
	}
}

func (o odd) proposed() site.Proposed {
	turn := unit.Angle(o.length())
	p := site.Proposed{Name: o.name(), Kind: []site.FeatureKind{site.Structure, site.Pool, site.Well, site.Driveway, site.Fence}[o.IntN(5)],
		Length: o.written(), Width: o.written(), FromLot: o.written(), Near: o.name(), Bedrooms: o.IntN(3) - 1}
	if o.IntN(2) == 0 {
		p.Turn = &turn
	}
	if o.IntN(3) == 0 {
		p.Along = &[2]site.Name{o.name(), o.name()}
	}
	if o.IntN(2) == 0 {
		p.At = &site.Stand{From: o.name(), To: o.name(), Station: unit.Written{Length: o.length()}, Right: unit.Written{Length: o.length()}}
	}
	if o.IntN(4) == 0 {
		p.Outline = []site.Stake{{Along: o.length()}, {Right: o.length()}, {Along: o.length(), Right: o.length()}}
	}
	return p
}

// TestNothingThatIsEnteredBreaksIt asks everything of spoiled jobs: no panic,
// and a margin that is told is a number.
func TestNothingThatIsEnteredBreaksIt(t *testing.T) {
	for seed := range uint64(400) {
		o := odd{rand.New(rand.NewPCG(seed, 5))}
		y := example(ft(0.1))
		o.spoil(y)
		askAll(t, seed, y, o.proposed(), o.length())
	}
}

func askAll(t *testing.T, seed uint64, y *yard, p site.Proposed, size unit.Length) {
	t.Helper()
	pack := county()
	pack.Limits = limited(rules.OnSpacing, 6, 0).Limits
	for _, on := range rules.LimitsOn() {
		pack.Limits = append(pack.Limits, rules.Limit{On: on, Least: 1, Most: 2})
	}
	pack.Checklist = &rules.Checklist{}
	for _, w := range rules.AllWanted() {
		pack.Checklist.Items = append(pack.Checklist.Items, rules.Item{What: w})
	}
	table := setback.Judge(&y.job, &y.plan, pack)
	for _, r := range table.Rows {
		if r.Known && (bad(r.Margin) || bad(r.Measured) || bad(r.Within)) || r.Words == "" || r.Verdict == "" {
			t.Errorf("seed %d: %+v", seed, r)
		}
	}
	setback.Checks(&y.job, &y.plan, pack)
	then := absorb.Capacity{}
	then.Required.Known, then.Required.Area = true, unit.Area(size)
	setback.Bedrooms(&y.job, &y.plan, pack, absorb.Capacity{}, &then, 1)
	q, problems := setback.Ask(&y.job, &y.plan, p)
	q.Turning.Step = 30 * unit.Degree
	f, err := setback.Find(&y.job, &y.plan, pack, q)
	if err == nil && (f == nil || len(f.Words) == 0) {
		t.Errorf("seed %d: %v and no words", seed, problems)
	}
	setback.Join(f, &setback.Capacity{}, unit.Style{})
}

func bad(l unit.Length) bool { return math.IsNaN(float64(l)) || math.IsInf(float64(l), 0) }

func TestNothingAtAll(t *testing.T) {
	if table := setback.Judge(nil, nil, nil); table == nil || len(table.Rows) != 0 || len(table.Missing) == 0 {
		t.Errorf("%+v", table)
	}
	if _, problems := setback.Ask(nil, nil, site.Proposed{}); len(problems) == 0 {
		t.Error("nothing can be asked")
	}
	if _, err := setback.Find(nil, nil, nil, setback.Question{}); err == nil {
		t.Error("nothing can be found")
	}
	f, err := setback.Find(nil, nil, nil, setback.Question{Name: "Pool", Kind: site.Pool, Footprint: clearance.Point()})
	if err != nil || len(f.Words) == 0 {
		t.Errorf("%v, %+v", err, f)
	}
}

// The same is said of the same site every time.
func TestTheSameIsSaidAgain(t *testing.T) {
	y, pack := large(20)
	first := setback.Judge(&y.job, &y.plan, pack)
	for range 5 {
		again := setback.Judge(&y.job, &y.plan, pack)
		if len(again.Rows) != len(first.Rows) || !slices.Equal(again.NoRule, first.NoRule) || !slices.Equal(again.Missing, first.Missing) {
			t.Fatal("another answer")
		}
		for i := range again.Rows {
			if again.Rows[i] != first.Rows[i] {
				t.Fatalf("row %d: %+v, then %+v", i, first.Rows[i], again.Rows[i])
			}
		}
	}
}
