package least

import "math"

// vanishing is the part of its own diagonal that a pivot must keep during the
// elimination. Below it, rounding decides, and the unknown is called open.
const vanishing = 1e-11

// factor is the normal matrix and its factor: N = L D Lᵀ with ones on the
// diagonal of L.
type factor struct {
	t     *pattern
	diag  []float64 // of N
	below []float64 // of N, at the places of the pattern
	d     []float64 // of D; 0 for an open pivot
	l     []float64 // of L
	right []float64 // -Aᵀ P (predicted - read), by column
	work  []float64
	open  []int // columns whose pivot vanished
}

func newFactor(t *pattern) *factor {
	n, m := len(t.free), len(t.rows)
	buf := make([]float64, 4*n+2*m)
	return &factor{t: t, diag: buf[:n], d: buf[n : 2*n], right: buf[2*n : 3*n], work: buf[3*n : 4*n],
		below: buf[4*n : 4*n+m], l: buf[4*n+m:]}
}

// place returns where entry (row, col) of the lower triangle stands.
func (t *pattern) place(row, col int) int {
	lo, hi := t.start[col], t.start[col+1]
	for lo < hi {
		mid := (lo + hi) / 2
		if t.rows[mid] < row {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo < t.start[col+1] && t.rows[lo] == row {
		return lo
	}
	return -1
}

// clear zeroes the normal equations.
func (f *factor) clear() {
	clear(f.diag)
	clear(f.below)
	clear(f.right)
}

// add adds one equation with slopes, misclosure and weight.
func (f *factor) add(terms []Term, miss, weight float64) {
	for i, a := range terms {
		ca := f.t.col[a.Index]
		if ca < 0 {
			continue
		}
		wa := weight * a.Slope
		f.right[ca] -= wa * miss
		f.diag[ca] += wa * a.Slope
		for _, b := range terms[i+1:] {
			cb := f.t.col[b.Index]
			switch {
			case cb < 0:
			case cb == ca:
				f.diag[ca] += 2 * wa * b.Slope
			case cb < ca:
				f.below[f.t.place(ca, cb)] += wa * b.Slope
			default:
				f.below[f.t.place(cb, ca)] += wa * b.Slope
			}
		}
	}
}

// factorize eliminates with the diagonal grown by 1+damping. Columns are worked
// left to right; each scatters its outer product into the columns after it.
func (f *factor) factorize(damping float64) {
	t := f.t
	copy(f.l, f.below)
	f.open = f.open[:0]
	for i, v := range f.diag {
		f.d[i] = v * (1 + damping)
	}
	for c := range t.free {
		lo, hi := t.start[c], t.start[c+1]
		pivot := f.d[c]
		if !(pivot > vanishing*f.diag[c]*(1+damping)) || f.diag[c] == 0 {
			f.d[c] = 0
			f.open = append(f.open, c)
			for e := lo; e < hi; e++ {
				f.l[e] = 0
			}
			continue
		}
		f.eliminate(lo, hi, pivot)
	}
}

// eliminate subtracts the outer product of a column from the later ones. The
// rows of a column are all rows of each later column it touches, so one walk
// down the later column meets them in order.
func (f *factor) eliminate(lo, hi int, pivot float64) {
	t := f.t
	for e := lo; e < hi; e++ {
		v := f.l[e]
		if v == 0 {
			continue
		}
		u := v / pivot
		r := t.rows[e]
		f.d[r] -= u * v
		at := t.start[r]
		for g := e + 1; g < hi; g++ {
			for t.rows[at] != t.rows[g] {
				at++
			}
			f.l[at] -= u * f.l[g]
		}
		f.l[e] = v // divided below, once its raw value is no longer needed
	}
	for e := lo; e < hi; e++ {
		f.l[e] /= pivot
	}
}

// solve solves N z = b in place, with open unknowns held at zero.
func (f *factor) solve(z []float64) {
	t := f.t
	for c := range z {
		if f.d[c] == 0 {
			z[c] = 0
		}
		for e := t.start[c]; e < t.start[c+1]; e++ {
			z[t.rows[e]] -= f.l[e] * z[c]
		}
	}
	for c := range z {
		if f.d[c] != 0 {
			z[c] /= f.d[c]
		}
	}
	f.back(z)
}

// back solves Lᵀ z = b in place for the columns that are not open.
func (f *factor) back(z []float64) {
	t := f.t
	for c := len(z) - 1; c >= 0; c-- {
		if f.d[c] == 0 {
			continue
		}
		s := z[c]
		for e := t.start[c]; e < t.start[c+1]; e++ {
			s -= f.l[e] * z[t.rows[e]]
		}
		z[c] = s
	}
}

// null returns the direction left open by column c: Lᵀ z = e_c.
func (f *factor) null(c int) []float64 {
	z := make([]float64, len(f.t.free))
	z[c] = 1
	// With column c zero in L, the row entries of c in earlier columns still
	// carry it: back substitution gives the null vector.
	t := f.t
	for k := c - 1; k >= 0; k-- {
		if f.d[k] == 0 {
			continue
		}
		s := 0.0
		for e := t.start[k]; e < t.start[k+1]; e++ {
			s -= f.l[e] * z[t.rows[e]]
		}
		z[k] = s
	}
	return z
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
