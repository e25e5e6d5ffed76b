package dense_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/dense"
)

// symmetric draws A = M Mᵀ + I, which is positive definite.
func symmetric(r *rand.Rand, n int) [][]float64 {
	m, a := make([][]float64, n), make([][]float64, n)
	for i := range m {
		m[i], a[i] = make([]float64, n), make([]float64, n)
		for j := range m[i] {
			m[i][j] = r.NormFloat64()
		}
	}
	for i := range a {
		for j := range a {
			for k := range n {
				a[i][j] += m[i][k] * m[j][k]
			}
		}
		a[i][i]++
	}
	return a
}

func TestFactorInverseAndWhiteningGiveTheMatrixBack(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for n := 1; n <= 7; n++ {
		a := symmetric(r, n)
		l, ok := dense.Cholesky(a)
		inverse, sure := dense.Invert(a)
		if !ok || !sure {
			t.Fatalf("a positive definite matrix of %d is refused", n)
		}
		x := make([]float64, n)
		for i := range x {
			x[i] = r.NormFloat64()
		}
		y := append([]float64(nil), x...)
		dense.Whiten(l, nil, y)
		whitened, form := 0.0, 0.0
		for i := range n {
			whitened += y[i] * y[i]
			for j := range n {
				form += x[i] * inverse[i][j] * x[j]
				product, one := 0.0, 0.0
				for k := range n {
					product += l[i][k] * l[j][k]
					one += a[i][k] * inverse[k][j]
				}
				if i == j {
					one--
				}
				if math.Abs(product-a[i][j]) > 1e-9 || math.Abs(one) > 1e-9 {
					t.Fatalf("%d: L Lᵀ or A A⁻¹ is wrong at %d, %d", n, i, j)
				}
			}
		}
		if math.Abs(whitened-form) > 1e-9*form {
			t.Errorf("%d: |L⁻¹x|² is %v, xᵀA⁻¹x %v", n, whitened, form)
		}
	}
}

func TestSingularMatricesAreRefused(t *testing.T) {
	for _, a := range [][][]float64{{{0}}, {{-1}}, {{1, 1}, {1, 1}}, {{1, 2}, {2, 1}}, {{math.NaN()}}} {
		if _, ok := dense.Invert(a); ok {
			t.Errorf("%v has an inverse", a)
		}
		if _, ok := dense.Cholesky(a); ok && !math.IsNaN(a[0][0]) {
			t.Errorf("%v has a factor", a)
		}
	}
}
