package adjust

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/least"
	"undersod/core/unit"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
)

// TestSlopesAreTheFiniteDifferences holds every model's slopes against central
// differences at random places.
func TestSlopesAreTheFiniteDifferences(t *testing.T) {
	const turn, shift, unknowns = 8, 9, 11 // four points, then the frame
	models := map[string]least.Observation{
		"distance level":  distanceModel{a: 0, b: 1},
		"distance sloped": distanceModel{a: 2, b: 1, rise: 3.7},
		"station":         baselineModel{0, 1, 2, false},
		"right":           baselineModel{0, 1, 2, true},
		"direction":       directionModel{1, 3, turn},
		"fix east":        fixModel{2, turn, shift, false},
		"fix north":       fixModel{2, turn, shift, true},
		"path":            pathModel{[]int{0, 1, 2, 3}},
		"path and back":   pathModel{[]int{0, 1, 2, 0}},
		"square":          squareModel{0, 1, 2},
	}
	r := rand.New(rand.NewPCG(11, 1))
	for name, m := range models {
		for range 40 {
			x := make([]float64, unknowns)
			for i := range x {
				x[i] = 20 * r.NormFloat64()
			}
			x[turn] = r.NormFloat64()
			compareSlopes(t, name, m, x)
		}
	}
}

func compareSlopes(t *testing.T, name string, m least.Observation, x []float64) {
	t.Helper()
	_, terms := m.Predict(x, nil)
	got := make([]float64, len(x))
	for _, term := range terms {
		got[term.Index] += term.Slope
	}
	const h = 1e-5
	for i := range x {
		was := x[i]
		x[i] = was + h
		up, _ := m.Predict(x, nil)
		x[i] = was - h
		down, _ := m.Predict(x, nil)
		x[i] = was
		d := up - down
		if math.Abs(d) > math.Pi { // an azimuth stepped over south, once or twice
			d = math.Remainder(d, 2*math.Pi)
		}
		if want := d / (2 * h); math.Abs(got[i]-want) > 1e-6*(1+math.Abs(want)) {
			t.Errorf("%s: slope by unknown %d is %v, finite difference %v", name, i, got[i], want)
		}
	}
}

// TestWorkedPredictions holds the models to the numbers worked by hand in
// docs/method.md and to plane geometry.
func TestWorkedPredictions(t *testing.T) {
	x := []float64{0, 0, 3, 4, 10, 0, 6, -2, 0, 0, 0}
	for _, c := range []struct {
		name string
		m    least.Observation
		want float64
	}{
		{"3-4-5", distanceModel{a: 0, b: 1}, 5},
		{"5-12-13", distanceModel{a: 0, b: 1, rise: 12}, 13},
		{"station along east", baselineModel{0, 2, 3, false}, 6},
		{"south of an eastward baseline is right", baselineModel{0, 2, 3, true}, 2},
		{"azimuth of east", directionModel{0, 2, 8}, math.Pi / 2},
		{"path 3-4-5 and on", pathModel{[]int{0, 1, 2}}, 5 + math.Hypot(7, 4)},
		{"a turn from east to south is clockwise", squareModel{0, 2, 2}, math.Atan2(0, 0) - math.Pi/2},
	} {
		if v, _ := c.m.Predict(x, nil); math.Abs(v-c.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", c.name, v, c.want)
		}
	}
	y := []float64{0, 0, 10, 0, 10, -5}
	if v, _ := (squareModel{0, 1, 2}).Predict(y, nil); math.Abs(v-math.Pi/2) > 1e-12 {
		t.Errorf("east then south turns by %v, want a quarter clockwise", v)
	}
}

// randomSigma returns a covariance of any shape, the last few nearly flat.
func randomSigma(r *rand.Rand) Sigma {
	return Sigma{East: unit.Length(math.Exp(r.NormFloat64()) / 100),
		North:       unit.Length(math.Exp(r.NormFloat64()) / 100),
		Correlation: math.Tanh(1.5 * r.NormFloat64())}
}

func TestEllipseIsTheEigenDecomposition(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 2))
	for range 500 {
		s := randomSigma(r)
		e, n := float64(s.East), float64(s.North)
		c := mat.NewSymDense(2, []float64{e * e, s.Correlation * e * n, s.Correlation * e * n, n * n})
		var eig mat.EigenSym
		if !eig.Factorize(c, true) {
			t.Fatal("no eigenvalues")
		}
		v := eig.Values(nil)
		var vec mat.Dense
		eig.VectorsTo(&vec)
		got := s.Ellipse95()
		// 2.4477 is the root of the 0.95 quantile of chi-square with two degrees
		// of freedom, √(-2 ln 0.05).
		f := math.Sqrt(-2 * math.Log(0.05))
		if math.Abs(f-2.4477) > 5e-5 {
			t.Fatalf("factor %v", f)
		}
		if math.Abs(float64(got.Major)-f*math.Sqrt(v[1])) > 1e-10 || math.Abs(float64(got.Minor)-f*math.Sqrt(v[0])) > 1e-8 {
			t.Errorf("%+v: axes %v %v, eigenvalues %v", s, got.Major, got.Minor, v)
		}
		az := math.Atan2(vec.At(0, 1), vec.At(1, 1))
		if off := math.Abs(math.Remainder(float64(got.Azimuth)-az, math.Pi)); off > 1e-6 && v[1]/v[0] > 1.0001 {
			t.Errorf("%+v: azimuth %v, eigenvector %v", s, got.Azimuth, az)
		}
		if got.Azimuth < 0 || got.Azimuth >= math.Pi {
			t.Errorf("azimuth %v outside half a turn", got.Azimuth)
		}
	}
}

// inCircle is the probability of a normal point within a circle about its mean,
// in polar coordinates: the radial integral is closed, the angle is summed.
func inCircle(major, minor, radius float64) float64 {
	f := func(a float64) float64 {
		s, c := math.Sincos(a)
		q := c*c/(major*major) + s*s/(minor*minor)
		return -math.Expm1(-radius*radius*q/2) / q
	}
	// Four equal quarters; the fourth power of the variable crowds the nodes
	// where a flat ellipse has its mass.
	sum := quad.Fixed(func(u float64) float64 { return f(u*u*u*u*math.Pi/2) * 4 * u * u * u * math.Pi / 2 }, 0, 1, 400, nil, 0)
	return 4 * sum / (2 * math.Pi * major * minor)
}

func TestRadiusHoldsNinetyFivePercent(t *testing.T) {
	for i := 1; i <= 100; i++ {
		c := float64(i) / 100
		lo, hi := 1.0, 3.0
		for range 60 {
			if mid := (lo + hi) / 2; inCircle(1, c, mid) < 0.95 {
				lo = mid
			} else {
				hi = mid
			}
		}
		if got := radius95(1, c); math.Abs(got/lo-1) > 0.0005 {
			t.Errorf("ratio %.2f: radius %v, integral %v (%.3f %%)", c, got, lo, 100*(got/lo-1))
		}
	}
	if radius95(0, 0) != 0 {
		t.Error("a point without spread has a radius")
	}
}
