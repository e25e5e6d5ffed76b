package adjust

import "math"

// start places a first baseline: the datum's where a reading gives its length,
// else any two points joined by a tie. settle brings the layout to the datum
// afterwards.
func (b *builder) start(l *layout) {
	f := &b.n.frame
	if f.mark < 0 {
		return
	}
	from, to, d := b.firstPair()
	if (from != f.mark || to != f.toward) && b.frameIsEnough() {
		l.set(f.mark, spot{})
		b.setKnownFrame(l)
		return
	}
	if from < 0 {
		b.startFromFix(l)
		return
	}
	l.set(from, spot{})
	l.set(to, spot{d, 0})
	if from != f.mark || to != f.toward {
		return // the frame is not known until settle
	}
	b.setKnownFrame(l)
}

// surveyed is the standard deviation in metres up to which a fix alone is a good
// starting place.
const surveyed = 0.5

// frameIsEnough tells whether the job states where its datum lies and how it is
// turned, and has fixes good enough to start from: then nothing needs to be
// measured between the datum's two marks.
func (b *builder) frameIsEnough() bool {
	if b.n.frame.azimuth == nil {
		return false
	}
	for k := range b.n.eqs {
		e := &b.n.eqs[k]
		if _, fix := e.Model.(fixModel); !fix || e.SD > surveyed {
			continue
		}
		if (e.shift == b.n.gridShift && b.n.gridGiven()) || (e.shift == b.n.geoShift && b.n.frame.geoKnown) {
			return true
		}
	}
	return false
}

// setKnownFrame sets what the job states of the frame, for a layout that lies
// on the datum.
func (b *builder) setKnownFrame(l *layout) {
	f := &b.n.frame
	l.turn, l.shift = f.azimuth != nil, [2]bool{}
	if l.turn {
		l.x[b.n.turn] = float64(*f.azimuth) - math.Pi/2
	}
	if b.n.gridGiven() {
		l.x[b.n.gridShift], l.x[b.n.gridShift+1], l.shift[0] = float64(f.east0), float64(f.north0), true
	}
	if f.geoKnown {
		l.x[b.n.geoShift], l.x[b.n.geoShift+1], l.shift[1] = 0, 0, true
	}
}

// startFromFix starts a job without any tie from its first fix.
func (b *builder) startFromFix(l *layout) {
	l.turn = true
	l.x[b.n.turn] = 0
	for k := range b.n.eqs {
		e := &b.n.eqs[k]
		if e.shift >= 0 {
			s := b.n.shiftSlot(e.shift)
			l.shift[s] = true
			if c, ok := b.fixSpot(l, k); ok {
				l.set(e.points[0], c)
			}
			return
		}
	}
	l.turn = false
	l.set(b.n.frame.mark, spot{})
}

// firstPair chooses two points a known distance apart.
func (b *builder) firstPair() (from, to int, d float64) {
	f := b.n.frame
	if f.toward >= 0 {
		if d, ok := b.n.known(f.mark, f.toward); ok {
			return f.mark, f.toward, d
		}
	}
	best, from := 0, -1
	for k := range b.n.eqs {
		e := &b.n.eqs[k]
		if e.radius == 0 || !b.usable[e.points[0]] || !b.usable[e.points[1]] {
			continue
		}
		p, q := e.points[0], e.points[1]
		rank := min(len(b.n.at[p]), len(b.n.at[q])) + 1
		if b.n.points[p].IsMark() && b.n.points[q].IsMark() {
			rank += len(b.n.eqs)
		}
		if rank > best {
			best, from, to, d = rank, p, q, e.radius
		}
	}
	return from, to, d
}

// known returns the distance between two points from a tie between them or
// from the figure of a building.
func (n *network) known(p, q int) (float64, bool) {
	for _, k := range n.at[p] {
		e := &n.eqs[k]
		if e.radius > 0 && (e.points[0] == q || e.points[1] == q) {
			return e.radius, true
		}
	}
	for _, o := range n.building {
		i, j := indexOf(o.corners, p), indexOf(o.corners, q)
		if i >= 0 && j >= 0 {
			return float64(o.ideal[i].Minus(o.ideal[j]).Length()), true
		}
	}
	return 0, false
}

// settle moves a layout so that the datum mark lies at the origin and the
// datum's direction along east. Where the datum was never reached, the plan is
// held by the first two placed points and the reason says so.
func (b *builder) settle(l *layout) {
	f := &b.n.frame
	b.reachable(l)
	if f.mark < 0 {
		return
	}
	o := l.at(f.mark)
	cos, sin := 1.0, 0.0
	if f.toward >= 0 {
		t := l.at(f.toward)
		if d := o.from(t); d > 0 {
			cos, sin = (t.e-o.e)/d, (t.n-o.n)/d
		}
	}
	moved := cos < 1-1e-15 || o != (spot{})
	if moved {
		for p, ok := range l.placed {
			if ok {
				s := l.at(p)
				e, n := s.e-o.e, s.n-o.n
				l.set(p, spot{e*cos + n*sin, -e*sin + n*cos})
			}
		}
	}
	turn, had := l.x[b.n.turn]-math.Atan2(sin, cos), l.turn
	b.setKnownFrame(l)
	if !l.turn && had {
		l.x[b.n.turn], l.turn = turn, true
	}
	for b.orient(l) {
	}
}

// reachable makes sure that the datum is among the placed points.
func (b *builder) reachable(l *layout) {
	f := &b.n.frame
	if f.mark >= 0 && l.placed[f.mark] && f.toward >= 0 && l.placed[f.toward] {
		return
	}
	var first, second = -1, -1
	if f.mark >= 0 && l.placed[f.mark] {
		first = f.mark
	}
	for p, ok := range l.placed {
		switch {
		case !ok || p == first:
		case first < 0:
			first = p
		case second < 0 && l.at(p).from(l.at(first)) > samePlace:
			second = p
		}
	}
	if first >= 0 && first == f.mark && second < 0 {
		f.toward = -1
		return
	}
	if first != f.mark || f.toward >= 0 {
		f.why = "no reading ties the whole of the chosen baseline to the rest, so another one is held"
	}
	if first != f.mark || f.toward >= 0 {
		f.azimuth, f.geoKnown = nil, f.geoKnown && first == f.mark
	}
	f.mark, f.toward = first, second
}
