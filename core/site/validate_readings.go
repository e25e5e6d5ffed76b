package site

import (
	"fmt"
	"slices"

	"undersod/core/unit"
)

// readings checks every reading. One of points or lines that do not exist is
// left out; one whose value cannot be right stays as written, and the
// adjustment refuses it by name.
func (c *checker) readings(job *Job) {
	list := slices.Clone(job.Visit.Readings)
	seen := make(map[ReadingID]bool, len(list))
	job.Visit.Readings = slices.DeleteFunc(list, func(r Reading) bool {
		if r == nil {
			return true
		}
		id := r.Common().ID
		if id != "" && seen[id] {
			c.tell(r.Common().Place, "reading "+string(id), string(id), "a name that no other reading has", "")
			return true
		}
		seen[id] = true
		return !c.reading(r)
	})
}

// reading checks one reading; false when it speaks of what does not exist.
func (c *checker) reading(r Reading) bool {
	t := r.Common()
	if t.Instrument != "" && !c.tools[t.Instrument] {
		c.tell(t.Place, "instrument of "+string(t.ID), string(t.Instrument), "an instrument of the job or a kind of instrument", string(SteelTape))
		return false
	}
	switch r := r.(type) {
	case Tie:
		return c.tie(r)
	case Offset:
		return c.offset(r)
	case Bearing:
		return c.bearing(r)
	case Fix:
		return c.fix(r)
	case Depth:
		return c.depth(r)
	case Rod:
		return c.rod(r)
	case Footage:
		return c.footage(r)
	}
	return false
}

func (c *checker) tie(t Tie) bool {
	subject := fmt.Sprintf("tie from %s to %s", t.From, t.To)
	if !c.both(t.Place, subject, t.From, t.To) {
		return false
	}
	if t.From == t.To {
		c.tell(t.Place, subject, string(t.From), "two different points", "")
	}
	if c.positive(t.Place, subject, t.Read) && t.Drop != nil && t.Drop.Length.Abs() >= t.Read.Length {
		c.tell(t.Place, "drop of "+subject, t.Drop.Text, "a drop shorter than the tie itself, "+t.Read.Text, "")
	}
	if t.Corrected != nil {
		c.positive(t.Place, "corrected of "+subject, *t.Corrected)
	}
	c.spread(t.Place, "sd of "+subject, t.SD)
	return true
}

func (c *checker) both(at Place, subject string, from, to Name) bool {
	ok := c.exists(at, subject, from)
	return c.exists(at, subject, to) && ok
}

func (c *checker) offset(o Offset) bool {
	subject := fmt.Sprintf("offset of %s from %s-%s", o.Point, o.From, o.To)
	ok := c.both(o.Place, subject, o.From, o.To)
	if !c.exists(o.Place, subject, o.Point) || !ok {
		return false
	}
	if o.From == o.To || o.Point == o.From || o.Point == o.To {
		c.tell(o.Place, subject, fmt.Sprintf("%s, %s and %s", o.From, o.To, o.Point), "a baseline between two points and a third point", "")
	}
	c.within(o.Place, "station of "+subject, o.Station)
	c.within(o.Place, "distance of "+subject, o.Right)
	c.spread(o.Place, "sd of "+subject, o.SD)
	return true
}

// within tells a signed distance longer than one yard can hold.
func (c *checker) within(at Place, subject string, w unit.Written) {
	if !(w.Length.Abs() < farthest) {
		c.tell(at, subject, w.Text, "a length under 10 km", `23' 4 1/2"`)
	}
}

func (c *checker) bearing(b Bearing) bool {
	subject := fmt.Sprintf("bearing from %s to %s", b.From, b.To)
	if !c.both(b.Place, subject, b.From, b.To) {
		return false
	}
	if b.From == b.To {
		c.tell(b.Place, subject, string(b.From), "two different points", "")
	}
	c.fan(b.Place, "sd of "+subject, b.SD)
	if b.Magnetic && !c.turned && !c.noNorth {
		c.noNorth = true // once is enough: one line mends all
		c.remark(b.Place, subject, "a magnetic bearing", "the declination of the day and place",
			"Without it the plan's north is magnetic north. Add a line such as: declination: 4°30' W")
	}
	return true
}

func (c *checker) fix(f Fix) bool {
	subject := "fix of " + string(f.Point)
	if !c.exists(f.Place, subject, f.Point) {
		return false
	}
	if !f.Grid && !(f.Latitude.Degrees() >= -90 && f.Latitude.Degrees() <= 90) {
		c.tell(f.Place, "latitude of "+subject, f.Text, "a latitude from 90 S to 90 N", "47.05312 N")
	}
	if !f.Grid && !(f.Longitude.Degrees() >= -180 && f.Longitude.Degrees() <= 180) {
		c.tell(f.Place, "longitude of "+subject, f.Text, "a longitude from 180 W to 180 E", "122.71104 W")
	}
	c.spread(f.Place, "sd of "+subject, f.SD)
	return true
}

// rod checks a rod reading at a point or at a level point.
func (c *checker) rod(r Rod) bool {
	subject := fmt.Sprintf("rod on the %s of %s", r.On, r.Point)
	if !c.stands(r.Place, subject, r.Point) {
		return false
	}
	c.positive(r.Place, subject, r.Read)
	c.spread(r.Place, "sd of "+subject, r.SD)
	return true
}

// depth allows zero: a lid may lie level with the ground.
func (c *checker) depth(d Depth) bool {
	subject := "depth of " + string(d.Point)
	if !c.exists(d.Place, subject, d.Point) {
		return false
	}
	if !(d.Read.Length >= 0 && d.Read.Length < farthest) {
		c.tell(d.Place, subject, d.Read.Text, "a depth from zero to 10 km below the ground", `14"`)
	}
	c.spread(d.Place, "sd of "+subject, d.SD)
	return true
}

func (c *checker) footage(f Footage) bool {
	subject := fmt.Sprintf("footage along %s to %s", f.Line, f.To)
	line, ok := c.lineSet[f.Line]
	if !ok {
		if !c.badLine[f.Line] { // a line in error was told already
			c.tell(f.Place, subject, string(f.Line), "the name of a line of the site", "")
		}
		return false
	}
	switch k := slices.Index(line.Path, f.To); {
	case k < 0:
		c.tell(f.Place, subject, string(f.To), "a point of the line's path: "+pathWords(line), string(line.Path[len(line.Path)-1]))
		return false
	case k == 0 && line.Path[len(line.Path)-1] != f.To:
		c.tell(f.Place, subject, string(f.To), "a point after the line's start, where footage is zero: "+pathWords(line), string(line.Path[len(line.Path)-1]))
		return false
	}
	c.positive(f.Place, subject, f.Read)
	c.spread(f.Place, "sd of "+subject, f.SD)
	return true
}

// pathWords lists the points of a line, the first few of a long one.
func pathWords(l Line) string {
	s := ""
	for i, p := range l.Path {
		if i == 8 {
			return s + " and so on"
		}
		if i > 0 {
			s += ", "
		}
		s += string(p)
	}
	return s
}
