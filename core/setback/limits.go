package setback

import (
	"slices"

	"undersod/core/adjust"
	"undersod/core/phrase"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// limits holds what was measured and entered against the limits of the pack.
func (y *yard) limits() []LimitRow {
	var out []LimitRow
	for _, on := range rules.LimitsOn() {
		l, ok := y.pack.Limit(on)
		if on == rules.OnAccuracy && y.job.Visit.Accuracy != nil && sane(y.job.Visit.Accuracy.Limit) > 0 {
			a := y.job.Visit.Accuracy
			l, ok = rules.Limit{On: on, Most: a.Limit, Source: rules.Source{Title: a.Source, Status: rules.TheUser}}, true
		}
		if ok {
			out = append(out, y.limitsOn(l)...)
		}
	}
	return out
}

func (y *yard) limitsOn(l rules.Limit) []LimitRow {
	switch l.On {
	case rules.OnTrenchWidth, rules.OnTrenchLength, rules.OnTrenchDepth, rules.OnStoneBelow, rules.OnStoneAbove:
		return y.trenchLimits(l)
	case rules.OnSpacing, rules.OnCentres:
		return y.spacingLimits(l)
	case rules.OnTankToTrench:
		return y.tankLimits(l)
	case rules.OnBoxLid:
		return y.lidLimits(l)
	case rules.OnAccuracy:
		return y.accuracyLimits(l)
	}
	return nil
}

// limitRow weighs one measured thing; lost says why it is not known.
func (y *yard) limitRow(l rules.Limit, what string, measured, within unit.Length, lost string) LimitRow {
	r := LimitRow{What: what, On: l.On, Least: l.Least, Most: l.Most, Source: l.Source}
	bounds := y.bounds(l)
	if lost != "" {
		r.Words = phrase.Tell(what + ": " + bounds + "; it cannot be told, as " + lost)
		return r
	}
	r.Known, r.Measured, r.Within = true, measured, within
	margin := measured - l.Least
	if l.Most > 0 && (l.Least == 0 || l.Most-measured < margin) {
		margin = l.Most - measured
	}
	const rounding = 1e-9 * unit.Metre // two writings of one number
	if margin.Abs() < rounding {
		margin = 0
	}
	r.Verdict = verdict(margin, within)
	said := map[Verdict]string{Clear: "within it", Short: "not within it", TooClose: "too close to call"}[r.Verdict]
	size := y.say.Format(measured)
	if within > 0 {
		size += " ± " + y.say.Format(within)
	}
	r.Words = phrase.Tell(what + ": " + size + "; " + bounds + ": " + said)
	return r
}

// bounds words a limit.
func (y *yard) bounds(l rules.Limit) string {
	switch {
	case l.Least > 0 && l.Most > 0:
		return y.say.Format(l.Least) + " to " + y.say.Format(l.Most) + " allowed"
	case l.Least > 0:
		return "at least " + y.say.Format(l.Least)
	}
	return "at most " + y.say.Format(l.Most)
}

// drains is the drain lines in use.
func (y *yard) drains() []*body {
	var out []*body
	for _, b := range y.parts {
		if b.line != nil && b.column == rules.ToField && !b.line.OutOfUse {
			out = append(out, b)
		}
	}
	return out
}

// trenchLimits weighs what belongs to each trench alone. Sizes that were entered
// count as they are written; the length has its uncertainty from the plan.
func (y *yard) trenchLimits(l rules.Limit) []LimitRow {
	var out []LimitRow
	for _, b := range y.drains() {
		var size unit.Length
		switch l.On {
		case rules.OnTrenchWidth:
			size = b.line.TrenchWidth
		case rules.OnTrenchDepth:
			size = written(b.line.TrenchDepth)
		case rules.OnStoneBelow:
			size = written(b.line.StoneBelow)
		case rules.OnStoneAbove:
			size = written(b.line.StoneAbove)
		case rules.OnTrenchLength:
			out = append(out, y.lengthLimit(l, b.line))
			continue
		}
		lost := ""
		if sane(size) == 0 {
			lost = "it is not entered: add " + keyOf(l.On) + " to " + string(b.Name) + " under lines"
			size = 0
		}
		out = append(out, y.limitRow(l, string(l.On)+" of "+string(b.Name), size, 0, lost))
	}
	return out
}

// keyOf is the job's key for what a limit bounds, with an example.
func keyOf(on rules.LimitOn) string {
	switch on {
	case rules.OnTrenchWidth:
		return "trench width: 3 ft"
	case rules.OnTrenchDepth:
		return `trench depth: 30"`
	case rules.OnStoneBelow:
		return `stone below: 12"`
	}
	return `stone above: 2"`
}

func written(w *unit.Written) unit.Length {
	if w == nil {
		return 0
	}
	return w.Length
}

func (y *yard) lengthLimit(l rules.Limit, line *site.Line) LimitRow {
	what := string(l.On) + " of " + string(line.Name)
	for _, f := range y.plan.Footages {
		if f.Line == line.Name && f.Known && sane(f.Length) > 0 {
			return y.limitRow(l, what, f.Length, sane(f.SD)*normal95, "")
		}
	}
	return y.limitRow(l, what, 0, 0, "not every point of the line is located")
}

// spacingLimits weighs the ground between neighbouring trenches: edge to edge,
// or middle to middle.
func (y *yard) spacingLimits(l rules.Limit) []LimitRow {
	var out []LimitRow
	runs := y.abreast()
	for i := 1; i < len(runs); i++ {
		a, b := y.trenchAlone(runs[i-1], runs[i])
		what := string(l.On) + ": " + string(a.Name) + " and " + string(b.Name)
		if a.lost != "" {
			out = append(out, y.limitRow(l, what, 0, 0, a.lost))
			continue
		}
		if l.On == rules.OnCentres {
			a.shape.HalfWidth, b.shape.HalfWidth = 0, 0
		} else if a.shape.HalfWidth == 0 || b.shape.HalfWidth == 0 {
			out = append(out, y.limitRow(l, what, 0, 0, "a trench width is not known: add trench width: 3 ft under lines"))
			continue
		}
		a.prepare()
		b.prepare()
		gap, d := apart(a, b)
		out = append(out, y.limitRow(l, what, d, y.measured(a, b, gap).within(), ""))
	}
	return out
}

// abreast sorts the located drain lines across the direction of the first.
func (y *yard) abreast() []*body {
	var out []*body
	for _, b := range y.drains() {
		if b.lost == "" && len(b.shape.Points) > 1 {
			out = append(out, b)
		}
	}
	if len(out) == 0 {
		return nil
	}
	lastLeg := func(b *body) (planar.Vec, planar.Vec) {
		p := b.shape.Points
		return p[len(p)-2], p[len(p)-1]
	}
	from, to := lastLeg(out[0])
	across := to.Minus(from).Right()
	slices.SortStableFunc(out, func(a, b *body) int {
		a1, a2 := lastLeg(a)
		b1, b2 := lastLeg(b)
		switch d := a1.Plus(a2).Minus(b1).Minus(b2).Dot(across); {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return 0
	})
	return out
}

// trenchAlone returns two lines without the legs that lead to their trenches:
// where both start at one point, as at the box, their first leg is left out.
func (y *yard) trenchAlone(a, b *body) (*body, *body) {
	p, q := *a, *b
	if a.line.Path[0] != b.line.Path[0] {
		return &p, &q
	}
	for _, r := range []*body{&p, &q} {
		if len(r.shape.Points) < 3 {
			p.lost = "the two start at one point and " + string(r.Name) + " has no bend where its trench begins: add the bend to its path"
			return &p, &q
		}
		r.shape.Points, r.carriers = r.shape.Points[1:], r.carriers[1:]
	}
	return &p, &q
}

// tankLimits weighs the ground between each tank and the trench nearest to it.
func (y *yard) tankLimits(l rules.Limit) []LimitRow {
	var out []LimitRow
	for _, t := range y.parts {
		if t.column != rules.ToTank {
			continue
		}
		var nearest *LimitRow
		for _, b := range y.drains() {
			if r := y.tankLimit(l, t, b); nearest == nil || r.Known && (!nearest.Known || r.Measured < nearest.Measured) {
				nearest = &r
			}
		}
		if nearest != nil {
			out = append(out, *nearest)
		}
	}
	return out
}

func (y *yard) tankLimit(l rules.Limit, t, b *body) LimitRow {
	what := string(l.On) + ": " + string(t.Name) + " and " + string(b.Name)
	switch {
	case t.lost != "":
		return y.limitRow(l, what, 0, 0, t.lost)
	case b.lost != "":
		return y.limitRow(l, what, 0, 0, b.lost)
	}
	gap, d := apart(t, b)
	return y.limitRow(l, what, d, y.measured(t, b, gap).within(), "")
}

// lidLimits weighs how deep the lids of boxes lie.
func (y *yard) lidLimits(l rules.Limit) []LimitRow {
	var out []LimitRow
	for _, b := range y.parts {
		if b.column != rules.ToBox {
			continue
		}
		depth, within, ok := y.depth(b.Name)
		lost := ""
		if !ok {
			lost = "no depth is read: add depths: {" + string(b.Name) + `: 14"}`
		}
		out = append(out, y.limitRow(l, string(l.On)+" of "+string(b.Name), depth, within, lost))
	}
	return out
}

// depth is how far a part lies below the ground, by the first reading of it.
func (y *yard) depth(name site.Name) (depth, within unit.Length, ok bool) {
	for _, r := range y.job.Visit.Readings {
		d, is := r.(site.Depth)
		if p, pointer := r.(*site.Depth); pointer && p != nil {
			d, is = *p, true
		}
		if !is || d.Point != name || d.SetAside != "" || !(d.Read.Length >= 0 && d.Read.Length <= farthest) {
			continue
		}
		if d.SD != nil {
			within = sane(*d.SD) * normal95
		}
		return d.Read.Length, within, true
	}
	return 0, 0, false
}

// accuracyLimits weighs the 95 % radius of every part that has one place: of
// those found by an outline, of its middle.
func (y *yard) accuracyLimits(l rules.Limit) []LimitRow {
	var out []LimitRow
	for _, p := range y.job.Site.Parts {
		r, ok := y.radius95(p.Name)
		lost := ""
		if !ok {
			lost = string(p.Name) + " is not located"
		}
		out = append(out, y.limitRow(l, "95 % radius of "+string(p.Name), r, 0, lost))
	}
	for _, q := range y.plan.Points {
		if q.Role == site.RoleBend && q.State == adjust.Determined && q.Placed && y.onLine(q.Name) {
			out = append(out, y.limitRow(l, "95 % radius of "+string(q.Name), adjust.Radius95(q.Sigma.Spread()), 0, ""))
		}
	}
	return out
}

// onLine tells whether a point that is no part of its own lies on a line.
func (y *yard) onLine(name site.Name) bool {
	for _, p := range y.job.Site.Parts {
		if p.Name == name {
			return false
		}
	}
	for _, l := range y.job.Site.Lines {
		if slices.Contains(l.Path, name) {
			return true
		}
	}
	return false
}
