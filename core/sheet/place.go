package sheet

import (
	"sort"

	"undersod/core/grid"
)

// cells finds the rectangles near a place of the drawing.
type cells = grid.Grid[MM]

// spanned is a rectangle as the cells hold it.
type spanned = grid.Rect[MM]

// placer finds the places of the labels on one drawing.
type placer struct {
	area   rect
	blocks []obstacle
	static *cells // of blocks
	used   *cells // of chosen labels, by index, with their leaders
	labels []*label
	houses []figure // whose inside other labels keep out of where they can
	found  []int32  // scratch
	random uint64
	enough int // places kept per label
	reach  int // how many of the rings round an anchor are tried
}

// crowded bounds the search on sheets with very many labels, where most find
// no room anyway: fewer rings are tried the more labels there are.
func crowded(labels int) (rings int) {
	switch {
	case labels <= 250:
		return len(ringSteps)
	case labels <= 1000:
		return 6
	case labels <= 4000:
		return 3
	}
	return 0
}

func newPlacer(area rect, figures []figure) *placer {
	p := &placer{enough: enough, area: area, blocks: obstacles(figures), random: 0x9E3779B97F4A7C15}
	p.static, p.used = grid.New(spanned(area), 5), grid.New(spanned(area), 8)
	for i := range p.blocks {
		p.static.Insert(int32(i), spanned(p.blocks[i].box.bounds().grown(clearance)))
	}
	for _, f := range figures {
		if (f.look == lookHouse || f.look == lookProposed) && f.closed {
			p.houses = append(p.houses, f)
		}
	}
	return p
}

// enough places are kept per label; nearer ones come first.
const enough = 26

// offer fills a label's list of places that nothing drawn forbids.
func (p *placer) offer(l *label) {
	try := func(c candidate) {
		if p.allowed(l, &c) {
			c.span = c.extent().grown(touching)
			l.tries = append(l.tries, c)
		}
	}
	f := l.fig
	switch {
	case f.look == lookBand:
		l.onCurve(try)
	case l.key > 0 || f.isPoint():
	case l.wish.way == wayLine:
		f.segments(func(_ int, a, b Pos) { l.beside(a, b, f.clear, try) })
	case l.wish.way == wayArea:
		l.within(f.at, try)
	}
	anchors := l.anchors()
	for n, s := range ringSteps[:p.reach] {
		if len(l.tries) >= p.enough || n >= 6 && f.look == lookBand && l.key == 0 {
			break
		}
		if !s.leader && !f.isPoint() && f.thing.look != lookTank && f.thing.look != lookPump {
			continue
		}
		for _, a := range anchors {
			l.around(a, s, try)
		}
	}
	sort.SliceStable(l.tries, func(i, j int) bool { return l.tries[i].cost < l.tries[j].cost })
}

// allowed tells whether nothing drawn forbids a place, and adds to its cost
// what speaks against it.
func (p *placer) allowed(l *label, c *candidate) bool {
	if !p.area.holds(c.box.bounds()) {
		return false
	}
	near := c.box.grown(clearance)
	p.found = p.static.Near(spanned(near.bounds().grown(1.2)), p.found[:0])
	crowd := near.grown(1.2)
	for _, id := range p.found {
		o := &p.blocks[id]
		own := o.owner == l.fig.owner
		switch {
		case own && c.inline:
		case o.class == classTie:
			if near.meets(o.box) {
				c.cost += 0.5
			}
		case near.meets(o.box):
			return false
		case !own && o.class == classSign && !c.leader && crowd.meets(o.box):
			c.cost += 1.5
		}
	}
	p.shade(l, c)
	return !c.leader || p.leads(l, c)
}

// shade makes places inside another's building dear.
func (p *placer) shade(l *label, c *candidate) {
	for i := range p.houses {
		if h := &p.houses[i]; h.owner != l.fig.owner && inside(c.box.C, h.at) {
			c.cost += 4
		}
	}
}

// leads tells whether a leader crosses no symbol, and makes crossed lines dear.
func (p *placer) leads(l *label, c *candidate) bool {
	p.found = p.static.Near(spanned(segRect(c.from, c.to)), p.found[:0])
	for _, id := range p.found {
		o := &p.blocks[id]
		if o.owner == l.fig.owner || !o.box.meetsSegment(c.from, c.to) {
			continue
		}
		switch {
		case o.class == classSign && !o.box.holds(c.to):
			return false
		case o.class == classSign: // it stands on the very thing that is pointed to
			c.cost += 1.5
		case o.class == classLine:
			c.cost += 2
		case o.class == classTie:
			c.cost += 0.2
		}
	}
	return true
}

// extent is the rectangle about a candidate with its leader.
func (c *candidate) extent() rect {
	r := c.box.bounds().grown(clearance)
	if c.leader {
		s := segRect(c.from, c.to)
		r = rect{min(r.X0, s.X0), min(r.Y0, s.Y0), max(r.X1, s.X1), max(r.Y1, s.Y1)}
	}
	return r
}

// touching is a width that rounding does not reach.
const touching MM = 1e-6

// clash tells whether two candidates cannot both be taken.
func (c *candidate) clash(d *candidate) bool {
	if !c.span.meets(d.span) {
		return false
	}
	near := d.box.grown(clearance)
	return c.box.grown(clearance).meets(near) ||
		c.leader && near.meetsSegment(c.from, c.to) ||
		d.leader && c.box.grown(clearance).meetsSegment(d.from, d.to) ||
		c.leader && d.leader && cross(c.from, c.to, d.from, d.to)
}

// rivals appends the chosen labels that a candidate of label i clashes with.
func (p *placer) rivals(i int, c *candidate, out []int) []int {
	p.found = p.used.Near(spanned(c.span), p.found[:0])
	for _, id := range p.found {
		o := p.labels[id]
		if int(id) != i && c.clash(&o.tries[o.chosen]) {
			out = append(out, int(id))
		}
	}
	return out
}

// free tells whether a candidate of label i clashes with no chosen label.
func (p *placer) free(i int, c *candidate) bool {
	p.found = p.used.Near(spanned(c.span), p.found[:0])
	for _, id := range p.found {
		if o := p.labels[id]; int(id) != i && c.clash(&o.tries[o.chosen]) {
			return false
		}
	}
	return true
}

func (p *placer) take(i, k int) {
	p.labels[i].chosen = k
	p.used.Insert(int32(i), spanned(p.labels[i].tries[k].span))
}

func (p *placer) leave(i int) {
	l := p.labels[i]
	if l.chosen >= 0 {
		p.used.Remove(int32(i), spanned(l.tries[l.chosen].span))
		l.chosen = -1
	}
}

// missed is the cost of a label without a place.
const missed = 60

func (p *placer) cost(i int) float64 {
	if l := p.labels[i]; l.chosen >= 0 {
		return l.tries[l.chosen].cost
	}
	return missed
}

// settle gives label i its cheapest free place, if any.
func (p *placer) settle(i int) {
	for k := range p.labels[i].tries {
		if p.free(i, &p.labels[i].tries[k]) {
			p.take(i, k)
			return
		}
	}
}

// place chooses a place for every label: greedily, then by repeatedly moving
// one label and letting those in its way find another place, keeping what
// lowers the cost. The order is fixed, so the same labels fall the same way.
func (p *placer) place(labels []*label) {
	p.labels, p.reach = labels, crowded(len(labels))
	order := make([]int, len(labels))
	for i, l := range labels {
		p.offer(l)
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool {
		l, m := labels[order[a]], labels[order[b]]
		if l.wish.rank != m.wish.rank {
			return l.wish.rank < m.wish.rank
		}
		return len(l.tries) < len(m.tries)
	})
	for _, i := range order {
		p.settle(i)
	}
	p.improve()
	if p.widen(order) {
		p.improve()
	}
}

// widen looks farther for the labels that found no place, and tells whether
// that gave any of them more to try.
func (p *placer) widen(order []int) bool {
	more := false
	for _, i := range order {
		l := p.labels[i]
		if l.chosen >= 0 || len(p.labels) > 250 {
			continue
		}
		before := len(l.tries)
		l.tries, p.enough = nil, 4*enough
		p.offer(l)
		p.settle(i)
		more = more || len(l.tries) > before
	}
	p.enough = enough
	return more
}

// improve moves labels while that lowers the total cost.
func (p *placer) improve() {
	if len(p.labels) == 0 {
		return
	}
	for range min(25*len(p.labels), 6000) {
		i := int(p.next() % uint64(len(p.labels)))
		l := p.labels[i]
		if len(l.tries) == 0 || l.chosen == 0 {
			continue
		}
		limit := len(l.tries)
		if l.chosen > 0 {
			limit = l.chosen // only a better place is worth a move
		}
		p.shove(i, int(p.next()%uint64(limit)))
	}
}

// insist goes through every place of the labels that found none, so that
// setbacks and distances cost none of the system's its words.
func (p *placer) insist() {
	for i, l := range p.labels {
		for k := 0; k < len(l.tries) && l.chosen < 0; k++ {
			p.shove(i, k)
		}
	}
}

// shove tries label i at its place k: those in the way look for another place,
// and all goes back where that does not pay.
func (p *placer) shove(i, k int) {
	var buffer [8]int
	moved := p.rivals(i, &p.labels[i].tries[k], append(buffer[:0], i))
	if len(moved) > 5 {
		return
	}
	before, was := 0.0, [8]int{}
	for n, j := range moved {
		before += p.cost(j)
		was[n] = p.labels[j].chosen
		p.leave(j)
	}
	p.take(i, k)
	after := p.cost(i)
	for _, j := range moved[1:] {
		p.settle(j)
		after += p.cost(j)
	}
	if after < before-1e-9 {
		return
	}
	for _, j := range moved {
		p.leave(j)
	}
	for n, j := range moved {
		if was[n] >= 0 {
			p.take(j, was[n])
		}
	}
}

// next is a fixed sequence of numbers without a pattern (xorshift64; Marsaglia,
// Journal of Statistical Software 8 (2003), issue 14).
func (p *placer) next() uint64 {
	p.random ^= p.random << 13
	p.random ^= p.random >> 7
	p.random ^= p.random << 17
	return p.random >> 11
}
