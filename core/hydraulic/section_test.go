package hydraulic_test

import (
	"math"
	"testing"

	"undersod/core/hydraulic"
	"undersod/core/unit"
)

// near fails unless got is want within a part of it.
func near(t *testing.T, what string, got, want, part float64) {
	t.Helper()
	if !(math.Abs(got-want) <= part*math.Abs(want)) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

// Rows of the geometric elements of circular sections of bore 1, with
// Z = A √(A/T), to four decimals, 0 where not remembered (Chow, Open-Channel
// Hydraulics, 1959, appendix A, from memory).
var chow = []struct{ depth, area, wetted, radius, top, z float64 }{
	{0.05, 0.0147, 0.4510, 0.0326, 0.4359, 0.0027},
	{0.10, 0.0409, 0.6435, 0.0635, 0.6000, 0.0107},
	{0.20, 0.1118, 0.9273, 0.1206, 0.8000, 0.0418},
	{0.25, 0.1535, 1.0472, 0.1466, 0.8660, 0.0646},
	{0.30, 0.1982, 1.1593, 0.1709, 0.9165, 0.0921},
	{0.40, 0.2934, 1.3694, 0.2142, 0.9798, 0},
	{0.50, 0.3927, 1.5708, 0.2500, 1.0000, 0.2461},
	{0.60, 0.4920, 1.7722, 0.2776, 0.9798, 0.3487},
	{0.70, 0.5872, 1.9823, 0.2962, 0.9165, 0.4700},
	{0.75, 0.6319, 2.0944, 0.3017, 0.8660, 0.5397},
	{0.80, 0.6736, 2.2143, 0.3042, 0.8000, 0.6181},
	{0.90, 0.7445, 2.4981, 0.2980, 0.6000, 0.8293},
	{1.00, 0.7854, 3.1416, 0.2500, 0.0000, 0},
}

func TestPartFullAgainstTheTable(t *testing.T) {
	for _, row := range chow {
		s, err := hydraulic.PartFull(1, unit.Length(row.depth))
		if err != nil {
			t.Fatal(err)
		}
		got := [...]float64{float64(s.Area), float64(s.Wetted), float64(s.Radius), float64(s.Top)}
		for i, want := range [...]float64{row.area, row.wetted, row.radius, row.top} {
			if math.Abs(got[i]-want) > 0.0001 {
				t.Errorf("depth %g: column %d is %.5f, the table has %.4f", row.depth, i, got[i], want)
			}
		}
	}
}

// The area is the integral of the width: by steps in the angle at which the
// width is smooth, without a formula for the area.
func areaByIntegration(depth float64) float64 {
	const n = 2000 // even, Simpson's rule
	end := math.Acos(1 - 2*depth)
	sum := 0.0
	for i := 0; i <= n; i++ {
		s := math.Sin(end * float64(i) / n)
		weight := 2.0
		switch {
		case i == 0 || i == n:
			weight = 1
		case i%2 == 1:
			weight = 4
		}
		sum += weight * s * s / 2 // width sin a × d(depth) = sin a / 2
	}
	return sum * end / n / 3
}

func TestPartFullAgainstIntegration(t *testing.T) {
	for _, depth := range []float64{1e-12, 1e-6, 0.001, 0.03, 0.061, 0.063, 0.3, 0.5, 0.9, 0.9999, 1} {
		s, err := hydraulic.PartFull(1, unit.Length(depth))
		if err != nil {
			t.Fatal(err)
		}
		if depth < 1e-4 { // by the leading term, 4/3 √depth³ (1 − 3/10 depth), whose next is 1e-13
			near(t, "area near empty", float64(s.Area), 4.0/3*depth*math.Sqrt(depth)*(1-0.3*depth), 2e-13)
			continue
		}
		near(t, "area", float64(s.Area), areaByIntegration(depth), 2e-12)
	}
}

func TestPartFullRefuses(t *testing.T) {
	nan := unit.Length(math.NaN())
	for _, c := range [][2]unit.Length{{0, 0}, {-1, 0}, {nan, 0}, {11, 0}, {1, -0.1}, {1, 1.1}, {1, nan}, {unit.Length(math.Inf(1)), 1}} {
		if _, err := hydraulic.PartFull(c[0], c[1]); err == nil {
			t.Errorf("bore %v, depth %v: no error", c[0], c[1])
		}
	}
}
