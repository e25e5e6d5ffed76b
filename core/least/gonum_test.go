package least_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
)

// sumAt returns the sum of squares of a network and its gradient at x.
func (n *network) sumAt(x, gradient []float64) float64 {
	sum := 0.0
	clear(gradient)
	for _, e := range n.Equations {
		if e.Off {
			continue
		}
		v, terms := e.Model.Predict(x, nil)
		z := (v - e.Read) / e.SD
		sum += z * z
		for _, t := range terms {
			if len(gradient) > 0 && !n.Held[t.Index] {
				gradient[t.Index] += 2 * z * t.Slope / e.SD
			}
		}
	}
	return sum
}

// freeUnknowns lists the unknowns that are not held.
func (n *network) freeUnknowns() []int {
	var out []int
	for i, h := range n.Held {
		if !h {
			out = append(out, i)
		}
	}
	return out
}

// TestSameMinimumAsOptimize compares the answer with that of gonum's BFGS, which
// shares nothing with our method but the model.
func TestSameMinimumAsOptimize(t *testing.T) {
	for seed := range uint64(12) {
		n := grid(8, seed+40)
		s := solve(t, n)
		free := n.freeUnknowns()
		full := append([]float64(nil), n.start...)
		gradient := make([]float64, len(full))
		spread := func(x []float64) {
			for j, i := range free {
				full[i] = n.start[i] + x[j]
			}
		}
		problem := optimize.Problem{
			Func: func(x []float64) float64 { spread(x); return n.sumAt(full, nil) },
			Grad: func(g, x []float64) {
				spread(x)
				n.sumAt(full, gradient)
				for j, i := range free {
					g[j] = gradient[i]
				}
			},
		}
		// At the end the line search can fail to make out any descent in the
		// rounded sum; the place found is what counts.
		r, err := optimize.Minimize(problem, make([]float64, len(free)),
			&optimize.Settings{GradientThreshold: 1e-7, Converger: optimize.NeverTerminate{}}, &optimize.BFGS{})
		if r == nil {
			t.Fatal(err)
		}
		for j, i := range free {
			if d := math.Abs(n.start[i] + r.X[j] - s.X[i]); d > 1e-8 {
				t.Errorf("seed %d: unknown %d differs by %.2g m (%v)", seed, i, d, err)
			}
		}
		if math.Abs(r.F-s.Statistic) > 1e-8 {
			t.Errorf("seed %d: sum %v, BFGS %v", seed, s.Statistic, r.F)
		}
	}
}

// TestSameCovarianceAsQR compares covariances with (AᵀPA)⁻¹ by gonum's QR.
func TestSameCovarianceAsQR(t *testing.T) {
	for _, points := range sizes {
		n := grid(points, uint64(points)+9)
		n.Equations[3].Off = true
		s := solve(t, n)
		free := n.freeUnknowns()
		want := n.covarianceByQR(s.X, free)
		missing := 0
		for a, i := range free {
			column := s.Column(i)
			for b, j := range free {
				w := want.At(a, b)
				if math.Abs(column[j]-w) > 1e-8*math.Sqrt(want.At(a, a)*want.At(b, b)) {
					t.Fatalf("%d points: column %d, row %d is %v, QR %v", points, i, j, column[j], w)
				}
				v, ok := s.Cov(i, j)
				if !ok {
					missing++
				} else if math.Abs(v-column[j]) > 1e-9*math.Sqrt(column[i]*want.At(b, b)) {
					t.Fatalf("%d points: covariance %d, %d is %v, column %v", points, i, j, v, column[j])
				}
			}
		}
		t.Logf("%d points: %d of %d covariances not kept", points, missing, len(free)*len(free))
	}
}

func (n *network) covarianceByQR(x []float64, free []int) *mat.Dense {
	at := map[int]int{}
	for j, i := range free {
		at[i] = j
	}
	a := mat.NewDense(len(n.Equations), len(free), nil)
	for k, e := range n.Equations {
		_, terms := e.Model.Predict(x, nil)
		for _, t := range terms {
			if j, ok := at[t.Index]; ok && !e.Off {
				a.Set(k, j, a.At(k, j)+t.Slope/e.SD)
			}
		}
	}
	var qr mat.QR
	qr.Factorize(a)
	var r, inv, out mat.Dense
	qr.RTo(&r)
	if err := inv.Inverse(r.Slice(0, len(free), 0, len(free))); err != nil {
		panic(err)
	}
	out.Mul(&inv, inv.T())
	return &out
}
