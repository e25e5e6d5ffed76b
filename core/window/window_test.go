package window_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/planar"
	"undersod/core/unit"
	"undersod/core/window"
)

var ten = window.Window{Max: planar.Vec{East: 10, North: 10}}

func TestAreaIsCutWithTheWindow(t *testing.T) {
	square := []planar.Vec{{East: -5, North: -5}, {East: 5, North: -5}, {East: 5, North: 5}, {East: -5, North: 5}}
	var twice unit.Area
	cut := ten.Area(square)
	for i, a := range cut {
		twice += a.Cross(cut[(i+1)%len(cut)])
	}
	if math.Abs(float64(twice)/2-25) > 1e-9 {
		t.Errorf("the cut area is %v m2, expected 25", float64(twice)/2)
	}
	if far := ten.Area([]planar.Vec{{East: 20}, {East: 30}, {East: 30, North: 5}}); len(far) > 0 {
		t.Errorf("an area outside the window leaves %v", far)
	}
}

func TestRunIsCutWhereItLeaves(t *testing.T) {
	runs := ten.Run([]planar.Vec{{East: -5, North: 5}, {East: 15, North: 5}, {East: 15, North: 8}, {East: -5, North: 8}}, false)
	if len(runs) != 2 || planar.Path(runs[0]).Length() != 10 || planar.Path(runs[1]).Length() != 10 {
		t.Errorf("a run that leaves the window twice is cut to %v", runs)
	}
	if runs := ten.Run(nil, true); len(runs) > 0 {
		t.Errorf("no run is cut to %v", runs)
	}
}

// Every place of a run that is kept lies in the window, and every one that is
// left out lies outside.
func TestRunKeepsWhatLiesInside(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	at := func() planar.Vec {
		return planar.Vec{East: unit.Length(r.Float64()*30 - 10), North: unit.Length(r.Float64()*30 - 10)}
	}
	for range 1000 {
		a, b := at(), at()
		var kept unit.Length
		for _, run := range ten.Run([]planar.Vec{a, b}, false) {
			kept += planar.Path(run).Length()
			if mid := run[0].Plus(run[len(run)-1]).Times(0.5); !ten.Holds(mid) {
				t.Fatalf("%v to %v keeps %v, outside the window", a, b, mid)
			}
		}
		const samples = 2000
		inside := 0
		for i := range samples {
			if ten.Holds(a.Plus(b.Minus(a).Times((float64(i) + 0.5) / samples))) {
				inside++
			}
		}
		if want := b.Minus(a).Length() * unit.Length(inside) / samples; (kept - want).Abs() > b.Minus(a).Length()*2/samples {
			t.Fatalf("%v to %v keeps %v m, expected %v", a, b, float64(kept), float64(want))
		}
	}
}

func TestWindowHoldsItsEdge(t *testing.T) {
	nan := unit.Length(math.NaN())
	if !ten.HoldsAll([]planar.Vec{{}, {East: 10, North: 10}, {East: 5}}) || ten.Holds(planar.Vec{East: 10.001}) || ten.Holds(planar.Vec{East: nan}) {
		t.Error("the window holds other places than those in it and on its edge")
	}
	if w, h := ten.Size(); w != 10 || h != 10 || ten.Centre() != (planar.Vec{East: 5, North: 5}) {
		t.Errorf("the window is %v by %v m about %v", float64(w), float64(h), ten.Centre())
	}
}
