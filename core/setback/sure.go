package setback

import (
	"math"

	"undersod/core/adjust"
	"undersod/core/bounds"
	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

// stand is how the place of something proposed hangs on the plan's points: at
// from, and so far along and to the right of the line from from to to.
type stand struct {
	from, to       int // the same where it stands at a point
	station, right unit.Length
	outline        *adjust.Outline // where it stands at the middle of this part instead
}

// sure is how well a distance is known.
type sure struct {
	sd    unit.Length // standard deviation
	doubt unit.Length // how far readings that disagree move it, at most
}

// within is the 95 % uncertainty, and on top of it how far readings that
// disagree move the distance.
func (s sure) within() unit.Length {
	if w := s.sd*bounds.Normal95 + s.doubt; w <= farthest {
		return w
	}
	return farthest // a covariance that is no number knows nothing
}

// measured says how well the gap between two bodies is known. The distance
// changes with the places that carry its two ends as d = u·(to − from), u the
// unit vector along it; a spot between two points hangs on them by its share.
// What a plan knows jointly is taken jointly; where it cannot, as beside an
// outline, the standard deviations of the shares are added, which no dependence
// can exceed.
func (y *yard) measured(a, b *body, gap clearance.Gap) sure {
	u, ok := gap.To.At.Minus(gap.From.At).Unit()
	if !ok {
		return y.touching(a, b, gap)
	}
	var room [8]adjust.Pull
	var places [8]int
	pulls, at := y.pulls(a, gap.From, u.Times(-1), room[:0], places[:0])
	pulls, at = y.pulls(b, gap.To, u, pulls, at)
	own := y.own(a, gap.From, u) + y.own(b, gap.To, u)
	out := sure{doubt: y.doubt(pulls, at)}
	sd, joint := unit.Length(0), false
	if a.outline == nil && b.outline == nil && len(pulls) > 0 && a.hangs() && b.hangs() {
		sd, joint = y.joint.Deviation(pulls...)
	}
	if !joint {
		sd = y.bound(pulls, at)
	}
	out.sd = unit.Length(math.Sqrt(float64(sd)*float64(sd) + float64(own)))
	return out
}

// hangs tells whether the body's place hangs on points of the plan, so that its
// distance from another such does not depend on the datum.
func (b *body) hangs() bool { return len(b.carriers) > 0 || b.stand != nil }

// pulls adds how the place of a spot along u changes with the plan's points.
func (y *yard) pulls(b *body, s clearance.Spot, u planar.Vec, pulls []adjust.Pull, at []int) ([]adjust.Pull, []int) {
	put := func(i int, along planar.Vec) {
		if i >= 0 && i < len(y.plan.Points) {
			pulls, at = append(pulls, adjust.Pull{Point: y.plan.Points[i].Name, Along: along}), append(at, i)
		}
	}
	switch {
	case b.stand != nil:
		y.standing(b.stand, u, put)
	case s.From < 0 || s.To < 0 || s.From >= len(b.carriers) || s.To >= len(b.carriers):
	case s.From == s.To || !(s.Along > 0):
		put(b.carriers[s.From], u)
	case s.Along >= 1:
		put(b.carriers[s.To], u)
	default:
		put(b.carriers[s.From], u.Times(1-s.Along))
		put(b.carriers[s.To], u.Times(s.Along))
	}
	return pulls, at
}

// standing is how a place given by station and distance right of a line changes
// with the line's ends: P = A + s e + r n with e the unit vector from A to B and
// n to the right of it; de = n dθ and dn = −e dθ with dθ = n·(dB − dA)/|AB|, so
// u·dP = u·dA + k n·(dB − dA) with k = (s u·n − r u·e)/|AB|.
func (y *yard) standing(s *stand, u planar.Vec, put func(int, planar.Vec)) {
	if s.from == s.to {
		put(s.from, u)
		return
	}
	step := y.plan.Points[s.to].At.Minus(y.plan.Points[s.from].At)
	e, ok := step.Unit()
	if !ok {
		put(s.from, u)
		return
	}
	n := e.Right()
	k := (float64(s.station)*float64(u.Dot(n)) - float64(s.right)*float64(u.Dot(e))) / float64(step.Length())
	put(s.from, u.Minus(n.Times(k)))
	put(s.to, n.Times(k))
}

// own is the variance along u of what does not come from the plan's points: a
// fitted outline's centre, turn and half sizes, and a disc whose turn is not
// known.
func (y *yard) own(b *body, s clearance.Spot, u planar.Vec) unit.Area {
	out := unit.Area(b.sizeSD) * unit.Area(b.sizeSD)
	o := b.outline
	if o == nil {
		return out
	}
	square := func(l unit.Length, by unit.Area) { out += unit.Area(l) * unit.Area(l) * by * by }
	square(o.Sigma.Spread().Along(u), 1)
	along := planar.Polar(o.Azimuth, 1)
	square(o.LengthSD/2, u.Dot(along))
	square(o.WidthSD/2, u.Dot(along.Right()))
	square(unit.Length(o.AzimuthSD), u.Dot(s.At.Minus(o.Centre).Right()))
	return out
}

// bound is the sum of the standard deviations of the pulls, which the deviation
// of their sum cannot exceed however the points depend on each other.
func (y *yard) bound(pulls []adjust.Pull, at []int) unit.Length {
	var out unit.Length
	for k, p := range pulls {
		out += y.plan.Points[at[k]].Sigma.Spread().Along(p.Along)
	}
	return out
}

// doubt is how far readings that disagree move the points of the pulls.
func (y *yard) doubt(pulls []adjust.Pull, at []int) unit.Length {
	var out unit.Length
	for k, p := range pulls {
		if d := bounds.Sane(y.plan.Points[at[k]].Doubt); d > 0 {
			out += d * p.Along.Length()
		}
	}
	return out
}

// touching is how well a distance of nothing is known: it has no direction, so
// the points count with their whole spread.
func (y *yard) touching(a, b *body, gap clearance.Gap) sure {
	east, north := planar.Vec{East: 1}, planar.Vec{North: 1}
	var out sure
	sum := 0.0
	for _, u := range [2]planar.Vec{east, north} {
		pulls, at := y.pulls(a, gap.From, u, nil, nil)
		pulls, at = y.pulls(b, gap.To, u, pulls, at)
		sd := float64(y.bound(pulls, at))
		sum += sd*sd + float64(y.own(a, gap.From, u)+y.own(b, gap.To, u))
		out.doubt = max(out.doubt, y.doubt(pulls, at))
	}
	out.sd = unit.Length(math.Sqrt(sum))
	return out
}
