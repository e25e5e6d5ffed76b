package least

import (
	"fmt"
	"math"
)

// rows is a problem linearized at one place. Row k has the partial derivatives
// of equation k by free unknown, divided by its standard deviation.
type rows struct {
	first []int32 // where each row begins; one more than there are rows
	col   []int32
	slope []float64
	miss  []float64 // predicted minus read, in the equation's unit
	sum   float64   // of squared misses over standard deviations, equations in use
	round float64   // the part of sum that rounding of the values can make
	bad   error     // why the place cannot be used
}

// linearizer fills rows; it keeps the scratch memory that this takes.
type linearizer struct {
	p     *Problem
	place []int32 // free column of each unknown; -1 for a held one
	terms []Term
	at    []int32 // last place of each column in rows.col
}

// spare returns the number by which row k is divided.
func (e *Equation) spare() float64 {
	if e.SD > 0 && finite(1/e.SD) {
		return e.SD
	}
	return 1 // only a left-out equation comes here
}

// fill linearizes the problem at x into r.
func (l *linearizer) fill(x []float64, r *rows) {
	m := len(l.p.Equations)
	if cap(r.first) <= m {
		r.first, r.miss = make([]int32, 0, m+1), make([]float64, 0, m)
		r.col, r.slope = make([]int32, 0, 4*m), make([]float64, 0, 4*m)
	}
	r.first, r.miss = append(r.first[:0], 0), r.miss[:0]
	r.col, r.slope = r.col[:0], r.slope[:0]
	r.sum, r.round, r.bad = 0, 0, nil
	for k := range l.p.Equations {
		l.row(k, x, r)
		if r.bad != nil {
			return
		}
		r.first = append(r.first, int32(len(r.col)))
	}
	if !finite(r.sum) {
		r.bad = fmt.Errorf("the readings are too far from what the starting values predict to be compared: start nearer")
	}
}

// row adds the row of one equation.
func (l *linearizer) row(k int, x []float64, r *rows) {
	e := &l.p.Equations[k]
	value, terms := e.Model.Predict(x, l.terms[:0])
	l.terms = terms
	usable := finite(value)
	for _, t := range terms {
		if t.Index < 0 || t.Index >= len(x) {
			r.bad = fmt.Errorf("the model of equation %d names unknown %d, but they run from 0 to %d", k, t.Index, len(x)-1)
			return
		}
		usable = usable && finite(t.Slope)
	}
	if !usable && !e.Off {
		r.bad = fmt.Errorf("the model of equation %d gives no finite value there: start nearer to the answer, or leave it out", k)
		return
	}
	miss := e.miss(value)
	r.miss = append(r.miss, miss)
	if !usable {
		return
	}
	l.merge(terms, 1/e.spare(), r)
	if !e.Off {
		z := miss / e.SD
		r.sum += z * z
		q := 1e-15 * (math.Abs(value) + math.Abs(e.Read)) / e.SD
		r.round += q * q
	}
}

// merge adds terms of one row, those of the same unknown summed.
func (l *linearizer) merge(terms []Term, scale float64, r *rows) {
	begin := int32(len(r.col))
	for _, t := range terms {
		c := l.place[t.Index]
		if c < 0 {
			continue
		}
		if q := l.at[c]; q >= begin && int(q) < len(r.col) && r.col[q] == c {
			r.slope[q] += t.Slope * scale
			continue
		}
		l.at[c] = int32(len(r.col))
		r.col = append(r.col, c)
		r.slope = append(r.slope, t.Slope*scale)
	}
}

// pull writes minus the gradient of half the sum: -Aᵀ P miss.
func (r *rows) pull(p *Problem, g []float64) {
	clear(g)
	for k := range p.Equations {
		if p.Equations[k].Off {
			continue
		}
		z := r.miss[k] / p.Equations[k].SD
		for q := r.first[k]; q < r.first[k+1]; q++ {
			g[r.col[q]] -= r.slope[q] * z
		}
	}
}

// length returns the squared length of what step changes in the predicted
// values, in standard deviations.
func (r *rows) length(p *Problem, step []float64) float64 {
	sum := 0.0
	for k := range p.Equations {
		if p.Equations[k].Off {
			continue
		}
		z := 0.0
		for q := r.first[k]; q < r.first[k+1]; q++ {
			z += r.slope[q] * step[r.col[q]]
		}
		sum += z * z
	}
	return sum
}

// noise is by how much rounding of the values can change the sum: values that
// are off by q change (m + q)² by q² and by 2mq, of which all together are at
// most twice the root of Σm² Σq² (Cauchy and Schwarz).
func (r *rows) noise() float64 { return r.round + 2*math.Sqrt(r.sum*r.round) }
