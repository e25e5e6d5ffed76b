package setback

import (
	"cmp"
	"fmt"
	"slices"

	"undersod/core/clearance"
	"undersod/core/english"
	"undersod/core/phrase"
	"undersod/core/site"
)

// gatherProposed adds what the owner wants to build to the things that parts
// are kept from, where its place is stated, and judges each where it stands.
func (y *yard) gatherProposed() {
	type placed struct {
		q  Question
		at clearance.Placement
	}
	var all []placed
	for _, p := range y.job.Site.Proposed {
		if p.At == nil {
			continue
		}
		q, problems := y.ask(p)
		if len(problems) > 0 || q.Stated == nil || q.check() != nil {
			y.asks.Add("where " + string(p.Name) + " shall stand: it cannot be placed as it is written")
			continue
		}
		at := *q.Stated
		if q.Turning.Free && len(q.Footprint.Corners) > 1 {
			g := y.groundUnasked(q)
			if err := g.Check(); err != nil {
				y.asks.Add("where " + string(p.Name) + " shall stand: " + err.Error())
				continue
			}
			at = g.stated()
		}
		all = append(all, placed{q, at})
		shape := q.Footprint.Placed(at)
		shape.Closed = len(shape.Points) > 1
		b := &body{Thing: Thing{Name: p.Name, Kind: string(p.Kind), Class: p.Class}, from: wordOf(p.Kind), shape: shape, proposed: true}
		b.standAt(&q.stood.stand)
		b.prepare()
		y.things = append(y.things, b)
	}
	for _, p := range all {
		y.stands = append(y.stands, y.groundUnasked(p.q).standsAt(p.at))
	}
}

// groundUnasked is the ground of a question without asking for what is not known:
// that is told of the question itself.
func (y *yard) groundUnasked(q Question) *ground {
	asked := y.asks
	y.asks = phrase.Once{}
	g := y.ground(q)
	y.asks = asked
	return g
}

// standsAt judges something proposed at its stated place.
func (g *ground) standsAt(p clearance.Placement) Stands {
	s := Stands{Thing: Thing{Name: site.Name(g.q.Name), Kind: string(g.q.Kind), Class: g.q.Class}, Size: g.q.Size,
		Outline: g.q.Footprint.Placed(p).Points, Verdict: Clear}
	if g.Check() != nil {
		return s // told already
	}
	limits := g.limiting(p, clearance.Margins(g.Ground, g.q.Footprint, p), g.hold(p))
	slices.SortStableFunc(limits, func(a, b Limiting) int { return cmp.Compare(a.Margin, b.Margin) })
	s.Verdict = worst(limits, true)
	var broken, close []string
	for i := range limits {
		switch l := &limits[i]; l.Verdict {
		case Short:
			broken = append(broken, l.told(g.y.say))
		case TooClose:
			close = append(close, l.told(g.y.say))
		}
	}
	if len(broken) > 0 {
		s.Words = phrase.Tell(g.q.Name + ", where it is to stand, breaks " + english.Count(len(broken), "distance") + ": " + first(broken))
	}
	if len(close) > 0 {
		s.Words = phrase.Tell(s.Words, g.q.Name+", where it is to stand, is too close to call: "+first(close))
	}
	return s
}

// first joins the first few of a list.
func first(list []string) string {
	if n := len(list) - mostNamed; n > 0 {
		list = append(slices.Clone(list[:mostNamed]), fmt.Sprintf("%d more", n))
	}
	return english.And(list)
}

// others is what else is proposed at a stated place; what breaks a distance
// itself there is told, as it stands in the way all the same.
func (g *ground) others() []Stands {
	var out []Stands
	for _, s := range g.y.stands {
		if string(s.Thing.Name) == g.q.Name {
			continue
		}
		if s.Verdict == Short {
			g.caution.Add(s.Words + " It is kept clear all the same: take it out of the job to have it left out")
		}
		out = append(out, s)
	}
	return out
}
