package setback

import (
	"slices"

	"undersod/core/bounds"
	"undersod/core/planar"
	"undersod/core/rules"
)

// limits holds what was measured and entered against the limits of the pack.
func (y *yard) limits() []LimitRow {
	var out []LimitRow
	for _, on := range rules.LimitsOn() {
		l, ok := y.pack.Limit(on)
		if on == rules.OnAccuracy && y.job.Visit.Accuracy != nil && bounds.Sane(y.job.Visit.Accuracy.Limit) > 0 {
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
	case rules.OnSpacing, rules.OnCentres:
		return y.spacingLimits(l)
	case rules.OnTankToTrench:
		return y.tankLimits(l)
	}
	return bounds.Of(l, y.job, y.plan)
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

// spacingLimits weighs the ground between neighbouring trenches: edge to edge,
// or middle to middle.
func (y *yard) spacingLimits(l rules.Limit) []LimitRow {
	var out []LimitRow
	runs := y.abreast()
	for i := 1; i < len(runs); i++ {
		a, b := y.trenchAlone(runs[i-1], runs[i])
		what := string(l.On) + ": " + string(a.Name) + " and " + string(b.Name)
		if a.lost != "" {
			out = append(out, bounds.Limited(l, y.say, what, 0, 0, a.lost))
			continue
		}
		if l.On == rules.OnCentres {
			a.shape.HalfWidth, b.shape.HalfWidth = 0, 0
		} else if a.shape.HalfWidth == 0 || b.shape.HalfWidth == 0 {
			out = append(out, bounds.Limited(l, y.say, what, 0, 0, "a trench width is not known: add trench width: 3 ft under lines"))
			continue
		}
		a.prepare()
		b.prepare()
		gap, d := apart(a, b)
		out = append(out, bounds.Limited(l, y.say, what, d, y.measured(a, b, gap).within(), ""))
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
		return bounds.Limited(l, y.say, what, 0, 0, t.lost)
	case b.lost != "":
		return bounds.Limited(l, y.say, what, 0, 0, b.lost)
	}
	gap, d := apart(t, b)
	return bounds.Limited(l, y.say, what, d, y.measured(t, b, gap).within(), "")
}
