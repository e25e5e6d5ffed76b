package setback

import (
	"undersod/core/adjust"
	"undersod/core/bounds"
	"undersod/core/clearance"
	"undersod/core/english"
	"undersod/core/phrase"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// keeps is one thing that a footprint keeps away from.
type keeps struct {
	*body
	rule rule // Distance 0 without a rule: it must not be built over
}

// standing ground of a question: the obstacles in the order of the ground's,
// and the lot.
type ground struct {
	y    *yard
	q    Question
	from []keeps
	lot  keeps
	clearance.Ground
	outside []string
	leftOut phrase.Once
	crossed string // what is wrong with the outline of something
	bare    string // what no rule keeps it from
	caution phrase.Once
}

// ground gathers what a footprint must keep away from. What is not located is
// told and left out.
func (y *yard) ground(q Question) *ground {
	g := &ground{y: y, q: q}
	word := wordOf(q.Kind)
	set := y.rulesBy(y.pack.ForNew(), word, q.Class)
	var none noRules
	for _, b := range y.parts {
		r := set[place(b.column)]
		if !r.Known {
			none.add(y, word, q.Class, b.column, r.Asked)
		}
		g.keep(b, r)
	}
	for _, b := range y.covers() {
		g.keep(b, rule{})
	}
	for _, b := range y.things {
		if b.proposed && string(b.Name) == q.Name || !g.standsIn(b) {
			continue
		}
		r := y.ruleOf(b, set)
		if b.Kind == string(site.PropertyLine) {
			r = g.fromLot(r)
			if b == y.lot {
				g.lot = keeps{b, r}
				g.caution.Add(r.took)
				g.Lot, g.Setback = b.lot, r.Distance
				continue
			}
		}
		g.keep(b, r)
	}
	for _, s := range none.sentences() {
		g.caution.Add(s + ": it is only kept from being built over")
	}
	g.tellBare(word)
	g.tellLot()
	g.tellNorth()
	return g
}

// ruleOf is the distance of something proposed from a thing: by the thing's row,
// else by its own, set. A neighbour's field soils a well as one's own does, and a
// house lies as far from a pool as the pool from the house.
func (y *yard) ruleOf(b *body, set *ruleSet) rule {
	r := y.rules(b.from, b.Class)[place(rules.ToStructure)]
	switch {
	case r.Known:
	case b.Kind == string(site.OtherField):
		return set[place(rules.ToField)]
	case b.from == wordBuilding:
		return set[place(rules.ToStructure)]
	}
	return r
}

// tellBare says what no rule keeps it from: in one sentence what an authority may
// well speak of, in another what it hardly does.
func (g *ground) tellBare(word string) {
	var grave, slight phrase.Once
	for _, k := range g.from {
		switch site.FeatureKind(k.Kind) {
		case site.PropertyLine:
		case site.Tree, site.Driveway, site.Easement, site.WaterLine, site.UtilityLine, site.StormPipe:
			if !k.rule.Known {
				slight.Add(k.from)
			}
		default:
			if !k.rule.Known && k.column == "" {
				grave.Add(k.from)
			}
		}
	}
	if len(grave.Words) > 0 {
		g.bare = "no rule in this pack for " + phrase.Article(word) + " from " + phrase.Kinds(grave.Words) + ": it is only kept from being built over; ask the authority"
	}
	if len(slight.Words) > 0 {
		g.caution.Add(phrase.Kinds(slight.Words) + ": only kept from being built over")
	}
}

// keep adds an obstacle.
func (g *ground) keep(b *body, r rule) {
	if b.lost != "" {
		g.y.asks.Add(string(b.Name) + " is left out: " + b.lost)
		if b.crossed {
			g.crossed = b.lost
		}
		if b.Kind != string(site.Tree) {
			g.leftOut.Add(string(b.Name))
		}
		return
	}
	if !r.Known {
		r.Distance = 0
	}
	if r.took != "" {
		g.caution.Add(r.took)
	}
	g.from = append(g.from, keeps{b, r})
	g.Obstacles = append(g.Obstacles, clearance.Obstacle{Name: string(b.Name), Shape: b.shape, Setback: r.Distance})
	if g.y.lot != nil && b != g.y.lot && b.column == "" && b.from != string(site.PropertyLine) && outsideOf(b, g.y.lot.lot) {
		g.outside = append(g.outside, string(b.Name))
	}
}

func outsideOf(b *body, lot planar.Ring) bool {
	for _, v := range b.shape.Points {
		if lot.Contains(v) {
			return false
		}
	}
	return len(b.shape.Points) > 0
}

// standsIn tells whether a thing stands in the way. A drive may join a drive.
func (g *ground) standsIn(b *body) bool {
	switch site.FeatureKind(b.Kind) {
	case site.Fence, site.Downspout, site.SoilTest:
		return false
	case site.Driveway:
		return g.q.Kind != site.Driveway
	}
	return true
}

// covers is the openings of the system, which must not be built over.
func (y *yard) covers() []*body {
	var out []*body
	for i := range y.job.Site.Parts {
		p := &y.job.Site.Parts[i]
		switch p.Kind {
		case site.Lid, site.Cleanout, site.InspectionPort:
			b := &body{Thing: Thing{Name: p.Name, Kind: string(p.Kind)}}
			y.run(b, []site.Name{p.Name}, false)
			out = append(out, b)
		}
	}
	return out
}

// fromLot is the distance from the property line: the question's own, else the
// rules'.
func (g *ground) fromLot(r rule) rule {
	if g.q.FromLot == nil || !usable(*g.q.FromLot) {
		return r
	}
	out := rule{permit: false, words: g.y.say.Format(*g.q.FromLot)}
	out.Known, out.Distance = true, *g.q.FromLot
	out.Source = rules.Source{Title: "the distance from the property line that was entered", Status: rules.TheUser}
	return out
}

// tellLot says what the lot leaves open.
func (g *ground) tellLot() {
	switch {
	case g.y.lot == nil:
		g.y.askForLot()
		g.caution.Add("without the property line the place is looked for near the system and what stands there only")
	case !g.lot.rule.Known:
		g.caution.Add("no distance from the property line is known for " + phrase.Article(wordOf(g.q.Kind)) + ", so it may reach up to the line: zoning decides; write from property line: 10'")
	}
	if len(g.outside) > 0 {
		g.caution.Add("outside the lot: " + english.And(g.outside))
	}
}

// tellNorth says what directions are counted from where it is not north.
func (g *ground) tellNorth() {
	switch g.y.plan.Frame.North {
	case adjust.NorthUnknown:
		g.caution.Add("nothing measured north: directions are counted from up on the sheet")
	case adjust.NorthMagnetic:
		g.caution.Add("directions are counted from magnetic north, as no declination is entered")
	}
}

// limiting turns margins into what a person is told, in the same order.
func (g *ground) limiting(p clearance.Placement, margins []clearance.Margin, s *stand) []Limiting {
	foot := &body{Thing: Thing{Name: site.Name(g.q.Name), Kind: string(g.q.Kind), Class: g.q.Class}, shape: g.q.Footprint.Placed(p)}
	foot.standAt(s)
	out := make([]Limiting, 0, len(margins))
	for _, m := range margins {
		k := g.lot
		if m.Obstacle >= 0 && m.Obstacle < len(g.from) {
			k = g.from[m.Obstacle]
		}
		if k.body == nil {
			continue
		}
		if m.Margin.Abs() < hair {
			m.Margin = 0
		}
		known := g.y.measured(foot, k.body, m.Gap)
		within := known.within()
		l := Limiting{Thing: k.Thing, Required: k.rule.Distance, Margin: m.Margin, Measured: m.Margin + k.rule.Distance,
			Within: within, Verdict: bounds.Weigh(m.Margin, within), Gap: m.Gap,
			Source: k.rule.Source, Permit: k.rule.permit, Assumed: k.rule.took, Lot: m.Obstacle < 0, Ruled: k.rule.Known, Proposed: k.proposed, obstacle: m.Obstacle}
		if l.Verdict == TooClose {
			l.Advice = g.y.advice(foot, k.body, m.Gap, known)
		}
		l.Words = g.limitWords(&l, k.rule)
		out = append(out, l)
	}
	return out
}

// limitWords tells one distance of a footprint.
func (g *ground) limitWords(l *Limiting, r rule) string {
	say := g.y.say
	s := string(l.Thing.Name)
	switch {
	case l.Proposed:
		s = l.name()
	case l.Thing.Kind != "" && l.Thing.Kind != s:
		s += " (" + l.Thing.Kind + ")"
	}
	switch {
	case l.Measured < 0 && l.Lot:
		s += ": " + size(say, -l.Measured) + " outside"
	case l.Measured < 0:
		s += ": built over by " + size(say, -l.Measured)
	case l.Measured == 0:
		s += ": touched"
	default:
		s += ": " + say.Format(l.Measured) + " away"
	}
	switch {
	case r.Known:
		s += ", " + say.Format(l.Required) + " required"
	case l.Lot:
		s += ", no rule in this pack"
	default:
		s += ", no rule in this pack"
	}
	return phrase.Tell(s + ": " + g.y.margin(l.Verdict, l.Margin, l.Within))
}

// turns is the turns that a question allows.
func (q Question) turns() clearance.Turns {
	if !q.Turning.Free || len(q.Footprint.Corners) == 1 {
		return clearance.Turns{From: q.Turning.Fixed.Turn(), To: q.Turning.Fixed.Turn()}
	}
	step := q.Turning.Step
	if !(step > 0 && step <= 180*unit.Degree) {
		step = unit.Degree
	}
	to := 360 * unit.Degree
	if q.alike() {
		to = 180 * unit.Degree
	}
	return clearance.Turns{To: to, Step: step}
}

// alike tells whether half a turn brings the footprint onto itself.
func (q Question) alike() bool {
	c := q.Footprint.Corners
	for i, v := range c {
		if len(c)%2 != 0 || v.Plus(c[(i+len(c)/2)%len(c)]).Length() > unit.Millimetre {
			return false
		}
	}
	return true
}
