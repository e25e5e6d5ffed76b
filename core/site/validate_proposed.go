package site

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"undersod/core/unit"
)

// proposed checks what the owner wants to build. What has no size that could be
// fitted is left out; a place, a direction or a wish in error leaves it open.
func (c *checker) proposed(job *Job) {
	list := once(c, "proposed thing", job.Site.Proposed, func(p Proposed) (Name, Place) { return p.Name, p.Place })
	job.Site.Proposed = slices.DeleteFunc(list, func(p Proposed) bool { return !c.fits(p) })
	for i := range job.Site.Proposed {
		p := &job.Site.Proposed[i]
		subject := "proposed " + string(p.Name)
		c.sized(p, subject)
		c.placed(job, p, subject)
		if w := p.FromLot; w != nil && !within(w.Length) {
			c.tell(p.Place, "from property line of "+subject, w.Text, "a distance, zero or more", "from property line: 10'")
			p.FromLot = nil
		}
		p.Bedrooms = c.natural(p.Place, "bedrooms of "+subject, p.Bedrooms)
		if p.Bedrooms > 0 && p.Kind != Structure {
			c.tell(p.Place, "bedrooms of "+subject, fmt.Sprintf("bedrooms in a %s", p.Kind), "bedrooms in a structure only", "")
			p.Bedrooms = 0
		}
	}
}

// fits tells what is proposed without a kind or a size that could be fitted.
func (c *checker) fits(p Proposed) bool {
	subject := "proposed " + string(p.Name)
	if !slices.Contains(ProposedKinds(), p.Kind) {
		c.tell(p.Place, "kind of "+subject, string(p.Kind), "structure, pool, well or driveway", "kind: structure")
		return false
	}
	if p.Kind == Well {
		return true
	}
	const example = "size: 24' x 16'"
	switch {
	case p.Outline != nil:
		return c.corners(p, subject)
	case p.Length == nil || p.Width == nil:
		c.tell(p.Place, subject, "no size", "its length and width, or an outline", example)
		return false
	}
	for _, w := range []*unit.Written{p.Length, p.Width} {
		if why := impossible(*w); why != "" {
			c.tell(p.Place, "size of "+subject, w.Text, why, example)
			return false
		}
	}
	return true
}

// corners checks an outline. Whether it is convex is told by who fits it.
func (c *checker) corners(p Proposed, subject string) bool {
	const example = "outline: [[0', 0'], [24', 0'], [24', 16'], [0', 16']]"
	if len(p.Outline) < 3 {
		c.tell(p.Place, "outline of "+subject, count(len(p.Outline), "corner"), "at least three corners", example)
		return false
	}
	for _, s := range p.Outline {
		if !(s.Along.Abs() < farthest && s.Right.Abs() < farthest) {
			c.tell(p.Place, "outline of "+subject, fmt.Sprintf("a corner %.4g m along and %.4g m right", s.Along.Metres(), s.Right.Metres()),
				"corners under 10 km away", example)
			return false
		}
	}
	return true
}

// sized tells a size that says nothing: of a well, which is a point, and beside
// an outline.
func (c *checker) sized(p *Proposed, subject string) {
	sized := p.Length != nil || p.Width != nil
	switch {
	case p.Kind == Well && (sized || p.Outline != nil):
		c.tell(p.Place, subject, "a well with a size", "a well without one: it is a point", "kind: well")
		p.Length, p.Width, p.Outline = nil, nil, nil
	case sized && p.Outline != nil:
		c.tell(p.Place, subject, "a size and an outline", "one of them; the outline is used", "")
		p.Length, p.Width = nil, nil
	}
}

// placed checks where it shall stand, how it is turned and what it shall stand
// near.
func (c *checker) placed(job *Job, p *Proposed, subject string) {
	if p.At != nil && !c.stand(p.Place, "at of "+subject, *p.At) {
		p.At = nil
	}
	if p.Along != nil && !c.baseline(p.Place, "along of "+subject, p.Along[0], p.Along[1]) {
		p.Along = nil
	}
	if p.Turn != nil && (math.IsNaN(float64(*p.Turn)) || math.IsInf(float64(*p.Turn), 0)) {
		c.tell(p.Place, "turn of "+subject, "no direction", "the direction of its length, clockwise from the plan's north", "turn: 85°")
		p.Turn = nil
	}
	if p.Turn != nil && p.Along != nil {
		c.tell(p.Place, subject, "along and turn", "one of them; along is used", "")
		p.Turn = nil
	}
	if p.Near != "" && !c.wished(job, p.Near) {
		c.tell(p.Place, "near of "+subject, string(p.Near), "the name of a point, a part, a building or a feature of the site", "")
		p.Near = ""
	}
}

func (c *checker) stand(at Place, subject string, s Stand) bool {
	if s.Point != "" {
		return c.exists(at, subject, s.Point)
	}
	ok := c.baseline(at, subject, s.From, s.To)
	for _, w := range []unit.Written{s.Station, s.Right} {
		if !(w.Length.Abs() < farthest) {
			c.tell(at, subject, w.Text, "a distance under 10 km", "station: 30', right: 60'")
			ok = false
		}
	}
	return ok
}

// wished tells whether something on the site has the name.
func (c *checker) wished(job *Job, name Name) bool {
	_, part := c.outlined[name]
	return part || c.pointSet[name] ||
		slices.ContainsFunc(job.Site.Buildings, func(b Building) bool { return b.Name == name }) ||
		slices.ContainsFunc(job.Site.Features, func(f Feature) bool { return f.Name == name })
}

// within tells a length that a setback can have.
func within(l unit.Length) bool { return l >= 0 && l < farthest }

// setbacks checks the permit's own distances. A row that says no distance, and
// one that stands there before, is left out.
func (c *checker) setbacks(job *Job) {
	if job.Site.Setbacks == nil {
		return
	}
	s := *job.Site.Setbacks
	seen := map[[2]string]bool{}
	var rows []SetbackRow
	for _, r := range s.Rows {
		subject := strings.Join(strings.Fields("setback from "+r.Class+" "+r.From), " ")
		key := [2]string{r.From, r.Class}
		if seen[key] {
			c.tell(r.Place, subject, "the same row twice", "each thing and class once; the first row is used", "")
			continue
		}
		if c.setback(&r, subject) {
			seen[key] = true
			rows = append(rows, r)
		}
	}
	s.Rows = rows
	if len(rows) > 0 && strings.TrimSpace(s.Source) == "" {
		c.remark(s.Place, "setbacks", "no source", "the paper that the distances stand in, as source: permit T-1996-0412",
			"A reviewer asks for it, and no distance should be shown without it.")
	}
	job.Site.Setbacks = &s
}

// setback checks one row and mends its own copy of it.
func (c *checker) setback(r *SetbackRow, subject string) bool {
	if !slices.Contains(SetbackThings(), r.From) {
		c.tell(r.Place, "from of a setback", r.From, "a kind of feature, building, tank, distribution box or field", "from: well")
		return false
	}
	good := map[string]unit.Written{}
	stated := 0
	for _, column := range SetbackColumns() {
		w, ok := r.Distances[column]
		if !ok {
			continue
		}
		stated++
		if within(w.Length) {
			good[column] = w
			continue
		}
		c.tell(r.Place, column+" of the "+subject, w.Text, "a distance, zero or more", "100'")
	}
	if stated < len(r.Distances) {
		c.tell(r.Place, subject, "a distance of something else", strings.Join(SetbackColumns(), ", "), "")
	}
	if len(r.Distances) == 0 {
		c.tell(r.Place, subject, "no distance", "a distance of one of "+strings.Join(SetbackColumns(), ", "), "field: 100'")
	}
	r.Distances = good
	return len(good) > 0
}
