// Package quantile gives the quantiles of the normal, chi-square and Student t
// distributions, which the tests of an adjustment compare with.
package quantile

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// NormalQuantile returns the value below which a standard normal variate stays
// with probability p. It is -Inf and +Inf for 0 and 1, and NaN outside.
func NormalQuantile(p float64) float64 {
	switch {
	case !(p >= 0 && p <= 1):
		return math.NaN()
	case p == 0:
		return math.Inf(-1)
	case p == 1:
		return math.Inf(1)
	}
	return mathext.NormalQuantile(p)
}

// NormalTail returns the probability that a standard normal variate is above x.
func NormalTail(x float64) float64 { return math.Erfc(x/math.Sqrt2) / 2 }

// Chi2Quantile returns the value below which the sum of dof squared standard
// normal variates stays with probability p. It is 0 and +Inf for 0 and 1, and
// NaN where p is outside or dof is not above zero.
func Chi2Quantile(p, dof float64) float64 {
	switch {
	case !(p >= 0 && p <= 1) || !(dof > 0) || math.IsInf(dof, 0):
		return math.NaN()
	case p == 0:
		return 0
	case p == 1:
		return math.Inf(1)
	case p > 0.5:
		return 2 * mathext.GammaIncRegCompInv(dof/2, 1-p)
	}
	return 2 * mathext.GammaIncRegInv(dof/2, p)
}

// TQuantile returns the value below which a Student t variate with dof degrees
// of freedom stays with probability p. It is -Inf and +Inf for 0 and 1, and NaN
// where p is outside or dof is not above zero. An infinite dof gives the normal
// quantile.
func TQuantile(p, dof float64) float64 {
	switch {
	case !(p >= 0 && p <= 1) || !(dof > 0):
		return math.NaN()
	case math.IsInf(dof, 0) || p == 0 || p == 1:
		return NormalQuantile(p)
	case p < 0.5:
		return -upperT(p, dof)
	case p == 0.5:
		return 0
	}
	return upperT(1-p, dof)
}

// upperT returns the value above which a t variate lies with probability q
// below one half. With x = t²/(dof + t²) the middle part 1-2q is the regularized
// incomplete beta function of x with parameters 1/2 and dof/2 (Abramowitz and
// Stegun 1964, Handbook of Mathematical Functions, 26.7.1; from memory).
func upperT(q, dof float64) float64 {
	if q > 0.05 {
		x := mathext.InvRegIncBeta(0.5, dof/2, 1-2*q)
		return math.Sqrt(dof * x / (1 - x))
	}
	y := mathext.InvRegIncBeta(dof/2, 0.5, 2*q) // the rest, 1-x
	return math.Sqrt(dof * (1 - y) / y)
}
