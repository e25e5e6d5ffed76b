package sheet

import (
	"fmt"
	"math"

	"undersod/core/unit"
)

// bearings is the block with the scale, its bar, and the arrow of north.
func (f *facts) bearings(width MM) block {
	const arrow MM = 15
	_, words := f.north()
	lines := f.m.wrap(words, Regular, sizeFine, width-arrow-3)
	lead := f.m.lead(Regular, sizeFine)
	bar := row{max(17.5, 12+MM(len(lines)+1)*lead), func(k *furniture, in rect) {
		k.arrow(rect{in.X0, in.Y0, in.X0 + arrow - 3, in.Y0 + 17})
		x := in.X0 + arrow
		k.write(x, in.Y0, "Scale "+f.say.scale(k.facts.scale), Bold, sizeHead, ink)
		k.scaleBar(Pos{x + 0.5, in.Y0 + 7.6}, in.X1-x-9)
		all := lines
		if k.facts.unusual {
			all = append(all[:len(all):len(all)], "No usual scale fits this site.")
		}
		for i, l := range all {
			k.write(x, in.Y0+10.6+MM(i)*lead, l, Regular, sizeFine, ink)
		}
	}}
	return block{rows: []row{bar}, whole: true}
}

// barStep returns the round length of one division of the bar: 1, 2 or 5 times
// a power of ten of the job's unit, with at most width for all divisions.
func barStep(perUnit, width MM, divisions int) float64 {
	limit := float64(width) / float64(perUnit) / float64(divisions)
	if !(limit > 0) {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(limit)))
	for _, k := range [...]float64{5, 2} {
		if k*p <= limit {
			return k * p
		}
	}
	return p
}

// scaleBar draws the bar with its left end at a place; width is all it may take.
func (k *furniture) scaleBar(at Pos, width MM) {
	const divisions = 4
	u, name := unit.Foot, "ft"
	if k.facts.say.Metric() {
		u, name = unit.Metre, "m"
	}
	per := MM(float64(u) * 1000 / float64(k.facts.scale))
	size := barStep(per, min(width, 60), divisions)
	one := MM(size) * per
	for i := range divisions {
		r := rect{at.X + one*MM(i), at.Y, at.X + one*MM(i+1), at.Y + 1.3}
		fill := paper
		if i%2 == 0 {
			fill = ink
		}
		k.put(Path{Runs: []Run{straight([]Pos{{r.X0, r.Y0}, {r.X1, r.Y0}, {r.X1, r.Y1}, {r.X0, r.Y1}}, true)},
			Stroke: &Stroke{Width: 0.2, Colour: ink}, Fill: &fill})
	}
	for _, i := range [...]int{0, 2, divisions} {
		text := fmt.Sprintf("%g", size*float64(i))
		if i == divisions {
			text += " " + name
		}
		k.put(Text{At: Pos{at.X + one*MM(i), at.Y - 0.7}, Text: text, Size: sizeFine, Colour: ink, Align: barAlign(i)})
	}
}

func barAlign(i int) Align {
	if i == 0 {
		return AlignLeft
	}
	return AlignMiddle
}

// arrow draws the arrow of north, or where north was not measured a wall with
// the direction square to it.
func (k *furniture) arrow(in rect) {
	known, _ := k.facts.north()
	c := in.centre()
	d := step{math.Sin(k.facts.turn.Radians()), -math.Cos(k.facts.turn.Radians())}
	n := step{-d.y, d.x}
	tip, tail := c.toward(d, 4.4), c.toward(d, -6.5)
	pen := Stroke{Width: 0.35, Colour: ink}
	k.put(Path{Runs: []Run{straight([]Pos{tail, tip}, false)}, Stroke: &pen})
	head := tip.toward(d, -3.4)
	k.put(Path{Runs: []Run{straight([]Pos{tip, head.toward(n, 1.4), head.toward(n, -1.4)}, true)}, Stroke: &pen, Fill: &paper})
	k.put(Path{Runs: []Run{straight([]Pos{tip, head.toward(n, 1.4), head}, true)}, Fill: &ink})
	text, at := "N", c.toward(d, 6.3)
	if !known {
		text = "up"
		k.put(Path{Runs: []Run{straight([]Pos{tail.toward(n, 4.2), tail.toward(n, -4.2)}, false)}, Stroke: &Stroke{Width: 0.9, Colour: ink}})
	}
	k.put(Text{At: Pos{at.X, at.Y + 1}, Text: text, Size: sizeHead, Weight: Bold, Colour: ink, Align: AlignMiddle})
}
