package planar_test

import (
	"testing"

	"undersod/core/planar"
)

// A square of 2 by 2 beside one of 1 by 1, as an L: area 5; its centroid by the
// parts is (4·1 + 1·2.5)/5 east and (4·1 + 1·0.5)/5 north.
func TestAreaAndCentroidByHand(t *testing.T) {
	r := planar.Ring{v(0, 0), v(3, 0), v(3, 1), v(2, 1), v(2, 2), v(0, 2)}
	if r.Area() != 5 || r.Centroid().Minus(v(1.3, 0.9)).Length() > 1e-12 {
		t.Error(r.Area(), r.Centroid())
	}
	back := planar.Ring{v(0, 2), v(2, 2), v(2, 1), v(3, 1), v(3, 0), v(0, 0)}
	if back.Area() != 5 || back.Centroid().Minus(v(1.3, 0.9)).Length() > 1e-12 {
		t.Error(back.Area(), back.Centroid())
	}
	if line := (planar.Ring{v(0, 0), v(2, 0)}); line.Area() != 0 || line.Centroid() != v(1, 0) {
		t.Error(line.Area(), line.Centroid())
	}
	if (planar.Ring{}).Area() != 0 || (planar.Ring{}).Centroid() != v(0, 0) {
		t.Error("an empty ring")
	}
}
