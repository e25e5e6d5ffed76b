package sheet

import (
	"slices"

	"undersod/core/planar"
	"undersod/core/window"
)

// farScale is the smallest drawing for which features of the property still
// set the scale, 1 in = 60 ft or 1:500. Past it, a far well or a long lot line
// would make the system too small to read: the drawing then holds the system,
// lines are cut at its edge, and what lies beyond is told in words.
func (w wording) farScale() Scale {
	if w.Metric() {
		return 500
	}
	return 720
}

// core returns the rectangle about the system, its marks and the buildings.
func core(things []thing) (extent, bool) {
	near := make([]thing, 0, len(things))
	for _, t := range things {
		if !t.outer {
			near = append(near, t)
		}
	}
	return extentOf(near)
}

// shown is the rectangle of the ground that an area of the paper shows.
func shown(m Mapping, area rect) window.Window {
	a, b := m.Plan(Pos{area.X0, area.Y1}), m.Plan(Pos{area.X1, area.Y0})
	return window.Window{Min: a, Max: b}
}

// cut keeps what lies in the window, and tells what does not.
func (c *content) cut(w window.Window) (kept []thing, beyond []string) {
	for _, t := range c.things {
		if !t.outer || t.inside(w) {
			kept = append(kept, t)
			continue
		}
		if t.look == looks { // the length of a side that is not all on the drawing
			beyond = append(beyond, t.label.told)
			continue
		}
		pieces := t.cut(w)
		kept = append(kept, pieces...)
		words := t.name + " goes on beyond the drawing"
		switch {
		case t.loose:
			words = t.unseen(pieces, w)
		case len(pieces) == 0:
			words = c.away(t)
		}
		if words != "" && !slices.Contains(beyond, words) {
			beyond = append(beyond, words)
		}
	}
	return kept, beyond
}

func (t *thing) inside(w window.Window) bool {
	for _, h := range t.holes {
		if !w.HoldsAll(h) {
			return false
		}
	}
	return w.HoldsAll(t.points)
}

// away tells how far a thing that is not drawn lies from the first mark.
func (c *content) away(t thing) string {
	mark := c.plan.Frame.Mark
	at, ok := c.Located(mark)
	if !ok && len(c.plan.Points) > 0 {
		mark = c.plan.Points[0].Name
		at, ok = c.Located(mark)
	}
	if !ok {
		return t.name + " lies beyond the drawing"
	}
	path := planar.Path(t.points)
	if t.closed {
		path = planar.Ring(t.points).Edge()
	}
	near := path.Distance(at)
	return t.name + " lies beyond the drawing, " + c.say.Length(near) + " from " + clean(string(mark))
}

// cut returns the pieces of a thing inside the window; the first, longest one
// keeps the label.
func (t thing) cut(w window.Window) []thing {
	if len(t.points) < 2 {
		return nil
	}
	if t.closed && manners[t.look].form == formArea {
		if p := w.Area(t.points); len(p) > 2 {
			t.points = p
			t.holes = cutHoles(t.holes, w)
			return []thing{t}
		}
		return nil
	}
	runs := w.Run(t.points, t.closed)
	for _, h := range t.holes {
		runs = append(runs, w.Run(h, true)...)
	}
	slices.SortStableFunc(runs, func(a, b []planar.Vec) int {
		return int(1000 * float64(planar.Path(b).Length()-planar.Path(a).Length()))
	})
	var out []thing
	for i, r := range runs {
		piece := t
		piece.points, piece.closed, piece.holes = r, false, nil
		piece.broken = [2]bool{r[0] != t.points[0], r[len(r)-1] != t.points[len(t.points)-1]}
		if i > 0 {
			piece.label = nil
		}
		out = append(out, piece)
	}
	if width, height := w.Size(); t.dimension() && len(out) > 0 && planar.Path(runs[0]).Length() < min(width, height)/12 {
		return nil // too short for its sign and its break
	}
	return out
}

// dimension tells whether the thing is a distance between two places.
func (t *thing) dimension() bool { return t.look < looks && manners[t.look].layer == layerDistances }

// cutHoles returns what the window leaves of the holes of an area.
func cutHoles(holes [][]planar.Vec, w window.Window) (kept [][]planar.Vec) {
	for _, h := range holes {
		if p := w.Area(h); len(p) > 2 {
			kept = append(kept, p)
		}
	}
	return kept
}
