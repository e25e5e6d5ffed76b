package least_test

import (
	"math"
	"strings"
	"sync"
	"testing"

	"undersod/core/least"
)

func solve(t testing.TB, n *network) *least.Solution {
	t.Helper()
	s, err := least.Solve(&n.Problem, n.start, least.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// sizes are below and above where the sparse matrix takes over.
var sizes = []int{6, 30, 62, 63, 90, 200}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.12g, want %.12g within %g", what, got, want, within)
	}
}

func TestRedundanciesSumToTheDegreesOfFreedom(t *testing.T) {
	for _, points := range sizes {
		n := grid(points, uint64(points))
		n.Equations[7].Off = true
		s := solve(t, n)
		sum := 0.0
		for k := range n.Equations {
			r := s.Redundancy(k)
			if r < 0 || r > 1 {
				t.Errorf("%d points: redundancy %v of equation %d", points, r, k)
			}
			sum += r
		}
		near(t, "sum of shares", sum, float64(s.Freedom), 1e-8*float64(len(n.Equations)))
	}
}

// TestLeftOutEquationIsForetold compares with the textbook relation between an
// equation's test inside a linear solution and its distance from the solution
// without it: both are the same number.
func TestLeftOutEquationIsForetold(t *testing.T) {
	p := lineProblem([]float64{1.1, 1.9, 3.2, 3.8})
	with, err := least.Solve(p, []float64{0, 0}, least.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	inside := with.Standardized(2)
	p.Equations[2].Off = true
	without, err := least.Solve(p, []float64{0, 0}, least.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "test of the third reading", without.Standardized(2), inside, 1e-12)
	near(t, "fall of the sum", with.Statistic-without.Statistic, inside*inside, 1e-10)
	if without.Redundancy(2) != 0 || without.Freedom != with.Freedom-1 {
		t.Errorf("redundancy %v, freedom %d", without.Redundancy(2), without.Freedom)
	}
}

// lineProblem is a straight line a + b x through readings at x = 1, 2, 3, ...
func lineProblem(y []float64) *least.Problem {
	p := &least.Problem{Unknowns: 2}
	for i, v := range y {
		p.Equations = append(p.Equations, least.Equation{
			Model: linear{{Index: 0, Slope: 1}, {Index: 1, Slope: float64(i + 1)}}, Read: v, SD: 0.5})
	}
	return p
}

// TestStraightLine compares with the closed form of a regression line: slope
// Sxy/Sxx with variance σ²/Sxx, intercept ȳ - b x̄ with σ²(1/n + x̄²/Sxx), and
// redundancy 1 - 1/n - (x-x̄)²/Sxx. No textbook's numbers are used.
func TestStraightLine(t *testing.T) {
	y := []float64{1.1, 1.9, 3.2, 3.8, 5.3}
	s, err := least.Solve(lineProblem(y), []float64{10, -4}, least.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	// x̄ = 3, Sxx = 10, ȳ = 3.06, Sxy = -2*1.1 - 1.9 + 3.8 + 2*5.3 = 10.3.
	near(t, "slope", s.X[1], 1.03, 1e-12)
	near(t, "intercept", s.X[0], 3.06-3*1.03, 1e-12)
	for _, c := range []struct {
		i, j int
		want float64
	}{{1, 1, 0.25 / 10}, {0, 0, 0.25 * (0.2 + 0.9)}, {0, 1, -0.25 * 3 / 10}} {
		v, ok := s.Cov(c.i, c.j)
		if !ok {
			t.Error("covariance not kept")
		}
		near(t, "covariance", v, c.want, 1e-14)
		near(t, "whole covariance", s.Dense()[c.j][c.i], c.want, 1e-14)
	}
	for k := range y {
		near(t, "share", s.Redundancy(k), 1-0.2-float64((k-2)*(k-2))/10, 1e-12)
	}
	// The line at x = 6: σ²(1/n + 9/10).
	v := s.PredictedVariance([]least.Term{{Index: 0, Slope: 1}, {Index: 1, Slope: 6}})
	near(t, "variance at 6", v, 0.25*(0.2+0.9), 1e-14)
}

// TestThreeMarksAround is the closed form of a part tied to three marks, the
// ties 120° apart: A has the unit vectors u, Σuuᵀ = 3/2 I, so the variance of
// each coordinate is 2/3 σ² and each tie's redundancy 1/3. The marks lie so far
// off that the misfit (each tie 3 mm long) does not move the part.
func TestThreeMarksAround(t *testing.T) {
	n := &network{Problem: least.Problem{Unknowns: 8, Held: make([]bool, 8)}}
	for i := range 3 {
		a := 2 * math.Pi * float64(i) / 3
		n.start = append(n.start, 1000*math.Sin(a), 1000*math.Cos(a))
		n.Held[2*i], n.Held[2*i+1] = true, true
		n.Equations = append(n.Equations, least.Equation{Model: distance{i, 3}, Read: 1000.003, SD: 0.005})
	}
	n.start = append(n.start, 0.4, -0.3)
	s := solve(t, n)
	near(t, "east", s.X[6], 0, 1e-8)
	near(t, "north", s.X[7], 0, 1e-8)
	near(t, "statistic", s.Statistic, 3*0.36, 1e-7)
	for i := 6; i < 8; i++ {
		v, _ := s.Cov(i, i)
		near(t, "variance", v, 2*0.005*0.005/3, 1e-10)
	}
	for k := range 3 {
		near(t, "residual", s.Residual(k), -0.003, 1e-9)
		near(t, "share", s.Redundancy(k), 1.0/3, 1e-6)
		near(t, "test", s.Standardized(k), -0.6*math.Sqrt(3), 1e-5)
	}
}

// TestAngleWraps reads a bearing on the other side of the turn.
func TestAngleWraps(t *testing.T) {
	p := least.Problem{Unknowns: 4, Held: []bool{true, true, false, false}, Equations: []least.Equation{
		{Model: bearing{0, 1}, Read: -math.Pi + 0.001, SD: 0.001, Wrap: true},
		{Model: distance{0, 1}, Read: 10, SD: 0.01}}}
	s, err := least.Solve(&p, []float64{0, 0, 0.5, -9}, least.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "east", s.X[2], -10*math.Sin(0.001), 1e-9)
	near(t, "north", s.X[3], -10*math.Cos(0.001), 1e-9)
	if s.Freedom != 0 || s.Redundancy(0) > 1e-12 {
		t.Errorf("freedom %d, share %v", s.Freedom, s.Redundancy(0))
	}
}

func TestSameSolverSolvesManyProblems(t *testing.T) {
	var v least.Solver
	for _, points := range []int{90, 12, 90, 200, 90} {
		n := grid(points, 3)
		for off := range 3 {
			n.Equations[5+off].Off = true
			got, err := v.Solve(&n.Problem, n.start, least.Settings{})
			if err != nil {
				t.Fatal(err)
			}
			want := solve(t, n)
			for i := range want.X {
				if got.X[i] != want.X[i] {
					t.Fatalf("%d points, %d left out: unknown %d is %v, want %v", points, off+1, i, got.X[i], want.X[i])
				}
			}
			if got.Redundancy(4) != want.Redundancy(4) {
				t.Errorf("redundancy %v, want %v", got.Redundancy(4), want.Redundancy(4))
			}
		}
	}
	v.Reset()
}

func TestGroupsAndPreparationDoNotChangeTheAnswer(t *testing.T) {
	n := grid(120, 5)
	want := solve(t, n)
	for i := range 120 {
		n.Groups = append(n.Groups, []int{2 * i, 2*i + 1})
	}
	n.Groups = append(n.Groups, []int{2, 3, 4}) // named twice: the first counts
	n.Prepare(n.start)
	copied := n.Problem
	copied.Equations = append([]least.Equation(nil), n.Equations...)
	got, err := least.Solve(&copied, n.start, least.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range want.X {
		near(t, "unknown", got.X[i], want.X[i], 1e-9)
	}
	// A problem that no longer has the prepared pattern is analysed anew.
	copied.Equations = append(copied.Equations, least.Equation{Model: distance{5, 110}, Read: 100, SD: 1000})
	if _, err := least.Solve(&copied, n.start, least.Settings{}); err != nil {
		t.Error(err)
	}
}

func TestSolutionMayBeReadByMany(t *testing.T) {
	for _, points := range []int{20, 90} {
		n := grid(points, 8)
		s := solve(t, n)
		var all sync.WaitGroup
		for range 4 {
			all.Go(func() {
				for k := range n.Equations {
					s.Redundancy(k)
				}
				s.Column(9)
				s.PredictedVariance([]least.Term{{Index: 8, Slope: 1}, {Index: 2*points - 1, Slope: 1}})
			})
		}
		all.Wait()
	}
}

func TestBadProblemsAreExplained(t *testing.T) {
	one := linear{{Index: 0, Slope: 1}}
	good := func() *least.Problem {
		return &least.Problem{Unknowns: 1, Equations: []least.Equation{{Model: one, Read: 1, SD: 1}}}
	}
	for _, c := range []struct {
		change func(p *least.Problem)
		start  []float64
		want   string
	}{
		{func(p *least.Problem) {}, nil, "1 unknowns, but 0 starting values"},
		{func(p *least.Problem) {}, []float64{math.NaN()}, "starting value of unknown 0 is NaN"},
		{func(p *least.Problem) { p.Unknowns = -1 }, nil, "-1 unknowns"},
		{func(p *least.Problem) { p.Held = make([]bool, 3) }, []float64{0}, "3 held flags"},
		{func(p *least.Problem) { p.Groups = [][]int{{7}} }, []float64{0}, "names unknown 7"},
		{func(p *least.Problem) { p.Equations[0].Model = nil }, []float64{0}, "equation 0 has no model"},
		{func(p *least.Problem) { p.Equations[0].SD = 0 }, []float64{0}, "standard deviation 0"},
		{func(p *least.Problem) { p.Equations[0].SD = 1e-200 }, []float64{0}, "standard deviation 1e-200"},
		{func(p *least.Problem) { p.Equations[0].Read = math.Inf(1) }, []float64{0}, "equation 0 reads +Inf"},
		{func(p *least.Problem) { p.Equations[0].Off = true }, []float64{0}, "no equation to solve"},
		{func(p *least.Problem) { p.Equations[0].Model = linear{{Index: 4, Slope: 1}} }, []float64{0}, "names unknown 4"},
		{func(p *least.Problem) { p.Equations[0].Model = linear{{Index: 0, Slope: math.NaN()}} }, []float64{0}, "no finite value"},
	} {
		p := good()
		c.change(p)
		defer func() {
			if r := recover(); r != nil {
				t.Errorf("want %q, got a panic: %v", c.want, r)
			}
		}()
		s, err := least.Solve(p, c.start, least.Settings{})
		if err == nil || s != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("error %v, want one with %q", err, c.want)
		}
	}
}

// TestNothingToFind holds every unknown: the equations are only compared.
func TestNothingToFind(t *testing.T) {
	p := least.Problem{Unknowns: 4, Held: []bool{true, true, true, true},
		Equations: []least.Equation{{Model: distance{0, 1}, Read: 4.98, SD: 0.01}}}
	s, err := least.Solve(&p, []float64{0, 0, 3, 4}, least.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "test", s.Standardized(0), 2, 1e-9)
	if v, ok := s.Cov(1, 2); v != 0 || !ok || s.Freedom != 1 || s.Redundancy(0) != 1 {
		t.Errorf("covariance %v %v, freedom %d, share %v", v, ok, s.Freedom, s.Redundancy(0))
	}
}

// TestQuestionsOutOfRange asks for equations and unknowns that are not there.
func TestQuestionsOutOfRange(t *testing.T) {
	s := solve(t, grid(6, 1))
	for _, k := range []int{-1, 1000} {
		if !math.IsNaN(s.Residual(k)) || s.Redundancy(k) != 0 || s.Standardized(k) != 0 {
			t.Errorf("equation %d has a residual", k)
		}
		if v, ok := s.Cov(k, 0); v != 0 || !ok || s.Column(k)[5] != 0 {
			t.Errorf("unknown %d has a covariance", k)
		}
	}
	if v := s.PredictedVariance([]least.Term{{Index: -3, Slope: 1}}); v != 0 {
		t.Errorf("variance %v", v)
	}
}

// TestUnusableLeftOutEquation leaves out an equation that predicts nothing.
func TestUnusableLeftOutEquation(t *testing.T) {
	n := grid(6, 1)
	want := solve(t, n)
	n.Equations = append(n.Equations, least.Equation{Model: distance{4, 4}, Read: math.NaN(), Off: true})
	s := solve(t, n)
	if s.Statistic != want.Statistic || s.Redundancy(len(n.Equations)-1) != 0 {
		t.Errorf("sum %v, want %v", s.Statistic, want.Statistic)
	}
}

// TestThousandPoints solves a network far above what one site has.
func TestThousandPoints(t *testing.T) {
	n := grid(1000, 2)
	s := solve(t, n)
	sum := 0.0
	for k := range n.Equations {
		sum += s.Redundancy(k)
	}
	near(t, "sum of shares", sum, float64(s.Freedom), 1e-6)
	// The readings carry errors of their standard deviation, so the sum has the
	// chi-square distribution: five standard deviations √(2f) about f.
	f := float64(s.Freedom)
	near(t, "sum of squares", s.Statistic, f, 5*math.Sqrt(2*f))
	// What is kept of the inverse agrees with solving for a column.
	for _, i := range []int{4, 777, 1999} {
		for j, v := range s.Column(i) {
			if c, ok := s.Cov(i, j); ok {
				near(t, "covariance", c, v, 1e-9*math.Abs(v)+1e-15)
			}
		}
	}
}
