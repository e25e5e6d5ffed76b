// Package quantile gives the quantiles of the normal, chi-square and Student's t
// distributions that the tests of an adjustment need.
package quantile

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// NormalQuantile returns the number that a standard normal variable stays below
// with probability p, for 0 < p < 1.
func NormalQuantile(p float64) float64 { return mathext.NormalQuantile(p) }

// Chi2Quantile returns the number that a chi-square variable with freedom
// degrees of freedom stays below with probability p, for 0 < p < 1 and freedom
// above 0: twice the inverse of the regularized incomplete gamma function.
func Chi2Quantile(p, freedom float64) float64 {
	return 2 * mathext.GammaIncRegInv(freedom/2, p)
}

// TQuantile returns the number that Student's t with freedom degrees of freedom
// stays below with probability p, for 0 < p < 1 and freedom above 0, from the
// inverse of the regularized incomplete beta function:
// t² = ν(1/x − 1) with I_x(ν/2, 1/2) = 2 min(p, 1−p).
func TQuantile(p, freedom float64) float64 {
	if p == 0.5 {
		return 0
	}
	x := mathext.InvRegIncBeta(freedom/2, 0.5, 2*math.Min(p, 1-p))
	return math.Copysign(math.Sqrt(freedom*(1/x-1)), p-0.5)
}
