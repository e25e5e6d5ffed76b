package clearfile_test

import (
	"encoding/json"
	"math"
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
	"undersod/internal/clearfile"
)

func ring(at ...float64) planar.Ring {
	var out planar.Ring
	for i := 0; i < len(at); i += 2 {
		out = append(out, planar.Vec{East: unit.Length(at[i]), North: unit.Length(at[i+1])})
	}
	return out
}

// area is the signed area of a ring as read back, counterclockwise positive.
func area(ring [][2]float64) float64 {
	twice := 0.0
	for i := 1; i < len(ring); i++ {
		twice += ring[i-1][0]*ring[i][1] - ring[i][0]*ring[i-1][1]
	}
	return twice / 2
}

// TestRingsAreTurnedAndClosed as RFC 7946, section 3.1.6, asks, whichever way
// they came.
func TestRingsAreTurnedAndClosed(t *testing.T) {
	square, hole := ring(0, 0, 4, 0, 4, 4, 0, 4), ring(1, 1, 2, 1, 2, 2, 1, 2)
	turned := func(r planar.Ring) planar.Ring {
		out := planar.Ring{}
		for i := len(r) - 1; i >= 0; i-- {
			out = append(out, r[i])
		}
		return out
	}
	for _, p := range []clearance.Piece{
		{Outer: square, Holes: []planar.Ring{hole}}, {Outer: turned(square), Holes: []planar.Ring{turned(hole)}},
		{Outer: square, Holes: []planar.Ring{turned(hole)}}, {Outer: turned(square), Holes: []planar.Ring{hole}},
	} {
		text, err := json.Marshal(clearfile.Pieces([]clearance.Piece{p}))
		if err != nil {
			t.Fatal(err)
		}
		var got struct {
			Type        string
			Coordinates [][][][2]float64
		}
		if err := json.Unmarshal(text, &got); err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if got.Type != "MultiPolygon" || len(got.Coordinates) != 1 || len(got.Coordinates[0]) != 2 {
			t.Fatalf("%s", text)
		}
		for i, want := range []float64{16, -1} {
			r := got.Coordinates[0][i]
			if a := area(r); len(r) != 5 || r[0] != r[4] || math.Abs(a-want) > 1e-12 {
				t.Errorf("ring %d has the area %v, want %v: %v", i, a, want, r)
			}
		}
	}
}

func TestGeometryOfOnePlace(t *testing.T) {
	for _, c := range []struct {
		g    clearfile.Geometry
		want string
	}{
		{clearfile.Point(planar.Vec{East: 1, North: -2}), `{"type":"Point","coordinates":[1,-2]}`},
		{clearfile.Line(planar.Vec{East: 1}, planar.Vec{North: 2}), `{"type":"LineString","coordinates":[[1,0],[0,2]]}`},
		{clearfile.Outline(ring(3, 4)), `{"type":"Point","coordinates":[3,4]}`},
		{clearfile.Outline(ring(0, 0, 0, 1, 1, 0)), `{"type":"Polygon","coordinates":[[[1,0],[0,1],[0,0],[1,0]]]}`},
		{clearfile.Outline(nil), `{"type":"Polygon","coordinates":[]}`},
		{clearfile.Pieces(nil), `{"type":"MultiPolygon","coordinates":[]}`},
		{clearfile.Point(planar.Vec{East: unit.Length(math.NaN()), North: unit.Length(math.Inf(1))}), `{"type":"Point","coordinates":[0,0]}`},
		{clearfile.Point(planar.Vec{East: unit.Length(math.Copysign(0, -1))}), `{"type":"Point","coordinates":[0,0]}`},
	} {
		if text, err := json.Marshal(c.g); err != nil || string(text) != c.want {
			t.Errorf("%s, %v; want %s", text, err, c.want)
		}
	}
}
