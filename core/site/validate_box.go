package site

import (
	"fmt"
	"slices"

	"undersod/core/unit"
)

// Bounds of what a box of a house's system can be. Beyond usual it is looked at
// again; beyond possible a unit or a digit is wrong: common practice, no
// source.
const (
	deepestBox   = 10 * unit.Metre
	smallestBore = unit.Inch / 2
	usualBore    = unit.Foot
	largestBore  = unit.Metre
)

// levelPoints keeps the names that no point has.
func (c *checker) levelPoints(job *Job) {
	list := once(c, "level point", job.Site.LevelPoints, func(p LevelPoint) (Name, Place) { return p.Name, p.Place })
	job.Site.LevelPoints = slices.DeleteFunc(list, func(p LevelPoint) bool {
		if c.pointSet[p.Name] {
			c.tell(p.Place, "level point "+string(p.Name), string(p.Name), "a name that no point of the site has", "TP 1")
			return true
		}
		c.levelSet[p.Name] = true
		return false
	})
}

// stands tells a name that neither a point nor a level point has.
func (c *checker) stands(at Place, subject string, name Name) bool {
	if c.pointSet[name] || c.levelSet[name] {
		return true
	}
	c.tell(at, subject, string(name), "the name of a point or of a level point of the site", "")
	return false
}

// boxes checks what was measured in boxes. One of a part that is no box is left
// out; a measure that cannot be is left out of its box.
func (c *checker) boxes(job *Job) {
	kinds := map[Name]PartKind{}
	for _, p := range job.Site.Parts {
		kinds[p.Name] = p.Kind
	}
	c.roddedInverts(job.Visit.Readings)
	list := once(c, "box", job.Visit.Boxes, func(b Box) (Name, Place) { return b.Part, b.Place })
	job.Visit.Boxes = slices.DeleteFunc(list, func(b Box) bool {
		kind, known := kinds[b.Part]
		subject := "box " + string(b.Part)
		switch {
		case !known:
			c.tell(b.Place, subject, string(b.Part), "the name of a part of the site", "")
		case kind != DistributionBox && kind != DropBox:
			c.tell(b.Place, subject, "a "+string(kind), "a part that is a distribution box or a drop box", "")
		default:
			return false
		}
		return true
	})
	for i := range job.Visit.Boxes {
		c.box(&job.Visit.Boxes[i])
	}
}

// roddedInverts notes on which inverts a rod stood.
func (c *checker) roddedInverts(readings []Reading) {
	for _, r := range readings {
		if rod, ok := r.(Rod); ok && rod.On == OnInvert && rod.SetAside == "" {
			c.rodded[rod.Point] = true
		}
	}
}

// box mends its own copy of a box.
func (c *checker) box(b *Box) {
	subject := "box " + string(b.Part)
	for _, size := range []struct {
		what string
		read **unit.Written
	}{{"length of ", &b.Length}, {"width of ", &b.Width}} {
		if *size.read != nil && !c.boxed(b.Place, size.what+subject, **size.read, 0) {
			*size.read = nil
		}
	}
	for _, level := range []struct {
		what string
		read **unit.Written
	}{{"floor of ", &b.Floor}, {"lid of ", &b.Lid}, {"water of ", &b.Water}} {
		if *level.read != nil && !c.boxed(b.Place, level.what+subject, **level.read, -deepestBox) {
			*level.read = nil
		}
	}
	rim := map[Edge]unit.Written{}
	for _, edge := range []Edge{EdgeNear, EdgeRight, EdgeFar, EdgeLeft} {
		if w, ok := b.Rim[edge]; ok && c.boxed(b.Place, "rim of "+subject, w, -deepestBox) {
			rim[edge] = w
		}
	}
	if b.Rim != nil {
		b.Rim = rim
	}
	if b.Water != nil && b.Floor != nil && b.Water.Length > b.Floor.Length {
		c.remark(b.Place, "water of "+subject, b.Water.Text, "water above the floor, which lies "+b.Floor.Text+" below the level line",
			"Leave water out where the box was dry.")
	}
	c.openings(b, subject)
}

// boxed tells a length that no box can have; the least is 0 for a size and
// negative for a level.
func (c *checker) boxed(at Place, subject string, w unit.Written, least unit.Length) bool {
	if w.Length > least && w.Length < deepestBox {
		return true
	}
	expected := "a length above zero and under 10 m"
	if least < 0 {
		expected = "a depth below the level line, under 10 m"
	}
	c.tell(at, subject, w.Text, expected, `9"`)
	return false
}

func (c *checker) openings(b *Box, subject string) {
	if b.Inlet != nil {
		in := *b.Inlet
		what := "inlet of " + subject
		if in.Line != "" && !c.opens(in, what) {
			in.Line = ""
		}
		c.opening(&in, what, *b)
		b.Inlet = &in
	}
	var list []Opening
	seen := map[Name]bool{}
	for _, o := range b.Outlets {
		what := fmt.Sprintf("outlet of %s to %s", subject, o.Line)
		if seen[o.Line] {
			c.tell(o.Place, what, string(o.Line), "each line once", "")
			continue
		}
		seen[o.Line] = true
		if !c.opens(o, what) {
			continue
		}
		if b.Inlet != nil && o.Line == b.Inlet.Line {
			c.remark(o.Place, what, string(o.Line), "another line than the one that arrives at the inlet", "")
		}
		c.opening(&o, what, *b)
		list = append(list, o)
	}
	b.Outlets = list
}

// opens checks that the line of an opening exists.
func (c *checker) opens(o Opening, subject string) bool {
	_, ok := c.lineSet[o.Line]
	if !ok && !c.badLine[o.Line] { // a line in error was told already
		c.tell(o.Place, subject, string(o.Line), "the name of a line of the site", "")
	}
	return ok
}

// opening mends its own copy of an opening.
func (c *checker) opening(o *Opening, subject string, b Box) {
	if line, ok := c.lineSet[o.Line]; ok && c.pointSet[b.Part] && !slices.Contains(line.Path, b.Part) {
		c.remark(o.Place, subject, string(o.Line), "a line whose path comes by "+string(b.Part)+"; it has "+pathWords(line),
			"The opening is used as written.")
	}
	o.Bore = c.bore(o.Place, "bore of "+subject, o.Bore)
	if o.Down != nil && !c.boxed(o.Place, "down of "+subject, *o.Down, -deepestBox) {
		o.Down = nil
	}
	if o.Down != nil && b.Floor != nil && o.Down.Length > b.Floor.Length {
		c.remark(o.Place, "down of "+subject, o.Down.Text, "an invert above the floor, which lies "+b.Floor.Text+" below the level line",
			"Both are used as written.")
	}
	if !c.spread(o.Place, "sd of "+subject, o.SD) {
		o.SD = nil
	}
	if !(o.Narrowed >= 0 && o.Narrowed <= 1) {
		c.tell(o.Place, "narrowed of "+subject, fmt.Sprintf("%.4g %%", 100*o.Narrowed), "a share from 0% to 100%", "20%")
		o.Narrowed = 0
	}
	c.read(o, subject)
	c.across(o, subject, b)
}

// read checks the level point that the rod read for an opening.
func (c *checker) read(o *Opening, subject string) {
	switch {
	case o.Rod == "":
	case !c.stands(o.Place, "rod of "+subject, o.Rod):
		o.Rod = ""
	case !c.rodded[o.Rod]:
		c.remark(o.Place, "rod of "+subject, string(o.Rod), "a rod reading on its invert",
			"Without one the level of the opening is not known from the rod.")
	}
}

// across checks where along its wall an opening sits.
func (c *checker) across(o *Opening, subject string, b Box) {
	if o.FromLeft == nil {
		return
	}
	wall := b.Width
	if o.Wall == EdgeLeft || o.Wall == EdgeRight {
		wall = b.Length
	}
	switch left := o.FromLeft.Length; {
	case !(left >= 0 && left < deepestBox):
		c.tell(o.Place, "from left of "+subject, o.FromLeft.Text, "a length from zero to 10 m", `4"`)
		o.FromLeft = nil
	case o.Wall != AnyEdge && wall != nil && left > wall.Length:
		c.remark(o.Place, "from left of "+subject, o.FromLeft.Text, "a place on the wall, which is "+wall.Text+" long", "")
	}
}

// bore checks the inside diameter of a pipe; it returns 0, not known, for one
// that cannot be.
func (c *checker) bore(at Place, subject string, bore unit.Length) unit.Length {
	found := unit.Style{Form: unit.Inches, Digits: 2}.Format(bore)
	switch {
	case bore == 0:
	case !(bore > 0 && bore < largestBore):
		c.tell(at, subject, found, "an inside diameter above zero and under 1 m", "4 in")
		return 0
	case bore < smallestBore || bore > usualBore:
		c.remark(at, subject, found, "the inside diameter of a pipe, from 1/2 in to 12 in", "Look at its unit; it is used as written.")
	}
	return bore
}
