// Package least solves weighted nonlinear least-squares problems: it finds the
// unknowns that make the sum of squared (predicted minus read) over standard
// deviation smallest, and how sure they are.
//
// The method is Gauss-Newton on the normal equations, damped after Levenberg
// and Marquardt (Marquardt 1963, "An algorithm for least-squares estimation of
// nonlinear parameters", J. SIAM 11(2)) as soon as a plain step does not make
// the sum smaller. Small problems are solved with a full matrix, larger ones
// with a sparse one: minimum degree ordering, LDLᵀ, and the entries of the
// inverse on the factor's pattern (Erisman and Tinney 1975, "On computing
// certain elements of the inverse of a sparse matrix", CACM 18(3)).
//
// Unknowns and readings are plain numbers here: each model knows its own units,
// and a covariance has the product of the units of its two unknowns. Nothing is
// random and nothing depends on the order of a map, so equal input gives equal
// output to the last bit on one machine.
package least

import (
	"fmt"
	"math"
)

// Term is one partial derivative of a predicted value.
type Term struct {
	Index int     // the unknown
	Slope float64 // change of the value per unit of the unknown
}

// Observation predicts what would be read.
type Observation interface {
	// Predict returns the value that the unknowns x predict, and appends its
	// partial derivatives to terms. Unknowns it does not name have none; one
	// named twice gets the sum. It must not keep or change x. A value that is
	// not a finite number says that x is out of the model's reach: the solver
	// then takes a shorter step.
	Predict(x []float64, terms []Term) (value float64, out []Term)
}

// Equation is one reading with the model that predicts it.
type Equation struct {
	Model Observation
	Read  float64 // what was read, in the model's unit
	SD    float64 // a-priori standard deviation in the same unit, above zero
	Wrap  bool    // an angle in radians: differences are taken in (-π, π]
	Off   bool    // left out of the solution; its residual is still told
}

// Problem is a set of equations in a number of unknowns.
type Problem struct {
	Unknowns  int
	Equations []Equation
	// Held marks unknowns that keep their starting value; nil for none.
	Held []bool
	// Groups lists unknowns that belong together, as the east and north of a
	// point. They only help to order a large problem; nil lets the solver group
	// unknowns that occur in the same equations.
	Groups [][]int

	prepared *analysis // by Prepare
}

// Prepare does beforehand what depends only on which unknowns share an equation.
// Solve then skips that for the problem and for copies of it, as long as Held
// and the models stay: values read and the equations left out may change. Small
// problems have nothing to prepare. A problem that cannot be solved is left
// alone; Solve says what is wrong with it.
func (p *Problem) Prepare(start []float64) {
	p.prepared = nil
	if p.check(start) != nil {
		return
	}
	r := &run{Solver: new(Solver), p: p, cur: new(rows)}
	r.begin(start)
	if r.lin.fill(start, r.cur); r.cur.bad == nil && len(r.sol.unknown) > denseUnknowns {
		p.prepared = analyse(p, r.sol, r.cur)
	}
}

// Settings tunes Solve. The zero value suits networks of tape readings.
type Settings struct {
	// MaxIterations bounds the accepted steps; 0 means 200.
	MaxIterations int
	// Tolerance ends the iteration: the length of the last step, measured by
	// what it changes in the predicted values in units of their standard
	// deviations, over the length of the residuals measured so (the relative
	// offset of Bates and Watts 1981, Technometrics 23(2)); 0 means 1e-6. Where
	// the readings agree perfectly the limit is their rounding.
	Tolerance float64
	// Rank is the share of an unknown's own weight below which what is left of
	// it after eliminating the others counts as nothing; 0 means 1e-12. It sees
	// directions weaker than a millionth of a well determined one as free.
	Rank float64
	// Damping is the first damping, relative to the diagonal of the normal
	// equations; 0 tries a plain Gauss-Newton step first. A far-off start of a
	// strongly curved problem wants 0.01 to 10.
	Damping float64
}

// Defaults of Settings.
const (
	defaultIterations = 200
	defaultTolerance  = 1e-6
	defaultRank       = 1e-12
)

func (s Settings) filled() Settings {
	if s.MaxIterations <= 0 {
		s.MaxIterations = defaultIterations
	}
	if !(s.Tolerance > 0) {
		s.Tolerance = defaultTolerance
	}
	if !(s.Rank > 0) {
		s.Rank = defaultRank
	}
	if !(s.Damping > 0) || math.IsInf(s.Damping, 0) {
		s.Damping = 0
	}
	return s
}

// check returns what is wrong with a problem and its start, or nil.
func (p *Problem) check(start []float64) error {
	if p.Unknowns < 0 || len(start) != p.Unknowns {
		return fmt.Errorf("the problem has %d unknowns, but %d starting values: give one for each", p.Unknowns, len(start))
	}
	if len(p.Held) != 0 && len(p.Held) != p.Unknowns {
		return fmt.Errorf("the problem has %d unknowns, but %d held flags: give none, or one for each", p.Unknowns, len(p.Held))
	}
	for i, v := range start {
		if !finite(v) {
			return fmt.Errorf("the starting value of unknown %d is %g: give a finite number", i, v)
		}
	}
	for _, g := range p.Groups {
		for _, i := range g {
			if i < 0 || i >= p.Unknowns {
				return fmt.Errorf("a group names unknown %d, but they run from 0 to %d", i, p.Unknowns-1)
			}
		}
	}
	return p.checkEquations()
}

func (p *Problem) checkEquations() error {
	used := 0
	for k := range p.Equations {
		e := &p.Equations[k]
		switch {
		case e.Model == nil:
			return fmt.Errorf("equation %d has no model", k)
		case e.Off:
			continue
		case !finite(e.Read):
			return fmt.Errorf("equation %d reads %g: give a finite number", k, e.Read)
		case !(e.SD > 0) || !finite(1/(e.SD*e.SD)) || 1/(e.SD*e.SD) == 0:
			return fmt.Errorf("equation %d has the standard deviation %g: give one above zero, such as 0.005", k, e.SD)
		}
		used++
	}
	if used == 0 {
		return fmt.Errorf("there is no equation to solve: give at least one that is not left out")
	}
	return nil
}

// miss returns value minus what was read.
func (e *Equation) miss(value float64) float64 {
	d := value - e.Read
	if !e.Wrap {
		return d
	}
	if d = math.Remainder(d, 2*math.Pi); d == -math.Pi {
		return math.Pi
	}
	return d
}

func finite(v float64) bool { return !math.IsInf(v, 0) && !math.IsNaN(v) }
