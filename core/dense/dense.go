// Package dense is the arithmetic of small symmetric matrices that are kept
// whole.
package dense

import "math"

// Cholesky returns the lower factor of a small symmetric positive definite
// matrix, L with A = L Lᵀ, or false where it is not.
func Cholesky(a [][]float64) ([][]float64, bool) {
	n := len(a)
	l := make([][]float64, n)
	for i := range n {
		l[i] = make([]float64, n)
		for j := 0; j <= i; j++ {
			s := a[i][j]
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			if i != j {
				l[i][j] = s / l[j][j]
				continue
			}
			if s <= 1e-12*math.Abs(a[i][i]) || math.IsNaN(s) {
				return nil, false
			}
			l[i][i] = math.Sqrt(s)
		}
	}
	return l, true
}

// Whiten solves L X = rows and L y = miss in place, with L a factor of
// Cholesky; rows may be nil.
func Whiten(l [][]float64, rows [][]float64, miss []float64) {
	for i := range l {
		for k := range i {
			miss[i] -= l[i][k] * miss[k]
			if rows != nil {
				for c := range rows[i] {
					rows[i][c] -= l[i][k] * rows[k][c]
				}
			}
		}
		miss[i] /= l[i][i]
		if rows != nil {
			for c := range rows[i] {
				rows[i][c] /= l[i][i]
			}
		}
	}
}

// Invert returns the inverse of a small symmetric positive definite matrix.
// It is scaled to ones on the diagonal first, so that metres and radians do
// not decide what counts as singular.
func Invert(a [][]float64) ([][]float64, bool) {
	n := len(a)
	d := make([]float64, n)
	scaled := make([][]float64, n)
	for i := range a {
		if a[i][i] <= 0 {
			return nil, false
		}
		d[i] = 1 / math.Sqrt(a[i][i])
	}
	for i := range a {
		scaled[i] = make([]float64, n)
		for j := range a {
			scaled[i][j] = a[i][j] * d[i] * d[j]
		}
	}
	l, ok := Cholesky(scaled)
	if !ok {
		return nil, false
	}
	inv := make([][]float64, n)
	for c := range n {
		col := make([]float64, n)
		col[c] = 1
		Whiten(l, nil, col)
		for i := n - 1; i >= 0; i-- {
			for k := i + 1; k < n; k++ {
				col[i] -= l[k][i] * col[k]
			}
			col[i] /= l[i][i]
		}
		inv[c] = col
	}
	for i := range n {
		for j := range n {
			inv[i][j] *= d[i] * d[j]
		}
	}
	return inv, true
}
