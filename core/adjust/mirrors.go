package adjust

// maxSecondLooks bounds how many further layouts are solved after the first.
const maxSecondLooks = 100

// weigh solves from another layout. It becomes the plan where it explains the
// readings better, and is kept beside it where nothing decides between them.
func (w *work) weigh(o *layout) {
	s := w.solveFrom(o.x)
	if s == nil || s.Statistic > w.sol.Statistic+mirrorMargin {
		return
	}
	if s.Statistic < w.sol.Statistic-mirrorMargin {
		w.layout, w.sol, w.others = o, s, nil
		return
	}
	if s.Statistic < w.sol.Statistic {
		w.layout, o = o, w.layout
		s, w.sol = w.sol, s
	}
	c := o.clone()
	copy(c.x, s.X)
	w.others = append(w.others, c)
}

// reconsider looks at every point once more from the adjusted places of the
// others: the start was built one point at a time, with a frame turned by its
// first bearing, and may have missed a second answer that shows only now.
func (w *work) reconsider() {
	looks := 0
	for p, placed := range w.layout.placed {
		if !placed || w.problem.Held[2*p] || w.problem.Held[2*p+1] {
			continue
		}
		now := w.layout.clone()
		copy(now.x, w.sol.X)
		for _, a := range append(w.builder.answers(now, p), w.reflection(now, p)...) {
			if a.at.from(now.at(p)) <= samePlace || w.known(p, a.at) || looks == maxSecondLooks {
				continue
			}
			looks++
			c := now.clone()
			c.set(p, a.at)
			w.weigh(c)
		}
	}
}

// looseShare is the redundancy share below which a reading is nearly free to
// follow its point to the other side.
const looseShare = 0.05

// reflection returns the mirrored places of a point that its readings hardly
// check: the places of its neighbours may give way too, so only a new solution
// can tell. There are none where a hint decides.
func (w *work) reflection(now *layout, p int) []answer {
	if w.net.points[p].IsMark() {
		return nil
	}
	for _, k := range w.net.at[p] {
		if q := w.eqOf[k]; q >= 0 && w.sol.Redundancy(q) > looseShare {
			return nil
		}
	}
	var out []answer
	near := w.net.tiedTo(now, p)
	for i, a := range near {
		for _, b := range near[i+1:] {
			c := now.clone()
			reflect(c.x, a, b, p)
			mirror := answer{at: c.at(p)}
			if len(w.builder.decide(now, p, []answer{{at: now.at(p)}, mirror})) > 1 {
				out = append(out, mirror)
			}
		}
	}
	return out
}

// tiedTo lists up to three placed points that p is tied to.
func (n *network) tiedTo(l *layout, p int) []int {
	var out []int
	for _, k := range n.at[p] {
		m, ok := n.eqs[k].Model.(distanceModel)
		if q := m.a + m.b - p; ok && l.placed[q] && indexOf(out, q) < 0 && len(out) < 3 {
			out = append(out, q)
		}
	}
	return out
}

// known tells whether a kept layout has a point at a place already.
func (w *work) known(p int, at spot) bool {
	for _, o := range w.others {
		if o.at(p).from(at) <= 10*samePlace {
			return true
		}
	}
	return false
}
