// Package adjust turns the readings of a visit into a plan: adjusted positions
// with their uncertainty, a test of every reading against the others, and what
// to measure next. The method is plane least squares; docs/method.md gives every
// formula with its source.
package adjust

import (
	"math"

	"undersod/core/least"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Settings changes how a plan is made. The zero value is what a job wants.
type Settings struct {
	// Near is an earlier plan of nearly the same job to start from; nil to
	// start from the readings alone.
	Near *Plan
	// Significance of the whole set of tests of single readings, as a
	// probability; 0 means 0.01: one clean job in a hundred is accused.
	Significance float64
	// SkipSearch leaves the search for wrong readings out, SkipNext that for
	// the next best reading.
	SkipSearch, SkipNext bool
}

// defaultSignificance is the chance of accusing a reading of a clean job.
const defaultSignificance = 0.01

// Solve adjusts a job. It never fails: what cannot be determined or used is
// said so in the plan, and the rest is solved.
func Solve(job *site.Job, s Settings) *Plan {
	if s.Significance <= 0 || s.Significance >= 1 {
		s.Significance = defaultSignificance
	}
	w := &work{settings: s, plan: &Plan{}}
	w.net, w.trouble = newNetwork(job)
	w.startPlaces()
	w.adjust()
	w.report()
	if w.sol != nil && !s.SkipSearch {
		w.search()
	}
	if w.sol != nil && !s.SkipNext {
		w.next()
	}
	w.cures()
	w.plan.Outlines = w.outlines()
	w.plan.Verdict = w.verdict()
	return w.plan
}

// work is one run of Solve.
type work struct {
	settings Settings
	net      *network
	plan     *Plan
	builder  *builder
	layout   *layout
	others   []*layout // layouts with a mirrored answer somewhere
	trouble  error     // of the solver, told in the verdict
	near     bool      // the start is an earlier plan

	problem  *least.Problem
	sol      *least.Solution
	eqOf     []int // problem equation of each network equation; -1 when not used
	free     *freeDatum
	plans    *planner
	flat     map[int]flatness // points left out because their readings meet too flat
	start    []float64        // starting places of the kept layout
	critical float64          // limit of a standardized residual
}

// startPlaces finds starting places, near an earlier plan where there is one.
func (w *work) startPlaces() {
	if w.settings.Near != nil && w.startNear() {
		return
	}
	w.layout, w.others, w.builder = w.net.build()
	w.builder.settle(w.layout)
	for _, o := range w.others {
		w.builder.settle(o)
	}
}

// startNear takes the places of an earlier plan if it placed every point that
// can be placed now and left none with two answers.
func (w *work) startNear() bool {
	near := w.settings.Near
	if len(near.Points) != len(w.net.points) || near.work == nil ||
		len(near.work.x) != w.net.unknowns || near.work.mark != w.net.frame.mark ||
		near.work.toward != w.net.frame.toward {
		return false
	}
	b := &builder{n: w.net, hints: true, usable: w.net.enough()}
	l := near.work.clone()
	for i, ok := range b.usable {
		if ok != l.placed[i] || near.Points[i].Name != w.net.points[i].Name ||
			near.Points[i].State == TwoAnswers {
			return false
		}
	}
	if !near.work.holds(w.net) {
		return false
	}
	w.builder, w.layout, w.near = b, l, true
	for b.orient(l) {
	}
	return true
}

// adjust solves the network from its starting places. Where there are mirrored
// layouts, each is solved, and the best one kept.
func (w *work) adjust() {
	w.level()
	w.leaveFlatOut()
	w.setUp()
	if len(w.problem.Equations) == 0 {
		return
	}
	w.sol = w.solveFrom(w.layout.x)
	if w.sol == nil {
		return
	}
	others := w.others
	w.others = nil
	for i, o := range others {
		if i < w.looks() {
			w.weigh(o)
		} else { // not followed: never called determined
			w.others = append(w.others, o)
		}
	}
	if !w.near {
		w.reconsider()
	}
	w.start = append([]float64(nil), w.layout.x...)
	copy(w.layout.x, w.sol.X)
}

// level makes all layouts place the same points, those of the one that places
// most: on some branches a point could not be started, and the equations are the
// same for all.
func (w *work) level() {
	count := func(l *layout) int {
		n := 0
		for _, ok := range l.placed {
			if ok {
				n++
			}
		}
		return n
	}
	for i, o := range w.others {
		if count(o) > count(w.layout) {
			w.layout, w.others[i] = o, w.layout
		}
	}
	for _, o := range w.others {
		for p, ok := range w.layout.placed {
			if ok && !o.placed[p] {
				o.set(p, w.layout.at(p))
			}
			o.placed[p] = ok
		}
	}
}

// solveFrom solves the problem from a start; trouble is kept for the verdict.
// A solution that has not settled is still the best there is, and is shown.
func (w *work) solveFrom(x []float64) *least.Solution {
	s, err := least.Solve(w.problem, x, least.Settings{})
	if err != nil {
		w.trouble = err
	}
	return s
}

// setUp makes the problem from the equations whose points are placed.
func (w *work) setUp() {
	n, l := w.net, w.layout
	w.problem = &least.Problem{Unknowns: n.unknowns, Held: make([]bool, n.unknowns)}
	w.eqOf = make([]int, len(n.eqs))
	turns := false
	var shifts [2]bool
	for k := range n.eqs {
		e := &n.eqs[k]
		w.eqOf[k] = -1
		if !w.builder.ready(l, e) {
			continue
		}
		w.eqOf[k] = len(w.problem.Equations)
		w.problem.Equations = append(w.problem.Equations, e.Equation)
		turns = turns || e.turns
		if e.shift >= 0 {
			shifts[n.shiftSlot(e.shift)] = true
		}
	}
	held := w.problem.Held
	for i, ok := range l.placed {
		held[2*i], held[2*i+1] = !ok, !ok
	}
	f := n.frame
	if f.mark >= 0 {
		held[2*f.mark], held[2*f.mark+1] = true, true
	}
	if f.toward >= 0 {
		held[2*f.toward+1] = true
	}
	held[n.turn] = !turns || f.azimuth != nil
	grid := !shifts[0] || n.gridGiven()
	held[n.gridShift], held[n.gridShift+1] = grid, grid
	geo := !shifts[1] || f.geoKnown
	held[n.geoShift], held[n.geoShift+1] = geo, geo
	w.problem.Prepare(l.x)
}

// gridGiven tells whether the datum's own coordinates are stated, so that grid
// fixes count from the same origin.
func (n *network) gridGiven() bool {
	return n.gridStated(&n.frame)
}

// toPlan turns a working position into a plan position.
func (w *work) toPlan(s spot) planar.Vec {
	v := planar.Vec{East: unit.Length(s.e), North: unit.Length(s.n)}.Clockwise(w.turn())
	if w.net.gridGiven() {
		v = v.Plus(planar.Vec{East: w.net.frame.east0, North: w.net.frame.north0})
	}
	return v
}

// turn is the clockwise turn from the working frame to the plan.
func (w *work) turn() unit.Angle {
	if w.layout == nil || !w.layout.turn {
		return 0
	}
	return unit.Angle(w.layout.x[w.net.turn])
}

// cov returns the working covariance of point p: var e, cov en, var n.
func (w *work) cov(p int) (ee, en, nn float64) {
	ee, _ = w.sol.Cov(2*p, 2*p)
	en, _ = w.sol.Cov(2*p, 2*p+1)
	nn, _ = w.sol.Cov(2*p+1, 2*p+1)
	if w.free != nil {
		return w.free.transform(p, ee, en, nn)
	}
	return ee, en, nn
}

// sigma returns the plan covariance of point p.
func (w *work) sigma(p int) Sigma {
	ee, en, nn := w.cov(p)
	s, c := math.Sincos(float64(w.turn()))
	// east' = c e + s n, north' = -s e + c n
	pe := c*c*ee + 2*s*c*en + s*s*nn
	pn := s*s*ee - 2*s*c*en + c*c*nn
	x := -s*c*ee + (c*c-s*s)*en + s*c*nn
	return sigmaOf(pe, x, pn)
}

func sigmaOf(ee, en, nn float64) Sigma {
	se, sn := math.Sqrt(math.Max(ee, 0)), math.Sqrt(math.Max(nn, 0))
	out := Sigma{East: unit.Length(se), North: unit.Length(sn)}
	if se > 0 && sn > 0 {
		out.Correlation = math.Max(-1, math.Min(1, en/(se*sn)))
	}
	return out
}
