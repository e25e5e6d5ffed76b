package sheet

import (
	"strings"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/ties"
	"undersod/core/unit"
)

// ties adds the tape distances as lines from mark to part.
func (c *content) ties() {
	for _, r := range c.job.Visit.Readings {
		t, ok := r.(site.Tie)
		if !ok || t.SetAside != "" {
			continue
		}
		ends, ok := c.All([]site.Name{t.From, t.To})
		if ok && !c.Doubtful(t.From) && !c.Doubtful(t.To) {
			c.add(thing{look: lookTie, points: ends})
		}
	}
}

func lookOfLine(k site.LineKind) look {
	switch k {
	case site.DrainLine:
		return lookTrench
	case site.BuildingSewer:
		return lookSewer
	case site.PressurePipe:
		return lookPressure
	}
	return lookEffluent
}

// lines adds the pipe runs with their measured lengths.
func (c *content) lines() {
	for _, l := range c.job.Site.Lines {
		name := clean(string(l.Name))
		w := &wish{lines: []string{c.lineWords(l, name)}, size: sizeLabel, colour: clay, way: wayLine, rank: 0}
		for _, s := range c.stretches(c.sure(l.Path), false) {
			t := thing{name: name, look: lookOfLine(l.Kind), points: s.points, label: w}
			if t.look == lookTrench && l.TrenchWidth > 0 && l.TrenchWidth < 100*unit.Metre {
				t.width = l.TrenchWidth
			}
			c.add(t)
			w = nil
		}
		c.unsure(l, name, w)
	}
}

// nowhere is the name of no point.
const nowhere site.Name = ""

// sure returns a path without its points that have two answers.
func (c *content) sure(path []site.Name) []site.Name {
	out := make([]site.Name, len(path))
	for i, n := range path {
		if out[i] = n; c.Doubtful(n) {
			out[i] = nowhere
		}
	}
	return out
}

// unsure adds the pieces of a line that lead to a point with two answers, to
// both its places.
func (c *content) unsure(l site.Line, name string, w *wish) {
	for i := range max(len(l.Path)-1, 0) {
		a, b := l.Path[i], l.Path[i+1]
		if !c.Doubtful(a) && !c.Doubtful(b) {
			continue
		}
		for _, p := range c.places(a) {
			for _, q := range c.places(b) {
				c.add(thing{name: name, look: lookTwo, points: []planar.Vec{p, q}, label: w})
				w = nil
			}
		}
	}
}

// places returns the one or two places where a point may lie.
func (c *content) places(n site.Name) []planar.Vec {
	at, ok := c.Located(n)
	switch {
	case !ok:
		return nil
	case c.Doubtful(n):
		p, _ := c.Point(n)
		return []planar.Vec{at, *p.Other}
	}
	return []planar.Vec{at}
}

// lineWords is a line's label: its name and its measured length.
func (c *content) lineWords(l site.Line, name string) string {
	if long, ok := c.Run(l.Name); ok {
		return name + ": " + c.say.Length(long)
	}
	return name
}

// outlines adds the tanks found with a probe, and those whose size is known.
func (c *content) outlines() {
	for _, p := range c.job.Site.Parts {
		if p.Kind != site.SepticTank && p.Kind != site.PumpTank {
			continue
		}
		corners, ok := c.corners(p)
		if !ok {
			continue
		}
		c.add(thing{name: clean(string(p.Name)), look: lookOfPart(p.Kind), points: corners[:], closed: true, label: partWish(p, wayArea)})
	}
}

// corners returns the outline of a tank: fitted to probe hits, or from its
// known size about its point, square to the first wall.
func (c *content) corners(p site.Part) ([4]planar.Vec, bool) {
	if o, ok := c.Outline(p.Name); ok {
		good := true
		for _, v := range o.Corners {
			good = good && ties.Drawable(v)
		}
		return o.Corners, good
	}
	at, ok := c.Located(p.Name)
	if !ok || c.Doubtful(p.Name) || !(p.Width > 0 && p.Length > 0 && p.Width < ties.Farthest && p.Length < ties.Farthest) {
		return [4]planar.Vec{}, false
	}
	u := planar.Polar(c.wall(), p.Length/2)
	v := planar.Polar(c.wall(), p.Width/2).Right()
	return [4]planar.Vec{at.Minus(u).Plus(v), at.Minus(u).Minus(v), at.Plus(u).Minus(v), at.Plus(u).Plus(v)}, true
}

// wall is the direction of the first wall, east where there is none.
func (c *content) wall() unit.Angle {
	for _, b := range c.job.Site.Buildings {
		if len(b.Corners) < 2 {
			continue
		}
		if ends, ok := c.All(b.Corners[:2]); ok {
			return ends[1].Minus(ends[0]).Azimuth()
		}
	}
	return 90 * unit.Degree
}

func lookOfPart(k site.PartKind) look {
	switch k {
	case site.SepticTank:
		return lookTank
	case site.PumpTank:
		return lookPump
	case site.DistributionBox:
		return lookBox
	case site.DropBox:
		return lookDrop
	case site.LineEnd:
		return lookEnd
	case site.Cleanout:
		return lookCleanout
	case site.Lid:
		return lookLid
	case site.InspectionPort:
		return lookPort
	}
	return lookBend
}

// signOfPart is the look of a part drawn as a symbol at its point.
func signOfPart(k site.PartKind) look {
	switch l := lookOfPart(k); l {
	case lookTank:
		return lookTankSign
	case lookPump:
		return lookPumpSign
	default:
		return l
	}
}

func partWish(p site.Part, w way) *wish {
	lines := []string{clean(string(p.Name))}
	if d := clean(p.Detail); d != "" && !strings.Contains(strings.ToLower(lines[0]), strings.ToLower(d)) {
		lines = append(lines, d)
	}
	return &wish{lines: lines, size: sizeLabel, colour: ink, way: w, rank: 1}
}

// points adds the symbols of parts, bends, hits and marks, with the ellipses
// of how sure they are.
func (c *content) points() {
	drawn := c.onFeatures()
	for _, sp := range c.job.Site.Points {
		p, ok := c.Point(sp.Name)
		if _, located := c.Located(sp.Name); !ok || !located {
			continue
		}
		l, w := c.sign(sp)
		if l == looks || drawn[sp.Name] {
			continue
		}
		c.stand(p, l, w)
	}
}

// stand adds one located point, at both its places where it has two.
func (c *content) stand(p adjust.Point, l look, w *wish) {
	name := clean(string(p.Name))
	if c.Doubtful(p.Name) {
		if w != nil {
			w.lines[0] += " ?"
		}
		c.add(thing{name: name, look: lookTwo, points: []planar.Vec{p.At, *p.Other}})
		c.add(thing{name: name, look: l, points: []planar.Vec{*p.Other}, label: w})
	} else if l != lookHit && p.Role != site.RoleFeature && !c.Moved(p) {
		c.ellipse(p, name)
	}
	c.add(thing{name: name, look: l, points: []planar.Vec{p.At}, label: w})
}

// onFeatures names the points that a single-point feature already stands for.
func (c *content) onFeatures() map[site.Name]bool {
	out := map[site.Name]bool{}
	for _, f := range c.job.Site.Features {
		if len(f.Points) == 1 {
			out[f.Points[0]] = true
		}
		if len(f.Points) == 0 {
			out[f.Name] = true
		}
	}
	return out
}

// sign chooses the symbol and the label of a point; the look looks for none.
func (c *content) sign(p site.Point) (look, *wish) {
	name := clean(string(p.Name))
	switch p.Role {
	case site.RoleMark, site.RoleCorner:
		return lookMark, &wish{lines: []string{name}, size: sizeLabel, weight: Bold, colour: ink, rank: 1}
	case site.RoleHit:
		return lookHit, nil
	case site.RolePart:
		return c.partSign(p)
	case site.RoleBend:
		if c.EndsLine(p.Name) {
			return lookEnd, &wish{lines: []string{name}, size: sizeFine, colour: ink, rank: 1}
		}
		if c.OnLine(p.Name) && !c.Read(p.Name) {
			return lookBend, nil // only known by way of others; nothing to look up
		}
		if c.OnLine(p.Name) {
			return lookBend, &wish{lines: []string{name}, size: sizeFine, colour: stone, rank: 2}
		}
	}
	return looks, nil
}

func (c *content) partSign(p site.Point) (look, *wish) {
	if part, ok := c.Part(p.Name); ok {
		if _, outlined := c.corners(part); outlined && manners[lookOfPart(part.Kind)].form == formArea {
			return looks, nil
		}
		return signOfPart(part.Kind), partWish(part, wayPoint)
	}
	return lookBend, &wish{lines: []string{clean(string(p.Name))}, size: sizeLabel, colour: ink, rank: 1}
}

// ellipse adds the 95 % ellipse of a point as a closed run of straight pieces.
func (c *content) ellipse(p adjust.Point, name string) {
	e := p.Ellipse
	if !(e.Major > 0 && e.Major < 1000*unit.Metre && e.Minor >= 0 && e.Minor <= e.Major) {
		return
	}
	c.add(thing{name: name, look: lookEllipse, points: ellipsePoints(p.At, e), closed: true, radius: e.Major})
}

// ellipsePoints returns 36 points round an ellipse.
func ellipsePoints(at planar.Vec, e adjust.Ellipse) []planar.Vec {
	const n = 36
	major, minor := planar.Polar(e.Azimuth, 1), planar.Polar(e.Azimuth, 1).Right()
	out := make([]planar.Vec, n)
	for i := range out {
		turn := planar.Polar(unit.Angle(i)*360*unit.Degree/n, 1)
		out[i] = at.Plus(major.Times(float64(turn.North * e.Major))).Plus(minor.Times(float64(turn.East * e.Minor)))
	}
	return out
}
