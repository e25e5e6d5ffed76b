package least_test

import (
	"math"
	"math/rand/v2"

	"undersod/core/least"
)

// distance is the distance between points a and b of the plane; the unknowns
// 2i and 2i+1 are the east and north of point i.
type distance struct{ a, b int }

func (m distance) Predict(x []float64, t []least.Term) (float64, []least.Term) {
	de, dn := x[2*m.b]-x[2*m.a], x[2*m.b+1]-x[2*m.a+1]
	d := math.Hypot(de, dn)
	ue, un := de/d, dn/d
	return d, append(t, least.Term{Index: 2 * m.a, Slope: -ue}, least.Term{Index: 2*m.a + 1, Slope: -un},
		least.Term{Index: 2 * m.b, Slope: ue}, least.Term{Index: 2*m.b + 1, Slope: un})
}

// bearing is the azimuth from point a to point b.
type bearing struct{ a, b int }

func (m bearing) Predict(x []float64, t []least.Term) (float64, []least.Term) {
	de, dn := x[2*m.b]-x[2*m.a], x[2*m.b+1]-x[2*m.a+1]
	q := de*de + dn*dn
	return math.Atan2(de, dn), append(t, least.Term{Index: 2 * m.a, Slope: -dn / q}, least.Term{Index: 2*m.a + 1, Slope: de / q},
		least.Term{Index: 2 * m.b, Slope: dn / q}, least.Term{Index: 2*m.b + 1, Slope: -de / q})
}

// linear is a weighted sum of unknowns.
type linear []least.Term

func (m linear) Predict(x []float64, t []least.Term) (float64, []least.Term) {
	v := 0.0
	for _, s := range m {
		if s.Index < len(x) {
			v += s.Slope * x[s.Index]
		}
	}
	return v, append(t, m...)
}

// network is a problem with a start near its answer and the true places.
type network struct {
	least.Problem
	start, truth []float64
}

// grid is a grid of points 10 m apart, jittered, each tied to four earlier
// neighbours, with readings good to 5 mm and the first two points held.
func grid(points int, seed uint64) *network {
	r := rand.New(rand.NewPCG(seed, 1))
	side := int(math.Ceil(math.Sqrt(float64(points))))
	n := &network{Problem: least.Problem{Unknowns: 2 * points, Held: make([]bool, 2*points)}}
	for i := range points {
		n.truth = append(n.truth, 10*float64(i%side)+2*r.Float64(), 10*float64(i/side)+2*r.Float64())
	}
	n.start = append([]float64(nil), n.truth...)
	for i := range n.start {
		if n.Held[i] = i < 4; !n.Held[i] {
			n.start[i] += 0.1 * r.NormFloat64()
		}
	}
	for i := range points {
		for _, back := range []int{1, 2, side - 1, side, side + 1, 2 * side} {
			if j := i - back; j >= 0 && (i%side-j%side)*(i%side-j%side) <= 4 {
				n.tie(r, j, i)
			}
		}
	}
	return n
}

func (n *network) tie(r *rand.Rand, a, b int) {
	m := distance{a, b}
	d, _ := m.Predict(n.truth, nil)
	n.Equations = append(n.Equations, least.Equation{Model: m, Read: d + 0.005*r.NormFloat64(), SD: 0.005})
}
