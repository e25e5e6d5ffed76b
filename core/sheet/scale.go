package sheet

import (
	"math"

	"undersod/core/planar"
	"undersod/core/ties"
	"undersod/core/unit"
	"undersod/core/window"
)

// labelRoom is kept free round the drawing for labels.
const labelRoom MM = 8

// usualScales are the scales of the job's kind of length, largest drawing
// first: 1 in = 10, 20, 30, 40, 50, 60, 100 ft, or 1:100, 200, 250, 500.
func (w wording) usualScales() []Scale {
	if w.Metric() {
		return []Scale{100, 200, 250, 500}
	}
	return []Scale{120, 240, 360, 480, 600, 720, 1200}
}

// good is the smallest drawing that is still called fine on small paper:
// 1 in = 30 ft, or 1:250.
func (w wording) good() Scale {
	if w.Metric() {
		return 250
	}
	return 360
}

// extent is the upright rectangle about the drawing, on the ground.
type extent struct{ window.Window }

// extentOf returns the rectangle about all things, and false for none.
func extentOf(things []thing) (extent, bool) {
	far := planar.Vec{East: ties.Farthest, North: ties.Farthest}
	e := extent{window.Window{Min: far, Max: far.Times(-1)}}
	found := false
	for i := range things {
		t := &things[i]
		if t.loose {
			continue
		}
		for _, p := range t.points {
			found = true
			r := unit.Length(0)
			if len(t.points) == 1 {
				r = t.radius
			}
			e.Min.East, e.Min.North = min(e.Min.East, p.East-r), min(e.Min.North, p.North-r)
			e.Max.East, e.Max.North = max(e.Max.East, p.East+r), max(e.Max.North, p.North+r)
		}
	}
	return e, found
}

// fits tells whether the drawing fits into an area at a scale.
func (e extent) fits(area rect, s Scale) bool {
	w, h := e.Size()
	per := 1000 / float64(s)
	return MM(w.Metres()*per) <= area.width()-2*labelRoom && MM(h.Metres()*per) <= area.height()-2*labelRoom
}

// slack returns how much room is left round the drawing on its narrower side.
func (e extent) slack(area rect, s Scale) MM {
	w, h := e.Size()
	per := 1000 / float64(s)
	return min(area.width()-MM(w.Metres()*per), area.height()-MM(h.Metres()*per))
}

// choose returns the largest usual scale that fits an area; where none does,
// the first of 200, 300, 500 and so on times that fits, and unusual.
func (w wording) choose(e extent, area rect) (s Scale, unusual bool) {
	for _, s := range w.usualScales() {
		if e.fits(area, s) {
			return s, false
		}
	}
	one := Scale(12)
	if w.Metric() {
		one = 5
	}
	for p := Scale(100); p <= 1_000_000; p *= 10 {
		for _, k := range [...]Scale{2, 3, 5, 10} {
			if s := one * p * k; e.fits(area, s) {
				return s, true
			}
		}
	}
	return Scale(math.MaxInt32), true
}
