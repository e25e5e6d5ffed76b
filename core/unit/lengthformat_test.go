package unit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"undersod/core/unit"
)

func TestFormat(t *testing.T) {
	in, ft := unit.Inch, unit.Foot
	tests := []struct {
		style unit.Style
		l     unit.Length
		want  string
	}{
		{unit.Style{}, 23*ft + 4.5*in, `23' 4 1/2"`},
		{unit.Style{}, 23 * ft, `23' 0"`},
		{unit.Style{}, 23*ft + 0.5*in, `23' 0 1/2"`},
		{unit.Style{}, 12 * in, `1' 0"`},
		{unit.Style{}, 3 * in, `3"`},
		{unit.Style{}, 4.5 * in, `4 1/2"`},
		{unit.Style{}, in / 2, `1/2"`},
		{unit.Style{}, 0, `0"`},
		{unit.Style{}, unit.Length(math.Copysign(0, -1)), `0"`},
		{unit.Style{}, -1e-9, `0"`},
		{unit.Style{}, -(23*ft + 4.5*in), `-23' 4 1/2"`},
		{unit.Style{}, 11.99 * in, `1' 0"`},
		{unit.Style{}, 23*ft + 11.99*in, `24' 0"`},
		{unit.Style{}, 23*ft + 11.9375*in, `23' 11 15/16"`},
		{unit.Style{Denominator: 1}, 11.5 * in, `1' 0"`},
		{unit.Style{Denominator: 8}, 23*ft + 4.4*in, `23' 4 3/8"`},
		{unit.Style{Denominator: 7}, in / 16, `1/16"`},
		{unit.Style{Digits: 1}, 23*ft + 4.5*in, `23' 4.5"`},
		{unit.Style{Digits: 1}, 23*ft + 11.96*in, `24' 0.0"`},
		{unit.Style{Denominator: 16, Digits: 1}, 23*ft + 4.5*in, `23' 4 1/2"`},
		{unit.Style{Form: unit.Inches}, 280.5 * in, `280 1/2 in`},
		{unit.Style{Form: unit.Inches}, in / 2, `1/2 in`},
		{unit.Style{Form: unit.Inches}, -12 * in, `-12 in`},
		{unit.Style{Form: unit.DecimalFeet}, 23.375 * ft, `23.38 ft`},
		{unit.Style{Form: unit.DecimalFeet}, -23.375 * ft, `-23.38 ft`},
		{unit.Style{Form: unit.DecimalFeet, Digits: 1}, 23.96 * ft, `24.0 ft`},
		{unit.Style{Form: unit.DecimalFeet, Digits: unit.NoDigits}, 23.5 * ft, `24 ft`},
		{unit.Style{Form: unit.DecimalFeet}, -0.001 * ft, `0.00 ft`},
		{unit.Style{Form: unit.Metres}, 7.13, `7.13 m`},
		{unit.Style{Form: unit.Metres, Digits: 3}, 7.0005, `7.001 m`},
		{unit.Style{Form: unit.Centimetres}, 0.13, `13 cm`},
		{unit.Style{Form: unit.Centimetres, Digits: 1}, 0.134, `13.4 cm`},
		{unit.Style{Form: unit.Millimetres}, 7.1304, `7130 mm`},
		{unit.Style{Form: unit.Millimetres, Digits: 99}, 1e8, `100000000000.000000 mm`},
		{unit.Style{Form: 77}, in, `1"`},
		{unit.Style{}, unit.Length(math.NaN()), `unknown`},
		{unit.Style{}, unit.Length(math.Inf(-1)), `unknown`},
		{unit.Style{}, 1e300, `unknown`},
	}
	for _, test := range tests {
		if got := test.style.Format(test.l); got != test.want {
			t.Errorf("%+v of %.9g m: got %q, want %q", test.style, test.l, got, test.want)
		}
	}
}

func TestFormatDeviation(t *testing.T) {
	tests := []struct {
		style unit.Style
		l     unit.Length
		want  string
	}{
		{unit.Style{Form: unit.DecimalFeet}, 0.05 * unit.Foot, `±0.05 ft`},
		{unit.Style{Form: unit.DecimalFeet}, -0.05 * unit.Foot, `±0.05 ft`},
		{unit.Style{Form: unit.DecimalFeet}, 0.0004 * unit.Foot, `±0.0004 ft`},
		{unit.Style{}, 0.05 * unit.Foot, `±5/8"`},
		{unit.Style{}, 1e-6, `±1/16"`},
		{unit.Style{Denominator: 8}, 1e-6, `±1/8"`},
		{unit.Style{}, 15 * unit.Inch, `±1' 3"`},
		{unit.Style{Digits: 1}, 0.004 * unit.Inch, `±0.004"`},
		{unit.Style{Form: unit.Centimetres}, 0.02, `±2 cm`},
		{unit.Style{Form: unit.Centimetres}, 0.003, `±0.3 cm`},
		{unit.Style{Form: unit.Metres}, 0.003, `±0.003 m`},
		{unit.Style{Form: unit.Metres}, 0, `±0.00 m`},
		{unit.Style{Form: unit.Metres}, 5e-324, `below ±0.000001 m`},
		{unit.Style{}, unit.Length(math.Inf(1)), `±unknown`},
	}
	for _, test := range tests {
		if got := test.style.FormatDeviation(test.l); got != test.want {
			t.Errorf("%+v of %.9g m: got %q, want %q", test.style, test.l, got, test.want)
		}
	}
}

// An uncertainty that is not zero never prints without a digit above zero.
func TestFormatDeviationNeverPrintsZero(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		l := unit.Length(math.Pow(10, rnd.Float64()*320-310))
		s := unit.Style{Form: unit.Form(rnd.IntN(8)), Denominator: rnd.IntN(20) - 2, Digits: rnd.IntN(16) - 2}
		if got := s.FormatDeviation(l); got != "±unknown" && !strings.ContainsAny(got, "123456789") {
			t.Fatalf("%+v of %g m printed %q", s, l, got)
		}
	}
}

// Every multiple of the resolution goes through print and parse unchanged, to
// the last bit, and prints the same again.
func TestFormatParseRoundTrip(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 50000 {
		s := unit.Style{
			Form:        unit.Form(1 + rnd.IntN(6)),
			Denominator: []int{0, 1, 2, 4, 8, 16, 32, 64}[rnd.IntN(8)],
			Digits:      rnd.IntN(5) - 1,
		}
		l := unit.Length((rnd.Float64() - 0.5) * math.Pow(10, float64(rnd.IntN(6))))
		text := s.Format(l)
		w := mustParse(t, text, unit.NoForm)
		if again := s.Format(w.Length); again != text {
			t.Fatalf("%+v: %q prints as %q", s, text, again)
		}
		if again := mustParse(t, s.Format(w.Length), unit.NoForm); again.Length != w.Length {
			t.Fatalf("%+v: %q lost bits: %v and %v", s, text, w.Length, again.Length)
		}
		if diff := (w.Length - l).Abs(); diff > step(s)/2*(1+1e-9)+1e-12 {
			t.Fatalf("%+v: %q is %v off", s, text, diff)
		}
		if own := mustParse(t, w.Style().Format(w.Length), unit.NoForm); own.Length != w.Length {
			t.Fatalf("%q printed in its own form as %q", text, own.Text)
		}
	}
}

func mustParse(t *testing.T, text string, bare unit.Form) unit.Written {
	t.Helper()
	w, err := unit.ParseLength(text, bare)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// The same length written in different ways is the same to the last bit.
func TestEqualTextsAreEqualLengths(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 20000 {
		feet, in, n := rnd.IntN(300), rnd.IntN(12), 1+rnd.IntN(15)
		texts := []string{
			fmt.Sprintf(`%d' %d %d/16"`, feet, in, n),
			fmt.Sprintf(`%d %d %d/16`, feet, in, n),
			fmt.Sprintf(`%d' %d %d/64"`, feet, in, 4*n),
			fmt.Sprintf(`%d ft %d.%04d in`, feet, in, n*625),
			fmt.Sprintf(`%d %d/16"`, 12*feet+in, n),
			fmt.Sprintf(`%.4f mm`, float64((12*feet+in)*16+n)*25.4/16),
		}
		first := mustParse(t, texts[0], unit.FeetInches)
		for _, text := range texts[1:] {
			if w := mustParse(t, text, unit.FeetInches); w.Length != first.Length {
				t.Fatalf("%q is %.17g m but %q is %.17g m", texts[0], first.Length, text, w.Length)
			}
		}
	}
}

// Written.Style keeps what was written.
func TestWrittenStyle(t *testing.T) {
	for text, want := range map[string]string{
		`23'`:            `23' 0"`,
		`23 ft`:          `23 ft`,
		`23.380 feet`:    `23.380 ft`,
		`23.5 ft.`:       `23.5 ft`,
		`23 ft. 4.25 in`: `23' 4.25"`,
		`23 ft.4 1/16`:   `23' 4 1/16"`,
		`3' 4 3/32"`:     `3' 4 3/32"`,
		`5½ ft`:          `5.500000 ft`,
		`⅞"`:             `7/8 in`,
		`7.1 m`:          `7.1 m`,
		`7 m`:            `7 m`,
		`1 usft`:         `1.000002 ft`,
	} {
		w := mustParse(t, text, unit.NoForm)
		if got := w.Style().Format(w.Length); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

func BenchmarkFormat(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		unit.Style{}.Format(7.1247)
	}
}

// step returns the finest length that s prints.
func step(s unit.Style) unit.Length {
	digits := s.Digits
	switch s.Form {
	case unit.FeetInches, unit.Inches:
		switch {
		case s.Denominator > 0:
			return unit.Inch / unit.Length(s.Denominator)
		case digits > 0:
			return unit.Inch / unit.Length(math.Pow10(digits))
		}
		return unit.Inch / 16
	case unit.DecimalFeet, unit.Metres:
		if digits == 0 {
			digits = 2
		}
	}
	of := map[unit.Form]unit.Length{unit.DecimalFeet: unit.Foot, unit.Metres: 1, unit.Centimetres: 0.01, unit.Millimetres: 0.001}
	return of[s.Form] / unit.Length(math.Pow10(max(digits, 0)))
}
