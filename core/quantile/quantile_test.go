package quantile_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"

	"undersod/core/quantile"
)

// The tables are those of the NIST/SEMATECH e-Handbook of Statistical Methods,
// sections 1.3.6.7.1 (normal), 1.3.6.7.2 (Student t) and 1.3.6.7.4 (chi-square),
// their values from memory; the closed forms and round trips below do not rest
// on that.

func near(t *testing.T, what string, p, dof, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s at p %v, %v degrees of freedom: %.12g, want %.12g within %g", what, p, dof, got, want, within)
	}
}

// TestNormalTable has the area between 0 and z.
func TestNormalTable(t *testing.T) {
	for _, c := range []struct{ z, area float64 }{
		{0.50, 0.19146}, {1.00, 0.34134}, {1.64, 0.44950}, {1.96, 0.47500}, {2.00, 0.47725}, {2.58, 0.49506}, {3.00, 0.49865},
	} {
		near(t, "area", 0, 0, 0.5-quantile.NormalTail(c.z), c.area, 0.000006)
		// The area's rounding, over the density at z, is what the table can tell of z.
		density := math.Exp(-c.z*c.z/2) / math.Sqrt(2*math.Pi)
		near(t, "z", 0.5+c.area, 0, quantile.NormalQuantile(0.5+c.area), c.z, 0.000006/density)
	}
}

func TestStudentTable(t *testing.T) {
	ps := []float64{0.90, 0.95, 0.975, 0.99, 0.995}
	for _, c := range []struct {
		dof float64
		t   [5]float64
	}{
		{1, [5]float64{3.078, 6.314, 12.706, 31.821, 63.657}},
		{2, [5]float64{1.886, 2.920, 4.303, 6.965, 9.925}},
		{5, [5]float64{1.476, 2.015, 2.571, 3.365, 4.032}},
		{10, [5]float64{1.372, 1.812, 2.228, 2.764, 3.169}},
		{30, [5]float64{1.310, 1.697, 2.042, 2.457, 2.750}},
		{100, [5]float64{1.290, 1.660, 1.984, 2.364, 2.626}},
		{math.Inf(1), [5]float64{1.282, 1.645, 1.960, 2.326, 2.576}},
	} {
		for i, p := range ps {
			near(t, "t", p, c.dof, quantile.TQuantile(p, c.dof), c.t[i], 0.00051)
			near(t, "t", 1-p, c.dof, quantile.TQuantile(1-p, c.dof), -c.t[i], 0.00051)
		}
	}
}

func TestChi2Table(t *testing.T) {
	ps := []float64{0.90, 0.95, 0.975, 0.99, 0.999}
	for _, c := range []struct {
		dof float64
		q   [5]float64
	}{
		{1, [5]float64{2.706, 3.841, 5.024, 6.635, 10.828}},
		{2, [5]float64{4.605, 5.991, 7.378, 9.210, 13.816}},
		{5, [5]float64{9.236, 11.070, 12.833, 15.086, 20.515}},
		{10, [5]float64{15.987, 18.307, 20.483, 23.209, 29.588}},
		{30, [5]float64{40.256, 43.773, 46.979, 50.892, 59.703}},
		{100, [5]float64{118.498, 124.342, 129.561, 135.807, 149.449}},
	} {
		for i, p := range ps {
			near(t, "chi-square", p, c.dof, quantile.Chi2Quantile(p, c.dof), c.q[i], 0.00051)
		}
	}
	for _, c := range []struct{ p, dof, q float64 }{{0.05, 1, 0.004}, {0.05, 5, 1.145}, {0.05, 10, 3.940},
		{0.025, 10, 3.247}, {0.01, 10, 2.558}, {0.05, 30, 18.493}, {0.05, 100, 77.929}} {
		near(t, "chi-square", c.p, c.dof, quantile.Chi2Quantile(c.p, c.dof), c.q, 0.00051)
	}
}

// TestClosedForms: chi-square with 2 degrees of freedom is exponential, t with 1
// is Cauchy's, with 2 algebraic.
func TestClosedForms(t *testing.T) {
	for _, p := range probabilities {
		want := -2 * math.Log1p(-p)
		near(t, "chi-square", p, 2, quantile.Chi2Quantile(p, 2)/want, 1, 1e-9)
		cauchy := math.Tan(math.Pi * (p - 0.5))
		near(t, "t", p, 1, quantile.TQuantile(p, 1), cauchy, 1e-8*(1+math.Abs(cauchy)))
		two := (2*p - 1) / math.Sqrt(2*p*(1-p))
		near(t, "t", p, 2, quantile.TQuantile(p, 2), two, 1e-8*(1+math.Abs(two)))
	}
}

var (
	probabilities = []float64{1e-6, 1e-4, 0.001, 0.005, 0.025, 0.05, 0.1, 0.3, 0.45, 0.5, 0.55, 0.7, 0.9, 0.95, 0.975, 0.995, 0.999, 0.9999, 0.999999}
	freedoms      = []float64{1, 2, 3, 4, 5, 7, 10, 20, 50, 100, 200, 500, 1000, 3000, 10000}
)

// TestRoundTrips puts every quantile back into its distribution function, over
// 1 to 10,000 degrees of freedom.
func TestRoundTrips(t *testing.T) {
	for _, p := range probabilities {
		z := quantile.NormalQuantile(p)
		near(t, "normal", p, 0, quantile.NormalTail(-z)/p, 1, 1e-9)
		for _, dof := range freedoms {
			q := quantile.Chi2Quantile(p, dof)
			near(t, "chi-square", p, dof, mathext.GammaIncReg(dof/2, q/2)/p, 1, 1e-8)
			near(t, "chi-square tail", p, dof, mathext.GammaIncRegComp(dof/2, q/2)/(1-p), 1, 1e-8)
			x := quantile.TQuantile(p, dof)
			tail := mathext.RegIncBeta(dof/2, 0.5, dof/(dof+x*x)) / 2
			near(t, "t", p, dof, tail/math.Min(p, 1-p), 1, 1e-7)
		}
	}
}

func TestEndsAndNonsense(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct{ got, want float64 }{
		{quantile.NormalQuantile(0), -inf}, {quantile.NormalQuantile(1), inf},
		{quantile.Chi2Quantile(0, 3), 0}, {quantile.Chi2Quantile(1, 3), inf},
		{quantile.TQuantile(0, 3), -inf}, {quantile.TQuantile(1, 3), inf}, {quantile.TQuantile(0.5, 3), 0},
	} {
		if c.got != c.want {
			t.Errorf("%v, want %v", c.got, c.want)
		}
	}
	nan := math.NaN()
	for _, v := range []float64{
		quantile.NormalQuantile(-0.1), quantile.NormalQuantile(1.1), quantile.NormalQuantile(nan),
		quantile.Chi2Quantile(nan, 3), quantile.Chi2Quantile(2, 3), quantile.Chi2Quantile(0.5, 0), quantile.Chi2Quantile(0.5, -1), quantile.Chi2Quantile(0.5, nan), quantile.Chi2Quantile(0.5, inf),
		quantile.TQuantile(nan, 3), quantile.TQuantile(-1, 3), quantile.TQuantile(0.5, 0), quantile.TQuantile(0.7, nan),
	} {
		if !math.IsNaN(v) {
			t.Errorf("nonsense gave %v", v)
		}
	}
}
