package ties

import (
	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Side is one side of a closed feature, or one leg of an open one.
type Side struct {
	From, To site.Name
	Ends     [2]planar.Vec
	Long     unit.Length // along the plan
	SD       unit.Length // of Long
	Lost     string      // why it has no length, in words; empty where it has
}

// Words is the length of the side as w prints it, no finer than it is known.
func (s Side) Words(w Wording) string { return w.Known(s.Long, s.SD) }

// Sides returns the sides of a feature in the order of its points, those without
// a length as well.
func (x *Index) Sides(f site.Feature) []Side {
	n := len(f.Points) - 1
	if f.Closed && n > 1 {
		n++
	}
	var out []Side
	var joint *adjust.Joint
	for i := range max(n, 0) {
		if joint == nil {
			joint = x.plan.Joint()
		}
		out = append(out, x.side(joint, f.Points[i], f.Points[(i+1)%len(f.Points)]))
	}
	return out
}

// shortestSide is the least distance between two points that has a direction.
const shortestSide = unit.Metre / 1000

func (x *Index) side(joint *adjust.Joint, from, to site.Name) Side {
	s := Side{From: from, To: to}
	for i, n := range [...]site.Name{from, to} {
		at, ok := x.Located(n)
		p, _ := x.Point(n)
		switch s.Ends[i] = at; {
		case !ok:
			s.Lost = string(n) + " is not located"
		case p.State != adjust.Determined:
			s.Lost = string(n) + " has two answers"
		case x.Moved(p):
			s.Lost = "readings disagree about " + string(n)
		}
		if s.Lost != "" {
			return s
		}
	}
	across := s.Ends[1].Minus(s.Ends[0])
	if s.Long = across.Length(); s.Long < shortestSide {
		s.Lost = string(from) + " and " + string(to) + " lie at one place"
		return s
	}
	s.SD = x.spread(joint, s, across.Times(1/float64(s.Long)))
	return s
}

// spread is the standard deviation of a length in a direction; where the plan
// has no joint covariance, no less than both ends can bring.
func (x *Index) spread(joint *adjust.Joint, s Side, u planar.Vec) unit.Length {
	if sd, ok := joint.Deviation(adjust.Pull{Point: s.From, Along: u.Times(-1)}, adjust.Pull{Point: s.To, Along: u}); ok {
		return sd
	}
	a, _ := x.Point(s.From)
	b, _ := x.Point(s.To)
	return (a.Ellipse.Radius + b.Ellipse.Radius) / 1.96
}
