package sheet

import (
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/ties"
	"undersod/core/unit"
)

// shortest is the least length of a stretch that is drawn as one; a shorter one
// would not be told from the dashes of its line.
const shortest = unit.Foot

// findings adds what was seen in the lines, and lists what has no place.
func (c *content) findings(all []Finding) {
	wide := map[site.Name]unit.Length{}
	for _, l := range c.job.Site.Lines {
		if l.Kind == site.DrainLine && l.TrenchWidth > 0 && l.TrenchWidth < 100*unit.Metre {
			wide[l.Name] = l.TrenchWidth
		}
	}
	for _, f := range all {
		t := findingThing(f)
		if len(t.points) == 0 {
			c.lost = append(c.lost, t.name+": seen, but its place is not known")
			continue
		}
		t.beside = wide[f.Line]
		c.add(t)
	}
}

// findingThing makes a thing of a finding, without points where it has no place.
func findingThing(f Finding) thing {
	words, weight := clean(f.Words), Regular
	if f.Grade >= site.Act {
		weight = Bold
	}
	name := clean(string(f.Line))
	if words != "" && name != "" {
		name += ": "
	}
	name += words
	t := thing{name: name, outer: true}
	grade := look(min(max(f.Grade, site.Note), site.Act) - site.Note) // one not stated is a note
	t.points, t.look = stretchOf(f.Path), lookRunNote+grade
	if len(t.points) == 1 {
		t.look = lookSeenNote + grade
	}
	if words != "" {
		w := &wish{lines: []string{words}, told: name, size: sizeLabel, weight: weight, colour: ink, rank: 1}
		if len(t.points) > 1 {
			w.way = wayLine
		}
		t.label = w
	}
	return t
}

// stretchOf returns the points of a path that can be drawn: its middle alone
// where it is too short to be seen as a stretch.
func stretchOf(path []planar.Vec) []planar.Vec {
	var out []planar.Vec
	for _, v := range path {
		if ties.Drawable(v) && (len(out) == 0 || out[len(out)-1] != v) {
			out = append(out, v)
		}
	}
	if len(out) > 1 && planar.Path(out).Length() < shortest {
		return []planar.Vec{out[0].Plus(out[len(out)-1]).Times(0.5)}
	}
	return out
}
