package unit_test

import (
	"errors"
	"strings"
	"testing"

	"undersod/core/unit"
)

// deg is the ratio of whole numbers num/den in degrees, as the parser promises.
func deg(num, den float64) unit.Angle { return unit.Angle(num/den) * unit.Degree }

func TestParseBearing(t *testing.T) {
	tests := []struct {
		text string
		want unit.Angle
		form unit.AngleForm
	}{
		{`214°30'`, deg(2145, 10), unit.Azimuth},
		{`214.5`, deg(2145, 10), unit.Azimuth},
		{`214.5 deg`, deg(2145, 10), unit.Azimuth},
		{`214.5°`, deg(2145, 10), unit.Azimuth},
		{`214 30`, deg(2145, 10), unit.Azimuth},
		{`214-30`, deg(2145, 10), unit.Azimuth},
		{`214:30:15`, deg(214*3600+1815, 3600), unit.Azimuth},
		{`214°30'15"`, deg(214*3600+1815, 3600), unit.Azimuth},
		{`214º 30′ 15.5″`, deg(2140*3600+18155, 36000), unit.Azimuth},
		{`214°30'15''`, deg(214*3600+1815, 3600), unit.Azimuth},
		{`214 deg 30 min`, deg(2145, 10), unit.Azimuth},
		{`4° 30"`, deg(4*3600+30, 3600), unit.Azimuth},
		{`0`, 0, unit.Azimuth},
		{`360`, 0, unit.Azimuth},
		{` 360°00'00" `, 0, unit.Azimuth},
		{`N 34°30' E`, deg(345, 10), unit.Quadrant},
		{`n34.5e`, deg(345, 10), unit.Quadrant},
		{`S34.5W`, deg(2145, 10), unit.Quadrant},
		{`S 34°30' E`, deg(1455, 10), unit.Quadrant},
		{`N 34°30' W`, deg(3255, 10), unit.Quadrant},
		{`N 34-30-15 E`, deg(34*3600+1815, 3600), unit.Quadrant},
		{`North 34 deg 30 min East`, deg(345, 10), unit.Quadrant},
		{`N 90 W`, deg(270, 1), unit.Quadrant},
		{`N 0 W`, 0, unit.Quadrant},
		{`N`, 0, unit.Quadrant},
		{`due N`, 0, unit.Quadrant},
		{`due north`, 0, unit.Quadrant},
		{`E`, deg(90, 1), unit.Quadrant},
		{`south`, deg(180, 1), unit.Quadrant},
		{`Due W`, deg(270, 1), unit.Quadrant},
	}
	for _, test := range tests {
		got, err := unit.ParseBearing(test.text)
		if err != nil {
			t.Errorf("%q: %v", test.text, err)
			continue
		}
		if got.Angle != test.want || got.Form != test.form {
			t.Errorf("%q: got %.17g° form %d, want %.17g° form %d", test.text, got.Angle.Degrees(), got.Form, test.want.Degrees(), test.form)
		}
		if got.Text != strings.TrimSpace(test.text) {
			t.Errorf("%q: kept text %q", test.text, got.Text)
		}
	}
}

func TestParseSidedAngles(t *testing.T) {
	tests := []struct {
		name  string
		parse func(string) (unit.Angle, error)
		text  string
		want  unit.Angle
	}{
		{"declination", unit.ParseDeclination, `4°30' W`, deg(-45, 10)},
		{"declination", unit.ParseDeclination, `4°30'W`, deg(-45, 10)},
		{"declination", unit.ParseDeclination, `3.5 E`, deg(35, 10)},
		{"declination", unit.ParseDeclination, `3.5 east`, deg(35, 10)},
		{"declination", unit.ParseDeclination, `W 4 30`, deg(-45, 10)},
		{"declination", unit.ParseDeclination, `-3.5`, deg(-35, 10)},
		{"declination", unit.ParseDeclination, `3.5°`, deg(35, 10)},
		{"declination", unit.ParseDeclination, `0 W`, 0},
		{"latitude", unit.ParseLatitude, `40°26'46" N`, deg(40*3600+26*60+46, 3600)},
		{"latitude", unit.ParseLatitude, `47.05312 N`, deg(4705312, 100000)},
		{"latitude", unit.ParseLatitude, `47.05312° N`, deg(4705312, 100000)},
		{"latitude", unit.ParseLatitude, `-33.5`, deg(-335, 10)},
		{"latitude", unit.ParseLatitude, `N 40 26.75`, deg(4044583333333, 1e11)},
		{"longitude", unit.ParseLongitude, `122.71104 W`, deg(-12271104, 100000)},
		{"longitude", unit.ParseLongitude, `79°58'56"W`, deg(-(79*3600 + 58*60 + 56), 3600)},
		{"longitude", unit.ParseLongitude, `180`, deg(180, 1)},
		{"angle", unit.ParseAngle, `0.5°`, deg(5, 10)},
		{"angle", unit.ParseAngle, `30'`, deg(5, 10)},
		{"angle", unit.ParseAngle, `90'`, deg(15, 10)},
		{"angle", unit.ParseAngle, `15"`, deg(15, 3600)},
		{"angle", unit.ParseAngle, `1 deg`, deg(1, 1)},
		{"angle", unit.ParseAngle, `1`, deg(1, 1)},
		{"angle", unit.ParseAngle, `-1°30'`, deg(-15, 10)},
	}
	for _, test := range tests {
		got, err := test.parse(test.text)
		if err != nil {
			t.Errorf("%s %q: %v", test.name, test.text, err)
			continue
		}
		if d := (got - test.want).Degrees(); d > 1e-10 || d < -1e-10 {
			t.Errorf("%s %q: got %.12f°, want %.12f°", test.name, test.text, got.Degrees(), test.want.Degrees())
		}
	}
}

func bearing(s string) error     { _, err := unit.ParseBearing(s); return err }
func declination(s string) error { _, err := unit.ParseDeclination(s); return err }
func latitude(s string) error    { _, err := unit.ParseLatitude(s); return err }
func longitude(s string) error   { _, err := unit.ParseLongitude(s); return err }
func angle(s string) error       { _, err := unit.ParseAngle(s); return err }

func TestParseAngleErrors(t *testing.T) {
	tests := []struct {
		parse   func(string) error
		text    string
		offset  int
		problem string
	}{
		{bearing, ``, 0, "empty"},
		{bearing, `360.5`, 0, "above 360"},
		{bearing, `361°`, 0, "above 360"},
		{bearing, `-5`, 0, "no minus sign"},
		{bearing, `214°60'`, 5, "below 60"},
		{bearing, `214°30'60"`, 8, "below 60"},
		{bearing, `214.5°30'`, 7, "only the last"},
		{bearing, `214°30'15°`, 8, "in this order"},
		{bearing, `1 2 3 4`, 6, "at most degrees"},
		{bearing, `214 E`, 4, "follows after"},
		{bearing, `N 91 E`, 2, "at most 90"},
		{bearing, `N 34 S`, 5, "E or W is missing"},
		{bearing, `N 34`, 4, "E or W is missing"},
		{bearing, `N E`, 2, "angle is missing"},
		{bearing, `E 30 N`, 0, "starts with N or S"},
		{bearing, `NE`, 0, "starts with an angle, N or S"},
		{bearing, `up`, 0, "“up”"},
		{bearing, `due N 3 E`, 6, "nothing may follow"},
		{bearing, `N 34 E 5`, 7, "follows after"},
		{bearing, `1e2`, 1, "follows after"},
		{declination, `4 N`, 2, "east or west"},
		{declination, `-4 W`, 0, "same twice"},
		{declination, `91`, 0, "above 90°"},
		{declination, ``, 0, "empty"},
		{latitude, `91 N`, 0, "above 90°"},
		{latitude, `45 E`, 3, "north or south"},
		{latitude, `47,05`, 2, "comma"},
		{longitude, `181`, 0, "above 180°"},
		{longitude, `x`, 0, "“x”"},
		{angle, `1 W`, 2, "cannot stand here"},
		{angle, `361`, 0, "above 360°"},
		{angle, `1 ft`, 2, "cannot stand here"},
	}
	for _, test := range tests {
		err := test.parse(test.text)
		var p *unit.ParseError
		if !errors.As(err, &p) {
			t.Errorf("%q: no ParseError but %v", test.text, err)
			continue
		}
		if p.Offset != test.offset || !strings.Contains(p.Problem, test.problem) {
			t.Errorf("%q: got offset %d, %q; want %d, %q", test.text, p.Offset, p.Problem, test.offset, test.problem)
		}
		if p.Text != test.text || p.Expected == "" || p.Example == "" {
			t.Errorf("%q: incomplete error %+v", test.text, p)
		}
	}
}
