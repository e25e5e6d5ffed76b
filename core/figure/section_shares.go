package figure

import (
	"math"

	"undersod/core/hydraulic"
	"undersod/core/sheet"
	"undersod/core/unit"
)

// flow prints a flow as a rate of the moment: a split holds for one inflow, not
// for the sum of a day.
func (s *section) flow(f unit.Flow) string { return s.say.Style.FormatPumpFlow(f) }

// shares draws a bar for the share of each outlet, with a tick at the share it
// should have.
func (s *section) shares() {
	if len(s.split.Shares) == 0 {
		s.note(s.missing())
		s.y += 1
		return
	}
	s.paragraph("How "+s.flow(s.split.Inflow)+" divides", script{size: label, weight: sheet.Bold, colour: earth})
	s.y += 0.8
	most, wide := 0.0, mm(0)
	for _, o := range s.outlets {
		if o.share != nil {
			most = max(most, between(o.share.Share, 0, 1), between(o.share.Wanted, 0, 1))
		}
		wide = max(wide, s.advance(o.name, sheet.Bold, label))
	}
	if most == 0 {
		most = 1
	}
	const numbers = 34
	left := edge + min(wide, 0.28*s.width) + 2
	bars := axis{0, most, left, s.width - edge - numbers}
	for i := range s.outlets {
		s.bar(&s.outlets[i], bars)
	}
	s.y += 0.4
	s.note("Upright stroke: the share that the outlet should have" + s.evenly() + ".")
}

// evenly tells the wanted share where it is the same for all.
func (s *section) evenly() string {
	first, same := -1.0, true
	for _, o := range s.outlets {
		if o.share == nil || o.share.Wanted == 0 {
			continue
		}
		same = same && (first < 0 || math.Abs(o.share.Wanted-first) < 1e-6)
		first = o.share.Wanted
	}
	if first < 0 || !same {
		return ""
	}
	return ", " + percent(first)
}

// bar draws the share of one outlet.
func (s *section) bar(o *outlet, x axis) {
	const high = 3.4
	name := script{size: label, weight: sheet.Bold, colour: ink}
	s.write(edge, s.y, s.shorten(o.name, name, x.a-edge-1.5), name)
	h := o.share
	if h == nil {
		s.write(x.a+1, s.y, "not in the split", script{size: label, colour: stone})
		s.y += max(s.lead(label), high) + 1
		return
	}
	y := s.y
	s.line(pos{X: x.a, Y: y - 0.3}, pos{X: x.a, Y: y + high + 0.3}, 0.2, stone)
	if to := x.at(h.Share); to > x.a {
		s.pen.box(x.a, y, to, y+high, slate)
	}
	if at := x.at(h.Wanted); h.Wanted > 0 {
		s.line(pos{X: at, Y: y - 0.6}, pos{X: at, Y: y + high + 0.6}, 0.9, paper)
		s.line(pos{X: at, Y: y - 0.6}, pos{X: at, Y: y + high + 0.6}, 0.45, ink)
	}
	text := percent(h.Share) + "   " + s.flow(h.Flow)
	switch {
	case o.closed:
		text = "closed"
	case h.Regime == hydraulic.Dry:
		text = "dry: no water reaches it"
	}
	w := script{size: label, colour: ink}
	s.write(x.b+1.5, y, s.shorten(text, w, s.width-edge-x.b-1.5), w)
	s.y += max(s.lead(label), high) + 1
}
