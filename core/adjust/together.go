package adjust

import (
	"math"

	"undersod/core/least"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Pull is a point of a plan and how a number changes with its place: by so many
// metres along each axis for each metre that the point moves.
type Pull struct {
	Point site.Name
	Along planar.Vec
}

// Joint is the covariance of all points of a plan together: points measured
// from the same corners move together, and what lies between them is surer than
// either. It is for one goroutine.
type Joint struct {
	sol     *least.Solution
	turn    unit.Angle
	index   map[site.Name]int
	columns map[int][]float64
}

// solved is what a plan keeps for its joint covariance.
type solved struct {
	sol  *least.Solution
	turn unit.Angle
}

// Joint returns the joint covariance of the plan's points.
func (p *Plan) Joint() *Joint {
	j := &Joint{sol: p.solved.sol, turn: p.solved.turn, index: map[site.Name]int{}, columns: map[int][]float64{}}
	for i, q := range p.Points {
		if q.State == Determined && j.sol != nil {
			j.index[q.Name] = i
		}
	}
	return j
}

// Deviation returns the standard deviation of the sum of Along · place over the
// pulls, √(aᵀ C a), for a number that does not depend on the datum: the pulls of
// a distance between two places sum to zero. It is false where a point is not
// determined.
func (j *Joint) Deviation(pulls ...Pull) (unit.Length, bool) {
	working, index := make([]planar.Vec, len(pulls)), make([]int, len(pulls))
	for k, p := range pulls {
		i, ok := j.index[p.Point]
		if !ok {
			return 0, false
		}
		working[k], index[k] = p.Along.Clockwise(-j.turn), i
	}
	variance := 0.0
	for k, a := range working {
		east, north := j.column(2*index[k]), j.column(2*index[k]+1)
		for l, b := range working {
			e, n := 2*index[l], 2*index[l]+1
			variance += float64(a.East)*(float64(b.East)*east[e]+float64(b.North)*east[n]) +
				float64(a.North)*(float64(b.East)*north[e]+float64(b.North)*north[n])
		}
	}
	return unit.Length(math.Sqrt(math.Max(variance, 0))), true
}

// column returns the covariance of every unknown with one, solved once.
func (j *Joint) column(i int) []float64 {
	c, ok := j.columns[i]
	if !ok {
		c = j.sol.Column(i)
		j.columns[i] = c
	}
	return c
}
