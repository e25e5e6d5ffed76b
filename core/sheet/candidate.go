package sheet

import "math"

// candidate is one place a label might take.
type candidate struct {
	box      box
	cost     float64
	leader   bool
	from, to Pos // of the leader, from the label to the thing
	inline   bool
	align    Align // of the lines of its text
	span     rect  // about all of it
}

// label is a label looking for its place.
type label struct {
	fig    *figure
	wish   *wish
	lines  []string
	w, h   MM  // of the block of text with its margin
	key    int // number in the list of the sheet, 0 for a label written out
	tries  []candidate
	chosen int // -1 for none
}

// margin lies round the text of a label.
const labelMargin MM = 0.3

// widest is how wide a label grows before it is broken into lines.
const widest MM = 40

// newLabel measures a wish.
func newLabel(f *figure, w *wish, m *measure) *label {
	l := &label{fig: f, wish: w, chosen: -1}
	for _, text := range w.lines {
		for _, line := range m.wrap(text, w.weight, w.size, widest) {
			l.lines = append(l.lines, line)
			l.w = max(l.w, m.width(line, w.weight, w.size))
		}
	}
	l.w += 2 * labelMargin
	l.h = MM(len(l.lines))*m.lead(w.weight, w.size) + 2*labelMargin
	return l
}

// anchor is what a label may point to: a place with half sizes to keep off.
type anchor struct {
	at     Pos
	rx, ry MM
	target MM // distance from the place at which a leader ends
}

// ringStep is a distance at which places round an anchor are tried.
type ringStep struct {
	gap    MM
	leader bool
}

var ringSteps = []ringStep{
	{0.5, false}, {1.3, false}, {3.5, true}, {5.5, true}, {8, true}, {11, true},
	{15, true}, {20, true}, {27, true}, {36, true}, {48, true}, {64, true},
}

// around calls try with the places round an anchor at one ring.
func (l *label) around(a anchor, s ringStep, try func(candidate)) {
	const directions = 16
	for i := range directions {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / directions)
		d := step{cos, -sin}
		at := a.at.toward(d, s.gap)
		at.X += lean(d.x) * (a.rx + l.w/2)
		at.Y += lean(d.y) * (a.ry + l.h/2)
		c := candidate{box: box{C: at, UX: 1, HW: l.w / 2, HH: l.h / 2}, cost: preference(d), align: toward(d)}
		if s.leader {
			c.leader = true
			c.from = c.box.nearest(a.at)
			back, _ := direction(a.at, c.from)
			c.to = a.at.toward(back, a.target)
			c.cost = 3 + 0.3*float64(distance(c.from, c.to)) + 0.5*c.cost
		} else {
			c.cost += float64(s.gap)
		}
		try(c)
	}
}

// toward sets the lines of a label toward its thing.
func toward(d step) Align {
	switch {
	case d.x > 0.3:
		return AlignLeft
	case d.x < -0.3:
		return AlignRight
	}
	return AlignMiddle
}

// lean is how far to one side a label stands in a direction: fully to the
// side, except near the middle.
func lean(d float64) MM { return MM(min(max(d/0.35, -1), 1)) }

// preference is the cost of a direction: right and up are read easiest.
func preference(d step) float64 {
	return 0.5 - 0.3*d.x + 0.2*d.y + 0.4*math.Abs(d.y)
}

// beside calls try with the places along one piece of a run: above, below and
// on the run itself.
func (l *label) beside(a, b Pos, half MM, try func(candidate)) {
	d, length := direction(a, b)
	if d.x < -1e-9 || (math.Abs(d.x) <= 1e-9 && d.y > 0) {
		d = step{-d.x, -d.y} // read from the left, or from the right side of the sheet
		a, b = b, a
	}
	if length < 0.7*l.w {
		return
	}
	over := 2 * max(0, float64(l.w/length)-0.9)
	up := step{d.y, -d.x}
	for i, t := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88} {
		on := between(a, b, t)
		for side, sign := range [...]MM{1, -1} {
			for g, gap := range [...]MM{0.35, 1.2} {
				at := on.toward(up, sign*(half+gap+l.h/2))
				try(candidate{
					box: box{C: at, UX: d.x, UY: d.y, HW: l.w / 2, HH: l.h / 2}, align: AlignMiddle,
					cost: 0.25*float64(i) + 0.3*float64(side) + 0.5*float64(g) + over,
				})
			}
		}
		if l.mayCut() && length > l.w+3 && float64(length)*min(t, 1-t) > float64(l.w/2+0.8) {
			try(candidate{
				box: box{C: on, UX: d.x, UY: d.y, HW: l.w / 2, HH: l.h / 2}, inline: true, align: AlignMiddle,
				cost: 1.2 + 0.25*float64(i),
			})
		}
	}
}

// mayCut tells whether the label may interrupt its own run.
func (l *label) mayCut() bool {
	return l.fig.look < looks && manners[l.fig.look].form == formLine && manners[l.fig.look].layer != layerFindings && len(l.lines) == 1 && l.key == 0
}

// within calls try with the places inside an area, level and along its longest
// side.
func (l *label) within(poly []Pos, try func(candidate)) {
	r := l.fig.bounds()
	turns := []step{{1, 0}, longest(poly)}
	for iy := range 7 {
		for ix := range 7 {
			at := Pos{r.X0 + r.width()*MM(ix+1)/8, r.Y0 + r.height()*MM(iy+1)/8}
			if !inside(at, poly) {
				continue
			}
			off := math.Abs(float64(ix-3)) + math.Abs(float64(iy-3))
			for k, u := range turns {
				b := box{C: at, UX: u.x, UY: u.y, HW: l.w / 2, HH: l.h / 2}
				if b.cornersInside(poly) {
					try(candidate{box: b, cost: 0.3*off + float64(k), align: AlignMiddle})
				}
			}
		}
	}
}

func (b box) cornersInside(poly []Pos) bool {
	return inside(b.place(-b.HW, -b.HH), poly) && inside(b.place(b.HW, -b.HH), poly) &&
		inside(b.place(-b.HW, b.HH), poly) && inside(b.place(b.HW, b.HH), poly)
}

// longest returns the direction of the longest side, read from the left.
func longest(poly []Pos) step {
	best, far := step{1, 0}, MM(0)
	for i, a := range poly {
		if d, l := direction(a, poly[(i+1)%len(poly)]); l > far+1e-6 {
			best, far = d, l
		}
	}
	if best.x < -1e-9 || (math.Abs(best.x) <= 1e-9 && best.y > 0) {
		best = step{-best.x, -best.y}
	}
	return best
}

// anchors returns what a label's leader may point to.
func (l *label) anchors() []anchor {
	f := l.fig
	switch {
	case f.isPoint():
		r := MM(0.3)
		if f.look < looks {
			r = max(r, manners[f.look].symbol.reach())
		}
		return []anchor{{f.at[0], r, r, r + 0.2}}
	case f.look == lookBand:
		return l.curveAnchors()
	case l.wish.way == wayArea:
		r := f.bounds()
		if max(r.width(), r.height()) < 30 {
			return []anchor{{r.centre(), r.width() / 2, r.height() / 2, min(r.width(), r.height()) * 0.35}}
		}
	}
	return l.runAnchors()
}

// runAnchors returns places along the pieces of a run, the longest piece first.
func (l *label) runAnchors() []anchor {
	var far MM
	var a, b Pos
	l.fig.segments(func(_ int, p, q Pos) {
		if d := distance(p, q); d > far {
			far, a, b = d, p, q
		}
	})
	r := l.fig.clear
	var out []anchor
	for _, t := range [...]float64{0.5, 0.3, 0.7, 0.12, 0.88} {
		out = append(out, anchor{between(a, b, t), r, r, 0})
	}
	return out
}
