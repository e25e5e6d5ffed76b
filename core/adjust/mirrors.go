package adjust

import (
	"math"

	"undersod/core/least"
)

// Bounds of the second look, so that a hopeless network ends in seconds.
const (
	mostLooks      = 100
	leastLooks     = 8
	pointLooks     = 3000 // looks times points
	lookIterations = 40
)

// looks bounds how many further layouts are solved after the first.
func (w *work) looks() int {
	return max(leastLooks, min(mostLooks, pointLooks/max(1, len(w.net.points))))
}

// weigh solves from another layout. It becomes the plan where it explains the
// readings better, and is kept beside it where nothing decides between them.
func (w *work) weigh(o *layout) {
	s, _ := least.Solve(w.problem, o.x, least.Settings{MaxIterations: lookIterations})
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
		if w.settled(p) {
			continue
		}
		now := w.layout.clone()
		copy(now.x, w.sol.X)
		for _, a := range append(w.builder.answers(now, p), w.reflection(now, p)...) {
			if a.at.from(now.at(p)) <= samePlace || w.known(p, a.at) || looks >= w.looks() {
				continue
			}
			c := now.clone()
			c.set(p, a.at)
			if w.promises(now, c, p) {
				looks++
				w.weigh(c)
			}
		}
	}
}

// wellChecked is the redundancy share above which a reading checks its point
// well.
const wellChecked = 0.2

// settled tells whether all readings of a point are checked and agree: such a
// point is not looked at again, since its neighbours would have shown a wrong
// side. In a small network, where a look costs little, they must be checked well.
func (w *work) settled(p int) bool {
	least := looseShare
	if len(w.layout.placed) <= largeNetwork {
		least = wellChecked
	}
	for _, k := range w.net.at[p] {
		q := w.eqOf[k]
		if q < 0 {
			continue
		}
		r := w.sol.Redundancy(q)
		if r <= least || math.Abs(w.sol.Residual(q)) > 4*w.net.eqs[k].SD*math.Sqrt(r) {
			return false
		}
	}
	return true
}

// Bounds of the trial that spares a solution of the whole plan.
const (
	trialPoints = 16
	// trialMargin is above mirrorMargin, as points held in the trial may still
	// give way.
	// In a large network a solution costs too much for that.
	trialMargin = 10 * mirrorMargin
	// largeNetwork is the number of points above which a trial that comes back
	// to where the point lies is taken for the whole plan's answer; below it a
	// solution of the whole plan costs little.
	largeNetwork = 200
)

// promises tells whether a point's other place is worth a solution of the whole
// plan: only its neighbourhood is solved, and everything else held.
func (w *work) promises(now, other *layout, p int) bool {
	group, seen := []int{p}, map[int]bool{p: true}
	for i := 0; i < len(group); i++ {
		for _, q := range w.builder.neighbours(group[i]) {
			if !seen[q] && now.placed[q] && !w.net.points[q].IsMark() && len(group) < trialPoints {
				seen[q] = true
				group = append(group, q)
			}
		}
	}
	problem := w.builder.jointProblem(now, group)
	s, err := least.Solve(problem, other.x, least.Settings{})
	if err != nil {
		return false
	}
	back := (spot{s.X[2*p], s.X[2*p+1]}).from(now.at(p)) <= samePlace
	if back && len(now.placed) > largeNetwork {
		return false
	}
	before := 0.0
	for k := range problem.Equations {
		e := &problem.Equations[k]
		v, _ := e.Model.Predict(now.x, nil)
		z := v - e.Read
		if e.Wrap {
			z = math.Remainder(z, 2*math.Pi)
		}
		z /= e.SD
		before += z * z
	}
	margin := trialMargin
	if len(now.placed) > largeNetwork {
		margin = mirrorMargin
	}
	return s.Statistic <= before+margin
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
