package adjust_test

import (
	"math"
	"testing"

	"undersod/core/site"
	"undersod/core/unit"
)

// A part in the middle of three marks that stand around it at equal angles has
// slopes whose only relation is (1, 1, 1): every redundancy share is 1/3, each
// residual is minus the mean of the errors, and the covariance is 2/3 σ² in
// every direction. The marks are tied to each other so well that they count as
// held. Closed form, worked from the slopes; no published example.
func TestThreeMarksAroundAPart(t *testing.T) {
	y := newYard(1)
	const r = 30.0
	for i, m := range []site.Name{"A", "B", "C"} {
		s, c := math.Sincos(float64(i) * 2 * math.Pi / 3)
		y.put(m, site.RoleMark, vec(r*s, r*c))
	}
	y.put("lid", site.RolePart, vec(0, 0), site.Side{Kind: site.RightOf, From: "A", To: "B"})
	firm := unit.Length(1e-6)
	for _, pair := range [][2]site.Name{{"A", "B"}, {"B", "C"}, {"C", "A"}} {
		y.tieRead(pair[0], pair[1], asRead(y.apart(pair[0], pair[1])), firm)
	}
	errors := map[site.Name]float64{"A": 0.003, "B": -0.001, "C": 0.004}
	sd := unit.Length(0.005)
	for _, m := range []site.Name{"A", "B", "C"} {
		y.tieRead(m, "lid", asRead(unit.Length(r+errors[m])), sd)
	}
	p := y.solve()
	for _, m := range []site.Name{"A", "B", "C"} {
		c := readingOf(t, p, site.ReadingID("tie "+string(m)+" > lid")).Components[0]
		wantNear(t, "share", c.Redundancy, 1.0/3, 1e-4)
		wantNear(t, "residual", c.Residual, -0.002, 1e-6)
		wantNear(t, "standardized residual", c.Standard, -0.002/(0.005*math.Sqrt(1.0/3)), 1e-3)
	}
	q := find(t, p, "lid")
	wantNear(t, "sd east", float64(q.Sigma.East), 0.005*math.Sqrt(2.0/3), 1e-6)
	wantNear(t, "sd north", float64(q.Sigma.North), 0.005*math.Sqrt(2.0/3), 1e-6)
	wantNear(t, "95 % radius", float64(q.Ellipse.Radius), 2.4477*0.005*math.Sqrt(2.0/3), 5e-6)
	wantNear(t, "statistic", p.Global.Statistic, 3*0.4*0.4, 1e-3)
}

// A square with both diagonals measured has one redundant reading. Its only
// self-stress is 1 in every side and -√2 in the diagonals (by length), so the
// shares are 1/8 for a side and 1/4 for a diagonal, and an error e in one
// diagonal leaves residuals -e/4 in the diagonals and e√2/8 in the sides.
// Closed form, worked from the self-stress; no published example.
func TestBracedSquare(t *testing.T) {
	y := newYard(1)
	for _, c := range []struct {
		name site.Name
		e, n float64
	}{{"A", 0, 0}, {"B", 20, 0}, {"C", 20, 20}, {"D", 0, 20}} {
		y.put(c.name, site.RoleMark, vec(c.e, c.n))
	}
	y.job.Site.Points[2].Sides = []site.Side{{Kind: site.LeftOf, From: "A", To: "B"}}
	const e = 0.002
	for _, s := range []string{"AB", "BC", "CD", "DA", "AC", "BD"} {
		a, b := site.Name(s[:1]), site.Name(s[1:])
		l := y.apart(a, b)
		if s == "AC" {
			l += e
		}
		y.tieRead(a, b, asRead(l), unit.Length(0.006))
	}
	p := y.solve()
	if p.Global.Freedom != 1 {
		t.Fatalf("degrees of freedom %d", p.Global.Freedom)
	}
	for _, r := range p.Readings {
		c := r.Components[0]
		share, residual := 1.0/8, e*math.Sqrt2/8
		if r.ID == "tie A > C" || r.ID == "tie B > D" {
			share, residual = 1.0/4, -e/4
		}
		wantNear(t, string(r.ID)+" share", c.Redundancy, share, 1e-4)
		wantNear(t, string(r.ID)+" residual", c.Residual, residual, 1e-6)
		// With one redundant reading all tests are alike: nothing tells which.
		wantNear(t, string(r.ID)+" test", math.Abs(c.Standard), e/2/0.006, 1e-4)
	}
}
