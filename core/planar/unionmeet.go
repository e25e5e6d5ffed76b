package planar

// pair finds where the outlines of two patches cross, and counts whose first
// corner the other covers.
func (u *union) pair(i, j int) {
	a, b := &u.patches[i], &u.patches[j]
	if a.inBox(b.corners[0]) && a.covers(b.corners[0]) {
		b.start++
	}
	in := b.inBox(a.corners[0]) && b.covers(a.corners[0])
	if in {
		a.start++
	}
	before := len(u.meetings)
	u.crossings(i, j)
	switch {
	case len(u.meetings) > before:
		u.tooMany = len(u.meetings) > mostMeetings
	case in:
		a.within = true
	case a.inBox(b.corners[0]) && a.covers(b.corners[0]):
		b.within = true
	}
}

// crossings asks each side of the first patch only against those sides of the
// second that lie in its direction from the second's middle; mostly that is one,
// and the side's end has just been asked.
func (u *union) crossings(i, j int) {
	a, b := &u.patches[i], &u.patches[j]
	var last place
	for k, p := range a.corners {
		next := k + 1
		if next == len(a.corners) {
			next = 0
		}
		q := a.corners[next]
		if b.misses(p, q) {
			last.known = false
			continue
		}
		if !last.known {
			last = b.placeOf(p, last.wedge)
		}
		from := last
		last = b.placeOf(q, from.wedge)
		if from.in && last.in || !from.in && !last.in && b.beyond(from.wedge, q) {
			continue // convex: nothing to meet
		}
		u.sweep(i, j, k, p, q, from.wedge, last.wedge)
	}
}

// place is where a corner lies as a patch sees it: in the direction of which
// side, and to its left.
type place struct {
	wedge     int
	in, known bool
}

func (p *patch) placeOf(v Vec, near int) place {
	w := p.wedge(v, near)
	return place{w, !p.beyond(w, v), true}
}

// beyond tells that a place does not lie inside of the side w.
func (p *patch) beyond(w int, v Vec) bool {
	next := w + 1
	if next == len(p.corners) {
		next = 0
	}
	return !(leftBy(p.corners[w], p.corners[next], v) > 0)
}

// sweep asks one side of the first patch, p to q, against the sides of the
// second from one wedge to another, the short way around.
func (u *union) sweep(i, j, k int, p, q Vec, from, to int) {
	b := &u.patches[j]
	n := len(b.corners)
	step := 1
	switch turn := p.Minus(b.middle).Cross(q.Minus(b.middle)); {
	case turn < 0:
		step = n - 1
	case turn == 0: // along a line through the middle, where each side may be met
		to = (from + n - 1) % n
	}
	for w := from; ; w = (w + step) % n {
		u.cross(i, j, k, w, p, q)
		if w == to {
			return
		}
	}
}

// cross notes the meeting of a side of one patch, p to q, with a side of another,
// if they cross. Each of the four questions has the same answer whichever of
// the sides that share a corner asks it.
func (u *union) cross(i, j, k, w int, p, q Vec) {
	b := u.patches[j].corners
	c, d := b[w], b[(w+1)%len(b)]
	ofP, ofQ := float64(leftBy(c, d, p)), float64(leftBy(c, d, q))
	if (ofP > 0) == (ofQ > 0) {
		return
	}
	ofC, ofD := float64(leftBy(p, q, c)), float64(leftBy(p, q, d))
	if (ofC > 0) == (ofD > 0) {
		return
	}
	m := meeting{patch: [2]int32{int32(i), int32(j)}, edge: [2]int32{int32(k), int32(w)}, along: [2]float64{ofP / (ofP - ofQ), ofC / (ofC - ofD)}}
	if !(ofQ > 0) {
		m.enters = 1
	}
	m.at = p.Plus(q.Minus(p).Times(m.along[0]))
	u.meetings = append(u.meetings, m)
}

func (p *patch) inBox(v Vec) bool {
	return v.East >= p.lo.East && v.East <= p.hi.East && v.North >= p.lo.North && v.North <= p.hi.North
}

// misses tells that a segment lies to one side of the box.
func (p *patch) misses(v, w Vec) bool {
	return v.East < p.lo.East && w.East < p.lo.East || v.East > p.hi.East && w.East > p.hi.East ||
		v.North < p.lo.North && w.North < p.lo.North || v.North > p.hi.North && w.North > p.hi.North
}

// covers tells whether a place lies inside.
func (p *patch) covers(v Vec) bool {
	return p.placeOf(v, 0).in
}

// wedge is the side in whose direction from the middle a place lies, looked for
// from a side nearby.
func (p *patch) wedge(v Vec, near int) int {
	n := len(p.corners)
	to := v.Minus(p.middle)
	k := near
	for range n { // the middle itself has no direction, and any side will do
		next := k + 1
		if next == n {
			next = 0
		}
		switch {
		case p.spokes[k].Cross(to) < 0:
			if k--; k < 0 {
				k = n - 1
			}
		case p.spokes[next].Cross(to) >= 0:
			k = next
		default:
			return k
		}
	}
	return k
}
