package clearance_test

import (
	"math"
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

func TestFootprints(t *testing.T) {
	nan := unit.Length(math.NaN())
	for _, bad := range []unit.Length{0, -1, nan, unit.Length(math.Inf(1))} {
		if _, err := clearance.Rectangle(bad, 1); err == nil {
			t.Errorf("length %v was taken", bad)
		}
	}
	var star []planar.Vec
	for i := range 5 {
		s, c := math.Sincos(float64(i) * 4 * math.Pi / 5)
		star = append(star, planar.Vec{East: unit.Length(c), North: unit.Length(s)})
	}
	for name, bad := range map[string][]planar.Vec{
		"star": star, "two": {{}, {East: 1}}, "flat": {{}, {East: 1}, {East: 2}},
		"dent": {{}, {East: 4}, {East: 1, North: 1}, {North: 4}}, "nan": {{}, {East: nan}, {North: 1}},
	} {
		if _, err := clearance.Convex(bad); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
	f, err := clearance.Convex([]planar.Vec{{North: 1}, {East: 1}, {}})
	if err != nil {
		t.Fatal(err)
	}
	got := f.Placed(clearance.Placement{At: planar.Vec{East: 5, North: 7}})
	if !got.Closed || got.Points[0] != (planar.Vec{East: 5, North: 7}) && got.Points[0] != (planar.Vec{East: 5, North: 8}) {
		t.Errorf("placed at %v", got.Points)
	}
}
