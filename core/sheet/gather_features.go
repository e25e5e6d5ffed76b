package sheet

import (
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/ties"
	"undersod/core/unit"
)

// featureLooks holds the look of each kind of feature.
var featureLooks = map[site.FeatureKind]look{
	site.Tree: lookTree, site.Well: lookWell, site.Driveway: lookDrive, site.PropertyLine: lookProperty,
	site.WaterLine: lookWaterLine, site.Pool: lookPool, site.SurfaceWater: lookWater, site.ReserveArea: lookReserve,
	site.Fence: lookFence, site.Downspout: lookDownspout, site.Structure: lookStructure, site.SoilTest: lookSoil,
	site.UtilityLine: lookUtility, site.Spring: lookSpring, site.Wetland: lookWetland, site.Drain: lookDrain,
	site.Bank: lookBank, site.Easement: lookEasement, site.DryWell: lookDryWell, site.Cistern: lookCistern,
	site.FloodPlain: lookFloodPlain, site.Sinkhole: lookSinkhole, site.StormPipe: lookStormPipe,
	site.Ditch: lookDitch, site.OtherField: lookOtherField,
}

// lookOfFeature is the look of a feature by its kind.
func lookOfFeature(f site.Feature) look {
	if l, ok := featureLooks[f.Kind]; ok {
		return l
	}
	return lookPoint
}

// features adds the features of the property.
func (c *content) features() {
	for _, f := range c.job.Site.Features {
		c.feature(f)
	}
	for i := range c.things {
		c.things[i].outer = true
	}
}

func (c *content) feature(f site.Feature) {
	names := f.Points
	if len(names) == 0 {
		names = []site.Name{f.Name}
	}
	l, name := lookOfFeature(f), clean(string(f.Name))
	w := &wish{lines: []string{name}, size: sizeTable, colour: soil, rank: 3}
	if len(names) == 1 {
		if v, ok := c.Located(names[0]); ok {
			if mark := clean(string(names[0])); c.IsMark(names[0]) && mark != name {
				w.lines[0] += " (" + mark + ")" // ties name the mark, the owner knows the feature
			}
			c.add(thing{name: name, look: pointLook(l), points: []planar.Vec{v}, radius: round(f), label: w})
		}
		return
	}
	for i, run := range c.stretches(names, f.Closed) {
		t := thing{name: name, look: l, points: run.points, closed: run.closed}
		w.way = wayLine
		if run.closed && manners[l].form == formArea {
			w.way = wayArea
		}
		if i == 0 {
			t.label = w
		}
		c.add(t)
	}
	if f.Kind == site.PropertyLine {
		c.dimensions(f, name)
	}
}

// dimensions adds the length of each side of a property line, as its own label.
func (c *content) dimensions(f site.Feature, name string) {
	for _, s := range c.Sides(f) {
		if s.Lost != "" {
			continue
		}
		c.sided = true
		words := s.Words(c.say.Wording)
		c.add(thing{name: name, look: looks, points: s.Ends[:], label: &wish{
			lines: []string{words}, told: name + ", " + clean(string(s.From)) + "–" + clean(string(s.To)) + ": " + words,
			size: sizeFine, colour: ink, way: wayLine, rank: 3,
		}})
	}
}

// pointLook is the look of a feature that is a single point: lines and areas
// have no sign of their own.
func pointLook(l look) look {
	if manners[l].symbol == symbolNone {
		return lookPoint
	}
	return l
}

func round(f site.Feature) unit.Length {
	if f.Radius > 0 && f.Radius < ties.Farthest {
		return f.Radius
	}
	return 0
}

// stretch is a piece of a run all of whose points are located.
type stretch struct {
	points []planar.Vec
	from   int // index of its first point in the run
	closed bool
}

// stretches cuts a run where a point of it is not located.
func (c *content) stretches(names []site.Name, closed bool) []stretch {
	if all, ok := c.All(names); ok && closed && len(all) > 2 {
		return []stretch{{points: all, closed: true}}
	}
	var out []stretch
	var now stretch
	flush := func() {
		if len(now.points) > 1 {
			out = append(out, now)
		}
		now = stretch{}
	}
	for i, n := range names {
		v, ok := c.Located(n)
		if !ok {
			flush()
			continue
		}
		if len(now.points) == 0 {
			now.from = i
		}
		now.points = append(now.points, v)
	}
	flush()
	return out
}

// buildings adds the outlines of the buildings and the lengths of their sides.
func (c *content) buildings() {
	for _, b := range c.job.Site.Buildings {
		name := clean(string(b.Name))
		for _, s := range c.stretches(b.Corners, true) {
			t := thing{name: name, look: lookHouse, points: s.points, closed: s.closed}
			if s.closed {
				t.label = &wish{lines: []string{name}, size: sizeHead, weight: Bold, colour: ink, way: wayArea, rank: 2}
			}
			c.add(t)
		}
		c.sides(b, name)
	}
}

// sides adds the length of each side that was measured, as its own label.
func (c *content) sides(b site.Building, name string) {
	for i, s := range b.Sides {
		if clean(s.Text) == "" || i >= len(b.Corners) {
			continue
		}
		ends, ok := c.All([]site.Name{b.Corners[i], b.Corners[(i+1)%len(b.Corners)]})
		if !ok {
			continue
		}
		c.add(thing{name: name, look: looks, points: ends, label: &wish{
			lines: []string{c.say.Length(s.Length)}, size: sizeFine, colour: ink, way: wayLine, rank: 2,
		}})
	}
}
