package planar_test

import (
	"math"
	"testing"

	"undersod/core/planar"
	"undersod/core/unit"
)

func near(a, b planar.Vec) bool { return a.Minus(b).Length() < 1e-12 }

// Azimuths run clockwise from north: east is a quarter turn, and so on round.
func TestAzimuthRunsClockwiseFromNorth(t *testing.T) {
	for _, c := range []struct {
		v       planar.Vec
		degrees float64
	}{
		{planar.Vec{North: 1}, 0}, {planar.Vec{East: 1}, 90}, {planar.Vec{North: -1}, 180},
		{planar.Vec{East: -1}, 270}, {planar.Vec{East: 1, North: 1}, 45}, {planar.Vec{}, 0},
	} {
		if got := c.v.Azimuth().Degrees(); math.Abs(got-c.degrees) > 1e-12 {
			t.Errorf("azimuth of %v is %v, want %v", c.v, got, c.degrees)
		}
	}
}

func TestTurnsAndSteps(t *testing.T) {
	north, east := planar.Vec{North: 1}, planar.Vec{East: 1}
	if !near(north.Clockwise(90*unit.Degree), east) || !near(north.Right(), east) {
		t.Error("a quarter turn clockwise from north is east")
	}
	if north.Cross(east) >= 0 || east.Cross(north) <= 0 {
		t.Error("the cross product is positive to the left")
	}
	// 3-4-5.
	v := planar.Vec{East: 3, North: 4}
	if v.Length() != 5 || v.Dot(v) != 25 {
		t.Errorf("length %v, square %v", v.Length(), v.Dot(v))
	}
	if !near(planar.Polar(v.Azimuth(), v.Length()), v) {
		t.Error("azimuth and length give the step back")
	}
	if u, ok := v.Unit(); !ok || math.Abs(float64(u.Length())-1) > 1e-12 {
		t.Errorf("unit vector %v", u)
	}
	if _, ok := (planar.Vec{}).Unit(); ok {
		t.Error("nothing has no direction")
	}
}
