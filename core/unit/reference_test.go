package unit_test

import (
	"fmt"
	"math"
	"testing"

	"undersod/core/unit"
)

// Exact definitions from NIST Special Publication 811, 2008, appendix B (inch,
// foot, yard, US survey foot, acre apart) and NIST Handbook 44, Appendix C
// (gallon of 231 cubic inches).
func TestDefinitions(t *testing.T) {
	for text, want := range map[string]unit.Length{
		`1"`:        0.0254,
		`12"`:       0.3048,
		`1'`:        0.3048,
		`1 ft`:      0.3048,
		`3 ft`:      0.9144,
		`3937 usft`: 1200,
		`1 usft`:    unit.Length(1200.0 / 3937.0),
	} {
		if w := mustParse(t, text, unit.NoForm); w.Length != want {
			t.Errorf("%s is %.17g m, want %.17g m", text, w.Length, want)
		}
	}
	gallon, err := unit.ParseVolume("1 gal")
	if err != nil || math.Abs(float64(gallon)-231*0.0254*0.0254*0.0254) > 1e-18 {
		t.Errorf("1 gal is %.17g m³, %v", gallon, err)
	}
	// 1 gal = 3.785412 E-03 m³, 1 ft² = 9.290304 E-02 m², 1 gal/min =
	// 6.309020 E-05 m³/s, 1 gal/d = 4.381264 E-08 m³/s: the same publication,
	// appendix B.8 and B.9, to the seven digits printed there.
	near := func(name string, got, want float64) {
		if math.Abs(got/want-1) > 1.5e-7 {
			t.Errorf("%s is %.10g, want %.10g", name, got, want)
		}
	}
	area, _ := unit.ParseArea("1 sq ft")
	minute, _ := unit.ParseFlow("1 gpm")
	day, _ := unit.ParseFlow("1 gpd")
	near("gallon", float64(gallon), 3.785412e-3)
	near("square foot", float64(area), 9.290304e-2)
	near("gallon per minute", float64(minute), 6.309020e-5)
	near("gallon per day", float64(day), 4.381264e-8)
}

// The table every surveyor carries: eighths of an inch in decimals of a foot,
// and inches in decimals of a foot. Common practice, no source; the values are
// n/96 and n/12 rounded, which the exact foot of 12 inches fixes.
func TestTapeTable(t *testing.T) {
	style := unit.Style{Form: unit.DecimalFeet, Digits: 4}
	for text, want := range map[string]string{
		`1/8"`: "0.0104 ft", `1/4"`: "0.0208 ft", `3/8"`: "0.0313 ft", `1/2"`: "0.0417 ft",
		`5/8"`: "0.0521 ft", `3/4"`: "0.0625 ft", `7/8"`: "0.0729 ft", `1"`: "0.0833 ft",
		`2"`: "0.1667 ft", `3"`: "0.2500 ft", `4"`: "0.3333 ft", `5"`: "0.4167 ft",
		`6"`: "0.5000 ft", `7"`: "0.5833 ft", `8"`: "0.6667 ft", `9"`: "0.7500 ft",
		`10"`: "0.8333 ft", `11"`: "0.9167 ft", `1'`: "1.0000 ft",
	} {
		if got := style.Format(mustParse(t, text, unit.NoForm).Length); got != want {
			t.Errorf("%s is %s, want %s", text, got, want)
		}
	}
	// The rule of thumb that an eighth is a hundredth: every eighth, rounded to
	// hundredths of a foot, comes back as the same eighth.
	hundredths := unit.Style{Form: unit.DecimalFeet, Digits: 2}
	for n := range 97 {
		l := unit.Inch * unit.Length(n) / 8
		back := mustParse(t, hundredths.Format(l), unit.NoForm)
		eighths := unit.Style{Denominator: 8}
		if got, want := eighths.Format(back.Length), eighths.Format(l); got != want {
			t.Errorf("%s by hundredths comes back as %s", want, got)
		}
	}
	// Tenths of a foot to the nearest sixteenth of an inch.
	for n, want := range []string{`0"`, `1 3/16"`, `2 3/8"`, `3 5/8"`, `4 13/16"`, `6"`, `7 3/16"`, `8 3/8"`, `9 5/8"`, `10 13/16"`, `1' 0"`} {
		w := mustParse(t, fmt.Sprintf("%.1f ft", float64(n)/10), unit.NoForm)
		if got := (unit.Style{Denominator: 16}).Format(w.Length); got != want {
			t.Errorf("%s is %s, want %s", w.Text, got, want)
		}
	}
}
