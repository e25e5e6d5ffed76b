package sheet

import (
	"sort"

	"undersod/core/window"
)

// edgeWidth is the width of the line along the edges of a trench.
const edgeWidth MM = 0.18

// tickReach is how far the ticks of a line reach to each side.
const tickReach MM = 0.75

// tickEvery is the distance from one tick to the next.
const tickEvery MM = 11

// painter turns figures and placed labels into the layers of the plan.
type painter struct {
	layers [layerCount]Layer
	m      *measure
	cuts   []box // of labels, for tie lines
}

// paint draws the plan: figures first, labels last.
func paint(figures []figure, p placement, m *measure) []Layer {
	k := &painter{m: m}
	for i := range k.layers {
		k.layers[i] = Layer{Name: layerNames[i], Plan: true}
	}
	inline := map[*thing]box{}
	for _, l := range p.labels {
		c := &l.tries[l.chosen]
		k.cuts = append(k.cuts, c.box.grown(0.15))
		if c.inline {
			inline[l.fig.thing] = c.box.grown(0.3)
		}
	}
	for i := range figures {
		if f := &figures[i]; f.drawn() {
			cut, ok := inline[f.thing]
			k.figure(f, cut, ok)
		}
	}
	for _, l := range p.labels {
		k.label(l)
	}
	var out []Layer
	for _, l := range k.layers {
		if len(l.Shapes) > 0 {
			out = append(out, l)
		}
	}
	return out
}

func (k *painter) put(l layerID, s ...Shape) {
	k.layers[l].Shapes = append(k.layers[l].Shapes, s...)
}

func (k *painter) figure(f *figure, cut box, inline bool) {
	m := &manners[f.look]
	pen := m.stroke
	switch {
	case f.isPoint():
		k.point(f, m)
	case f.look == lookTie || f.look == lookBand:
		k.run(f, m, k.cuts)
	case f.look == lookAllowed:
		k.run(f, m, k.cuts)
		k.fill(f)
	case f.dimension():
		k.distance(f, m, cut, inline)
	case m.form == formArea:
		p := Path{Runs: []Run{straight(f.at, f.closed)}, Stroke: &pen, Fill: m.fill, Name: f.name}
		if f.look == lookEllipse || !f.closed {
			p.Fill = nil
		}
		k.put(m.layer, p)
		k.fill(f)
	case inline:
		k.run(f, m, []box{cut})
	default:
		k.run(f, m, nil)
	}
}

// fill hatches a closed area, where its look has a hatch.
func (k *painter) fill(f *figure) {
	if !f.closed {
		return
	}
	if lines, ok := hatch(f.look, f.rings(), k.cuts, f.name); ok {
		k.put(manners[f.look].layer, lines)
	}
}

// point draws a symbol, with the circle of a crown or a round thing under it.
func (k *painter) point(f *figure, m *manner) {
	if f.r > m.symbol.reach() {
		pen := Stroke{Width: 0.2, Colour: m.stroke.Colour, Dash: []MM{1.4, 0.8}}
		k.put(layerTrees, Path{Runs: []Run{circle(f.at[0], f.r)}, Stroke: &pen, Name: f.name})
	}
	k.put(m.layer, m.symbol.draw(f.at[0], *m, f.name)...)
}

// run draws a line piece by piece, with gaps where boxes cut it.
func (k *painter) run(f *figure, m *manner, cuts []box) {
	if f.half > 0 {
		k.trench(f, m, cuts)
	}
	pen := m.stroke
	p := Path{Stroke: &pen, Name: f.name}
	f.segments(func(_ int, a, b Pos) {
		for _, g := range gaps(a, b, cuts) {
			p.Runs = append(p.Runs, straight([]Pos{between(a, b, g[0]), between(a, b, g[1])}, false))
		}
	})
	p.Runs = joined(p.Runs)
	if len(p.Runs) == 0 {
		return
	}
	k.put(m.layer, p)
	if m.tick != tickNone {
		k.ticks(f, m, p.Runs)
	}
}

// joined makes one run of runs that follow each other without a gap.
func joined(runs []Run) []Run {
	var out []Run
	for _, r := range runs {
		if n := len(out); n > 0 && out[n-1].Pieces[len(out[n-1].Pieces)-1].To == r.Start {
			out[n-1].Pieces = append(out[n-1].Pieces, r.Pieces...)
			continue
		}
		out = append(out, r)
	}
	return out
}

// gaps returns the parts of a segment, as pairs of parameters, that no box cuts.
func gaps(a, b Pos, cuts []box) [][2]float64 {
	var holes [][2]float64
	for _, c := range cuts {
		x0, y0 := c.local(a)
		x1, y1 := c.local(b)
		if t0, t1, ok := window.Clip(x0, y0, x1, y1, c.HW, c.HH); ok {
			holes = append(holes, [2]float64{t0, t1})
		}
	}
	if len(holes) == 0 {
		return [][2]float64{{0, 1}}
	}
	sort.Slice(holes, func(i, j int) bool { return holes[i][0] < holes[j][0] })
	var out [][2]float64
	from := 0.0
	for _, h := range holes {
		if h[0] > from+1e-9 {
			out = append(out, [2]float64{from, h[0]})
		}
		from = max(from, h[1])
	}
	if from < 1-1e-9 {
		out = append(out, [2]float64{from, 1})
	}
	return out
}

// trench draws the trench of a line to scale, open where a label that is
// higher than the trench cuts it.
func (k *painter) trench(f *figure, m *manner, cuts []box) {
	fill := Path{Fill: m.fill, Name: f.name}
	edge := Path{Stroke: &Stroke{Width: edgeWidth, Colour: m.stroke.Colour}, Name: f.name}
	f.segments(func(_ int, a, b Pos) {
		d, l := direction(a, b)
		if l == 0 {
			return
		}
		open := cuts
		if len(cuts) > 0 && cuts[0].HH < f.half {
			open = nil
		}
		for _, g := range gaps(a, b, open) {
			p, q := between(a, b, g[0]), between(a, b, g[1])
			n := step{-d.y, d.x}
			fill.Runs = append(fill.Runs, straight([]Pos{p.toward(n, f.half), q.toward(n, f.half), q.toward(n, -f.half), p.toward(n, -f.half)}, true))
			edge.Runs = append(edge.Runs, straight([]Pos{p.toward(n, f.half), q.toward(n, f.half)}, false),
				straight([]Pos{p.toward(n, -f.half), q.toward(n, -f.half)}, false))
		}
		edge.Runs = append(edge.Runs, straight([]Pos{a.toward(step{-d.y, d.x}, f.half), a.toward(step{-d.y, d.x}, -f.half)}, false),
			straight([]Pos{b.toward(step{-d.y, d.x}, f.half), b.toward(step{-d.y, d.x}, -f.half)}, false))
	})
	for _, r := range fill.Runs { // each its own path: overlaps at a bend stay filled
		k.put(m.layer, Path{Runs: []Run{r}, Fill: fill.Fill, Name: f.name})
	}
	if len(edge.Runs) > 0 {
		k.put(m.layer, edge)
	}
}

// ticks sets small signs along runs.
func (k *painter) ticks(f *figure, m *manner, runs []Run) {
	pen := Stroke{Width: m.stroke.Width, Colour: m.stroke.Colour}
	for _, r := range runs {
		a := r.Start
		for _, piece := range r.Pieces {
			d, l := direction(a, piece.To)
			for n := MM(tickEvery / 2); n < l-1; n += tickEvery {
				k.put(m.layer, m.tick.draw(a.toward(d, n), d, pen, f.name))
			}
			a = piece.To
		}
	}
}

// draw returns one tick at a place of a line with the given direction.
func (t tick) draw(at Pos, d step, pen Stroke, name string) Shape {
	n := step{-d.y, d.x}
	const r = 0.55
	switch t {
	case tickRing:
		return Path{Runs: []Run{circle(at, 0.5)}, Stroke: &pen, Fill: &paper, Name: name}
	case tickArrow:
		tip, back := at.toward(d, r), at.toward(d, -r)
		return Path{Runs: []Run{straight([]Pos{back.toward(n, r), tip, back.toward(n, -r)}, true)}, Fill: &pen.Colour, Name: name}
	}
	p := Path{Stroke: &pen, Name: name}
	for _, line := range tickLines[t] {
		run := make([]Pos, len(line))
		for i, q := range line {
			run[i] = at.toward(d, q.X).toward(n, q.Y)
		}
		p.Runs = append(p.Runs, straight(run, false))
	}
	if t == tickSquare {
		p.Runs[0].Closed, p.Fill = true, &pen.Colour
	}
	return p
}

// tickLines holds the ticks made of lines, along the line and to its right, in
// millimetres.
var tickLines = [...][][]Pos{
	tickCross:  {pairs(0.55, 0.55, -0.55, -0.55), pairs(0.55, -0.55, -0.55, 0.55)},
	tickBar:    {pairs(0, 0.65, 0, -0.65)},
	tickComb:   {pairs(-0.5, 0.65, -0.5, -0.65), pairs(0, 0.65, 0, -0.65), pairs(0.5, 0.65, 0.5, -0.65)},
	tickWave:   {pairs(-1, 0, -0.5, 0.6, 0.5, -0.6, 1, 0)},
	tickVee:    {pairs(-0.55, 0.55, 0, -0.55, 0.55, 0.55)},
	tickSquare: {pairs(-0.45, -0.45, 0.45, -0.45, 0.45, 0.45, -0.45, 0.45)},
}
