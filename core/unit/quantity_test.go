package unit_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"undersod/core/unit"
)

func TestParseQuantities(t *testing.T) {
	area := func(s string) (float64, error) { v, err := unit.ParseArea(s); return float64(v), err }
	volume := func(s string) (float64, error) { v, err := unit.ParseVolume(s); return float64(v), err }
	flow := func(s string) (float64, error) { v, err := unit.ParseFlow(s); return float64(v), err }
	tests := []struct {
		parse func(string) (float64, error)
		text  string
		want  float64
	}{
		{area, `450 sq ft`, 450 * 0.09290304},
		{area, `450 sq. ft.`, 450 * 0.09290304},
		{area, `1,450 ft²`, 1450 * 0.09290304},
		{area, `450ft2`, 450 * 0.09290304},
		{area, `450 Square Feet`, 450 * 0.09290304},
		{area, `42 m2`, 42},
		{area, `42.5 m²`, 42.5},
		{area, `0.5 acre`, 0.5 * 4046.8564224},
		{volume, `1,000 gal`, 3.785411784},
		{volume, `1000 Gallons`, 3.785411784},
		{volume, `1,234,567 gal`, 1234567 * 3.785411784e-3},
		{volume, `3.8 m3`, 3.8},
		{volume, `3.8 m³`, 3.8},
		{volume, `900 L`, 0.9},
		{volume, `27 cu ft`, 0.764554857984},
		{volume, `1 cu yd`, 0.764554857984},
		{volume, `0 gal`, 0},
		{flow, `450 gpd`, 450 * 3.785411784e-3 / 86400},
		{flow, `450 gallons per day`, 450 * 3.785411784e-3 / 86400},
		{flow, `10 gpm`, 10 * 3.785411784e-3 / 60},
		{flow, `10 gal/min`, 10 * 3.785411784e-3 / 60},
		{flow, `0.5 L/s`, 0.0005},
		{flow, `30 L/min`, 0.0005},
		{flow, `86,400 L/d`, 0.001},
		{flow, `86.4 m3/day`, 0.001},
	}
	for _, test := range tests {
		got, err := test.parse(test.text)
		if err != nil || math.Abs(got-test.want) > 1e-14*math.Abs(test.want) {
			t.Errorf("%q: got %.17g, %v; want %.17g", test.text, got, err, test.want)
		}
	}
	failures := []struct {
		parse   func(string) (float64, error)
		text    string
		offset  int
		problem string
	}{
		{area, ``, 0, "nothing"},
		{area, `450`, 3, "no unit"},
		{area, `450 ft`, 4, "“ft” is not known"},
		{area, `-4 m2`, 0, "below zero"},
		{volume, `10,00 gal`, 2, "groups of three"},
		{volume, `1000,000 gal`, 4, "groups of three"},
		{volume, `,100 gal`, 0, "comma"},
		{volume, `3,8 m3`, 1, "groups of three"},
		{volume, `1e3 gal`, 1, "not known"},
		{volume, `99999999999 gal`, 0, "thousand million"},
		{volume, `5 galöns`, 2, "not known"},
		{flow, `5 gal`, 2, "not known"},
		{flow, `gpd`, 0, "number"},
	}
	for _, test := range failures {
		got, err := test.parse(test.text)
		var p *unit.ParseError
		if !errors.As(err, &p) || got != 0 {
			t.Errorf("%q: no ParseError but %v, %v", test.text, got, err)
			continue
		}
		if p.Offset != test.offset || !strings.Contains(p.Problem, test.problem) || p.Expected == "" || p.Example == "" {
			t.Errorf("%q: got %+v; want offset %d, %q", test.text, p, test.offset, test.problem)
		}
	}
}

func TestFormatQuantities(t *testing.T) {
	us, si := unit.Style{}, unit.Style{Form: unit.Metres}
	tests := []struct{ got, want string }{
		{us.FormatArea(1250 * unit.SquareFoot), `1,250 sq ft`},
		{si.FormatArea(42.46), `42.5 m²`},
		{us.FormatVolume(1000 * unit.Gallon), `1,000 gal`},
		{us.FormatVolume(0.04 * unit.Gallon), `0.04 gal`},
		{us.FormatVolume(0), `0 gal`},
		{us.FormatVolume(-1500 * unit.Gallon), `-1,500 gal`},
		{si.FormatVolume(1000 * unit.Gallon), `3,785 L`},
		{us.FormatVolume(1234567 * unit.Gallon), `1,234,567 gal`},
		{us.FormatFlow(450 * unit.GallonPerDay), `450 gpd`},
		{si.FormatFlow(450 * unit.GallonPerDay), `1,703 L/d`},
		{us.FormatPumpFlow(10 * unit.GallonPerMinute), `10.0 gpm`},
		{si.FormatPumpFlow(10 * unit.GallonPerMinute), `0.63 L/s`},
		{us.FormatArea(unit.Area(math.NaN())), `unknown sq ft`},
		{us.FormatVolume(unit.Volume(math.Inf(1))), `unknown gal`},
	}
	for i, test := range tests {
		if test.got != test.want {
			t.Errorf("case %d: got %q, want %q", i, test.got, test.want)
		}
	}
}

func TestParseDeviation(t *testing.T) {
	tests := []struct {
		text    string
		bare    unit.Form
		fixed   unit.Length
		perUnit float64
	}{
		{`0.3 ft`, unit.NoForm, 0.09144, 0},
		{`1/2"`, unit.NoForm, 0.0127, 0},
		{`0.3 ft + 0.5%`, unit.NoForm, 0.09144, 0.005},
		{`0.5% + 0.3 ft`, unit.NoForm, 0.09144, 0.005},
		{`0.3+0.5 %`, unit.DecimalFeet, 0.09144, 0.005},
		{`5 mm + 2 ppm`, unit.NoForm, 0.005, 2e-6},
		{`± 5 mm`, unit.NoForm, 0.005, 0},
		{` 0.5% `, unit.NoForm, 0, 0.005},
		{`20 PPM`, unit.NoForm, 0, 2e-5},
		{`100%`, unit.NoForm, 0, 1},
	}
	for _, test := range tests {
		fixed, perUnit, err := unit.ParseDeviation(test.text, test.bare)
		if err != nil || fixed != test.fixed || perUnit != test.perUnit {
			t.Errorf("%q: got %g, %g, %v; want %g, %g", test.text, fixed, perUnit, err, test.fixed, test.perUnit)
		}
	}
	failures := []struct {
		text    string
		offset  int
		problem string
	}{
		{``, 0, "empty"},
		{`0 ft`, 0, "above zero"},
		{`-1 ft`, 0, "above zero"},
		{`0%`, 0, "above zero"},
		{`-1%`, 0, "above zero"},
		{`101%`, 0, "more than the whole"},
		{`0.3 ft + `, 8, "missing beside the plus"},
		{`0.3 ft + + 1%`, 8, "missing beside the plus"},
		{`+1%`, 0, "missing beside the plus"},
		{`0.3 ft + 1 in`, 8, "two lengths"},
		{`1% + 2%`, 4, "two parts"},
		{`0.3`, 3, "no unit"},
		{`0.3 ft + 23' 14" + 1%`, 8, "two lengths"},
		{`1% + 23' 14"`, 9, "below 12"},
		{`1 ft 1%`, 2, "% or ppm"},
		{`1% 2%`, 3, "a plus should stand"},
	}
	for _, test := range failures {
		fixed, perUnit, err := unit.ParseDeviation(test.text, unit.NoForm)
		var p *unit.ParseError
		if !errors.As(err, &p) || fixed != 0 || perUnit != 0 {
			t.Errorf("%q: no ParseError but %v, %v, %v", test.text, fixed, perUnit, err)
			continue
		}
		if p.Text != test.text || p.Offset != test.offset || !strings.Contains(p.Problem, test.problem) {
			t.Errorf("%q: got %+v; want offset %d, %q", test.text, p, test.offset, test.problem)
		}
	}
}
