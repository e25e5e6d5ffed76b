package least_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/least"
)

// TestReadingsThatNearlyAgreeSettle: tapes that agree to a thousandth of what is
// expected of them leave so small a sum that its own rounding hides what the
// last step gains. That is an answer, and no reading is to blame.
func TestReadingsThatNearlyAgreeSettle(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for try := range 3000 {
		noise := math.Pow(10, -1-4*r.Float64())
		var p least.Problem
		p.Unknowns = 8
		truth, start := make([]float64, 8), make([]float64, 8)
		for i := range truth {
			truth[i] = 60 * (r.Float64() - 0.5)
			start[i] = truth[i] + 0.3*r.NormFloat64()
		}
		for range 5 {
			me, mn := 100*(r.Float64()-0.5), 100*(r.Float64()-0.5)
			for k := range 4 {
				d := math.Hypot(truth[2*k]-me, truth[2*k+1]-mn)
				p.Equations = append(p.Equations, least.Equation{Model: tapeTo{2 * k, me, mn}, Read: d + 0.006*noise*r.NormFloat64(), SD: 0.006})
			}
		}
		if s, err := least.Solve(&p, start, least.Settings{}); err != nil || !s.Converged {
			t.Fatalf("try %d with noise %.1e does not settle: %v", try, noise, err)
		}
	}
}

// tapeTo is the distance of a point to a mark.
type tapeTo struct {
	at          int
	east, north float64
}

func (m tapeTo) Predict(x []float64, terms []least.Term) (float64, []least.Term) {
	de, dn := x[m.at]-m.east, x[m.at+1]-m.north
	d := math.Hypot(de, dn)
	return d, append(terms, least.Term{Index: m.at, Slope: de / d}, least.Term{Index: m.at + 1, Slope: dn / d})
}
