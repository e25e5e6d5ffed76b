package judge

import (
	"fmt"
	"math"

	"undersod/core/english"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// similarity carries an old drawing onto the plan: east = a*x - b*y + e,
// north = b*x + a*y + n, in metres of the plan and units of the drawing. It is
// the four-parameter (Helmert) transformation: one scale, one turn, one shift.
type similarity struct {
	a, b, e, n float64
	sigma      float64 // of one control coordinate on the plan, m
	freedom    int
	cx, cy     float64 // middle of the control points, drawing units
	spread     float64 // sum of their squared distances from it
	count      float64
}

// pair is a control point: where the drawing and where the plan has it.
type pair struct {
	x, y float64
	at   planar.Vec
}

// fit lays control points over one another by least squares, and reports false
// where fewer than two different ones are given, on the drawing and on the plan.
func fit(pairs []pair) (similarity, bool) {
	var s similarity
	s.count = float64(len(pairs))
	var ce, cn float64
	for _, p := range pairs {
		s.cx += p.x / s.count
		s.cy += p.y / s.count
		ce += float64(p.at.East) / s.count
		cn += float64(p.at.North) / s.count
	}
	var dot, cross float64
	for _, p := range pairs {
		x, y, e, n := p.x-s.cx, p.y-s.cy, float64(p.at.East)-ce, float64(p.at.North)-cn
		s.spread += x*x + y*y
		dot += x*e + y*n
		cross += x*n - y*e
	}
	if len(pairs) < 2 || !(s.spread > 0) || math.IsInf(s.spread, 0) {
		return s, false
	}
	s.a, s.b = dot/s.spread, cross/s.spread
	if scale := s.perUnit(); !(scale > 0) || math.IsInf(scale, 0) || math.IsInf(1/scale, 0) {
		return s, false
	}
	s.e, s.n = ce-s.a*s.cx+s.b*s.cy, cn-s.b*s.cx-s.a*s.cy
	sum := 0.0
	for _, p := range pairs {
		d := s.at(p.x, p.y).Minus(p.at)
		sum += float64(d.Dot(d))
	}
	s.freedom = 2*len(pairs) - 4
	if s.freedom > 0 {
		s.sigma = math.Sqrt(sum / float64(s.freedom))
	}
	return s, true
}

// at carries one point of the drawing onto the plan.
func (s similarity) at(x, y float64) planar.Vec {
	return planar.Vec{East: unit.Length(s.a*x - s.b*y + s.e), North: unit.Length(s.b*x + s.a*y + s.n)}
}

// perUnit is how many metres one unit of the drawing stands for.
func (s similarity) perUnit() float64 { return math.Hypot(s.a, s.b) }

// radius is the 95 % radius of a point carried over: one coordinate of the
// control scatters by sigma, and the transformation widens away from their
// middle.
func (s similarity) radius(x, y, drawn float64) unit.Length {
	q := ((x-s.cx)*(x-s.cx) + (y-s.cy)*(y-s.cy)) / s.spread
	one := max(s.sigma, drawn*s.perUnit())
	return unit.Length(radius95 * one * math.Sqrt(1+1/s.count+q))
}

// radius95 is the 95 % radius of a circular normal error of deviation one.
const radius95 = 2.4477

// drawnDeviation is how well a point is read off an old drawing, as a share of
// the drawing's extent, where nothing else is stated; common practice, no
// source.
const drawnDeviation = 0.005

// old lays an old drawing over the plan by the marks that both know.
func (w *work) old() {
	r := w.job.Site.Record
	if r == nil || r.Drawing == nil {
		return
	}
	d := r.Drawing
	y := func(p site.DrawnPoint) float64 {
		if d.Down {
			return -p.Y
		}
		return p.Y
	}
	marks := map[site.Name]bool{}
	for _, p := range w.job.Site.Points {
		marks[p.Name] = p.IsMark()
	}
	var control []pair
	for _, p := range d.Points {
		if at, ok := w.point(p.Name); ok && marks[p.Name] {
			control = append(control, pair{p.X, y(p), at.At})
		}
	}
	s, ok := fit(control)
	if !ok {
		w.miss("The old drawing: at least two marks that the plan also has must be read off it; add them under record: drawing: points.")
		return
	}
	drawn := d.SD
	if drawn <= 0 {
		drawn = drawnDeviation * extent(d.Points)
	}
	o := &OldDrawing{Scale: 1 / s.perUnit(), Misfit: unit.Length(s.sigma)}
	for _, p := range d.Points {
		o.Points = append(o.Points, w.oldPoint(s, p, y(p), drawn, marks[p.Name]))
	}
	o.Words = fmt.Sprintf("The old drawing is laid over the plan by %s.", english.Count(len(control), "mark"))
	switch {
	case s.freedom == 0:
		o.Words += " Two marks fit any drawing: a third would show whether it is true to scale."
	default:
		o.Words += fmt.Sprintf(" They miss by %s, one coordinate, root mean square.", w.say.Format(o.Misfit))
	}
	w.out.Old = o
}

func extent(points []site.DrawnPoint) float64 {
	var most float64
	for _, p := range points {
		for _, q := range points {
			most = max(most, math.Hypot(p.X-q.X, p.Y-q.Y))
		}
	}
	return most
}

// oldPoint carries one point over and holds it against where it was measured.
func (w *work) oldPoint(s similarity, p site.DrawnPoint, y, drawn float64, mark bool) OldPoint {
	at := s.at(p.X, y)
	o := OldPoint{Name: p.Name, At: at, Radius: s.radius(p.X, y, drawn), Answer: CannotTell}
	found, ok := w.point(p.Name)
	o.Control = ok && mark
	if !ok {
		o.Words = fmt.Sprintf("%s is not located yet: search within %s of the place that the old drawing gives.", p.Name, w.say.Format(o.Radius))
		return o
	}
	o.Off = found.At.Minus(at).Length()
	limit := unit.Length(math.Hypot(float64(o.Radius), float64(found.Ellipse.Radius)))
	o.Answer = answer(o.Off <= limit)
	o.Words = fmt.Sprintf("%s lies %s from where the old drawing has it; %s is within what the drawing can tell.", p.Name, w.say.Format(o.Off), w.say.Format(limit))
	return o
}
