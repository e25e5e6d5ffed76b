package least_test

import (
	"fmt"
	"testing"

	"undersod/core/least"
)

// BenchmarkSolve solves grids from a start 0.1 m off and asks for everything:
// the covariance of each point and the redundancy of each reading.
func BenchmarkSolve(b *testing.B) {
	for _, points := range []int{10, 25, 100, 1000, 3000} {
		n := grid(points, 1)
		b.Run(fmt.Sprintf("%d points %d readings", points, len(n.Equations)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				everything(b, n)
			}
		})
	}
}

func everything(b *testing.B, n *network) {
	s, err := least.Solve(&n.Problem, n.start, least.Settings{})
	if err != nil {
		b.Fatal(err)
	}
	sum := 0.0
	for k := range n.Equations {
		sum += s.Redundancy(k)
	}
	for i := 0; i < len(s.X); i += 2 {
		v, _ := s.Cov(i, i+1)
		sum += v
	}
	if sum == 0 {
		b.Fatal("no statistics")
	}
}

// BenchmarkRefit leaves one reading after the other out and solves again from
// the answer, as the search for a wrong reading does.
func BenchmarkRefit(b *testing.B) {
	for _, points := range []int{10, 25, 100} {
		n := grid(points, 1)
		s, err := least.Solve(&n.Problem, n.start, least.Settings{})
		if err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprintf("%d points %d readings", points, len(n.Equations)), func(b *testing.B) {
			b.ReportAllocs()
			var v least.Solver
			for k := 0; b.Loop(); k = (k + 1) % len(n.Equations) {
				n.Equations[k].Off = true
				if _, err := v.Solve(&n.Problem, s.X, least.Settings{}); err != nil {
					b.Fatal(err)
				}
				n.Equations[k].Off = false
			}
		})
	}
}

// BenchmarkDense inverts the whole covariance of a medium network.
func BenchmarkDense(b *testing.B) {
	n := grid(25, 1)
	s, err := least.Solve(&n.Problem, n.start, least.Settings{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		s.Dense()
	}
}
