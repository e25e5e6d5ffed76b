package adjust

import (
	"math"

	"undersod/core/least"
)

// jointStarts is how many starts are tried for points that only all their
// readings together can place.
const jointStarts = 24

// joint places a group of which no member can be placed by itself, as a bend
// and a line end that are tied by one tape each and one footage: all members
// are solved together from many starts, and the different results are kept.
func (b *builder) joint(l *layout, group []int) []found {
	problem := b.jointProblem(l, group)
	if len(problem.Equations) < 2*len(group) || len(group) > 40 {
		return nil
	}
	var all []found
	for try := range jointStarts {
		c := l.clone()
		for i, p := range group {
			c.set(p, b.guess(l, p, try, i))
		}
		s, err := least.Solve(problem, c.x, least.Settings{})
		if err != nil || len(s.Deficient) > 0 {
			continue
		}
		copy(c.x, s.X)
		if !b.hintsAgree(c, group) {
			continue
		}
		all = append(all, found{c, b.misfit(c, group)})
	}
	return b.nearRough(b.plausible(all, group), group)
}

// nearRough lets the rough places of a group choose among its answers.
func (b *builder) nearRough(list []found, group []int) []found {
	if len(list) < 2 || !b.hints {
		return list
	}
	far := make([]float64, len(list))
	for i, f := range list {
		for _, p := range group {
			if r := b.n.points[p].Rough; r != nil {
				if at, ok := b.n.roughSpot(f.layout, r); ok {
					far[i] = math.Hypot(far[i], at.from(f.layout.at(p)))
				}
			}
		}
	}
	best := 0
	for i, d := range far {
		if d < far[best] {
			best = i
		}
	}
	for i, d := range far {
		if i != best && far[best] >= d/1.5 {
			return list
		}
	}
	return list[best : best+1]
}

// jointProblem holds everything but the group's points.
func (b *builder) jointProblem(l *layout, group []int) *least.Problem {
	p := &least.Problem{Unknowns: b.n.unknowns, Held: make([]bool, b.n.unknowns)}
	for i := range p.Held {
		p.Held[i] = true
	}
	in := map[int]bool{}
	for _, q := range group {
		p.Held[2*q], p.Held[2*q+1] = false, false
		in[q] = true
	}
	taken := map[int]bool{}
	for _, q := range group {
		for _, k := range b.n.at[q] {
			e := &b.n.eqs[k]
			known := b.framed(l, e)
			for _, r := range e.points {
				known = known && (in[r] || l.placed[r])
			}
			if known && !taken[k] {
				taken[k] = true
				p.Equations = append(p.Equations, e.Equation)
			}
		}
	}
	return p
}

// guess returns a start for a point: its rough place on the first try, else on
// the circle about a placed neighbour at an angle that spreads evenly over the
// tries.
func (b *builder) guess(l *layout, p, try, i int) spot {
	const golden = 2.399963229728653 // the angle that spreads points most evenly, rad
	if r := b.n.points[p].Rough; r != nil && try == 0 {
		if at, ok := b.n.roughSpot(l, r); ok {
			return at
		}
	}
	s, c := math.Sincos(golden * float64(try*7+i*3+1))
	for _, k := range b.n.at[p] {
		e := &b.n.eqs[k]
		for _, q := range e.points {
			if q != p && l.placed[q] && e.radius > 0 {
				o := l.at(q)
				return spot{o.e + e.radius*s, o.n + e.radius*c}
			}
		}
	}
	spread := 10 + 3*float64(try%8)
	return spot{spread * s, spread * c}
}

// hintsAgree tells whether all of a group lies on the sides its hints name.
func (b *builder) hintsAgree(l *layout, group []int) bool {
	for _, p := range group {
		if !b.n.sidesAgree(l, p, l.at(p)) {
			return false
		}
	}
	return true
}
