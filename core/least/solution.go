package least

import (
	"math"
	"sync"
)

// Null is a direction in which the unknowns can move without changing any
// predicted value.
type Null struct {
	// Pivot is the unknown that was held at its place so that the rest could
	// be solved.
	Pivot int
	// Vector is how far each unknown moves as the pivot moves by one.
	Vector []float64
}

// Solution is the answer to a Problem. It keeps what it needs of the problem,
// which may be changed afterwards, and may be read by several goroutines.
type Solution struct {
	// X is the unknowns; held ones keep their starting value.
	X          []float64
	Converged  bool
	Iterations int
	// Statistic is the sum of squared residuals over standard deviations of
	// the equations in use. With the right standard deviations and no slips it
	// has the chi-square distribution with Freedom degrees of freedom.
	Statistic float64
	// Freedom is the number of equations in use minus that of the unknowns
	// they determine.
	Freedom int
	// Deficient lists the directions that the equations do not determine. All
	// variances below are those with the pivots held.
	Deficient []Null

	place   []int32 // free column of each unknown, -1 for a held one
	unknown []int32 // unknown of each free column
	rows    *rows
	normal  normal
	sd      []float64
	off     []bool
	once    sync.Once
}

// inverse returns the normal matrix with its inverse ready.
func (s *Solution) inverse() normal {
	s.once.Do(s.normal.invert)
	return s.normal
}

// direction returns the null vector of a held column.
func (s *Solution) direction(c int) Null {
	v := make([]float64, len(s.unknown))
	s.normal.null(c, v)
	n := Null{Pivot: int(s.unknown[c]), Vector: make([]float64, len(s.X))}
	for j, part := range v {
		n.Vector[s.unknown[j]] = part
	}
	return n
}

// column returns the free column of unknown i, and false where it has none.
func (s *Solution) column(i int) (int, bool) {
	if i < 0 || i >= len(s.place) || s.place[i] < 0 {
		return 0, false
	}
	return int(s.place[i]), true
}

// Cov returns the covariance of unknowns i and j, zero where one of them is
// held. It is false where the entry is not kept: of a large problem only those
// of unknowns that occur in one equation, and some more, are. Column gives the
// others.
func (s *Solution) Cov(i, j int) (float64, bool) {
	a, ok := s.column(i)
	b, ok2 := s.column(j)
	if !ok || !ok2 {
		return 0, true
	}
	return s.inverse().at(a, b)
}

// Column returns the covariance of every unknown with unknown i; zeros where i
// is held or is not an unknown.
func (s *Solution) Column(i int) []float64 {
	out := make([]float64, len(s.X))
	c, ok := s.column(i)
	if !ok {
		return out
	}
	b := make([]float64, len(s.unknown))
	b[c] = 1
	s.normal.solve(b)
	for j, v := range b {
		out[s.unknown[j]] = v
	}
	return out
}

// Dense returns the whole covariance matrix, row by row. It has the square of
// the number of unknowns as its size: for small problems only.
func (s *Solution) Dense() [][]float64 {
	out := make([][]float64, len(s.X))
	for i := range out {
		out[i] = s.Column(i)
	}
	return out
}

// Residual returns predicted minus read of equation k in its unit, for an
// equation that was left out too; NaN where there is no such equation.
func (s *Solution) Residual(k int) float64 {
	if k < 0 || k >= len(s.rows.miss) {
		return math.NaN()
	}
	return s.rows.miss[k]
}

// Redundancy returns which share of an error in equation k shows in its own
// residual: 1 - aᵀQa/SD², from 0 (nothing checks it) to 1. They sum to Freedom
// (Baarda 1968, A testing procedure for use in geodetic networks, from memory).
// It is 0 for an equation that was left out.
func (s *Solution) Redundancy(k int) float64 {
	if k < 0 || k >= len(s.off) || s.off[k] {
		return 0
	}
	return math.Min(1, math.Max(0, 1-s.share(k)))
}

// share is aᵀQa/SD² of equation k.
func (s *Solution) share(k int) float64 {
	from, to := s.rows.first[k], s.rows.first[k+1]
	return s.form(s.rows.col[from:to], s.rows.slope[from:to])
}

// Standardized returns the residual of equation k over its own standard
// deviation, which is SD·√Redundancy. An equation that was left out is compared
// with what the others predict: over √(SD² + aᵀQa). It is 0 where nothing
// checks the equation (Redundancy below 1e-9).
func (s *Solution) Standardized(k int) float64 {
	if k < 0 || k >= len(s.off) {
		return 0
	}
	z := s.rows.miss[k] / s.sd[k]
	if s.off[k] {
		return z / math.Sqrt(1+s.share(k))
	}
	if r := s.Redundancy(k); r > 1e-9 {
		return z / math.Sqrt(r)
	}
	return 0
}

// PredictedVariance returns aᵀQa, the variance of a value with the given
// partial derivatives, in its unit squared, the pivots of Deficient held. Terms
// of held or unknown indices count nothing.
func (s *Solution) PredictedVariance(terms []Term) float64 {
	cols, slopes := make([]int32, 0, 16), make([]float64, 0, 16)
	for _, t := range terms {
		if c, ok := s.column(t.Index); ok {
			cols, slopes = append(cols, int32(c)), append(slopes, t.Slope)
		}
	}
	return s.form(cols, slopes)
}

// Determines tells whether a value with the given partial derivatives is
// determined: whether no free direction changes it.
func (s *Solution) Determines(terms []Term) bool {
	for _, d := range s.Deficient {
		change, size := 0.0, 0.0
		for _, t := range terms {
			if t.Index >= 0 && t.Index < len(d.Vector) {
				c := t.Slope * d.Vector[t.Index]
				change, size = change+c, size+math.Abs(c)
			}
		}
		if math.Abs(change) > 1e-6*size {
			return false
		}
	}
	return true
}

// form returns aᵀQa from kept entries of the inverse or, failing those, from a
// solution with the factor.
func (s *Solution) form(cols []int32, slopes []float64) float64 {
	q, sum := s.inverse(), 0.0
	for i, a := range cols {
		for j, b := range cols[:i] {
			v, ok := q.at(int(a), int(b))
			if !ok {
				return s.solvedForm(cols, slopes)
			}
			sum += 2 * slopes[i] * slopes[j] * v
		}
		v, _ := q.at(int(a), int(a))
		sum += slopes[i] * slopes[i] * v
	}
	return math.Max(0, sum)
}

func (s *Solution) solvedForm(cols []int32, slopes []float64) float64 {
	b := make([]float64, len(s.unknown))
	for i, c := range cols {
		b[c] += slopes[i]
	}
	s.normal.solve(b)
	sum := 0.0
	for i, c := range cols {
		sum += slopes[i] * b[c]
	}
	return math.Max(0, sum)
}
