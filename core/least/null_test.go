package least_test

import (
	"math"
	"testing"

	"undersod/core/least"
)

// largestChange is the largest change in a predicted value, in standard
// deviations, as the unknowns move along v scaled to a longest part of one.
func (n *network) largestChange(x, v []float64) float64 {
	longest, most := 0.0, 0.0
	for _, c := range v {
		longest = math.Max(longest, math.Abs(c))
	}
	for _, e := range n.Equations {
		sum := 0.0
		_, terms := e.Model.Predict(x, nil)
		for _, t := range terms {
			sum += t.Slope * v[t.Index] / longest
		}
		most = math.Max(most, math.Abs(sum))
	}
	return most
}

// TestFreeNetwork holds nothing: two shifts and a turn are not determined, and
// the rest is as in the network held by two coordinates and a direction.
func TestFreeNetwork(t *testing.T) {
	for _, points := range sizes {
		n := grid(points, uint64(points)+20)
		clear(n.Held)
		s := solve(t, n)
		if len(s.Deficient) != 3 {
			t.Fatalf("%d points: %d free directions, want 3", points, len(s.Deficient))
		}
		for _, d := range s.Deficient {
			if d.Vector[d.Pivot] != 1 {
				t.Errorf("pivot %d moves by %v", d.Pivot, d.Vector[d.Pivot])
			}
			if c := n.largestChange(s.X, d.Vector); c > 1e-9 {
				t.Errorf("%d points: moving along pivot %d changes a value by %.2g", points, d.Pivot, c)
			}
			v, _ := s.Cov(d.Pivot, d.Pivot)
			if v != 0 || s.Determines([]least.Term{{Index: d.Pivot, Slope: 1}}) {
				t.Errorf("pivot %d has variance %v and counts as determined", d.Pivot, v)
			}
		}
		sum := 0.0
		for k := range n.Equations {
			_, terms := n.Equations[k].Model.Predict(s.X, nil)
			if !s.Determines(terms) {
				t.Errorf("%d points: tie %d counts as not determined", points, k)
			}
			sum += s.Redundancy(k)
		}
		near(t, "sum of shares", sum, float64(s.Freedom), 1e-6)
		if s.Freedom != len(n.Equations)-2*points+3 {
			t.Errorf("freedom %d", s.Freedom)
		}
		held := *n
		held.Held = make([]bool, 2*points)
		for _, d := range s.Deficient {
			held.Held[d.Pivot] = true
		}
		h := solve(t, &held)
		near(t, "statistic", s.Statistic, h.Statistic, 1e-7)
	}
}

// TestPointOnOneTie has a point that one tie leaves free to swing, and one that
// nothing names; the rest stays as it was.
func TestPointOnOneTie(t *testing.T) {
	for _, points := range []int{20, 90} {
		n := grid(points, 31)
		want := solve(t, n)
		n.Unknowns += 4
		n.Held = append(n.Held, false, false, false, false)
		n.start = append(n.start, 3, -7, 50, 50)
		n.Equations = append(n.Equations, least.Equation{Model: distance{2, points}, Read: 12, SD: 0.005})
		s := solve(t, n)
		if len(s.Deficient) != 3 {
			t.Fatalf("%d free directions, want 3", len(s.Deficient))
		}
		swings := 0
		for _, d := range s.Deficient {
			if c := n.largestChange(s.X, d.Vector); c > 1e-9 {
				t.Errorf("moving along pivot %d changes a value by %.2g", d.Pivot, c)
			}
			if d.Pivot == 2*points || d.Pivot == 2*points+1 {
				swings++
			}
		}
		if swings != 1 || s.X[2*points+2] != 50 {
			t.Errorf("%d directions swing the point; the unnamed one lies at %v", swings, s.X[2*points+2])
		}
		for i := range want.X {
			near(t, "unknown", s.X[i], want.X[i], 1e-8)
		}
		if r := s.Redundancy(len(n.Equations) - 1); r > 1e-9 || s.Freedom != want.Freedom {
			t.Errorf("a lone tie has the share %v, freedom %d want %d", r, s.Freedom, want.Freedom)
		}
	}
}

// TestWeakIsNotFree has two ties that meet at a hundredth of a degree: weak, but
// determined.
func TestWeakIsNotFree(t *testing.T) {
	a := math.Pi / 18000
	n := &network{Problem: least.Problem{Unknowns: 6, Held: []bool{true, true, true, true, false, false}},
		start: []float64{0, -10, 10 * math.Sin(a), -10 * math.Cos(a), 0, 0}}
	for i := range 2 {
		n.Equations = append(n.Equations, least.Equation{Model: distance{i, 2}, Read: 10, SD: 0.005})
	}
	s := solve(t, n)
	if len(s.Deficient) != 0 {
		t.Fatal("counts as free")
	}
	v, _ := s.Cov(4, 4)
	// Across the ties the variance is about 2σ²/a².
	near(t, "variance across", v*a*a/(0.005*0.005), 2, 1e-3)
}
