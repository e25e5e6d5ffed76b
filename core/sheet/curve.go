package sheet

import "sort"

// curve is a run of many short pieces, walked by distance.
type curve struct {
	at     []Pos
	far    []MM // from the first corner to each
	closed bool
}

func newCurve(run []Pos, closed bool) curve {
	if closed {
		run = append(run[:len(run):len(run)], run[0])
	}
	c := curve{at: run, far: make([]MM, len(run)), closed: closed}
	for i := 1; i < len(run); i++ {
		c.far[i] = c.far[i-1] + distance(run[i-1], run[i])
	}
	return c
}

func (c curve) length() MM { return c.far[len(c.far)-1] }

// place returns the place at a distance along the curve, round it again where
// it is closed, and false beyond its ends.
func (c curve) place(s MM) (Pos, bool) {
	whole := c.length()
	if c.closed && s < 0 {
		s += whole
	}
	if c.closed && s > whole {
		s -= whole
	}
	if !(s >= 0 && s <= whole) {
		return Pos{}, false
	}
	i := sort.Search(len(c.far), func(i int) bool { return c.far[i] >= s })
	if i == 0 {
		return c.at[0], true
	}
	return between(c.at[i-1], c.at[i], float64((s-c.far[i-1])/(c.far[i]-c.far[i-1]))), true
}

// curvePlaces is how many places along a curve are tried.
const curvePlaces = 20

// onCurve calls try with the places of a label in the line of a setback, where
// that is nearly straight for as long as the label; holes first, since the
// inner edge of a strip along the property line is the one that matters.
func (l *label) onCurve(try func(candidate)) {
	rings := l.fig.rings()
	for n := len(rings) - 1; n >= 0; n-- {
		c := newCurve(rings[n], l.fig.closed)
		for i := range curvePlaces {
			s := c.length() * (MM(i) + 0.5) / curvePlaces
			p, ok := c.place(s - l.w/2)
			q, and := c.place(s + l.w/2)
			mid, _ := c.place(s)
			d, chord := direction(p, q)
			if !ok || !and || chord < 0.96*l.w || distance(mid, middle(p, q)) > l.h/2 {
				continue
			}
			if d.x < -1e-9 || (d.x <= 1e-9 && d.y > 0) {
				d = step{-d.x, -d.y} // read from the left, or from the right side of the sheet
			}
			try(candidate{
				box:  box{C: middle(mid, middle(p, q)), UX: d.x, UY: d.y, HW: l.w / 2, HH: l.h / 2},
				cost: 0.05*float64(i) + 0.3*float64(len(rings)-1-n) + 30*(1-float64(chord/l.w)), inline: true, align: AlignMiddle,
			})
		}
	}
}

// curveAnchors returns places round a curve that a leader may point to.
func (l *label) curveAnchors() []anchor {
	c := newCurve(l.fig.at, l.fig.closed)
	out := make([]anchor, 0, 8)
	for i := range cap(out) {
		at, _ := c.place(c.length() * (MM(i) + 0.5) / MM(cap(out)))
		out = append(out, anchor{at, 0, 0, 0})
	}
	return out
}
