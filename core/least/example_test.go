package least_test

import (
	"fmt"
	"math"

	"undersod/core/least"
)

// A part is tied to three marks whose places are held. By hand: the unit vectors
// to the marks give AᵀA = (1.77, 0.57; 0.57, 1.23), whose inverse times 0.01²
// has the standard deviations 8 mm and 10 mm.
func ExampleSolve() {
	p := least.Problem{
		Unknowns: 8, // east and north of three marks and the part, in metres
		Held:     []bool{true, true, true, true, true, true, false, false},
		Equations: []least.Equation{
			{Model: distance{0, 3}, Read: 5.00, SD: 0.01},
			{Model: distance{1, 3}, Read: 6.71, SD: 0.01},
			{Model: distance{2, 3}, Read: 6.40, SD: 0.01},
		},
	}
	start := []float64{0, 0, 9, 1, 8, 8, 2, 3}
	s, err := least.Solve(&p, start, least.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	east, _ := s.Cov(6, 6)
	north, _ := s.Cov(7, 7)
	fmt.Printf("east %.3f ± %.3f, north %.3f ± %.3f\n", s.X[6], math.Sqrt(east), s.X[7], math.Sqrt(north))
	fmt.Printf("%d degree of freedom, sum %.2f\n", s.Freedom, s.Statistic)
	// Output:
	// east 3.000 ± 0.008, north 4.002 ± 0.010
	// 1 degree of freedom, sum 0.07
}
