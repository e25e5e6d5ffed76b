package unit

import (
	"math"
	"strconv"
)

// Instead of a number of decimals, how finely FormatAzimuth prints an angle.
const (
	ToMinute = -1 // 214°30'
	ToSecond = -2 // 214°30'15"
)

func degreesText(n uint64) string { return strconv.FormatUint(n, 10) + "°" }

// FormatAzimuth prints a direction clockwise from north, brought into the range
// from 0° up to 360°: with decimals of a degree, as 214.5°, at most 9; or with
// ToMinute or ToSecond, as 214°30'15". An angle that is no number prints as
// unknown.
func FormatAzimuth(a Angle, digits int) string {
	per := perDegree(digits)
	n, ok := a.Turn().steps(per)
	if !ok {
		return unprintable
	}
	return string(appendArc(nil, n%(360*per), digits))
}

// FormatAngle prints a plain angle with its sign, finely as FormatAzimuth does.
func FormatAngle(a Angle, digits int) string {
	n, ok := a.steps(perDegree(digits))
	if !ok {
		return unprintable
	}
	var b []byte
	if a < 0 && n > 0 {
		b = append(b, '-')
	}
	return string(appendArc(b, n, digits))
}

// FormatQuadrant prints a direction clockwise from north as the angle from
// north or south toward east or west, to the minute: N 34°30' E. Due north is
// N 0°00' E, due west N 90°00' W.
func FormatQuadrant(a Angle) string {
	n, ok := a.Turn().steps(60)
	if !ok {
		return unprintable
	}
	const quarter = 90 * 60
	n %= 4 * quarter
	from, to := "N ", " E"
	switch {
	case n <= quarter:
	case n <= 2*quarter:
		n, from = 2*quarter-n, "S "
	case n < 3*quarter:
		n, from, to = n-2*quarter, "S ", " W"
	default:
		n, to = 4*quarter-n, " W"
	}
	return string(append(appendArc([]byte(from), n, ToMinute), to...))
}

// FormatDeclination prints a declination, east positive, to the minute:
// 4°30' W.
func FormatDeclination(a Angle) string { return sided(a, ToMinute, " E", " W") }

// FormatLatitude prints a latitude, north positive, with decimals of a degree
// or as FormatAzimuth does: 47.05312° N. Five decimals are about 1 m.
func FormatLatitude(a Angle, digits int) string { return sided(a, digits, " N", " S") }

// FormatLongitude prints a longitude, east positive, as FormatLatitude does.
func FormatLongitude(a Angle, digits int) string { return sided(a, digits, " E", " W") }

func sided(a Angle, digits int, plus, minus string) string {
	n, ok := a.steps(perDegree(digits))
	if !ok {
		return unprintable
	}
	if a < 0 && n > 0 {
		plus = minus
	}
	return string(append(appendArc(nil, n, digits), plus...))
}

// perDegree returns the steps of a degree that are printed.
func perDegree(digits int) uint64 {
	switch {
	case digits == ToMinute:
		return 60
	case digits <= ToSecond:
		return 3600
	}
	return powersOfTen[min(digits, 9)]
}

// steps counts the size of a in steps of a degree, rounded; false where a is
// no number or beyond any angle that is printed.
func (a Angle) steps(per uint64) (uint64, bool) {
	d := math.Abs(a.Degrees())
	if !(d < 1e6) {
		return 0, false
	}
	return uint64(roundUp(d * float64(per))), true
}

// appendArc prints n steps of a degree.
func appendArc(b []byte, n uint64, digits int) []byte {
	if digits >= 0 {
		return append(appendDecimal(b, n, min(digits, 9)), "°"...)
	}
	per := perDegree(digits)
	b = append(strconv.AppendUint(b, n/per, 10), "°"...)
	if digits == ToMinute {
		return append(appendPair(b, n%60), '\'')
	}
	b = append(appendPair(b, n%per/60), '\'')
	return append(appendPair(b, n%60), '"')
}

// appendPair prints n below 100 with two digits.
func appendPair(b []byte, n uint64) []byte {
	return append(b, byte('0'+n/10), byte('0'+n%10))
}
