package sheet

// sampleWidth is the width of a sample in the legend.
const sampleWidth MM = 8

// legend explains what is on the sheet, in as many columns as fit.
func (f *facts) legend(width MM) block {
	b := block{head: "Legend", noun: "line of the legend", whole: true}
	across := max(int((width+3)/32), 1)
	each := (width - 3*MM(across-1)) / MM(across)
	var items []row
	for l := range looks {
		if f.used[l] {
			items = append(items, f.legendItem(l, each))
		}
	}
	for i := 0; i < len(items); i += across {
		b.rows = append(b.rows, sideBySide(items[i:min(i+across, len(items))], each, 3))
	}
	return b
}

// sideBySide makes one row of several of the same width.
func sideBySide(rows []row, each, gap MM) row {
	var h MM
	for _, r := range rows {
		h = max(h, r.height)
	}
	return row{h, func(k *furniture, in rect) {
		for i, r := range rows {
			x := in.X0 + MM(i)*(each+gap)
			r.draw(k, rect{x, in.Y0, x + each, in.Y0 + r.height})
		}
	}}
}

func (f *facts) legendItem(l look, width MM) row {
	words := manners[l].words
	if l == lookTrench && f.trench {
		words = "drain line, to scale"
	}
	if l == lookAllowed && f.c.allowedAs != "" {
		words = f.c.allowedAs
	}
	lines := f.m.wrap(words, Regular, sizeTable, width-sampleWidth-1.5)
	lead := f.m.lead(Regular, sizeTable)
	return row{max(MM(len(lines))*lead+0.6, 4.2), func(k *furniture, in rect) {
		y := in.Y0 + (in.height()-MM(len(lines))*lead)/2
		for i, t := range lines {
			k.write(in.X0+sampleWidth+1.5, y+MM(i)*lead, t, Regular, sizeTable, ink)
		}
		mid := (in.Y0 + in.Y1) / 2
		k.sample(l, rect{in.X0, mid - 1.5, in.X0 + sampleWidth, mid + 1.5})
	}}
}

// sample draws one look as it is drawn on the plan.
func (k *furniture) sample(l look, in rect) {
	m := &manners[l]
	pen := m.stroke
	at := in.centre()
	switch {
	case m.form == formPoint:
		k.put(m.symbol.draw(at, *m, "")...)
	case l == lookEllipse:
		k.put(Path{Runs: []Run{circle(at, 1.4)}, Stroke: &pen})
	case m.form == formArea:
		swatch := []Pos{{in.X0 + 1, in.Y0}, {in.X1 - 1, in.Y0}, {in.X1 - 1, in.Y1}, {in.X0 + 1, in.Y1}}
		k.put(Path{Runs: []Run{straight(swatch, true)}, Stroke: &pen, Fill: m.fill})
		if lines, ok := hatch(l, [][]Pos{swatch}, nil, ""); ok {
			k.put(lines)
		}
	default:
		k.sampleLine(l, m, in)
	}
}

// shortened makes a long pattern of dashes small enough for a sample.
func shortened(dash []MM) []MM {
	var whole MM
	for _, d := range dash {
		whole += d
	}
	if whole <= sampleWidth*0.6 {
		return dash
	}
	out := make([]MM, len(dash))
	for i, d := range dash {
		out[i] = d * 0.45
	}
	return out
}

func (k *furniture) sampleLine(l look, m *manner, in rect) {
	pen := m.stroke
	a, b := Pos{in.X0, in.centre().Y}, Pos{in.X1, in.centre().Y}
	if l == lookTrench && k.facts.trench {
		k.put(Path{Runs: []Run{straight([]Pos{{in.X0, in.Y0 + 0.4}, {in.X1, in.Y0 + 0.4}, {in.X1, in.Y1 - 0.4}, {in.X0, in.Y1 - 0.4}}, true)},
			Stroke: &Stroke{Width: edgeWidth, Colour: pen.Colour}, Fill: m.fill})
	}
	pen.Dash = shortened(pen.Dash)
	k.put(Path{Runs: []Run{straight([]Pos{a, b}, false)}, Stroke: &pen})
	if m.tick != tickNone {
		tick := Stroke{Width: pen.Width, Colour: pen.Colour}
		k.put(m.tick.draw(middle(a, b), step{1, 0}, tick, ""))
	}
	if m.layer == layerDistances {
		k.put(m.sign(Pos{a.X + 1, a.Y}, "")...)
		k.put(m.sign(Pos{b.X - 1, b.Y}, "")...)
	}
}
