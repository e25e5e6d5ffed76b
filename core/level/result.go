package level

import (
	"math"

	"undersod/core/least"
	"undersod/core/quantile"
	"undersod/core/site"
	"undersod/core/unit"
)

// Limits of what counts as a check; those of the plan's adjustment.
const (
	// leastShare is the redundancy share below which nothing checks a reading.
	leastShare = 0.01
	// significance is the chance that the tests of single readings accuse one
	// of a visit without slips.
	significance = 0.01
	// power is the chance with which the smallest detectable slip is found.
	power = 0.80
	// sure is the share of cases that an uncertainty told in words covers.
	sure = 0.95
)

// z95 is how many standard deviations on either side cover sure of a normal
// number: 1.96.
func z95() float64 { return quantile.NormalQuantile((1 + sure) / 2) }

// Err tells why the heights could not be adjusted, nil where they could.
func (n *Net) Err() error {
	if n == nil {
		return nil
	}
	return n.err
}

// Freedom is the number of readings more than the heights need.
func (n *Net) Freedom() int {
	if n == nil || n.solution == nil {
		return 0
	}
	return n.solution.Freedom
}

// Statistic is the weighted sum of squared residuals.
func (n *Net) Statistic() float64 {
	if n == nil || n.solution == nil {
		return 0
	}
	return n.solution.Statistic
}

// Critical is the limit of a standardized residual; 0 where nothing is tested.
func (n *Net) Critical() float64 {
	if n == nil {
		return 0
	}
	return n.critical
}

// Heights returns the adjusted heights in the order first read, each over the
// first of its group, with its standard deviation against that, in metres.
func (n *Net) Heights() []Height {
	if n == nil || n.solution == nil {
		return nil
	}
	var out []Height
	for i, k := range n.nodes {
		if k.kind != atPoint {
			continue
		}
		v, _ := n.solution.Cov(i, i)
		out = append(out, Height{Key: k.key, At: unit.Length(n.solution.X[i]),
			SD: unit.Length(math.Sqrt(math.Max(v, 0))), Group: n.group[i]})
	}
	return out
}

// Readings returns every rod reading and depth, in their order.
func (n *Net) Readings() []Reading {
	if n == nil {
		return nil
	}
	return append([]Reading(nil), n.readings...)
}

// Doubts returns the readings that disagree, the worst first.
func (n *Net) Doubts() []Doubt {
	if n == nil {
		return nil
	}
	return append([]Doubt(nil), n.doubts...)
}

// Closures returns the loops of set-ups, as many as are independent of each
// other, at most 200.
func (n *Net) Closures() []Closure {
	if n == nil {
		return nil
	}
	return append([]Closure(nil), n.closures...)
}

// Difference returns the height of a minus the height of b with its standard
// deviation, in metres; false where no chain of readings joins them.
func (n *Net) Difference(a, b Key) (rise, sd unit.Length, ok bool) {
	if n == nil {
		return 0, 0, false
	}
	i, oki := n.index[node{key: a}]
	j, okj := n.index[node{key: b}]
	if !oki || !okj {
		return 0, 0, false
	}
	return n.between(i, j)
}

// between is Difference for two nodes.
func (n *Net) between(i, j int) (rise, sd unit.Length, ok bool) {
	if n.solution == nil || n.group[i] != n.group[j] {
		return 0, 0, false
	}
	if i == j {
		return 0, 0, true
	}
	v := n.solution.PredictedVariance([]least.Term{{Index: i, Slope: 1}, {Index: j, Slope: -1}})
	return unit.Length(n.solution.X[i] - n.solution.X[j]), unit.Length(math.Sqrt(v)), true
}

// judge sets the limit of a standardized residual and compares every reading
// with the adjusted heights. With m tested readings each is tested at
// 1-(1-a)^(1/m) for the significance a of all (Šidák, JASA 62, 1967, from
// memory). The smallest slip found is (limit + quantile of the power)·sd/√r for
// the redundancy share r (Baarda, A testing procedure for use in geodetic
// networks, 1968, from memory).
func (n *Net) judge() {
	if n.solution == nil {
		return
	}
	tested := 0
	for k := range n.edges {
		if n.solution.Redundancy(k) > leastShare {
			tested++
		}
	}
	if tested > 0 {
		single := -math.Expm1(math.Log1p(-significance) / float64(tested))
		n.critical = quantile.NormalQuantile(1 - single/2)
	}
	for i, k := range n.of {
		if k >= 0 {
			n.compare(&n.readings[i], k)
		}
	}
}

func (n *Net) compare(r *Reading, k int) {
	r.Residual = unit.Length(n.solution.Residual(k))
	r.Redundancy = n.solution.Redundancy(k)
	if r.Redundancy > leastShare {
		r.Standard = n.solution.Standardized(k)
		r.Detectable = unit.Length((n.critical + quantile.NormalQuantile(power)) * n.edges[k].sd / math.Sqrt(r.Redundancy))
	}
}

// Unchecked returns the readings that nothing checks, in their order.
func (n *Net) Unchecked() []site.ReadingID {
	if n == nil {
		return nil
	}
	var out []site.ReadingID
	for i, r := range n.readings {
		if n.of[i] >= 0 && r.Redundancy <= leastShare {
			out = append(out, r.ID)
		}
	}
	return out
}
