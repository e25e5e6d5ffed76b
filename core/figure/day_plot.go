package figure

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"undersod/core/english"
	"undersod/core/sheet"
	"undersod/core/unit"
)

// strokes tell the curves apart without colour as well.
var strokes = [...]sheet.Stroke{
	{Width: 0.55, Colour: ink},
	{Width: 0.55, Colour: clay, Dash: []mm{3, 0.9}},
	{Width: 0.55, Colour: slate, Dash: []mm{1.4, 0.8}},
	{Width: 0.55, Colour: grass, Dash: []mm{4, 0.8, 0.8, 0.8}},
	{Width: 0.9, Colour: stone},
	{Width: 0.9, Colour: clay, Dash: []mm{1, 1.2}},
	{Width: 0.9, Colour: slate, Dash: []mm{4, 1.2}},
	{Width: 0.3, Colour: ink, Dash: []mm{2, 0.7}},
	{Width: 0.3, Colour: clay},
	{Width: 0.3, Colour: slate},
	{Width: 0.3, Colour: grass, Dash: []mm{1, 0.7}},
	{Width: 0.9, Colour: grass, Dash: []mm{2, 1, 0.5, 1}},
}

// plot draws the depths.
func (d *day) plot() {
	d.depths()
	d.tops()
	for _, c := range d.curves {
		d.curve(c)
	}
	d.fills()
	d.curveNames()
	d.y = d.base + 1
}

// depths draws the scale of depths with light lines across.
func (d *day) depths() {
	per, steps, name := unit.Inch, []float64{0.5, 1, 2, 3, 6, 12, 24}, "in"
	if d.say.metric() {
		per, steps, name = unit.Centimetre, []float64{1, 2, 5, 10, 20, 50}, "cm"
	} else if d.say.Style.Form == unit.DecimalFeet {
		per, steps, name = unit.Foot, []float64{0.05, 0.1, 0.2, 0.5, 1, 2}, "ft"
	}
	x := axis{lo: 0, hi: d.depth.hi / float64(per)}
	every := stepOf(x.hi*float64((d.lead(fine)+3)/plotHeight), steps...)
	for _, v := range x.ticks(every) {
		y := d.base - d.depth.at(v*float64(per))
		d.line(pos{X: d.time.a, Y: y}, pos{X: d.time.b, Y: y}, 0.13, rule)
		text := numberText(math.Round(v*1e4) / 1e4)
		if v == 0 {
			text += " " + name
		}
		d.write(d.time.a-1.5, y-d.lead(fine)/2, text, script{size: fine, colour: ink, align: sheet.AlignRight})
	}
	d.line(pos{X: d.time.a, Y: d.base}, pos{X: d.time.b, Y: d.base}, 0.25, ink)
	d.line(pos{X: d.time.a, Y: d.base}, pos{X: d.time.a, Y: d.base - plotHeight}, 0.25, ink)
}

// tops draws the height at which the trenches are full, each height once.
func (d *day) tops() {
	done := map[unit.Length]bool{}
	for _, c := range d.curves {
		if c.top == 0 || done[c.top] {
			continue
		}
		done[c.top] = true
		y := d.base - d.depth.at(float64(c.top))
		d.line(pos{X: d.time.a, Y: y}, pos{X: d.time.b, Y: y}, 0.4, earth, 2.4, 1.2)
	}
}

// curve draws one curve.
func (d *day) curve(c curve) {
	var points []pos
	for i, h := range c.at {
		points = append(points, pos{X: d.time.at(d.seconds(i)), Y: d.base - h})
	}
	if len(points) == 1 {
		points = append(points, pos{X: d.time.b, Y: points[0].Y})
	}
	pen := strokes[c.style%len(strokes)]
	d.draw(sheet.Path{Runs: []sheet.Run{run(false, points...)}, Stroke: &pen, Name: english.And(c.names)})
}

// fills marks where a trench fills to its top, and when water backs up.
func (d *day) fills() {
	for _, c := range d.curves {
		if c.course.Full {
			at := pos{X: d.time.at(float64(c.course.FullAt)), Y: d.base - d.depth.at(float64(c.top))}
			d.draw(sheet.Path{Runs: []sheet.Run{disc(at, 1)}, Fill: &ink})
		}
	}
}

// curveNames writes the names at the right ends of the curves, each with the
// curve's own stroke, and the heights at which trenches are full among them.
func (d *day) curveNames() {
	type entry struct {
		at    mm
		words string
		pen   *sheet.Stroke
	}
	var list []entry
	for i := range d.curves {
		c := &d.curves[i]
		list = append(list, entry{d.base - c.at[len(c.at)-1], short(c.names), &strokes[c.style%len(strokes)]})
	}
	done := map[unit.Length]bool{}
	for _, c := range d.curves {
		if c.top > 0 && !done[c.top] && len(done) < 3 {
			done[c.top] = true
			list = append(list, entry{d.base - d.depth.at(float64(c.top)), "full", &sheet.Stroke{Width: 0.4, Colour: earth, Dash: []mm{2.4, 1.2}}})
		}
	}
	slices.SortStableFunc(list, func(a, b entry) int { return cmp.Compare(a.at, b.at) })
	at := make([]mm, len(list))
	for i, e := range list {
		at[i] = e.at
	}
	apart(at, d.lead(fine)+0.3, d.base-plotHeight, d.base-d.lead(fine)/2)
	x := d.time.b
	for i, e := range list {
		d.pole(pos{X: x + 0.5, Y: e.at}, pos{X: x + 3, Y: at[i]})
		pen := *e.pen
		d.draw(sheet.Path{Runs: []sheet.Run{run(false, pos{X: x + 3, Y: at[i]}, pos{X: x + 9, Y: at[i]})}, Stroke: &pen})
		w := script{size: fine, colour: ink}
		d.write(x+10, at[i]-d.lead(fine)/2, d.shorten(e.words, w, d.width-edge-x-10), w)
	}
}

// weights returns the share of the day's flow in each hour, and false where
// they are not known.
func (d *day) weights() (out [24]float64, ok bool) {
	if len(d.run.Hours) != 24 || !(d.run.Daily > 0) || float64(d.run.Daily) > 1e6 {
		return out, false
	}
	sum := 0.0
	for _, w := range d.run.Hours {
		sum += between(w, 0, 1e12)
	}
	if !(sum > 0) {
		return out, false
	}
	for i, w := range d.run.Hours {
		out[i] = between(w, 0, 1e12) / sum
	}
	return out, true
}

// inflow draws what comes from the house in each hour, hanging from the plot.
func (d *day) inflow() {
	w, ok := d.weights()
	if !ok {
		d.y += 2.5
		d.note("The hours of the inflow are not known.")
		d.y += 1
		return
	}
	d.y += 1.2
	most, peak := 0.0, 0
	for h, v := range w {
		if v > most {
			most, peak = v, h
		}
	}
	for day := range d.days {
		for h, v := range w {
			a, b := d.time.at(float64(day*24+h)*3600), d.time.at(float64(day*24+h+1)*3600)
			gap := min(0.25, (b-a)/6)
			if v > 0 {
				d.box(a+gap, d.y, b-gap, d.y+barHeight*mm(v/most), water)
			}
		}
	}
	d.line(pos{X: d.time.a, Y: d.y}, pos{X: d.time.b, Y: d.y}, 0.2, slate)
	words := "from the house: " + d.say.Style.FormatVolume(d.run.Daily) + " a day, most " +
		d.say.Style.FormatVolume(d.run.Daily*unit.Volume(most)) + " in the hour from " + d.say.clock(float64(peak)*3600, 1)
	x := d.time.b + 2
	s := script{size: fine, colour: slate}
	for i, l := range d.wrap(words, s, d.width-edge-x) {
		if i == 4 {
			break
		}
		d.write(x, d.y+mm(i)*d.lead(fine), l, s)
	}
	d.y += max(barHeight, 4*d.lead(fine)) + 0.8
}

// hours draws the scale of time.
func (d *day) hours() {
	hours := axis{0, float64(d.days) * 24, d.time.a, d.time.b}
	wide := d.advance("midnight", sheet.Regular, fine) + 4
	least := hours.hi * float64(wide/(hours.b-hours.a))
	every := stepOf(least, 3, 6, 12, 24)
	d.line(pos{X: hours.a, Y: d.y}, pos{X: hours.b, Y: d.y}, 0.25, ink)
	for _, v := range hours.ticks(every) {
		x := hours.at(v)
		d.line(pos{X: x, Y: d.y}, pos{X: x, Y: d.y + 1.4}, 0.25, ink)
		if every <= 12 {
			d.write(x, d.y+1.7, d.say.clock(v*3600, 1), script{size: fine, colour: ink, align: sheet.AlignMiddle})
		} else if v < hours.hi {
			d.write(x+1, d.y+1.7, "day "+strconv.Itoa(int(v/24)+1), script{size: fine, colour: ink})
		}
	}
	d.y += 1.7 + d.lead(fine) + 0.8
}
