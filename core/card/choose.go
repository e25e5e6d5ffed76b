package card

import (
	"fmt"
	"math"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Choices of the card; common practice, no source, unless said.
const (
	longTape  = 100 * unit.Foot // the tape that is in the truck
	farthest  = 300 * unit.Foot // the longest tape that is made for the work
	nearestTo = unit.Foot       // nearer than this the mark itself marks the part
	// cornerWorth is by how much a pair may be worse for each building corner
	// in it: a corner is easier to find again than an iron pin.
	cornerWorth = 0.10
	// longWorth is the same for each tape that is not a long one.
	longWorth = 0.50
	// leastCrossing is the least sine of the angle at which two tapes cross:
	// below it the crossing cannot be seen on the ground, and the error formula
	// no longer holds.
	leastCrossing = 0.17 // ten degrees
)

// z95 is the factor from a standard deviation to the limit that a normal number
// stays within with 95 %, the 0.975 quantile of the normal distribution.
const z95 = 1.959963984540054

// tape is how the tape of whoever comes back scatters: the fibreglass tape of
// the adjustment's defaults, since nobody knows yet which it will be.
func tape() adjust.Deviation {
	for _, d := range adjust.Defaults() {
		if d.Kind == site.FibreglassTape {
			return d.Deviation
		}
	}
	return adjust.Deviation{}
}

// marks returns every mark with how the part is taped from it, in the order of
// the job; why tells of each that cannot be used.
func (g *ground) marks(t *target) []mark {
	corners := g.corners()
	var out []mark
	for _, p := range g.job.Site.Points {
		if !p.IsMark() || p.Name == t.name {
			continue
		}
		m := mark{name: p.Name, words: g.markWords(p, corners[p.Name]), corner: p.Role == site.RoleCorner}
		g.aim(&m, t)
		out = append(out, m)
	}
	return out
}

// corners tells the building of each corner.
func (g *ground) corners() map[site.Name]site.Name {
	out := map[site.Name]site.Name{}
	for _, b := range g.job.Site.Buildings {
		for _, c := range b.Corners {
			if _, taken := out[c]; !taken {
				out[c] = b.Name
			}
		}
	}
	return out
}

// aim sets the distance of a mark from the part, or why it is of no use.
func (g *ground) aim(m *mark, t *target) {
	p, ok := g.located(m.name)
	if !ok {
		m.why = "not located"
		return
	}
	m.at, m.spread, m.doubt = p.At, p.Sigma.Spread(), p.Doubt
	step := t.at.Minus(m.at)
	m.distance = step.Length()
	m.toward, _ = step.Unit()
	switch {
	case m.distance < nearestTo:
		m.why = "at the part itself"
		return
	case m.distance > farthest:
		m.why = "more than " + g.length(farthest) + " away"
		return
	}
	for i := range g.obstacles {
		if o := &g.obstacles[i]; !o.covers(t.at) && o.blocks(m.at, t.at) {
			m.why = fmt.Sprintf("%s stands between", o.name)
			return
		}
	}
	m.plan = m.spread.Along(m.toward) + t.spread.Along(m.toward)
	if sd, tied := g.tied(m.name, t.name); tied {
		m.plan = min(m.plan, sd)
	}
	m.within = unit.Length(math.Hypot(float64(tape().At(m.distance)), float64(m.plan)))
}

// tied returns the standard deviation of the adjusted distance between a mark
// and the part where a tie between them was adjusted. With the residual v the
// adjusted reading has the variance σ² - var(v), and the redundancy share r is
// var(v)/σ², so that it is σ²(1-r). This knows how the errors of the two ends
// hang together, which the covariances of the points alone do not tell.
func (g *ground) tied(mark, part site.Name) (sd unit.Length, ok bool) {
	for i := range g.plan.Readings {
		r := &g.plan.Readings[i]
		if r.Source != adjust.FromReading || r.Use != adjust.Used || len(r.Touches) != 2 || len(r.Components) != 1 ||
			r.Components[0].What != "distance" || r.Components[0].Angular {
			continue
		}
		if a, b := r.Touches[0], r.Touches[1]; !(a == mark && b == part || a == part && b == mark) {
			continue
		}
		c := &r.Components[0]
		v := unit.Length(c.SD * math.Sqrt(math.Min(math.Max(1-c.Redundancy, 0), 1)))
		if v >= 0 && (!ok || v < sd) {
			sd, ok = v, true
		}
	}
	return sd, ok
}

// crossing returns the 95 % radius about the part within which the crossing of
// two tapes lies, and false where they cross too flat. With u the direction from
// each mark to the part, the found place is off by x, where u·x is each tape's
// error plus the part along u of the mark's error less the part's. The tapes
// are independent; how the errors of the plan hang together it does not tell,
// so they are bounded for the worst case, once from the points and once from
// the distances, and the smaller bound counts.
func crossing(a, b *mark, t *target) (unit.Length, bool) {
	sine := float64(a.toward.Cross(b.toward))
	if math.Abs(sine) < leastCrossing {
		return 0, false
	}
	// Columns of the inverse of the matrix with the rows a.toward and b.toward:
	// what an error of one tape alone does.
	byA, byB := b.toward.Right().Times(1/sine), a.toward.Right().Times(-1/sine)
	v := tape()
	tapes := planar.SpreadAlong(byA, v.At(a.distance)).Plus(planar.SpreadAlong(byB, v.At(b.distance)))
	plan := planar.Bound(t.spread, planar.Outer(byA, a.toward).Of(a.spread), planar.Outer(byB, b.toward).Of(b.spread))
	distances := planar.Bound(planar.SpreadAlong(byA, a.plan), planar.SpreadAlong(byB, b.plan))
	return min(adjust.Radius95(tapes.Plus(plan)), adjust.Radius95(tapes.Plus(distances))), true
}

// pair is two marks with the error of their crossing.
type pair struct {
	a, b     *mark
	expected unit.Length
	cost     float64
}

// choose returns the best pair among the marks, and false where there is none.
func choose(marks []mark, t *target) (pair, bool) {
	best, found := pair{}, false
	for i := range marks {
		for j := i + 1; j < len(marks); j++ {
			a, b := &marks[i], &marks[j]
			if a.why != "" || b.why != "" {
				continue
			}
			expected, ok := crossing(a, b, t)
			if !ok {
				continue
			}
			p := pair{a, b, expected, float64(expected) * (1 + a.price() + b.price())}
			if !found || p.cost < best.cost {
				best, found = p, true
			}
		}
	}
	return best, found
}

// price is by how much the mark must be better than a corner that is near.
func (m *mark) price() float64 {
	price := 0.0
	if !m.corner {
		price += cornerWorth
	}
	if m.distance > longTape {
		price += longWorth
	}
	return price
}

// check returns the best third mark: one whose tape tells the two crossings of
// the pair apart, and crosses one of the pair's tapes well; nil where there is
// none. Where no mark tells them apart, the best of the others still checks the
// distances.
func check(marks []mark, t *target, p pair) *mark {
	mirror := mirrored(t.at, p)
	var best *mark
	bestCost, bestTells := 0.0, false
	for i := range marks {
		m := &marks[i]
		if m == p.a || m == p.b || m.why != "" {
			continue
		}
		cost, ok := thirdCost(m, p, t)
		if !ok {
			continue
		}
		tells := (mirror.Minus(m.at).Length() - m.distance).Abs() > max(2*unit.Foot, 4*m.within)
		if best == nil || tells && !bestTells || tells == bestTells && cost < bestCost {
			best, bestCost, bestTells = m, cost, tells
		}
	}
	return best
}

// thirdCost is the error of the third tape's better crossing with one of the
// pair's.
func thirdCost(m *mark, p pair, t *target) (float64, bool) {
	cost, found := 0.0, false
	for _, other := range []*mark{p.a, p.b} {
		if e, ok := crossing(other, m, t); ok && (!found || float64(e) < cost) {
			cost, found = float64(e), true
		}
	}
	return cost * (1 + m.price()), found
}

// mirrored is the other place where the two tapes of a pair cross.
func mirrored(at planar.Vec, p pair) planar.Vec {
	u, ok := p.b.at.Minus(p.a.at).Unit()
	if !ok {
		return at
	}
	foot := p.a.at.Plus(u.Times(float64(at.Minus(p.a.at).Dot(u))))
	return foot.Plus(foot.Minus(at))
}
