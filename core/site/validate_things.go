package site

import (
	"fmt"
	"slices"

	"undersod/core/unit"
)

// farthest is the longest distance that one yard can hold; a longer one is a
// slip of unit or of digits.
const farthest = 10_000 * unit.Metre

func (c *checker) buildings(job *Job) {
	list := once(c, "building", job.Site.Buildings, func(b Building) (Name, Place) { return b.Name, b.Place })
	job.Site.Buildings = slices.DeleteFunc(list, func(b Building) bool { return !c.building(b) })
}

func (c *checker) building(b Building) bool {
	subject := "building " + string(b.Name)
	n := len(b.Corners)
	if n < 4 {
		c.tell(b.Place, subject, count(n, "corner"), "at least four corners", "corners: [A, B, C, D]")
		return false
	}
	ok := true
	seen := make(map[Name]bool, n)
	for _, corner := range b.Corners {
		ok = c.exists(b.Place, "corner of "+subject, corner) && ok
		again := seen[corner]
		seen[corner] = true
		if again {
			c.tell(b.Place, subject, fmt.Sprintf("corner %s twice", corner), "each corner once; the last side runs back to the first by itself", "")
			ok = false
		}
	}
	return c.turns(b, subject) && c.walled(b, subject) && ok
}

// turns checks that the outline comes back to where it set out: four more
// right turns than left ones, or the reverse.
func (c *checker) turns(b Building, subject string) bool {
	if len(b.Turns) != len(b.Corners) {
		c.tell(b.Place, "turns of "+subject, count(len(b.Turns), "turn"),
			fmt.Sprintf("one for each of its %d corners", len(b.Corners)), "")
		return false
	}
	sum := 0
	for _, t := range b.Turns {
		sum += int(t)
	}
	if sum != 4 && sum != -4 {
		c.tell(b.Place, "turns of "+subject, fmt.Sprintf("right turns minus left turns make %d", sum),
			"four going clockwise, or minus four going counterclockwise, or the walls do not come round", "")
		return false
	}
	return true
}

// walled checks the sides of a building.
func (c *checker) walled(b Building, subject string) bool {
	corners := len(b.Corners)
	switch n := len(b.Sides); {
	case n == 0, n == corners, n == 2 && corners == 4:
	default:
		expected := fmt.Sprintf("one for each of its %d corners", corners)
		if corners == 4 {
			expected += ", or two for a rectangle"
		}
		c.tell(b.Place, "sides of "+subject, count(n, "side"), expected, "")
		return false
	}
	ok := true
	for _, s := range b.Sides {
		if s.Text != "" {
			ok = c.positive(b.Place, "side of "+subject, s) && ok
		}
	}
	ok = c.spread(b.Place, "side sd of "+subject, b.SideSD) && ok
	return c.fan(b.Place, "square sd of "+subject, b.Square) && ok
}

// positive tells a length that no distance on a property can have.
func (c *checker) positive(at Place, subject string, w unit.Written) bool {
	why := impossible(w)
	if why != "" {
		c.tell(at, subject, w.Text, why, `23' 4 1/2"`)
	}
	return why == ""
}

// impossible says what a distance must be, empty when w can be one.
func impossible(w unit.Written) string {
	if !(w.Length > 0) {
		return "a length above zero"
	}
	if w.Length >= farthest {
		return "a length under 10 km"
	}
	return ""
}

// spread tells a standard deviation of a length that is not above zero.
func (c *checker) spread(at Place, subject string, sd *unit.Length) bool {
	if sd == nil || *sd > 0 && *sd < farthest {
		return true
	}
	c.tell(at, subject, fmt.Sprintf("%.4g m", sd.Metres()), "a standard deviation above zero and under 10 km", "0.04 ft")
	return false
}

// fan tells a standard deviation of an angle that is not above zero.
func (c *checker) fan(at Place, subject string, sd *unit.Angle) bool {
	if sd == nil || *sd > 0 && *sd <= 180*unit.Degree {
		return true
	}
	c.tell(at, subject, fmt.Sprintf("%.4g°", sd.Degrees()), "a standard deviation above zero and at most 180°", "1°")
	return false
}

func (c *checker) parts(job *Job) {
	job.Site.Parts = once(c, "part", job.Site.Parts, func(p Part) (Name, Place) { return p.Name, p.Place })
	for i := range job.Site.Parts {
		p := &job.Site.Parts[i]
		subject := "part " + string(p.Name)
		if p.Outline != nil && !c.outline(*p, "outline of "+subject) {
			p.Outline = nil
		}
		if p.Outline == nil {
			c.exists(p.Place, subject, p.Name)
		}
	}
}

func (c *checker) outline(p Part, subject string) bool {
	ok := true
	seen := map[Name]bool{}
	for _, h := range p.Outline.Hits {
		ok = c.exists(p.Place, "hit of "+subject, h.Point) && ok
		if seen[h.Point] {
			c.tell(p.Place, subject, fmt.Sprintf("hit %s twice", h.Point), "each hit once", "")
			ok = false
		}
		seen[h.Point] = true
	}
	for _, w := range []*unit.Written{p.Outline.Length, p.Outline.Width} {
		if w != nil {
			ok = c.positive(p.Place, "size of "+subject, *w) && ok
		}
	}
	ok = c.spread(p.Place, "size sd of "+subject, p.Outline.SizeSD) && ok
	return c.spread(p.Place, "probe sd of "+subject, p.Outline.ProbeSD) && ok
}

func (c *checker) lines(job *Job) {
	list := once(c, "line", job.Site.Lines, func(l Line) (Name, Place) { return l.Name, l.Place })
	job.Site.Lines = slices.DeleteFunc(list, func(l Line) bool {
		c.badLine[l.Name] = !c.line(l)
		return c.badLine[l.Name]
	})
	for _, l := range job.Site.Lines {
		c.lineSet[l.Name] = l
	}
}

func (c *checker) line(l Line) bool {
	subject := "line " + string(l.Name)
	if len(l.Path) < 2 {
		c.tell(l.Place, "path of "+subject, count(len(l.Path), "point"), "two points or more, from its start to its end", "path: [D-box, L1 end]")
		return false
	}
	ok := true
	seen := make(map[Name]bool, len(l.Path))
	for i, p := range l.Path {
		ok = c.exists(l.Place, "path of "+subject, p) && ok
		again := seen[p]
		seen[p] = true
		loop := i == len(l.Path)-1 && i > 2 && p == l.Path[0] // a line may come back to its start
		if again && !loop {
			c.tell(l.Place, "path of "+subject, fmt.Sprintf("%s twice", p), "each point once", "")
			ok = false
		}
	}
	if l.Permitted != nil {
		ok = c.positive(l.Place, "permitted length of "+subject, *l.Permitted) && ok
	}
	return ok
}

func (c *checker) features(job *Job) {
	list := once(c, "feature", job.Site.Features, func(f Feature) (Name, Place) { return f.Name, f.Place })
	job.Site.Features = slices.DeleteFunc(list, func(f Feature) bool { return !c.feature(f) })
}

func (c *checker) feature(f Feature) bool {
	subject := "feature " + string(f.Name)
	if len(f.Points) == 0 {
		c.tell(f.Place, subject, "no points", "one point, a path of two or more, or an area of three or more", "at: Maple trunk")
		return false
	}
	if f.Closed && len(f.Points) < 3 {
		c.tell(f.Place, "area of "+subject, count(len(f.Points), "point"), "three points or more", "area: [dr 1, dr 2, dr 3]")
		return false
	}
	ok := true
	for _, p := range f.Points {
		ok = c.exists(f.Place, subject, p) && ok
	}
	return ok
}
