package values

import (
	"strconv"
	"strings"

	"undersod/core/unit"
)

// Deviation is an instrument's standard deviation as read: a fixed part, a
// part per distance, an angle; nil where not stated.
type Deviation struct {
	Fixed   *unit.Length
	PerUnit *float64 // a ratio
	Angle   *unit.Angle
}

const (
	deviationWords   = "a length, a part per distance, both with + between, or an angle"
	deviationExample = "0.05 ft + 0.1%"
)

// ParseDeviation reads "0.05 ft + 0.1%", "0.1%", "1/4\"" or "2°"; a length
// without a unit is in bare. Errors are *unit.ParseError.
func ParseDeviation(text string, bare unit.Form) (Deviation, error) {
	var d Deviation
	at := 0
	for _, part := range strings.Split(text, "+") {
		if err := d.part(part, bare); err != "" {
			return Deviation{}, &unit.ParseError{Text: text, Offset: at + len(part) - len(strings.TrimLeft(part, " ")),
				Problem: err, Expected: deviationWords, Example: deviationExample}
		}
		at += len(part) + 1
	}
	return d, nil
}

// part reads one part of a sum; it returns what is wrong, or nothing.
func (d *Deviation) part(text string, bare unit.Form) string {
	text = strings.TrimSpace(text)
	if ratio, ok := strings.CutSuffix(text, "%"); ok {
		v, err := strconv.ParseFloat(strings.TrimSpace(ratio), 64)
		if err != nil || !(v >= 0 && v <= 100) {
			return "the part before % must be a number from 0 to 100"
		}
		if d.PerUnit != nil {
			return "the part per distance stands twice"
		}
		v /= 100
		d.PerUnit = &v
		return ""
	}
	if strings.ContainsRune(text, '°') || strings.HasSuffix(strings.ToLower(text), "deg") {
		a, err := unit.ParseAngle(text)
		if err != nil || d.Angle != nil {
			return "the angle cannot be read, or stands twice"
		}
		d.Angle = &a
		return ""
	}
	w, err := unit.ParseLength(text, bare)
	if err != nil || d.Fixed != nil {
		return "the fixed part cannot be read, or stands twice"
	}
	d.Fixed = &w.Length
	return ""
}

// DeviationOf reads the standard deviation of a key; false where there is none
// or it is wrong, which is told.
func (r *Reader) DeviationOf(f Fields, key, subject string) (Deviation, bool) {
	n := f.Get(key)
	if n == nil {
		return Deviation{}, false
	}
	return Quantity(r, n, key+" of "+subject, deviationWords, deviationExample,
		func(s string) (Deviation, error) { return ParseDeviation(s, r.Bare) })
}
