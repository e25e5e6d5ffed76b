package least

import (
	"fmt"
	"math"
)

// denseUnknowns is the number of free unknowns up to which a full matrix is used.
const denseUnknowns = 120

// Damping of steps that do not make the sum smaller.
const (
	firstDamping = 1e-3
	leastDamping = 1e-7 // below this the step is a plain one
	mostDamping  = 1e16
	// nearStationary bounds the cosine between the residuals and what any one
	// unknown can change, at the end of an iteration that needs damping.
	nearStationary = 1e-7
)

// Solve finds the unknowns that fit the equations best, from a start near
// enough. An error says in words what is wrong with the problem. Where the
// iteration does not settle, the last place is returned together with an error,
// and Converged is false.
func Solve(p *Problem, start []float64, s Settings) (*Solution, error) {
	return new(Solver).Solve(p, start, s)
}

// Solver solves problems one after the other and keeps scratch memory and, for
// large problems, the analysis of which unknowns occur together, for the next
// one. A problem that differs only by values read, or by which equations are
// left out, is analysed once. The solutions do not share memory with it. One
// Solver must not be used by two goroutines at a time; the zero value is ready.
type Solver struct {
	lin    linearizer
	trial  rows
	g      []float64
	step   []float64
	sparse *analysis
}

// Reset forgets the analysis and the scratch memory.
func (v *Solver) Reset() { *v = Solver{} }

// run is one solution under way.
type run struct {
	*Solver
	p     *Problem
	s     Settings
	sol   *Solution
	cur   *rows
	n     normal
	level float64   // damping
	scale []float64 // largest diagonal so far, by which the damping is scaled
	next  []float64
}

// Solve is the package's Solve in this Solver's memory.
func (v *Solver) Solve(p *Problem, start []float64, s Settings) (*Solution, error) {
	if err := p.check(start); err != nil {
		return nil, err
	}
	r := &run{Solver: v, p: p, s: s.filled(), cur: new(rows)}
	r.level = r.s.Damping
	r.begin(start)
	v.lin.fill(r.sol.X, r.cur)
	if r.cur.bad != nil {
		return nil, r.cur.bad
	}
	r.n = v.matrix(p, r.sol, r.cur)
	err := r.iterate()
	r.finish()
	return r.sol, err
}

// begin numbers the free unknowns and makes room.
func (r *run) begin(start []float64) {
	sol := &Solution{X: append([]float64(nil), start...)}
	sol.place = make([]int32, r.p.Unknowns)
	for i := range sol.place {
		sol.place[i] = -1
		if len(r.p.Held) == 0 || !r.p.Held[i] {
			sol.place[i] = int32(len(sol.unknown))
			sol.unknown = append(sol.unknown, int32(i))
		}
	}
	n := len(sol.unknown)
	r.sol = sol
	r.lin.p, r.lin.place = r.p, sol.place
	r.lin.at = resized(r.lin.at, n)
	r.g, r.step = resized(r.g, n), resized(r.step, n)
	room := make([]float64, len(start)+n)
	r.next, r.scale = room[:len(start)], room[len(start):]
}

func resized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// matrix chooses the normal matrix for a problem.
func (v *Solver) matrix(p *Problem, sol *Solution, r *rows) normal {
	if len(sol.unknown) <= denseUnknowns {
		return newDense(len(sol.unknown))
	}
	if p.prepared.fits(sol, r) {
		return newSparse(p.prepared)
	}
	if !v.sparse.fits(sol, r) {
		v.sparse = analyse(p, sol, r)
	}
	return newSparse(v.sparse)
}

// outcome of one step.
type outcome int

const (
	better  outcome = iota // the step was taken
	worse                  // the step was refused
	settled                // nothing is left to gain
)

// iterate takes steps until nothing is left to gain.
func (r *run) iterate() error {
	for r.sol.Iterations < r.s.MaxIterations {
		r.sol.Iterations++
		r.n.assemble(r.p, r.cur)
		r.grow()
		r.cur.pull(r.p, r.g)
		done, err := r.advance()
		if err != nil {
			return err
		}
		if done {
			r.sol.Converged = true
			return nil
		}
	}
	return r.unsettled()
}

// grow keeps the largest diagonal met. With the present one alone, an unknown
// that has lost its grip on the values would run away (Moré 1978, "The
// Levenberg-Marquardt algorithm: implementation and theory").
func (r *run) grow() {
	for i, d := range r.n.diagonal() {
		r.scale[i] = math.Max(r.scale[i], d)
	}
}

// advance takes one step, the damping raised until the sum gets smaller.
func (r *run) advance() (settledNow bool, err error) {
	for r.level <= mostDamping {
		switch r.try() {
		case better:
			return false, nil
		case settled:
			return true, nil
		}
		r.level = math.Max(10*r.level, firstDamping)
	}
	if r.stationary() {
		return true, nil
	}
	return false, r.unsettled()
}

// try computes a step with the present damping and takes it if it helps.
func (r *run) try() outcome {
	r.n.decompose(r.level, r.scale, r.s.Rank)
	copy(r.step, r.g)
	r.n.solve(r.step)
	gain := 0.0
	for i, g := range r.g {
		gain += 2 * g * r.step[i]
	}
	size := r.cur.length(r.p, r.step)
	gain -= size
	r.lin.fill(r.moved(), &r.trial)
	small := size <= r.s.Tolerance*r.s.Tolerance*r.cur.sum+r.cur.round &&
		(r.level <= leastDamping || r.stationary())
	sum := r.trial.sum
	switch {
	case r.trial.bad == nil && sum <= r.cur.sum+r.cur.round:
		ratio := (r.cur.sum - sum) / gain
		r.accept()
		r.relax(ratio)
		if small {
			return settled
		}
		return better
	case small:
		return settled
	// A step that promises less than rounding can show is no step.
	case r.level <= leastDamping && size <= 1e-9*r.cur.sum && gain <= 1e-12*r.cur.sum+r.cur.noise():
		return settled
	}
	return worse
}

// moved is the place that the step leads to.
func (r *run) moved() []float64 {
	copy(r.next, r.sol.X)
	for c, i := range r.sol.unknown {
		r.next[i] += r.step[c]
	}
	return r.next
}

func (r *run) accept() {
	copy(r.sol.X, r.next)
	*r.cur, r.trial = r.trial, *r.cur
}

// relax changes the damping by how well the last step kept its promise.
func (r *run) relax(ratio float64) {
	switch {
	case ratio > 0.75:
		r.level /= 10
	case ratio < 0.25:
		r.level = math.Max(4*r.level, firstDamping)
	}
	if r.level < leastDamping {
		r.level = 0
	}
}

// stationary tells whether no single unknown can make the sum smaller.
func (r *run) stationary() bool {
	for i, d := range r.n.diagonal() {
		if g := r.g[i]; g*g > nearStationary*nearStationary*d*r.cur.sum+d*r.cur.round {
			return false
		}
	}
	return true
}

// unsettled names the equation that disagrees most.
func (r *run) unsettled() error {
	worst, most := 0, -1.0
	for k := range r.p.Equations {
		e := &r.p.Equations[k]
		if z := math.Abs(r.cur.miss[k]) / e.SD; !e.Off && z > most {
			worst, most = k, z
		}
	}
	return fmt.Errorf("the solution does not settle after %d steps; equation %d disagrees most (it reads %g, %g is predicted): look at that reading, or start nearer",
		r.sol.Iterations, worst, r.p.Equations[worst].Read, r.p.Equations[worst].Read+r.cur.miss[worst])
}

// finish factors the undamped matrix at the answer and gathers what it tells.
func (r *run) finish() {
	r.n.assemble(r.p, r.cur)
	r.n.decompose(0, r.scale, r.s.Rank)
	sol := r.sol
	sol.rows, sol.normal = r.cur, r.n
	sol.Statistic = r.cur.sum
	for _, c := range r.n.held() {
		sol.Deficient = append(sol.Deficient, sol.direction(c))
	}
	for k := range r.p.Equations {
		if !r.p.Equations[k].Off {
			sol.Freedom++
		}
	}
	sol.Freedom -= len(sol.unknown) - len(sol.Deficient)
	sol.sd = make([]float64, len(r.p.Equations))
	sol.off = make([]bool, len(r.p.Equations))
	for k := range r.p.Equations {
		sol.sd[k], sol.off[k] = r.p.Equations[k].spare(), r.p.Equations[k].Off
	}
}
