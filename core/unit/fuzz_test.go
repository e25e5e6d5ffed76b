package unit_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"undersod/core/unit"
)

var lengthSeeds = []string{
	`23' 4 1/2"`, `23'4-1/2"`, `23 ft 4.5 in.`, `23 4.5`, `23.38 ft`, `½"`, `-7.13 m`, `1 usft`, `23′ 4½″`, `4 63/64''`, `1,234.5 ft`, "\xff", "1\r10/64 ", "23\n", `9e9 m`, `- 0.000000000000001 mm`,
}

// checkError fails unless err points into text and tells what to do.
func checkError(t *testing.T, text string, err error) {
	t.Helper()
	var p *unit.ParseError
	if !errors.As(err, &p) {
		t.Fatalf("%q: not a ParseError: %v", text, err)
	}
	if p.Text != text || p.Offset < 0 || p.Offset > len(text) || p.Problem == "" || p.Expected == "" || p.Example == "" {
		t.Fatalf("%q: incomplete error %+v", text, p)
	}
	if s := p.Error(); strings.ContainsAny(s, "\n\r") || utf8.ValidString(text) && !utf8.ValidString(s) {
		t.Fatalf("%q: error is not one clean line: %q", text, s)
	}
}

func FuzzParseLength(f *testing.F) {
	for i, s := range lengthSeeds {
		f.Add(s, uint8(i%8))
	}
	f.Fuzz(func(t *testing.T, text string, bare uint8) {
		w, err := unit.ParseLength(text, unit.Form(bare))
		if err != nil {
			checkError(t, text, err)
			return
		}
		if !(w.Length.Abs() <= 100000) || w.Form == unit.NoForm || w.Form > unit.Millimetres {
			t.Fatalf("%q: got %+v", text, w)
		}
		if again, err := unit.ParseLength(w.Text, unit.Form(bare)); err != nil || again != w {
			t.Fatalf("%q: kept text %q reads as %+v, %v", text, w.Text, again, err)
		}
		own, err := unit.ParseLength(w.Style().Format(w.Length), unit.NoForm)
		if err != nil {
			t.Fatalf("%q printed in its own form: %v", text, err)
		}
		exact := w.Style().Digits <= 6 && !strings.Contains(strings.ToLower(text), "us")
		if off := (own.Length - w.Length).Abs(); exact && off != 0 || off > 1e-6 {
			t.Fatalf("%q is %.17g m, printed %q is %.17g m", text, w.Length, own.Text, own.Length)
		}
	})
}

func FuzzParseBearing(f *testing.F) {
	for _, s := range []string{`214°30'15"`, `N 34-30-15 E`, `due N`, `S34.5W`, `214:30:15.5`, `360`, "N\xff", `1 2 3 4`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		w, err := unit.ParseBearing(text)
		if err != nil {
			checkError(t, text, err)
			return
		}
		if !(w.Angle >= 0 && w.Angle < 2*math.Pi) || w.Form == unit.NoAngleForm {
			t.Fatalf("%q: got %+v", text, w)
		}
		if again, err := unit.ParseBearing(w.Text); err != nil || again != w {
			t.Fatalf("%q: kept text %q reads as %+v, %v", text, w.Text, again, err)
		}
		for _, printed := range []string{unit.FormatQuadrant(w.Angle), unit.FormatAzimuth(w.Angle, unit.ToSecond)} {
			again, err := unit.ParseBearing(printed)
			if err != nil || math.Abs((again.Angle-w.Angle).HalfTurn().Degrees()) > 0.5001/60 {
				t.Fatalf("%q printed %q: %+v, %v", text, printed, again, err)
			}
		}
	})
}

func FuzzParseDeclination(f *testing.F) {
	for _, s := range []string{`4°30' W`, `3.5 E`, `-3.5`, `W 4 30 15`, `90.1`, `4'`, `+4 west`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		a, err := unit.ParseDeclination(text)
		if err != nil {
			checkError(t, text, err)
			return
		}
		if !(math.Abs(a.Degrees()) <= 90.0000001) {
			t.Fatalf("%q: got %v", text, a.Degrees())
		}
		printed := unit.FormatDeclination(a)
		if again, err := unit.ParseDeclination(printed); err != nil || math.Abs((again-a).Degrees()) > 0.5001/60 {
			t.Fatalf("%q printed %q: %v, %v", text, printed, again, err)
		}
	})
}

func FuzzParseAngles(f *testing.F) {
	for _, s := range []string{`0.5°`, `30'`, `47.05312 N`, `122°42'39.7" W`, `S 1`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for limit, parse := range map[float64]func(string) (unit.Angle, error){
			360: unit.ParseAngle, 90: unit.ParseLatitude, 180: unit.ParseLongitude,
		} {
			a, err := parse(text)
			if err != nil {
				checkError(t, text, err)
			} else if !(math.Abs(a.Degrees()) <= limit*(1+1e-12)) {
				t.Fatalf("%q: got %v°", text, a.Degrees())
			}
		}
	})
}

func FuzzParseDeviation(f *testing.F) {
	for i, s := range []string{`0.3 ft + 0.5%`, `5 mm + 2 ppm`, `±1/2"`, `0.5%`, `+`, `% + %`} {
		f.Add(s, uint8(i))
	}
	f.Fuzz(func(t *testing.T, text string, bare uint8) {
		fixed, perUnit, err := unit.ParseDeviation(text, unit.Form(bare))
		if err != nil {
			checkError(t, text, err)
			return
		}
		if !(fixed >= 0 && perUnit >= 0 && perUnit <= 1 && float64(fixed)+perUnit > 0) {
			t.Fatalf("%q: got %v, %v", text, fixed, perUnit)
		}
	})
}

func FuzzParseQuantities(f *testing.F) {
	for _, s := range []string{`1,000 gal`, `450 sq. ft.`, `10 gpm`, `3.8 m³`, `0.5 L/s`, `1,00 gal`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		area, errA := unit.ParseArea(text)
		volume, errV := unit.ParseVolume(text)
		flow, errF := unit.ParseFlow(text)
		for _, err := range []error{errA, errV, errF} {
			if err != nil {
				checkError(t, text, err)
			}
		}
		if !(area >= 0 && volume >= 0 && flow >= 0) {
			t.Fatalf("%q: got %v, %v, %v", text, area, volume, flow)
		}
	})
}
