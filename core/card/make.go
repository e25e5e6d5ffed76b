package card

import (
	"fmt"
	"strings"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Make chooses the marks from which a part is found again: the pair whose
// tapes cross with the least 95 % error among the marks that stay, are located
// and see the part, building corners before others where nearly equal, and a
// third as a check. Tapes over 100 ft are taken only where they are much
// better.
//
// The error is a site.Problem that tells what to do: the name is that of no
// part, the part is not located, or fewer than two marks can be used.
func Make(job *site.Job, plan *adjust.Plan, part site.Name) (Card, error) {
	g := newGround(job, plan)
	t, err := g.find(part)
	if err != nil {
		return Card{}, err
	}
	marks := g.marks(t)
	best, ok := choose(marks, t)
	if !ok {
		return Card{}, g.tooFew(t, marks)
	}
	c := Card{Part: t.name, Kind: t.kind, Depth: g.depth(t.name), Expected: best.expected,
		Side: g.side(t, best), InDoubt: g.inDoubt(t)}
	for _, m := range []*mark{best.a, best.b, check(marks, t, best)} {
		if m != nil {
			c.Ties = append(c.Ties, Tie{From: m.name, Words: m.words, Distance: m.distance, Within: z95 * m.within})
			c.InDoubt = c.InDoubt || m.doubt > max(unit.Inch, adjust.Radius95(m.spread))
		}
	}
	c.Words = g.steps(t, &c)
	c.Text = g.text(&c)
	return c, nil
}

// side tells on which side of the pair's baseline the part lies, by the wall of
// a building where one tells it, since a wall can be seen.
func (g *ground) side(t *target, p pair) string {
	a, b := p.a, p.b
	if from, to, ok := g.lawn(t.at, mirrored(t.at, p), a.name, b.name); ok {
		return fmt.Sprintf("on the lawn side of %s-%s", from, to)
	}
	word := "right"
	if b.at.Minus(a.at).Cross(t.at.Minus(a.at)) > 0 {
		word = "left"
	}
	return fmt.Sprintf("on the %s, looking from %s to %s", word, a.name, b.name)
}

// lawn finds a wall with the part clearly on its lawn side and the other
// crossing clearly behind it: the wall from a to b if it is one, or else one
// that ends at either.
func (g *ground) lawn(part, other planar.Vec, a, b site.Name) (from, to site.Name, ok bool) {
	const clear = 2 * unit.Foot
	for i := range g.walls {
		w := &g.walls[i]
		whole := w.from == a && w.to == b || w.from == b && w.to == a
		if !whole && w.from != a && w.from != b && w.to != a && w.to != b {
			continue
		}
		if w.beyond(part) < clear || w.beyond(other) > -clear {
			continue
		}
		if whole {
			return a, b, true
		}
		if !ok {
			from, to, ok = w.from, w.to, true
		}
	}
	return from, to, ok
}

// tooFew tells why no two marks can be used and what to do.
func (g *ground) tooFew(t *target, marks []mark) error {
	p := site.Problem{Place: g.placeOf(t.name), Subject: "tie card for " + string(t.name),
		Expected: "two marks whose tapes reach it and cross well"}
	var usable []site.Name
	var not []string
	for i := range marks {
		if m := &marks[i]; m.why == "" {
			usable = append(usable, m.name)
		} else if len(not) < 6 {
			not = append(not, m.words+": "+m.why)
		}
	}
	switch {
	case len(marks) == 0:
		p.Advice = "The job has no marks yet: tie house corners, a utility pole or a well casing that will stay."
		return p
	case len(usable) > 1:
		p.Advice = fmt.Sprintf("%s lies too nearly in one line with %s. ", t.name, english.And(usable[:min(len(usable), 8)]))
	case len(usable) == 1:
		p.Advice = fmt.Sprintf("Only %s can be used. ", usable[0])
	}
	p.Advice += "Add a mark that sees the part well to the side of these, as a pole, a well casing or an iron pin, and tie it in."
	if len(not) > 0 {
		p.Advice += " Not used: " + strings.Join(not, "; ") + "."
	}
	return p
}

// markWords tells a mark so that it is found: "House corner A", "iron pin Pin 1".
func (g *ground) markWords(p site.Point, building site.Name) string {
	kind, name := p.Kind, string(p.Name)
	if p.Role == site.RoleCorner {
		kind = strings.TrimSpace(string(building) + " corner")
	}
	if kind == "" || strings.Contains(strings.ToLower(name), strings.ToLower(kind)) {
		return name
	}
	return kind + " " + name
}
