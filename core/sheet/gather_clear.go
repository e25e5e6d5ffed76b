package sheet

import (
	"strings"

	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/ties"
	"undersod/core/window"
)

// clear adds setbacks and what is proposed.
func (c *content) clear(s *Clear) {
	if s == nil {
		return
	}
	c.title, c.allowedAs = clean(s.Title), clean(s.AllowedAs)
	for _, from := range s.Sources {
		c.sources = append(c.sources, clean(from))
	}
	for _, p := range s.Allowed {
		c.allowed(p)
	}
	for _, b := range s.Bands {
		c.band(b)
	}
	for _, p := range s.Proposed {
		c.proposed(p)
	}
	for _, d := range s.Distances {
		c.distance(d)
	}
	for _, m := range s.Shifts {
		c.shift(m)
	}
}

// addLoose adds what sets no scale.
func (c *content) addLoose(t thing) {
	t.outer, t.loose, c.loose = true, true, true
	c.add(t)
}

// allowed adds one piece of the region where the middle of a footprint may lie.
func (c *content) allowed(p Patch) {
	outer, holes := rings(p)
	if len(outer) > 0 {
		c.addLoose(thing{name: c.allowedAs, look: lookAllowed, points: outer, holes: holes, closed: true})
	}
}

// band adds the edge of a setback with its words along it.
func (c *content) band(b Band) {
	outer, holes := rings(b.Area)
	if len(outer) == 0 {
		return
	}
	t := thing{name: clean(b.Words), look: lookBand, points: outer, holes: holes, closed: true}
	t.label = &wish{lines: []string{t.name}, size: sizeFine, colour: soil, way: wayLine, rank: 4}
	c.addLoose(t)
}

// proposed adds the outline of something to be built, or the symbol of a well
// to be drilled. It sets the scale as the system does.
func (c *content) proposed(p Proposal) {
	name := clean(string(p.Name))
	w := &wish{size: sizeLabel, weight: Bold, colour: ink, rank: 1}
	for _, l := range p.Words {
		if l = clean(l); l != "" {
			w.lines = append(w.lines, l)
		}
	}
	if len(w.lines) == 0 {
		w.lines = []string{name}
	}
	w.told = strings.Join(w.lines, ", ")
	t := thing{name: name, look: lookProposed, points: ringOf(p.Outline), label: w}
	switch len(t.points) {
	case 0:
		c.lost = append(c.lost, t.name+": proposed, but its place is not known")
		return
	case 1:
		t.look = lookNewWell
	case 2:
		w.way = wayLine
	default:
		w.way, t.closed = wayArea, true
	}
	c.add(t)
}

// distance adds a dimension; one without length is a sign at its place.
func (c *content) distance(d Distance) {
	if !ties.Drawable(d.From) || !ties.Drawable(d.To) {
		return
	}
	grade := look(min(max(d.Grade, site.Note), site.Act) - site.Note) // one not stated is a note
	words, weight := clean(d.Words), Regular
	if d.Grade >= site.Act {
		weight = Bold
	}
	t := thing{name: words, look: lookFarNote + grade, points: []planar.Vec{d.From, d.To}}
	t.label = &wish{lines: []string{words}, size: sizeFine, weight: weight, colour: ink, way: wayLine, rank: 1}
	if planar.Path(t.points).Length() < shortest/100 {
		t.points, t.label.way = t.points[:1], wayPoint
	}
	c.addLoose(t)
}

// shift adds what moved: an arrow, the place it left with the words, and its old
// outline or run.
func (c *content) shift(m Shift) {
	if !ties.Drawable(m.From) || !ties.Drawable(m.To) {
		return
	}
	words := clean(m.Words)
	for _, run := range m.Before {
		if run := ringOf(planar.Ring(run)); len(run) > 1 {
			c.addLoose(thing{name: words, look: lookWasEdge, points: run, closed: m.Closed && len(run) > 2})
		}
	}
	if m.To.Minus(m.From).Length() >= shortest/100 {
		c.addLoose(thing{name: words, look: lookShift, points: []planar.Vec{m.From, m.To}})
	}
	t := thing{name: words, look: lookWas, points: []planar.Vec{m.From}}
	t.label = &wish{lines: []string{words}, size: sizeFine, weight: Bold, colour: ink, way: wayPoint, rank: 1}
	c.addLoose(t)
}

// rings returns the outline of a patch and its holes, without what cannot be
// drawn; no outline where fewer than three corners are left.
func rings(p Patch) (outer []planar.Vec, holes [][]planar.Vec) {
	if outer = ringOf(p.Outer); len(outer) < 3 {
		return nil, nil
	}
	for _, h := range p.Holes {
		if h := ringOf(h); len(h) > 2 {
			holes = append(holes, h)
		}
	}
	return outer, holes
}

// ringOf returns the corners of a ring that can be drawn, the last not again
// where it closes the ring.
func ringOf(r planar.Ring) []planar.Vec {
	var out []planar.Vec
	for _, v := range r {
		if ties.Drawable(v) && (len(out) == 0 || out[len(out)-1] != v) {
			out = append(out, v)
		}
	}
	if n := len(out); n > 1 && out[0] == out[n-1] {
		out = out[:n-1]
	}
	return out
}

// unseen says what the drawing does not show of a thing that sets no scale,
// cut into pieces; empty where that need not be told.
func (t *thing) unseen(pieces []thing, w window.Window) string {
	switch {
	case len(pieces) > 0 || t.name == "":
		return ""
	case t.look == lookBand && covers(t, w.Centre()):
		return "All of the drawing lies within: " + t.name
	case t.look == lookBand:
		return "The edge lies beyond the drawing: " + t.name
	case t.look == lookAllowed:
		return "Beyond the drawing: " + t.name
	}
	return "A distance that leads beyond the drawing: " + t.name
}

// covers tells whether a place lies in an area and not in its holes.
func covers(t *thing, at planar.Vec) bool {
	in := planar.Ring(t.points).Contains(at)
	for _, h := range t.holes {
		in = in && !planar.Ring(h).Contains(at)
	}
	return in
}
