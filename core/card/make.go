package card

import (
	"fmt"
	"strings"

	"undersod/core/adjust"
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
			c.InDoubt = c.InDoubt || m.doubt > max(unit.Inch, radiusOf(m.spread))
		}
	}
	c.Words = g.steps(t, &c)
	c.Text = g.text(&c)
	return c, nil
}

// side tells on which side of the pair's baseline the part lies.
func (g *ground) side(t *target, p pair) string {
	a, b := p.a, p.b
	line := b.at.Minus(a.at)
	left := line.Cross(t.at.Minus(a.at)) > 0
	out := line.Right()
	word := "right"
	if left {
		out, word = out.Times(-1), "left"
	}
	if o := g.wall(a.name, b.name); o != nil {
		if u, ok := out.Unit(); ok && !o.area.Contains(a.at.Plus(line.Times(0.5)).Plus(u.Times(float64(skin)))) {
			return fmt.Sprintf("on the lawn side of %s-%s", a.name, b.name)
		}
	}
	return fmt.Sprintf("on the %s, looking from %s to %s", word, a.name, b.name)
}

// wall returns the building of which two points are neighbouring corners, nil
// where they are not.
func (g *ground) wall(a, b site.Name) *obstacle {
	for _, building := range g.job.Site.Buildings {
		n := len(building.Corners)
		for i, c := range building.Corners {
			next := building.Corners[(i+1)%n]
			if !(c == a && next == b || c == b && next == a) {
				continue
			}
			for k := range g.obstacles {
				if o := &g.obstacles[k]; o.area != nil && o.name == building.Name {
					return o
				}
			}
		}
	}
	return nil
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
		p.Advice = fmt.Sprintf("%s lies too nearly in one line with %s. ", t.name, list(usable[:min(len(usable), 8)]))
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
