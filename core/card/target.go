package card

import (
	"strings"

	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// find locates the part, or tells what to do.
func (g *ground) find(part site.Name) (*target, error) {
	t := &target{name: part}
	known := false
	for i := range g.job.Site.Parts {
		p := &g.job.Site.Parts[i]
		if p.Name != part {
			continue
		}
		known, t.kind = true, string(p.Kind)
		if p.Outline != nil {
			for _, h := range p.Outline.Hits {
				t.hits = append(t.hits, h.Point)
			}
		}
	}
	for _, p := range g.job.Site.Points {
		if p.Name == part && buried(p.Role) {
			known = true
			if t.kind == "" {
				t.kind = p.Kind
			}
		}
	}
	if !known {
		return nil, g.unknown(part)
	}
	if p, ok := g.located(part); ok {
		t.at, t.spread, t.point = p.At, p.Sigma.Spread(), p
		t.hits = nil
		return t, nil
	}
	return t, g.outline(t)
}

// buried tells whether a card may be made for a point of this role.
func buried(r site.Role) bool { return r == site.RolePart || r == site.RoleBend }

// outline takes the middle of the part's fitted outline.
func (g *ground) outline(t *target) error {
	why, advice := "", "Tie it to two or three marks that see it."
	for _, o := range g.plan.Outlines {
		if o.Part != t.name {
			continue
		}
		if o.Fitted && finite(o.Centre) {
			t.at, t.spread, t.middle = o.Centre, o.Sigma.Spread(), true
			t.ring = o.Corners[:]
			return nil
		}
		why, advice = o.Why, "Tie more probe hits along its edges."
	}
	if p, ok := g.points[t.name]; ok {
		why = p.Why
		if p.CureWords != "" {
			advice = p.CureWords
		}
	}
	if why != "" {
		why = " (" + why + ")"
	}
	return site.Problem{Place: g.placeOf(t.name), Subject: "tie card for " + string(t.name),
		Expected: "a part that is located on the plan; it is not" + why, Advice: advice}
}

func (g *ground) placeOf(name site.Name) site.Place {
	for _, p := range g.job.Site.Parts {
		if p.Name == name {
			return p.Place
		}
	}
	for _, p := range g.job.Site.Points {
		if p.Name == name {
			return p.Place
		}
	}
	return site.Place{}
}

// unknown tells which names there are.
func (g *ground) unknown(part site.Name) error {
	var names []site.Name
	for _, p := range g.job.Site.Parts {
		names = append(names, p.Name)
	}
	for _, p := range g.job.Site.Points {
		if buried(p.Role) && p.Name != "" {
			names = append(names, p.Name)
		}
	}
	for _, p := range g.job.Site.Points {
		if p.Name == part {
			return site.Problem{Place: p.Place, Subject: "tie card", Found: string(part),
				Expected: "a part of the system; this is a mark, a probe hit or a feature, which is not looked for under the ground", Example: string(nearest(part, names))}
		}
	}
	p := site.Problem{Subject: "tie card", Found: string(part), Expected: "the name of a part of the job"}
	if len(names) == 0 {
		p.Advice = "The job has no parts yet: add the tank, the box or the lids under parts."
		return p
	}
	p.Example = string(nearest(part, names))
	return p
}

// nearest returns the name that differs least from the one given; the first of
// several.
func nearest(name site.Name, names []site.Name) site.Name {
	best, found := -1, site.Name("")
	for _, n := range names {
		if d := changes(strings.ToLower(string(name)), strings.ToLower(string(n))); best < 0 || d < best {
			best, found = d, n
		}
	}
	return found
}

// changes counts the letters to add, take out or change to make b of a
// (Levenshtein's distance), looking at the first hundred of each.
func changes(a, b string) int {
	x, y := []rune(a), []rune(b)
	x, y = x[:min(len(x), 100)], y[:min(len(y), 100)]
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		corner := row[0]
		row[0] = i + 1
		for j := range y {
			cost := corner
			if x[i] != y[j] {
				cost++
			}
			corner = row[j+1]
			row[j+1] = min(cost, row[j]+1, corner+1)
		}
	}
	return row[len(y)]
}

// depth is the last depth measured at the part and not set aside; of a part
// with an outline only, none.
func (g *ground) depth(part site.Name) *unit.Length {
	var out *unit.Length
	for _, r := range g.job.Visit.Readings {
		if d, ok := depthOf(r); ok && d.Point == part && d.SetAside == "" && d.Read.Length >= 0 {
			l := d.Read.Length
			out = &l
		}
	}
	return out
}

func depthOf(r site.Reading) (site.Depth, bool) {
	switch d := r.(type) {
	case site.Depth:
		return d, true
	case *site.Depth:
		if d != nil {
			return *d, true
		}
	}
	return site.Depth{}, false
}

// lids returns the lids that lie on a part with an outline.
func (g *ground) lids(t *target) []site.Name {
	var out []site.Name
	for _, p := range g.job.Site.Parts {
		if q, ok := g.located(p.Name); ok && t.middle && p.Kind == site.Lid && t.ring.Distance(planar.Path{q.At}) < unit.Foot/2 {
			out = append(out, p.Name)
		}
	}
	return out
}

// inDoubt tells whether readings that disagree speak of the part, or move it
// farther than its own uncertainty.
func (g *ground) inDoubt(t *target) bool {
	mine := map[site.Name]bool{t.name: true}
	for _, h := range t.hits {
		mine[h] = true
	}
	accused := map[site.ReadingID]bool{}
	for _, a := range g.plan.Search.Accused {
		for _, id := range a.Readings {
			accused[id] = true
		}
	}
	for _, r := range g.plan.Readings {
		if !accused[r.ID] && !r.Flagged {
			continue
		}
		for _, n := range r.Touches {
			if mine[n] {
				return true
			}
		}
	}
	return t.point != nil && t.point.Doubt > max(t.point.Ellipse.Radius, unit.Inch/2)
}
