// Package least solves weighted nonlinear least-squares problems with sparse
// normal equations: the engine under the adjustment. It knows no geometry;
// unknowns and observations are plain numbers whose units are the caller's.
package least

import (
	"errors"
	"fmt"
	"math"
)

// Term is the partial derivative of a predicted value with respect to one
// unknown.
type Term struct {
	Index int
	Slope float64
}

// Observation predicts one number from the unknowns.
type Observation interface {
	// Predict returns the predicted value at x and appends its partial
	// derivatives to terms. An index may appear more than once.
	Predict(x []float64, terms []Term) (value float64, out []Term)
}

// Equation is an observation with what was read.
type Equation struct {
	Model Observation
	Read  float64
	SD    float64 // a-priori standard deviation of Read, above zero
	Wrap  bool    // an angle in radians: the difference is taken in ±π
	Off   bool    // left out
}

// Problem is a set of equations in a number of unknowns.
type Problem struct {
	Unknowns  int
	Equations []Equation
	Held      []bool // unknowns kept at their start; nil for none

	pattern *pattern // set by Prepare
}

// Prepare does the part of the work that depends only on which unknowns share
// an equation. Solve reuses it for this problem and for copies of it, as long as
// Held and the models stay and equations are only switched or read anew.
func (p *Problem) Prepare(x []float64) { p.pattern = newPattern(p, x) }

// Settings bounds the iteration. The zero value is sensible.
type Settings struct {
	MaxIterations int     // 0 means 100
	Tolerance     float64 // relative change of the sum that counts as none; 0 means 1e-14
}

// Null is a direction that the equations leave open. Its pivot unknown was held
// so that the rest could be solved.
type Null struct {
	Pivot  int
	Vector []float64 // per unknown, 1 at Pivot
}

// Errors of Solve.
var (
	ErrStart     = errors.New("the start has another number of unknowns than the problem")
	ErrNoNumbers = errors.New("the equations give no finite numbers at the start")
	ErrDiverged  = errors.New("no step lowers the sum of squared residuals, and it is not at its least")
)

// check refuses problems that cannot be solved at all.
func (p *Problem) check(start []float64) error {
	if len(start) != p.Unknowns || (p.Held != nil && len(p.Held) != p.Unknowns) {
		return ErrStart
	}
	for k := range p.Equations {
		e := &p.Equations[k]
		if !e.Off && !(e.SD > 0) {
			return fmt.Errorf("equation %d: its standard deviation must be above zero", k)
		}
	}
	return nil
}

// misclosure returns predicted minus read.
func (e *Equation) misclosure(x []float64, scratch []Term) (float64, []Term) {
	v, terms := e.Model.Predict(x, scratch[:0])
	d := v - e.Read
	if e.Wrap {
		d = math.Remainder(d, 2*math.Pi)
	}
	return d, terms
}
