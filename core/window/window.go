// Package window cuts runs and areas of the ground with an upright rectangle, as
// a sheet does that shows only a part of a property.
package window

import (
	"undersod/core/planar"
	"undersod/core/unit"
)

// Window is an upright rectangle on the ground.
type Window struct{ Min, Max planar.Vec }

// Size returns how wide and how high the window is, in metres.
func (w Window) Size() (width, height unit.Length) {
	return w.Max.East - w.Min.East, w.Max.North - w.Min.North
}

// Centre returns the middle of the window.
func (w Window) Centre() planar.Vec { return w.Min.Plus(w.Max).Times(0.5) }

// Holds tells whether a place lies in the window or on its edge.
func (w Window) Holds(v planar.Vec) bool {
	return w.Min.East <= v.East && v.East <= w.Max.East && w.Min.North <= v.North && v.North <= w.Max.North
}

// HoldsAll tells whether all places of a run lie in the window or on its edge.
func (w Window) HoldsAll(run []planar.Vec) bool {
	for _, v := range run {
		if !w.Holds(v) {
			return false
		}
	}
	return true
}

// Run returns the parts of a run inside the window, each as long as it goes on
// without leaving it.
func (w Window) Run(points []planar.Vec, closed bool) [][]planar.Vec {
	n := len(points) - 1
	if closed {
		n++
	}
	var out [][]planar.Vec
	mid := w.Centre()
	width, height := w.Size()
	for i := range n {
		a, b := points[i], points[(i+1)%len(points)]
		p, q := a.Minus(mid), b.Minus(mid)
		t0, t1, ok := Clip(p.East, p.North, q.East, q.North, width/2, height/2)
		if !ok {
			continue
		}
		from, to := a.Plus(b.Minus(a).Times(t0)), a.Plus(b.Minus(a).Times(t1))
		if k := len(out) - 1; k >= 0 && t0 == 0 && out[k][len(out[k])-1] == from {
			out[k] = append(out[k], to)
			continue
		}
		out = append(out, []planar.Vec{from, to})
	}
	return out
}

// Area returns an area cut with the window, side by side of the window (the
// method of Sutherland and Hodgman, Communications of the ACM 17 (1974), 32-42);
// fewer than three corners where nothing of it lies inside.
func (w Window) Area(points []planar.Vec) []planar.Vec {
	sides := []func(planar.Vec) unit.Length{ // distance inside each side
		func(v planar.Vec) unit.Length { return v.East - w.Min.East },
		func(v planar.Vec) unit.Length { return w.Max.East - v.East },
		func(v planar.Vec) unit.Length { return v.North - w.Min.North },
		func(v planar.Vec) unit.Length { return w.Max.North - v.North },
	}
	for _, depth := range sides {
		var kept []planar.Vec
		for i, a := range points {
			b := points[(i+1)%len(points)]
			da, db := depth(a), depth(b)
			if da >= 0 {
				kept = append(kept, a)
			}
			if (da < 0) != (db < 0) {
				kept = append(kept, a.Plus(b.Minus(a).Times(float64(da/(da-db)))))
			}
		}
		points = kept
	}
	return points
}

// Clip cuts the segment from x0, y0 to x1, y1 with the rectangle of half sizes
// w and h about 0, all in one unit, and returns the parameters from 0 to 1 of the
// part inside (the method of Liang and Barsky, ACM Transactions on Graphics 3
// (1984), 1-22); false where no part lies inside.
func Clip[T ~float64](x0, y0, x1, y1, w, h T) (t0, t1 float64, ok bool) {
	t0, t1 = 0, 1
	dx, dy := x1-x0, y1-y0
	for _, e := range [4][2]T{{-dx, x0 + w}, {dx, w - x0}, {-dy, y0 + h}, {dy, h - y0}} {
		p, q := e[0], e[1]
		if p == 0 {
			if q <= 0 {
				return 0, 0, false
			}
			continue
		}
		t := float64(q / p)
		if p < 0 {
			t0 = max(t0, t)
		} else {
			t1 = min(t1, t)
		}
	}
	return t0, t1, t0 < t1 || (t0 == t1 && dx == 0 && dy == 0)
}
