package sheet

// figure is a thing laid on the paper.
type figure struct {
	*thing
	at    []Pos
	holes [][]Pos // of an area
	half  MM      // half the width of a trench, 0 when not to scale
	clear MM      // half the width that its label keeps clear of
	r     MM      // of the circle, 0 for none
	owner int32
}

// lay maps the things onto paper. Things of one name have one owner.
func lay(things []thing, m Mapping) []figure {
	owners := map[string]int32{}
	out := make([]figure, len(things))
	for i := range things {
		t := &things[i]
		id, known := owners[t.name]
		if !known {
			id = int32(len(owners))
			owners[t.name] = id
		}
		f := figure{thing: t, owner: id, at: make([]Pos, len(t.points))}
		for k, v := range t.points {
			f.at[k] = m.Paper(v)
		}
		if t.loose {
			f.thin(m)
		}
		f.half = MM(float64(t.width)*m.MMPerMetre) / 2
		if f.clear = f.half; t.look < looks && manners[t.look].layer == layerFindings {
			f.clear = max(MM(float64(t.beside)*m.MMPerMetre)/2+edgeWidth/2, tickReach, manners[t.look].stroke.Width/2)
		}
		if t.dimension() {
			f.clear = manners[t.look].stroke.Width / 2
		}
		f.r = MM(float64(t.radius) * m.MMPerMetre)
		out[i] = f
	}
	return out
}

// smallest is the radius under which an ellipse is not drawn but told in the
// table.
const smallest MM = 0.6

// drawn tells whether anything of the figure is drawn.
func (f *figure) drawn() bool {
	return f.look != looks && (f.look != lookEllipse || f.r >= smallest)
}

// nearly is how close together the corners of a curve may lie on paper.
const nearly MM = 0.05

// thin lays the holes on paper as well, and drops corners of curves that no eye
// tells apart.
func (f *figure) thin(m Mapping) {
	f.at = thinned(f.at)
	for _, h := range f.thing.holes {
		ring := make([]Pos, len(h))
		for i, v := range h {
			ring[i] = m.Paper(v)
		}
		f.holes = append(f.holes, thinned(ring))
	}
}

// thinned returns a run without the corners that nearly fall on the one before;
// its ends stay.
func thinned(run []Pos) []Pos {
	out := run[:min(len(run), 1)]
	for i := 1; i < len(run); i++ {
		if i == len(run)-1 || distance(out[len(out)-1], run[i]) >= nearly {
			out = append(out, run[i])
		}
	}
	return out
}

// rings returns the outline of an area and its holes.
func (f *figure) rings() [][]Pos { return append([][]Pos{f.at}, f.holes...) }

// segments calls do for each straight piece.
func (f *figure) segments(do func(i int, a, b Pos)) {
	for _, ring := range f.rings() {
		n := len(ring)
		for i := 0; i+1 < n; i++ {
			do(i, ring[i], ring[i+1])
		}
		if f.closed && n > 2 {
			do(n-1, ring[n-1], ring[0])
		}
	}
}

// isPoint tells whether the figure is a symbol at one point.
func (f *figure) isPoint() bool { return len(f.at) == 1 }

// bounds returns the upright rectangle about the figure's points.
func (f *figure) bounds() rect {
	r := segRect(f.at[0], f.at[0])
	for _, p := range f.at[1:] {
		q := segRect(p, p)
		r = rect{min(r.X0, q.X0), min(r.Y0, q.Y0), max(r.X1, q.X1), max(r.Y1, q.Y1)}
	}
	return r
}
