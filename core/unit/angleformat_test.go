package unit_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/unit"
)

func TestFormatAngles(t *testing.T) {
	d := unit.Degree
	tests := []struct{ got, want string }{
		{unit.FormatAzimuth(214.5*d, 1), `214.5°`},
		{unit.FormatAzimuth(214.5*d, 0), `215°`},
		{unit.FormatAzimuth(214.5*d, unit.ToMinute), `214°30'`},
		{unit.FormatAzimuth(4.0875*d, unit.ToMinute), `4°05'`},
		{unit.FormatAzimuth(214.50416666666667*d, unit.ToSecond), `214°30'15"`},
		{unit.FormatAzimuth(359.99*d, 1), `0.0°`},
		{unit.FormatAzimuth(359.9999*d, unit.ToMinute), `0°00'`},
		{unit.FormatAzimuth(29.9999*d, unit.ToSecond), `30°00'00"`},
		{unit.FormatAzimuth(-90*d, 0), `270°`},
		{unit.FormatAzimuth(unit.Angle(math.NaN()), 0), `unknown`},
		{unit.FormatAzimuth(unit.Angle(math.Inf(1)), 0), `unknown`},
		{unit.FormatAngle(-1.5*d, 1), `-1.5°`},
		{unit.FormatAngle(-0.001*d, 1), `0.0°`},
		{unit.FormatAngle(0.5*d, unit.ToMinute), `0°30'`},
		{unit.FormatAngle(unit.Angle(math.NaN()), 1), `unknown`},
		{unit.FormatQuadrant(34.5 * d), `N 34°30' E`},
		{unit.FormatQuadrant(145.5 * d), `S 34°30' E`},
		{unit.FormatQuadrant(214.5 * d), `S 34°30' W`},
		{unit.FormatQuadrant(325.5 * d), `N 34°30' W`},
		{unit.FormatQuadrant(34.9999 * d), `N 35°00' E`},
		{unit.FormatQuadrant(0), `N 0°00' E`},
		{unit.FormatQuadrant(359.9999 * d), `N 0°00' E`},
		{unit.FormatQuadrant(90 * d), `N 90°00' E`},
		{unit.FormatQuadrant(90.0001 * d), `N 90°00' E`},
		{unit.FormatQuadrant(180 * d), `S 0°00' E`},
		{unit.FormatQuadrant(270 * d), `N 90°00' W`},
		{unit.FormatQuadrant(unit.Angle(math.NaN())), `unknown`},
		{unit.FormatDeclination(-4.5 * d), `4°30' W`},
		{unit.FormatDeclination(3.5 * d), `3°30' E`},
		{unit.FormatDeclination(unit.Angle(math.Inf(1))), `unknown`},
		{unit.FormatLatitude(47.05312*d, 5), `47.05312° N`},
		{unit.FormatLatitude(-33.5*d, unit.ToSecond), `33°30'00" S`},
		{unit.FormatLongitude(-122.71104*d, 5), `122.71104° W`},
	}
	for i, test := range tests {
		if test.got != test.want {
			t.Errorf("case %d: got %q, want %q", i, test.got, test.want)
		}
	}
}

// What is printed reads back as the same text, and no further off than half of
// what is printed.
func TestBearingRoundTrip(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	for range 20000 {
		a := unit.Angle(rnd.Float64() * 2 * math.Pi)
		for _, print := range []struct {
			format func(unit.Angle) string
			step   unit.Angle
		}{
			{unit.FormatQuadrant, unit.Degree / 60},
			{func(a unit.Angle) string { return unit.FormatAzimuth(a, unit.ToMinute) }, unit.Degree / 60},
			{func(a unit.Angle) string { return unit.FormatAzimuth(a, unit.ToSecond) }, unit.Degree / 3600},
			{func(a unit.Angle) string { return unit.FormatAzimuth(a, 3) }, unit.Degree / 1000},
		} {
			text := print.format(a)
			w, err := unit.ParseBearing(text)
			if err != nil {
				t.Fatal(err)
			}
			if again := print.format(w.Angle); again != text {
				t.Fatalf("%q prints as %q", text, again)
			}
			if off := (w.Angle - a).HalfTurn(); math.Abs(off.Radians()) > print.step.Radians()/2*(1+1e-6) {
				t.Fatalf("%q is %g° off", text, off.Degrees())
			}
		}
	}
}
