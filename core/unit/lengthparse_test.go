package unit_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"undersod/core/unit"
)

// metres of an exact ratio, as the parser promises: correctly rounded.
func metres(num, den float64) unit.Length { return unit.Length(num / den) }

func TestParseLength(t *testing.T) {
	// 23' 4 1/2" is 280.5 in of 25.4 mm each: 7.1247 m.
	const tape = unit.Length(7.1247)
	tests := []struct {
		text string
		bare unit.Form
		want unit.Length
		form unit.Form
	}{
		{`23' 4 1/2"`, unit.NoForm, tape, unit.FeetInches},
		{`23'4-1/2"`, unit.NoForm, tape, unit.FeetInches},
		{`23'-4 1/2"`, unit.NoForm, tape, unit.FeetInches},
		{`23 ft 4 1/2 in`, unit.NoForm, tape, unit.FeetInches},
		{`23ft4.5in`, unit.NoForm, tape, unit.FeetInches},
		{`23 Feet 4.5 Inches`, unit.NoForm, tape, unit.FeetInches},
		{`23 ft. 4.5 in.`, unit.NoForm, tape, unit.FeetInches},
		{`23' 4.5"`, unit.NoForm, tape, unit.FeetInches},
		{`23′ 4½″`, unit.NoForm, tape, unit.FeetInches},
		{`23’ 4 ½”`, unit.NoForm, tape, unit.FeetInches},
		{`23' 4 1⁄2"`, unit.NoForm, tape, unit.FeetInches},
		{`23' 4 1/2''`, unit.NoForm, tape, unit.FeetInches},
		{`23' 4 1/2`, unit.NoForm, tape, unit.FeetInches},
		{"\u00a0 23'\u00a04\u00a01/2\" \t", unit.NoForm, tape, unit.FeetInches},
		{`23 4.5`, unit.FeetInches, tape, unit.FeetInches},
		{`23 4 1/2`, unit.FeetInches, tape, unit.FeetInches},
		{`23 4½`, unit.FeetInches, tape, unit.FeetInches},
		{`-23' 4 1/2"`, unit.NoForm, -tape, unit.FeetInches},
		{`− 23 4.5`, unit.FeetInches, -tape, unit.FeetInches},
		{`+23' 4 1/2"`, unit.NoForm, tape, unit.FeetInches},
		{`23'`, unit.NoForm, metres(23*3048, 10000), unit.FeetInches},
		{`23' 0"`, unit.NoForm, metres(23*3048, 10000), unit.FeetInches},
		{`23' 1/16"`, unit.NoForm, metres((23*192+1)*254, 160000), unit.FeetInches},
		{`0' 3"`, unit.NoForm, metres(762, 10000), unit.FeetInches},
		{`11 15/16"`, unit.NoForm, metres(191*254, 160000), unit.Inches},
		{`4 1/2"`, unit.NoForm, 0.1143, unit.Inches},
		{`4 63/64 in`, unit.NoForm, metres((4*64+63)*254, 640000), unit.Inches},
		{`1/2 in`, unit.NoForm, 0.0127, unit.Inches},
		{`⅝"`, unit.NoForm, 0.015875, unit.Inches},
		{`14"`, unit.NoForm, 0.3556, unit.Inches},
		{`4 1/2`, unit.Inches, 0.1143, unit.Inches},
		{`280.5`, unit.Inches, tape, unit.Inches},
		{`23.38 ft`, unit.NoForm, metres(2338*3048, 1000000), unit.DecimalFeet},
		{`23.38'`, unit.NoForm, metres(2338*3048, 1000000), unit.DecimalFeet},
		{`23.38 feet`, unit.NoForm, metres(2338*3048, 1000000), unit.DecimalFeet},
		{`23 ft`, unit.NoForm, metres(23*3048, 10000), unit.DecimalFeet},
		{`5½ ft`, unit.NoForm, metres(55*3048, 100000), unit.DecimalFeet},
		{`23.38`, unit.DecimalFeet, metres(2338*3048, 1000000), unit.DecimalFeet},
		{`23.38`, unit.FeetInches, metres(2338*3048, 1000000), unit.DecimalFeet},
		{`23`, unit.FeetInches, metres(23*3048, 10000), unit.FeetInches},
		{`.5 ft`, unit.NoForm, 0.1524, unit.DecimalFeet},
		{`3937 usft`, unit.NoForm, 1200, unit.DecimalFeet},
		{`7.13 m`, unit.NoForm, 7.13, unit.Metres},
		{`7.13`, unit.Metres, 7.13, unit.Metres},
		{`713 cm`, unit.NoForm, 7.13, unit.Centimetres},
		{`71.3`, unit.Centimetres, 0.713, unit.Centimetres},
		{`7130mm`, unit.NoForm, 7.13, unit.Millimetres},
		{`7130`, unit.Millimetres, 7.13, unit.Millimetres},
		{`7.123456789012345 m`[:16] + ` m`, unit.NoForm, 7.12345678901234, unit.Metres},
		{`0"`, unit.NoForm, 0, unit.Inches},
		{`-0 m`, unit.NoForm, 0, unit.Metres},
		{`100 km`[:3] + `000 m`, unit.NoForm, 100000, unit.Metres},
	}
	for _, test := range tests {
		got, err := unit.ParseLength(test.text, test.bare)
		if err != nil {
			t.Errorf("%q: %v", test.text, err)
			continue
		}
		if got.Length != test.want || got.Form != test.form {
			t.Errorf("%q: got %.17g form %d, want %.17g form %d", test.text, got.Length, got.Form, test.want, test.form)
		}
		if want := strings.TrimSpace(test.text); got.Text != want {
			t.Errorf("%q: kept text %q, want %q", test.text, got.Text, want)
		}
	}
}

func TestParseLengthErrors(t *testing.T) {
	tests := []struct {
		text    string
		bare    unit.Form
		offset  int
		problem string // a piece of it
	}{
		{``, unit.FeetInches, 0, "empty"},
		{`   `, unit.FeetInches, 3, "empty"},
		{`23.4`, unit.NoForm, 4, "no unit"},
		{`23 4.5`, unit.NoForm, 3, "unit is missing"},
		{`23 4.5`, unit.DecimalFeet, 3, "unit is missing"},
		{`23 4.5"`, unit.FeetInches, 0, "share one unit"},
		{`4 1/2`, unit.FeetInches, 5, "fraction has no unit"},
		{`1/2`, unit.DecimalFeet, 3, "fraction has no unit"},
		{`23' 14"`, unit.NoForm, 4, "below 12"},
		{`23' 12"`, unit.NoForm, 4, "below 12"},
		{`23 12`, unit.FeetInches, 3, "below 12"},
		{`23.5' 4"`, unit.NoForm, 0, "whole"},
		{`23' 4 3/2"`, unit.NoForm, 6, "below the lower"},
		{`23' 4 0/2"`, unit.NoForm, 6, "above 0"},
		{`23' 4 1/3"`, unit.NoForm, 6, "2, 4, 8, 16"},
		{`23' 4.5 1/2"`, unit.NoForm, 8, "cannot follow"},
		{`1/2.0"`, unit.NoForm, 0, "whole numbers"},
		{`1,234.5 ft`, unit.NoForm, 1, "comma"},
		{`7,13 m`, unit.NoForm, 1, "comma"},
		{`1e3 m`, unit.NoForm, 1, "exponent"},
		{`0x10 m`, unit.NoForm, 1, "“x”"},
		{`NaN m`, unit.NoForm, 0, "number"},
		{`Inf m`, unit.NoForm, 0, "number"},
		{`--3 m`, unit.NoForm, 1, "second sign"},
		{`3. m`, unit.NoForm, 1, "digit is missing"},
		{`3..1 m`, unit.NoForm, 1, "digit is missing"},
		{`3.1.2 m`, unit.NoForm, 3, "two decimal points"},
		{`7 1/2 m`, unit.NoForm, 0, "decimal point"},
		{`7 m 13 cm`, unit.NoForm, 4, "follows after the unit"},
		{`7' 13 cm`, unit.NoForm, 6, "only inches"},
		{`7 yards`, unit.NoForm, 2, "“yards”"},
		{`100001 m`, unit.NoForm, 8, "100 km"},
		{`400001' 1"`, unit.NoForm, 0, "100 km"},
		{`99999999999 mm`, unit.NoForm, 0, "100 km"},
		{`1234567890123456 m`, unit.NoForm, 0, "more digits"},
		{`0.1234567890123456 m`, unit.NoForm, 0, "more digits"},
		{`23' 4" 5`, unit.NoForm, 7, "after the inches"},
		{`23'-`, unit.NoForm, 4, "number is missing"},
		{"23\xff m", unit.NoForm, 2, "unit should stand"},
		{`٣ m`, unit.NoForm, 0, "number"},
	}
	for _, test := range tests {
		w, err := unit.ParseLength(test.text, test.bare)
		var p *unit.ParseError
		if !errors.As(err, &p) {
			t.Errorf("%q: no ParseError but %+v, %v", test.text, w, err)
			continue
		}
		if w != (unit.Written{}) {
			t.Errorf("%q: a result beside an error: %+v", test.text, w)
		}
		if p.Offset != test.offset || !strings.Contains(p.Problem, test.problem) {
			t.Errorf("%q: got offset %d, %q; want %d, %q", test.text, p.Offset, p.Problem, test.offset, test.problem)
		}
		if p.Text != test.text || p.Expected == "" || p.Example == "" {
			t.Errorf("%q: incomplete error %+v", test.text, p)
		}
		if strings.Contains(err.Error(), "\n") || !utf8.ValidString(err.Error()) {
			t.Errorf("%q: error is not one clean line: %q", test.text, err)
		}
	}
}

func TestParseErrorIsOneSentenceForPeople(t *testing.T) {
	_, err := unit.ParseLength(`23' 14"`, unit.NoForm)
	want := `cannot read “23' 14"”: inches beside feet must be below 12; expected a length in feet and inches, feet, inches, metres, centimetres or millimetres, for example 23' 4 1/2"`
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
	_, err = unit.ParseLength(`23.4`, unit.NoForm)
	want = `cannot read “23.4”: the number has no unit; expected a unit behind it: ' or ft, " or in, m, cm or mm, for example 23.4 ft`
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

// An error stays one short line whatever was read.
func TestParseErrorOfLongText(t *testing.T) {
	for _, text := range []string{strings.Repeat("½ ", 100000), strings.Repeat("0", 1<<20), strings.Repeat("x\n", 1<<20)} {
		_, err := unit.ParseLength(text, unit.NoForm)
		if err == nil || len(err.Error()) > 400 || strings.Contains(err.Error(), "\n") || strings.Contains(err.Error(), "\uFFFD") {
			t.Errorf("%.20q…: error of %d bytes", text, len(fmt.Sprint(err)))
		}
	}
}

func BenchmarkParseLength(b *testing.B) {
	for _, text := range []string{`23' 4 1/2"`, `23.38 ft`, `7.13 m`} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := unit.ParseLength(text, unit.NoForm); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
