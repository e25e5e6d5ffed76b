package least_test

import (
	"math"
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
		if math.Abs(sum-float64(s.Freedom)) > 1e-8*float64(len(n.Equations)) {
			t.Errorf("%d points: shares sum to %.10f, freedom %d", points, sum, s.Freedom)
		}
	}
}
