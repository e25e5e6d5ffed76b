package unit_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"undersod/core/unit"
)

func TestParseSoilRates(t *testing.T) {
	loading := func(s string) (float64, error) { v, err := unit.ParseLoading(s); return float64(v), err }
	percolation := func(s string) (float64, error) { v, err := unit.ParsePercolation(s); return float64(v), err }
	// 1 gal/d/ft² from the definitions alone: 231 in³ a day on 144 in².
	const gallon = 231.0 / 144 * 0.0254 / 86400
	tests := []struct {
		parse func(string) (float64, error)
		text  string
		want  float64
	}{
		{loading, `0.6 gal/ft2/day`, 0.6 * gallon},
		{loading, `0.6 gal/day/ft2`, 0.6 * gallon},
		{loading, `0.6 gpd/ft2`, 0.6 * gallon},
		{loading, `0.6 gpd/ft²`, 0.6 * gallon},
		{loading, `0.6 gpd/sq. ft.`, 0.6 * gallon},
		{loading, `0.6 gpd per square foot`, 0.6 * gallon},
		{loading, `0.6 Gal per day per sq ft`, 0.6 * gallon},
		{loading, `0.6 gallons per day per square foot`, 0.6 * gallon},
		{loading, `25 L/m2/d`, 25e-3 / 86400},
		{loading, `25 L/m²/day`, 25e-3 / 86400},
		{loading, `25 l per m2 per day`, 25e-3 / 86400},
		{loading, `25 mm/d`, 25e-3 / 86400},
		{loading, `2.5 cm/day`, 25e-3 / 86400},
		{loading, `0.025 m3/m2/d`, 25e-3 / 86400},
		{loading, `0 gpd/ft2`, 0},
		{percolation, `18 min/in`, 18 * 60 / 0.0254},
		{percolation, `18 min per inch`, 18 * 60 / 0.0254},
		{percolation, `18 minutes/inch`, 18 * 60 / 0.0254},
		{percolation, `18 mpi`, 18 * 60 / 0.0254},
		{percolation, `7 min/cm`, 7 * 60 / 0.01},
		{percolation, `0.7 min/mm`, 7 * 60 / 0.01},
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
		{loading, ``, 0, "nothing"},
		{loading, `0.6`, 3, "no unit"},
		{loading, `0.6 gpd`, 4, "not known"},
		{loading, `0.6 gal/ft2`, 4, "not known"},
		{loading, `0.6 gal/ft2/ft2`, 4, "not known"},
		{loading, `0.6 gal/day/day`, 4, "not known"},
		{loading, `0.6 gal/day/ft2/day`, 4, "not known"},
		{loading, `0.6 /day/ft2`, 4, "not known"},
		{loading, `-0.6 gpd/ft2`, 0, "below zero"},
		{percolation, `18`, 2, "no unit"},
		{percolation, `18 in/min`, 3, "not known"},
		{percolation, `18 min`, 3, "not known"},
		{percolation, `0 min/in`, 0, "above zero"},
		{percolation, ` 0 min/in`, 1, "above zero"},
		{percolation, `18 min/ft`, 3, "not known"},
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

// The same rate written in the units of two countries: 0.6 gal/d/ft² is
// 24.4 L/d/m² (1 gal/d/ft² = 40.746 L/d/m², from 3.785412 L and 0.09290304 m²,
// NIST Special Publication 811, 2008, appendix B.8).
func TestFormatSoilRates(t *testing.T) {
	us, si := unit.Style{}, unit.Style{Form: unit.Metres}
	rate := func(v float64) unit.Loading { return unit.Loading(v) * unit.GallonPerDayPerSquareFoot }
	perc := func(v float64) unit.Percolation { return unit.Percolation(v) * unit.MinutePerInch }
	tests := []struct{ got, want string }{
		{us.FormatLoading(rate(0.6)), `0.6 gpd/sq ft`},
		{us.FormatLoading(rate(0.78)), `0.78 gpd/sq ft`},
		{us.FormatLoading(rate(1)), `1 gpd/sq ft`},
		{us.FormatLoading(rate(10)), `10 gpd/sq ft`},
		{us.FormatLoading(0), `0 gpd/sq ft`},
		{us.FormatLoading(rate(0.001)), `0.001 gpd/sq ft`},
		{si.FormatLoading(rate(0.6)), `24.4 L/m²/d`},
		{si.FormatLoading(25 * unit.LitrePerDayPerSquareMetre), `25 L/m²/d`},
		{us.FormatLoading(unit.Loading(math.NaN())), `unknown gpd/sq ft`},
		{us.FormatPercolation(perc(18)), `18 min/in`},
		{us.FormatPercolation(perc(2.5)), `2.5 min/in`},
		{us.FormatPercolation(perc(120)), `120 min/in`},
		{si.FormatPercolation(perc(18)), `7.1 min/cm`},
		{si.FormatPercolation(perc(2.54)), `1 min/cm`},
		{us.FormatPercolation(unit.Percolation(math.Inf(1))), `unknown min/in`},
	}
	for i, test := range tests {
		if test.got != test.want {
			t.Errorf("case %d: got %q, want %q", i, test.got, test.want)
		}
	}
}

func FuzzParseSoilRates(f *testing.F) {
	for _, s := range []string{`0.6 gal/ft2/day`, `0.6 gpd/ft2`, `25 L/m2/d`, `18 min/in`, `7 min per cm`, `18 mpi`, `1 per/per`, `1 ///`, "1 gpd/ft\xff", `0 min/in`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		style := unit.Style{}
		loading, err := unit.ParseLoading(text)
		if err != nil {
			checkError(t, text, err)
		} else if !(loading >= 0) {
			t.Fatalf("%q: got %v", text, loading)
		} else if loading < 1e4*unit.GallonPerDayPerSquareFoot {
			// What is printed reads back to half a hundredth.
			again, err := unit.ParseLoading(style.FormatLoading(loading))
			if err != nil || math.Abs(float64(again-loading)) > 0.00500001*float64(unit.GallonPerDayPerSquareFoot) {
				t.Fatalf("%q printed %q: %v, %v", text, style.FormatLoading(loading), again, err)
			}
		}
		percolation, err := unit.ParsePercolation(text)
		if err != nil {
			checkError(t, text, err)
			return
		}
		if !(percolation > 0) {
			t.Fatalf("%q: got %v", text, percolation)
		}
		if percolation > unit.MinutePerInch/10 && percolation < 1e6*unit.MinutePerInch {
			again, err := unit.ParsePercolation(style.FormatPercolation(percolation))
			if err != nil || math.Abs(float64(again-percolation)) > 0.0500001*float64(unit.MinutePerInch) {
				t.Fatalf("%q printed %q: %v, %v", text, style.FormatPercolation(percolation), again, err)
			}
		}
	})
}
