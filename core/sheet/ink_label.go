package sheet

import (
	"math"

	"undersod/core/unit"
)

// label draws a placed label with its leader.
func (k *painter) label(l *label) {
	c := &l.tries[l.chosen]
	if c.leader {
		pen := Stroke{Width: 0.15, Colour: stone}
		k.put(layerLeaders, Path{Runs: []Run{straight([]Pos{c.from, c.to}, false)}, Stroke: &pen, Name: l.fig.name})
	}
	if l.key > 0 {
		k.key(l, c.box.C)
		return
	}
	lead := k.m.lead(l.wish.weight, l.wish.size)
	ascent := k.m.Ascent(l.wish.weight, l.wish.size)
	turn := unit.Angle(math.Atan2(c.box.UY, c.box.UX))
	align, x := alignment(c)
	for i, text := range l.lines {
		at := c.box.place(x, -c.box.HH+labelMargin+ascent+MM(i)*lead)
		k.put(layerLabels, Text{
			At: at, Text: text, Size: l.wish.size, Weight: l.wish.weight, Colour: l.wish.colour,
			Align: align, Turn: turn, Name: l.fig.name,
		})
	}
}

// alignment is where on the width of its box a label's lines are set.
func alignment(c *candidate) (Align, MM) {
	switch c.align {
	case AlignLeft:
		return AlignLeft, -c.box.HW + labelMargin
	case AlignRight:
		return AlignRight, c.box.HW - labelMargin
	}
	return AlignMiddle, 0
}

// key draws the number of a keyed label in its circle.
func (k *painter) key(l *label, at Pos) {
	pen := Stroke{Width: 0.2, Colour: ink}
	k.put(layerLabels, Path{Runs: []Run{circle(at, keyRadius-0.2)}, Stroke: &pen, Fill: &paper, Name: l.fig.name})
	k.put(layerLabels, Text{
		At:   Pos{at.X, at.Y + (k.m.Ascent(Regular, sizeFine)-k.m.Descent(Regular, sizeFine))/2 - 0.1},
		Text: l.lines[0], Size: sizeFine, Colour: ink, Align: AlignMiddle, Name: l.fig.name,
	})
}
