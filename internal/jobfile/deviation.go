package jobfile

import (
	"strconv"
	"strings"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/values"
)

// deviation is an instrument's standard deviation as read: a fixed part, a
// part per distance, an angle; nil where not stated.
type deviation struct {
	fixed   *unit.Length
	perUnit *float64
	angle   *unit.Angle
}

const (
	deviationWords   = "a length, a part per distance, both with + between, or an angle"
	deviationExample = "0.05 ft + 0.1%"
)

// parseDeviation reads "0.05 ft + 0.1%", "0.1%", "1/4\"" or "2°". Errors are
// *unit.ParseError.
func parseDeviation(text string, bare unit.Form) (deviation, error) {
	var d deviation
	at := 0
	for _, part := range strings.Split(text, "+") {
		if err := d.part(part, bare); err != "" {
			return deviation{}, &unit.ParseError{Text: text, Offset: at + len(part) - len(strings.TrimLeft(part, " ")),
				Problem: err, Expected: deviationWords, Example: deviationExample}
		}
		at += len(part) + 1
	}
	return d, nil
}

// part reads one part of a sum; it returns what is wrong, or nothing.
func (d *deviation) part(text string, bare unit.Form) string {
	text = strings.TrimSpace(text)
	if ratio, ok := strings.CutSuffix(text, "%"); ok {
		v, err := strconv.ParseFloat(strings.TrimSpace(ratio), 64)
		if err != nil || !(v >= 0 && v <= 100) {
			return "the part before % must be a number from 0 to 100"
		}
		if d.perUnit != nil {
			return "the part per distance stands twice"
		}
		v /= 100
		d.perUnit = &v
		return ""
	}
	if strings.ContainsRune(text, '°') || strings.HasSuffix(strings.ToLower(text), "deg") {
		a, err := unit.ParseAngle(text)
		if err != nil || d.angle != nil {
			return "the angle cannot be read, or stands twice"
		}
		d.angle = &a
		return ""
	}
	w, err := unit.ParseLength(text, bare)
	if err != nil || d.fixed != nil {
		return "the fixed part cannot be read, or stands twice"
	}
	d.fixed = &w.Length
	return ""
}

// readDeviation reads the sd of an instrument; it is left at its kind's
// default when it is wrong.
func (r *reader) readDeviation(f fields, subject string, in *site.Instrument) {
	n := f.Get("sd")
	if n == nil {
		return
	}
	d, ok := values.Quantity(r.Reader, n, "sd of "+subject, deviationWords, deviationExample,
		func(s string) (deviation, error) { return parseDeviation(s, r.Bare) })
	if ok {
		in.Fixed, in.PerUnit, in.Angle = d.fixed, d.perUnit, d.angle
	}
}
