package figure

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"undersod/core/unit"
)

func (s Say) metric() bool {
	f := s.Style.Form
	return f == unit.Metres || f == unit.Centimetres || f == unit.Millimetres
}

// far prints a distance along a line as finely as a camera counts it: 41',
// 46' 9", 54.8 ft, 12.5 m.
func (s Say) far(l unit.Length) string {
	style := unit.Style{Form: s.Style.Form, Denominator: 1, Digits: 1}
	if s.Style.Form == unit.Centimetres || s.Style.Form == unit.Millimetres {
		style.Digits = unit.NoDigits
	}
	t := style.Format(l)
	if strings.HasSuffix(t, `' 0"`) {
		return strings.TrimSuffix(t, ` 0"`)
	}
	return t
}

// small prints a height or a depth, which is told in smaller units than a
// distance: 1/4", 6 mm, 0.021 ft.
func (s Say) small(l unit.Length) string {
	switch {
	case s.metric():
		return unit.Style{Form: unit.Millimetres}.Format(l)
	case s.Style.Form == unit.DecimalFeet:
		return unit.Style{Form: unit.DecimalFeet, Digits: 3}.Format(l)
	}
	return unit.Style{Form: unit.FeetInches, Denominator: 16}.Format(l)
}

// over prints how much higher something is than the lowest: +1/4", 0".
func (s Say) over(l unit.Length) string {
	t := s.small(l)
	if l > 0 && t != s.small(0) {
		return "+" + t
	}
	return t
}

// percent prints a share: 41 %, 4.2 %.
func percent(v float64) string {
	switch {
	case !(math.Abs(v) < 1e4):
		return "unknown"
	case v != 0 && math.Abs(v) < 0.0995:
		return strconv.FormatFloat(100*v, 'f', 1, 64) + " %"
	}
	return strconv.FormatFloat(100*v, 'f', 0, 64) + " %"
}

// clock prints the time of a day, and the day where there are several.
func (s Say) clock(seconds float64, days int) string {
	minutes := int(math.Round(seconds / 60))
	day, hour, minute := minutes/1440, minutes/60%24, minutes%60
	var t string
	switch {
	case s.metric():
		t = fmt.Sprintf("%02d:%02d", hour, minute)
	case hour == 0 && minute == 0:
		t = "midnight"
	case hour == 12 && minute == 0:
		t = "noon"
	default:
		half := [...]string{"am", "pm"}[hour/12]
		if hour = hour % 12; hour == 0 {
			hour = 12
		}
		t = fmt.Sprintf("%d:%02d %s", hour, minute, half)
		if minute == 0 {
			t = fmt.Sprintf("%d %s", hour, half)
		}
	}
	if days > 1 {
		t = fmt.Sprintf("day %d, %s", day+1, t)
	}
	return t
}
