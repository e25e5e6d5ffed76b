package figure

import (
	"cmp"
	"math"
	"slices"

	"undersod/core/hydraulic"
	"undersod/core/sheet"
	"undersod/core/unit"
)

// section draws the box with its openings.
func (s *section) section() {
	s.top = s.y + 3
	bottom := s.at(s.lo)
	floor, lid := s.box.Floor != nil, s.box.Lid != nil
	s.pen.box(s.left, s.top, s.right, bottom, sand)
	if s.water != nil {
		s.pen.box(s.left, s.at(*s.water), s.right, bottom, water)
		s.line(pos{X: s.left, Y: s.at(*s.water)}, pos{X: s.right, Y: s.at(*s.water)}, 0.35, slate)
	}
	s.reference()
	for i := range s.outlets {
		s.opening(i)
	}
	s.shell(bottom, floor, lid)
	if w := s.box.Water; w != nil && finite(*w) {
		s.line(pos{X: s.left, Y: s.at(*w)}, pos{X: s.right, Y: s.at(*w)}, 0.3, slate, 2, 1)
	}
	s.stub()
	s.levels(floor, lid)
	s.gauge()
	s.y = bottom + wall + 1.5
}

// reference is the level of the lowest outlet.
func (s *section) reference() {
	s.line(pos{X: s.left, Y: s.at(0)}, pos{X: s.right, Y: s.at(0)}, 0.2, ink, 0.8, 0.8)
}

// shell draws walls, floor and lid; what was not measured is broken.
func (s *section) shell(bottom mm, floor, lid bool) {
	for _, x := range [...]mm{s.left - wall, s.right} {
		s.pen.box(x, s.top, x+wall, bottom, loam)
	}
	slab := func(y mm, known, cut bool) {
		if known && !cut {
			s.pen.box(s.left-wall, y, s.right+wall, y+wall, loam)
			return
		}
		s.line(pos{X: s.left - wall, Y: y + wall/2}, pos{X: s.right + wall, Y: y + wall/2}, 0.3, stone, 1.6, 1)
	}
	slab(bottom, floor, s.cutFloor)
	slab(s.top-wall, lid, s.cutLid)
	for _, x := range [...]mm{s.left, s.right} {
		s.line(pos{X: x, Y: s.top}, pos{X: x, Y: bottom}, 0.35, ink)
	}
}

// opening draws one outlet with the water in its mouth.
func (s *section) opening(i int) {
	o := &s.outlets[i]
	at := o.level
	pen := &sheet.Stroke{Width: 0.4, Colour: ink}
	if !o.known {
		at, pen.Dash = 0, []mm{1, 0.7}
	}
	c := pos{X: s.middle(i), Y: (s.at(at) + s.at(at+o.bore)) / 2}
	ry := (s.at(at) - s.at(at+o.bore)) / 2
	rx := mm(o.bore) * s.perMetre / mm(s.factor) / 2
	fill := paper
	if o.closed {
		fill = stone
	}
	s.draw(sheet.Path{Runs: []sheet.Run{oval(c, rx, ry, -1)}, Fill: &fill, Name: o.name})
	if h := o.share; h != nil && o.known && !o.closed && h.Regime != hydraulic.Dry && h.Depth > 0 {
		full := between(float64(h.Depth/o.bore), 0, 1)
		s.draw(sheet.Path{Runs: []sheet.Run{oval(c, rx, ry, 1-2*full)}, Fill: &slate})
	}
	s.draw(sheet.Path{Runs: []sheet.Run{oval(c, rx, ry, -1)}, Stroke: pen, Name: o.name})
	if o.closed {
		k := mm(0.7)
		s.line(pos{X: c.X - k*rx, Y: c.Y - k*ry}, pos{X: c.X + k*rx, Y: c.Y + k*ry}, 0.3, ink)
		s.line(pos{X: c.X - k*rx, Y: c.Y + k*ry}, pos{X: c.X + k*rx, Y: c.Y - k*ry}, 0.3, ink)
	}
	if o.known {
		w := min(rx+2, s.column()/2-0.3)
		s.line(pos{X: c.X - w, Y: s.at(at)}, pos{X: c.X + w, Y: s.at(at)}, 0.5, clay)
	}
}

// oval returns the part of an ellipse that lies below from, where -1 is its top
// and 1 its bottom: the whole of it at -1.
func oval(c pos, rx, ry mm, from float64) sheet.Run {
	const n = 48
	start := math.Asin(between(from, -1, 1)) // from the right end round the bottom to the left one
	sweep := math.Pi - 2*start
	var points []pos
	for i := range n + 1 {
		sin, cos := math.Sincos(start + sweep*float64(i)/n)
		points = append(points, pos{X: c.X + rx*mm(cos), Y: c.Y + ry*mm(sin)})
	}
	return run(true, points...)
}

// stub draws the inlet through the left wall.
func (s *section) stub() {
	in, ok := s.inlet()
	if !ok {
		return
	}
	y0, y1 := s.at(in.At+s.mouth), s.at(in.At)
	x0, x1 := s.left-wall-6, s.left+1.5
	s.pen.box(x0, y0, x1, y1, paper)
	s.line(pos{X: x0, Y: y0}, pos{X: x1, Y: y0}, 0.35, ink)
	s.line(pos{X: x0, Y: y1}, pos{X: x1, Y: y1}, 0.35, ink)
	mid := (y0 + y1) / 2
	s.line(pos{X: x0 + 1, Y: mid}, pos{X: x1 - 2, Y: mid}, 0.35, slate)
	s.area(slate, pos{X: x1 - 0.5, Y: mid}, pos{X: x1 - 2.3, Y: mid - 0.8}, pos{X: x1 - 2.3, Y: mid + 0.8})
}

// reading is a level with its words at the left of the box.
type reading struct {
	at    mm
	words string
	bold  bool
}

// levels writes the levels of lid, inlet, water and floor at the left.
func (s *section) levels(floor, lid bool) {
	list := []reading{{s.at(0), "lowest outlet", false}}
	add := func(h unit.Length, what string, bold bool) {
		if finite(h) {
			list = append(list, reading{s.at(h), what + " " + s.say.over(h), bold})
		}
	}
	if in, ok := s.inlet(); ok {
		add(in.At, "inlet", false)
	}
	if s.water != nil {
		add(*s.water, "water", true)
	}
	if w := s.box.Water; w != nil {
		add(*w, "standing water", false)
	}
	if floor {
		add(*s.box.Floor, "floor", false)
	} else {
		list = append(list, reading{s.at(s.lo) + wall/2, "floor not measured", false})
	}
	if lid {
		add(*s.box.Lid, "lid", false)
	} else {
		list = append(list, reading{s.top - wall/2, "lid not measured", false})
	}
	s.spread(list, s.left-wall-8)
}

// spread writes levels to the left of x, as near to their heights as their
// neighbours allow, each with a thin line to its height.
func (s *section) spread(list []reading, x mm) {
	slices.SortStableFunc(list, func(a, b reading) int { return cmp.Compare(a.at, b.at) })
	at := make([]mm, len(list))
	for i, r := range list {
		at[i] = r.at
	}
	apart(at, s.lead(fine)+0.3, s.y+s.lead(fine)/2, s.at(s.lo)+wall+1.5)
	for i, r := range list {
		w := script{size: fine, colour: ink, align: sheet.AlignRight}
		if r.bold {
			w.weight, w.colour = sheet.Bold, slate
		}
		s.write(x, at[i]-s.lead(fine)/2, s.shorten(r.words, w, x-edge), w)
		s.pole(pos{X: x + 0.6, Y: at[i]}, pos{X: s.left - wall, Y: r.at})
	}
}

// apart moves sorted places so that they lie at least a gap apart, between two
// bounds where there is room.
func apart(at []mm, gap, lo, hi mm) {
	for i := range at {
		least := lo
		if i > 0 {
			least = at[i-1] + gap
		}
		at[i] = max(at[i], least)
	}
	for i := len(at) - 1; i >= 0; i-- {
		most := hi
		if i+1 < len(at) {
			most = at[i+1] - gap
		}
		at[i] = min(at[i], most)
	}
}

// gauge draws the scale of heights at the right, counted from the lowest outlet.
func (s *section) gauge() {
	x := s.right + wall + 1.2
	per, steps := unit.Inch, []float64{0.25, 0.5, 1, 2, 3, 6, 12}
	if s.say.metric() {
		per, steps = unit.Millimetre, []float64{5, 10, 20, 50, 100, 200}
	} else if s.say.Style.Form == unit.DecimalFeet {
		per, steps = unit.Foot, []float64{0.02, 0.05, 0.1, 0.2, 0.5, 1}
	}
	heights := axis{lo: float64(s.lo / per), hi: float64(s.hi / per)}
	every := stepOf(float64(s.lead(fine)+1.2)/float64(s.perMetre)/float64(per), steps...)
	s.line(pos{X: x, Y: s.top}, pos{X: x, Y: s.at(s.lo)}, 0.2, stone)
	for _, v := range heights.ticks(every) {
		y := s.at(unit.Length(v) * per)
		s.line(pos{X: x, Y: y}, pos{X: x + 1.2, Y: y}, 0.25, stone)
		if y-s.lead(fine)/2 >= s.y && y+s.lead(fine)/2 <= s.at(s.lo)+wall+1 {
			text := numberText(math.Round(v*1e4) / 1e4)
			if v == 0 {
				text += map[unit.Length]string{unit.Inch: " in", unit.Millimetre: " mm", unit.Foot: " ft"}[per]
			}
			s.write(x+1.8, y-s.lead(fine)/2, text, script{size: fine, colour: stone})
		}
	}
}
