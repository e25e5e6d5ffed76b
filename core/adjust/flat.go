package adjust

import (
	"fmt"
	"math"

	"undersod/core/least"
	"undersod/core/unit"
)

// flatness is why a point's own readings do not fix it, and across which
// direction they leave it open.
type flatness struct {
	why    string
	across spot
}

// pull is what one reading does at a point: its slopes, its weight and half its
// curvature square to them.
type pull struct {
	e, n, weight, bend float64
}

// leaveFlatOut takes points out of the adjustment whose readings meet too flat:
// their marks lie in one line with them, and the linear equations would throw
// them anywhere. The rest is solved without them, and they are told by name.
func (w *work) leaveFlatOut() {
	w.flat = map[int]flatness{}
	for p, placed := range w.layout.placed {
		if !placed || p == w.net.frame.mark || p == w.net.frame.toward || w.isCorner(p) {
			continue
		}
		if f, is := w.flatAt(p); is {
			w.flat[p] = f
			w.layout.placed[p] = false
			for _, o := range w.others {
				o.placed[p] = false
			}
		}
	}
}

func (w *work) isCorner(p int) bool {
	for _, o := range w.net.building {
		if indexOf(o.corners, p) >= 0 {
			return true
		}
	}
	return false
}

// flatAt tells whether a point's readings meet too flat to fix it. Across the
// direction they fix worst, the linear equations give the standard deviation s;
// but the circles are curved, so that a step t across changes the weighted sum of
// squares by K t⁴, and t₁ = K^(-1/4) is one standard deviation of that. Where s
// is the larger, the linear answer is worthless.
func (w *work) flatAt(p int) (flatness, bool) {
	pulls := w.pulls(p)
	var ee, en, nn float64
	for _, q := range pulls {
		ee, en, nn = ee+q.weight*q.e*q.e, en+q.weight*q.e*q.n, nn+q.weight*q.n*q.n
	}
	mean, half := (ee+nn)/2, math.Hypot((ee-nn)/2, en)
	if len(pulls) == 0 || mean+half <= 0 {
		return flatness{}, false
	}
	angle := 0.5 * math.Atan2(2*en, ee-nn) // of the direction fixed best
	u := spot{math.Cos(angle), math.Sin(angle)}
	across := spot{-u.n, u.e}
	linear := math.Inf(1)
	if weak := mean - half; weak > 1e-12*(mean+half) {
		linear = 1 / math.Sqrt(weak)
	}
	if linear <= curvedDeviation(pulls, u, across) {
		return flatness{}, false
	}
	return flatness{why: w.flatWords(p), across: across}, true
}

// pulls lists what the ready readings of a point do to it.
func (w *work) pulls(p int) []pull {
	var out []pull
	var terms []least.Term
	for _, k := range w.net.at[p] {
		e := &w.net.eqs[k]
		if !w.builder.ready(w.layout, e) {
			continue
		}
		var value float64
		value, terms = e.Model.Predict(w.layout.x, terms[:0])
		q := pull{weight: 1 / (e.SD * e.SD)}
		for _, t := range terms {
			switch t.Index {
			case 2 * p:
				q.e += t.Slope
			case 2*p + 1:
				q.n += t.Slope
			}
		}
		if _, tie := e.Model.(distanceModel); tie && value > 0.01 {
			q.bend = 0.5 / value
		}
		out = append(out, q)
	}
	return out
}

// curvedDeviation is K^(-1/4): how far across a point may lie before the bend of
// its circles shows, with the best slide along taken out.
func curvedDeviation(pulls []pull, u, across spot) float64 {
	var cc, cg, gg float64
	for _, q := range pulls {
		g := q.e*u.e + q.n*u.n
		s := q.e*across.e + q.n*across.n
		c := q.bend * (1 - s*s)
		cc, cg, gg = cc+q.weight*c*c, cg+q.weight*c*g, gg+q.weight*g*g
	}
	if gg > 0 {
		cc -= cg * cg / gg
	}
	if cc <= 0 {
		return math.Inf(1)
	}
	return math.Pow(cc, -0.25)
}

// flatWords tells why: two ties that do not meet, or meet in line.
func (w *work) flatWords(p int) string {
	var ties []*equation
	for _, k := range w.net.at[p] {
		if e := &w.net.eqs[k]; e.radius > 0 && w.builder.ready(w.layout, e) {
			ties = append(ties, e)
		}
	}
	for i, a := range ties {
		for _, b := range ties[i+1:] {
			if why := w.gapWords(p, a, b); why != "" {
				return why
			}
		}
	}
	return "its readings meet too flat to fix it: it lies nearly in one line with the marks it was measured from"
}

// gapWords tells of two ties that cannot both be right, or nothing.
func (w *work) gapWords(p int, a, b *equation) string {
	ca, cb := a.points[0]+a.points[1]-p, b.points[0]+b.points[1]-p
	apart := w.layout.at(ca).from(w.layout.at(cb))
	slack := 3 * math.Hypot(a.SD, b.SD)
	na, nb := w.net.points[ca].Name, w.net.points[cb].Name
	short := apart - a.radius - b.radius
	long := math.Abs(a.radius-b.radius) - apart
	switch {
	case apart < 0.01:
		return ""
	case short > slack:
		return fmt.Sprintf("its ties from %s (%s) and %s (%s) do not meet: together they are %s short of the %s between those marks, so one of them is wrong",
			na, w.lengthWords(unit.Length(a.radius)), nb, w.lengthWords(unit.Length(b.radius)),
			w.lengthWords(unit.Length(short)), w.lengthWords(unit.Length(apart)))
	case long > slack:
		return fmt.Sprintf("its ties from %s (%s) and %s (%s) do not meet: they differ by %s more than the %s between those marks, so one of them is wrong",
			na, w.lengthWords(unit.Length(a.radius)), nb, w.lengthWords(unit.Length(b.radius)),
			w.lengthWords(unit.Length(long)), w.lengthWords(unit.Length(apart)))
	}
	return ""
}

// cureFlat proposes the tie that crosses the open direction best.
func (w *work) cureFlat(p int) *Candidate {
	plans := w.planner()
	name := w.net.points[p].Name
	var best *Candidate
	most := 0.3
	for _, m := range plans.marks {
		at, from := w.layout.at(p), w.layout.at(m)
		d := at.from(from)
		if d < 0.3 || !plans.possible(m, p, unit.Length(d)) {
			continue
		}
		f := w.flat[p].across
		if c := math.Abs((at.e-from.e)*f.e+(at.n-from.n)*f.n) / d; c > most {
			most = c
			best = &Candidate{Kind: "tie", From: w.net.points[m].Name, To: name, Expect: unit.Length(d), Point: name}
		}
	}
	if best != nil {
		best.Words = fmt.Sprintf("take a tie from %s to %s (about %s)", best.From, name, w.lengthWords(best.Expect))
	}
	return best
}
