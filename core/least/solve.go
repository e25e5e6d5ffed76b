package least

import "math"

// Solution is the least of a problem with its statistics.
type Solution struct {
	X          []float64
	Converged  bool
	Iterations int
	Statistic  float64 // sum of (misclosure/SD)² over the equations in use
	Freedom    int     // equations in use minus unknowns determined
	Deficient  []Null

	problem  *Problem
	f        *factor
	z        selected
	residual []float64
	share    []float64
}

// Limits of the damping.
const (
	firstDamping = 1e-4
	leastDamping = 1e-12
	mostDamping  = 1e12
)

// run is one iteration in progress.
type run struct {
	p     *Problem
	f     *factor
	x     []float64
	trial []float64
	step  []float64
	terms []Term
}

// Solve finds the least of the sum of squared weighted misclosures from a
// start, by Gauss-Newton steps that are damped after Levenberg (1944) and
// Marquardt (1963) whenever a full step does not lower the sum. Unknowns that the
// equations leave open are held at their start and listed in Deficient.
func Solve(p *Problem, start []float64, s Settings) (*Solution, error) {
	if err := p.check(start); err != nil {
		return nil, err
	}
	if s.MaxIterations == 0 {
		s.MaxIterations = 100
	}
	if s.Tolerance == 0 {
		s.Tolerance = 1e-14
	}
	r := &run{p: p, x: append([]float64(nil), start...), trial: make([]float64, len(start))}
	t := p.pattern
	if t == nil {
		t = newPattern(p, r.x)
	}
	r.f = newFactor(t)
	r.step = make([]float64, len(r.f.t.free))
	sum := r.assemble()
	if !finite(sum) {
		return nil, ErrNoNumbers
	}
	out := &Solution{problem: p}
	var err error
	sum, err = r.descend(sum, s, out)
	if err != nil {
		return nil, err
	}
	r.f.factorize(0)
	out.X, out.Statistic, out.f = r.x, sum, r.f
	out.finish()
	return out, nil
}

// descend steps until the sum no longer falls.
func (r *run) descend(sum float64, s Settings, out *Solution) (float64, error) {
	damping := 0.0
	for ; out.Iterations < s.MaxIterations; out.Iterations++ {
		r.f.factorize(damping)
		copy(r.step, r.f.right)
		r.f.solve(r.step)
		small := r.tryStep()
		next := r.sum(r.trial)
		if next <= sum && finite(next) {
			gain := sum - next
			r.x, r.trial = r.trial, r.x
			sum = r.assemble()
			if damping /= 10; damping < leastDamping {
				damping = 0
			}
			if small || (gain <= s.Tolerance*sum && damping == 0) {
				out.Converged = true
				return sum, nil
			}
			continue
		}
		if small {
			out.Converged = true
			return sum, nil
		}
		if damping = math.Max(10*damping, firstDamping); damping > mostDamping {
			return sum, ErrDiverged
		}
	}
	return sum, nil
}

// tryStep sets the trial place and tells whether the step is below rounding.
func (r *run) tryStep() bool {
	copy(r.trial, r.x)
	small := true
	for c, d := range r.step {
		i := r.f.t.free[c]
		r.trial[i] += d
		if math.Abs(d) > 1e-11*(math.Abs(r.x[i])+1e-3) {
			small = false
		}
	}
	return small
}

// sum returns the sum of squared weighted misclosures at x.
func (r *run) sum(x []float64) float64 {
	s := 0.0
	for k := range r.p.Equations {
		e := &r.p.Equations[k]
		if e.Off {
			continue
		}
		var d float64
		d, r.terms = e.misclosure(x, r.terms)
		d /= e.SD
		s += d * d
	}
	return s
}

// assemble forms the normal equations at x and returns the sum there.
func (r *run) assemble() float64 {
	r.f.clear()
	s := 0.0
	for k := range r.p.Equations {
		e := &r.p.Equations[k]
		if e.Off {
			continue
		}
		var d float64
		d, r.terms = e.misclosure(r.x, r.terms)
		w := 1 / (e.SD * e.SD)
		r.f.add(r.terms, d, w)
		s += w * d * d
	}
	return s
}

// finish computes everything that follows from the least.
func (s *Solution) finish() {
	f := s.f
	s.z = f.inverse()
	for _, c := range f.open {
		v := make([]float64, s.problem.Unknowns)
		for k, part := range f.null(c) {
			v[f.t.free[k]] = part
		}
		s.Deficient = append(s.Deficient, Null{f.t.free[c], v})
	}
	n := len(s.problem.Equations)
	buf := make([]float64, 2*n)
	s.residual, s.share = buf[:n], buf[n:]
	var terms []Term
	used := 0
	for k := range s.problem.Equations {
		e := &s.problem.Equations[k]
		var d float64
		d, terms = e.misclosure(s.X, terms)
		s.residual[k] = d
		if e.Off {
			continue
		}
		used++
		s.share[k] = math.Min(1, math.Max(0, 1-s.PredictedVariance(terms)/(e.SD*e.SD)))
	}
	s.Freedom = used - (len(f.t.free) - len(f.open))
}

// Residual returns adjusted minus read of equation k, in its unit.
func (s *Solution) Residual(k int) float64 { return s.residual[k] }

// Redundancy returns the redundancy share of equation k, 1 - a Q aᵀ/SD², from
// 0 (nothing checks it) to 1; 0 for an equation that is off.
func (s *Solution) Redundancy(k int) float64 { return s.share[k] }

// Cov returns the covariance of unknowns i and j. It is kept for unknowns that
// share an equation, and for those that the elimination joins; false for any
// others, whose entry Column gives. Held and open unknowns have zero.
func (s *Solution) Cov(i, j int) (float64, bool) {
	a, b := s.f.t.col[i], s.f.t.col[j]
	switch {
	case a < 0 || b < 0:
		return 0, true
	case a == b:
		return s.z.diag[a], true
	case a < b:
		a, b = b, a
	}
	if at := s.f.t.place(a, b); at >= 0 {
		return s.z.below[at], true
	}
	return 0, false
}

// Column returns the covariances of unknown i with every unknown.
func (s *Solution) Column(i int) []float64 {
	out := make([]float64, s.problem.Unknowns)
	c := s.f.t.col[i]
	if c < 0 || s.f.d[c] == 0 {
		return out
	}
	z := s.f.work
	clear(z)
	z[c] = 1
	s.f.solve(z)
	for k, v := range z {
		out[s.f.t.free[k]] = v
	}
	return out
}

// PredictedVariance returns a Q aᵀ, the variance of a linear function of the
// unknowns with the given slopes.
func (s *Solution) PredictedVariance(terms []Term) float64 {
	v := 0.0
	for i, a := range terms {
		for j, b := range terms[:i+1] {
			c, ok := s.Cov(a.Index, b.Index)
			if !ok {
				return s.variance(terms)
			}
			if i != j {
				c *= 2
			}
			v += a.Slope * b.Slope * c
		}
	}
	return v
}

// variance is PredictedVariance by solving, for slopes outside the pattern.
func (s *Solution) variance(terms []Term) float64 {
	t := s.f.t
	z := s.f.work
	clear(z)
	for _, a := range terms {
		if c := t.col[a.Index]; c >= 0 && s.f.d[c] != 0 {
			z[c] += a.Slope
		}
	}
	s.f.solve(z)
	v := 0.0
	for _, a := range terms {
		if c := t.col[a.Index]; c >= 0 {
			v += a.Slope * z[c]
		}
	}
	return v
}
