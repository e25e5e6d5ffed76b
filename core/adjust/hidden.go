package adjust

import (
	"math"

	"undersod/core/least"
	"undersod/core/unit"
)

// leastEffect is the part of a slip that must reach a point before the reading
// is said to move it.
const leastEffect = 0.05

// markHidden fills in how far an unnoticed slip may move each point: the
// smallest slip that would be found in a reading times what it does to the point,
// Q aᵀ/σ² per metre or radian (external reliability; Baarda, 1968, from memory),
// the largest over the readings that speak of the point. Right angles and sides
// count too: the point leans on them.
func (w *work) markHidden() {
	if w.sol == nil {
		return
	}
	var terms []least.Term
	for i := range w.plan.Points {
		p := &w.plan.Points[i]
		if !p.Placed {
			continue
		}
		for _, k := range w.net.at[i] {
			if w.eqOf[k] < 0 {
				continue
			}
			e := &w.net.eqs[k]
			_, terms = e.Model.Predict(w.layout.x, terms[:0])
			p.Hidden = max(p.Hidden, w.hidden(i, e, terms))
		}
	}
}

// hidden is how far an unnoticed slip in one equation moves point i.
func (w *work) hidden(i int, e *equation, terms []least.Term) unit.Length {
	var east, north float64
	for _, t := range terms {
		ce, _ := w.sol.Cov(2*i, t.Index)
		cn, _ := w.sol.Cov(2*i+1, t.Index)
		east, north = east+t.Slope*ce, north+t.Slope*cn
	}
	effect := math.Hypot(east, north) / (e.SD * e.SD) // m per m, or m per rad
	c := &w.plan.Readings[e.reading].Components[e.component]
	if !math.IsInf(c.Detectable, 1) {
		return unit.Length(effect * c.Detectable)
	}
	if effect*c.SD < leastEffect*float64(w.plan.Points[i].Ellipse.Radius) {
		return 0 // the reading hardly bears on this point
	}
	return unit.Length(math.Inf(1))
}

// markDoubt fills in how far each point moves when the accused readings are set
// aside.
func (s *searcher) markDoubt() {
	if len(s.accused) == 0 {
		return
	}
	for i := range s.w.plan.Points {
		p := &s.w.plan.Points[i]
		if p.Placed {
			at := spot{s.sol.X[2*i], s.sol.X[2*i+1]}
			p.Doubt = unit.Length(at.from(s.w.layout.at(i)))
		}
	}
}
