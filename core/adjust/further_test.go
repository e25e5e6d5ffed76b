package adjust_test

import (
	"slices"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// worstRadius is the largest 95 % radius among the parts of a plan.
func worstRadius(p *adjust.Plan) unit.Length {
	var most unit.Length
	for _, q := range p.Points {
		if q.Role == site.RolePart || q.Role == site.RoleBend {
			most = max(most, q.Ellipse.Radius)
		}
	}
	return most
}

// withTie solves the job with one more tie of the true distance.
func (y *yard) withTie(from, to site.Name) *adjust.Plan {
	job := y.job
	job.Visit.Readings = append(slices.Clone(job.Visit.Readings), site.Tie{
		Taken: named("further"), From: from, To: to, Read: asRead(y.apart(from, to))})
	return adjust.Solve(&job, adjust.Settings{SkipSearch: true, SkipNext: true})
}

// throughHouse tells, by sampling, whether a straight line between two true
// places runs through the demo's house.
func (y *yard) throughHouse(from, to site.Name) bool {
	a, b := y.truth[from], y.truth[to]
	for k := 1; k < 2000; k++ {
		v := a.Plus(b.Minus(a).Times(float64(k) / 2000))
		e, n := v.East.Feet(), v.North.Feet()
		const s = 0.02
		if e > s && e < 44-s && n > s && n < 28-s || e > 30+s && e < 44-s && n > -12+s && n <= s+0.1 {
			return true
		}
	}
	return false
}

// TestTheNextReadingIsTheBest adds every tie that could be taken, solves again,
// and compares with what was promised.
func TestTheNextReadingIsTheBest(t *testing.T) {
	proposed := 0
	for seed := range uint64(6) {
		y := weakDemo(seed)
		p := adjust.Solve(&y.job, adjust.Settings{})
		best := worstRadius(p) * 0.98 // a smaller gain is not worth a reading
		if len(p.Next) > 0 {
			best = p.Next[0].After
			proposed++
		}
		for _, c := range p.Next {
			wantNear(t, "before", float64(c.Before), float64(worstRadius(p)), 1e-9)
			after := worstRadius(y.withTie(c.From, c.To))
			wantNear(t, "after "+string(c.From+" > "+c.To), float64(c.After), float64(after), 0.01*float64(after))
			wantNear(t, "expected reading", float64(c.Expect), float64(y.apart(c.From, c.To)), 0.1)
			if y.throughHouse(c.From, c.To) {
				t.Errorf("yard %d: a tie through the house is proposed: %s", seed, c.Words)
			}
		}
		for _, from := range y.job.Site.Points {
			for _, to := range y.job.Site.Points {
				if !from.IsMark() || to.IsMark() || y.tied(from.Name, to.Name) || y.throughHouse(from.Name, to.Name) ||
					y.apart(from.Name, to.Name) > ft(200) {
					continue
				}
				if after := worstRadius(y.withTie(from.Name, to.Name)); after < best*0.99 {
					t.Errorf("yard %d: a tie %s > %s gives %.4f, the proposed one %.4f", seed, from.Name, to.Name, after, best)
				}
			}
		}
	}
	if proposed < 3 {
		t.Errorf("only %d yards have a proposal", proposed)
	}
}

// weakDemo is the demo with some parts moved and a few ties missing.
func weakDemo(seed uint64) *yard {
	y := demo(seed, 1)
	drop := map[uint64]site.ReadingID{0: "tie A > end 1", 1: "tie C > end 3", 2: "tie A > end 2",
		3: "tie Pole > bend 3", 4: "tie D > inlet lid", 5: "tie Pole > D-box"}[seed]
	y.job.Visit.Readings = slices.DeleteFunc(y.job.Visit.Readings, func(r site.Reading) bool { return r.Common().ID == drop })
	return y
}

func (y *yard) tied(a, b site.Name) bool {
	for _, r := range y.job.Visit.Readings {
		if t, ok := r.(site.Tie); ok && (t.From == a && t.To == b || t.From == b && t.To == a) {
			return true
		}
	}
	return false
}

// A part behind the house is never tied through it.
func TestNoTieThroughABuilding(t *testing.T) {
	y := newYard(1)
	y.house(0)
	for i, v := range []planar.Vec{at(22, 40), at(10, 60), at(-15, 14)} {
		name := site.Name([]string{"north", "far north", "west"}[i])
		y.put(name, site.RolePart, v)
		for _, m := range []site.Name{"A", "B"} {
			y.perfect(m, name)
		}
		y.job.Site.Points[len(y.job.Site.Points)-1].Sides = []site.Side{{Kind: site.Outside, From: "A", To: "B"}}
	}
	y.job.Site.Points[len(y.job.Site.Points)-1].Sides = []site.Side{{Kind: site.Outside, From: "F", To: "A"}}
	y.job.Visit.Readings = slices.DeleteFunc(y.job.Visit.Readings, func(r site.Reading) bool { return r.Common().ID == "tie B > west" })
	y.perfect("F", "west")
	p := y.solve()
	for _, c := range p.Next {
		if y.throughHouse(c.From, c.To) {
			t.Errorf("proposed through the house: %s", c.Words)
		}
	}
	if q := find(t, p, "west"); q.State != adjust.Determined {
		t.Errorf("west: %v", q.Why)
	}
}

// With the free datum, what is promised is counted in the same datum as what is
// shown.
func TestTheNextReadingInTheFreeDatum(t *testing.T) {
	for _, seed := range []uint64{0, 1, 2} {
		y := weakDemo(seed)
		y.job.Datum = site.Datum{Kind: site.DatumFree}
		p := y.solve()
		for _, c := range p.Next {
			wantNear(t, "before", float64(c.Before), float64(worstRadius(p)), 1e-9)
			after := worstRadius(y.withTie(c.From, c.To))
			wantNear(t, "after", float64(c.After), float64(after), 0.01*float64(after))
		}
	}
}

// The place of an outline is as sure as its hits in the datum that is shown: a
// tank of many hits is never less sure than the worst of them.
func TestAnOutlineIsCountedInTheFreeDatum(t *testing.T) {
	y := demo(1, 0)
	y.job.Datum = site.Datum{Kind: site.DatumFree}
	probed(y, probes, true, true, 0, 0)
	free := y.solve()
	y.job.Datum = site.Datum{Kind: site.DatumBaseline, Mark: "Pole", Toward: "C"}
	held := y.solve()
	hit := func(p *adjust.Plan) float64 {
		s := find(t, p, "hit 1").Sigma
		return float64(s.East*s.East + s.North*s.North)
	}
	centre := func(p *adjust.Plan) float64 {
		s := p.Outlines[0].Sigma
		return float64(s.East*s.East + s.North*s.North)
	}
	if hit(free) >= hit(held) {
		t.Fatalf("the free datum is no better: %v and %v", hit(free), hit(held))
	}
	// The hits move together with the datum, and the outline with them.
	gain := hit(held) - hit(free)
	if got := centre(held) - centre(free); got < 0.5*gain || got > 2*gain {
		t.Errorf("the centre gains %v where its hits gain %v", got, gain)
	}
}
