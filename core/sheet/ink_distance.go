package sheet

// breakFrom and breakWide place the two slashes of a dimension that is cut: how
// far before its end, and how far apart.
const (
	breakFrom MM = 2.5
	breakWide MM = 1.1
)

// distance draws a dimension: a line, open where its words stand in it, with a
// sign at both ends that tells its grade without colour. Where it leads beyond
// the drawing, two slashes break it in place of the sign.
func (k *painter) distance(f *figure, m *manner, cut box, inline bool) {
	var cuts []box
	if inline {
		cuts = []box{cut}
	}
	k.run(f, m, cuts)
	last := len(f.at) - 1
	d, _ := direction(f.at[0], f.at[last])
	for i, at := range [...]Pos{f.at[0], f.at[last]} {
		inward := d
		if i == 1 {
			inward = step{-d.x, -d.y}
		}
		if f.broken[i] {
			k.slashes(f, m, at.toward(inward, breakFrom))
			continue
		}
		k.put(m.layer, m.sign(at, f.name)...)
	}
}

// signPen is the pen of a dimension's signs: full and never heavy, however the
// line itself is drawn.
func signPen(m *manner) Stroke {
	return Stroke{Width: min(m.stroke.Width+0.1, 0.4), Colour: m.stroke.Colour}
}

// sign draws what stands at the end of a dimension.
func (m *manner) sign(at Pos, name string) []Shape {
	return m.symbol.draw(at, manner{form: formPoint, stroke: signPen(m), fill: &paper}, name)
}

// slashes draws the break of a line near a place.
func (k *painter) slashes(f *figure, m *manner, at Pos) {
	d, _ := direction(f.at[0], f.at[len(f.at)-1])
	n := step{-d.y, d.x}
	pen := signPen(m)
	p := Path{Stroke: &pen, Name: f.name}
	for _, along := range [...]MM{-breakWide / 2, breakWide / 2} {
		mid := at.toward(d, along)
		p.Runs = append(p.Runs, straight([]Pos{mid.toward(d, 0.5).toward(n, 1), mid.toward(d, -0.5).toward(n, -1)}, false))
	}
	k.put(m.layer, p)
}
