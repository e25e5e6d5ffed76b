package planar

import (
	"math"

	"undersod/core/unit"
)

// Path is an open line through points. One point is a path of no length.
type Path []Vec

// OnSegment returns the place of the segment from a to b that lies nearest to
// v.
func (v Vec) OnSegment(a, b Vec) Vec {
	step := b.Minus(a)
	over := float64(step.Dot(step))
	if !(over > 0) {
		return a
	}
	t := float64(v.Minus(a).Dot(step)) / over
	return a.Plus(step.Times(min(max(t, 0), 1)))
}

// ToSegment returns the distance from v to the segment from a to b.
func (v Vec) ToSegment(a, b Vec) unit.Length { return v.Minus(v.OnSegment(a, b)).Length() }

// Length returns how long the path is.
func (p Path) Length() unit.Length {
	var l unit.Length
	for i := 1; i < len(p); i++ {
		l += p[i].Minus(p[i-1]).Length()
	}
	return l
}

// At returns the place at a station along the path, counted from its first
// point, and the leg it lies on: leg k runs from point k to point k+1. A station
// before the start or past the end gives that end. A path without a point gives
// the zero place.
func (p Path) At(station unit.Length) (at Vec, leg int) {
	if len(p) == 0 {
		return Vec{}, 0
	}
	if !(station > 0) {
		return p[0], 0
	}
	for k := 0; k+1 < len(p); k++ {
		step := p[k+1].Minus(p[k])
		l := step.Length()
		if station < l {
			return p[k].Plus(step.Times(float64(station / l))), k
		}
		station -= l
	}
	return p[len(p)-1], max(len(p)-2, 0)
}

// Between returns the piece of the path between two stations with the bends
// that lie on it, in the order from the first station to the second: a second
// station before the first gives the piece backwards. Stations off the path
// give its ends.
func (p Path) Between(from, to unit.Length) Path {
	if len(p) == 0 {
		return nil
	}
	if to < from {
		out := p.Between(to, from)
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
		return out
	}
	first, _ := p.At(from)
	last, _ := p.At(to)
	out := Path{first}
	var station unit.Length
	for k := 1; k+1 < len(p); k++ {
		station += p[k].Minus(p[k-1]).Length()
		if station > from && station < to {
			out = append(out, p[k])
		}
	}
	return append(out, last)
}

// Distance returns the distance from v to the path; infinite where the path has
// no point.
func (p Path) Distance(v Vec) unit.Length {
	if len(p) == 1 {
		return v.Minus(p[0]).Length()
	}
	best := unit.Length(math.Inf(1))
	for i := 1; i < len(p); i++ {
		best = min(best, v.ToSegment(p[i-1], p[i]))
	}
	return best
}

// DistanceTo returns the least distance between two paths, 0 where they cross
// or touch; infinite where one has no point.
func (p Path) DistanceTo(q Path) unit.Length {
	best := unit.Length(math.Inf(1))
	for _, v := range p {
		best = min(best, q.Distance(v))
	}
	for _, v := range q {
		best = min(best, p.Distance(v))
	}
	for i := 1; i < len(p); i++ {
		for j := 1; j < len(q); j++ {
			if Cross(p[i-1], p[i], q[j-1], q[j]) {
				return 0
			}
		}
	}
	return best
}

// Cross tells whether the segment from a to b properly crosses the one from c
// to d: the ends of each lie on either side of the other. Segments that only
// touch, or lie along each other, do not cross.
func Cross(a, b, c, d Vec) bool {
	ab, cd := b.Minus(a), d.Minus(c)
	return apart(ab.Cross(c.Minus(a)), ab.Cross(d.Minus(a))) &&
		apart(cd.Cross(a.Minus(c)), cd.Cross(b.Minus(c)))
}

func apart(s, t unit.Area) bool { return s > 0 && t < 0 || s < 0 && t > 0 }
