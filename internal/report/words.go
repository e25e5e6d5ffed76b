package report

import (
	"fmt"
	"math"
	"strings"

	"undersod/core/adjust"
	"undersod/core/calendar"
	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
)

// style is how the job wants lengths printed.
func style(show site.Show) unit.Style {
	s := show.Style()
	s.Digits = 2
	if s.Form == unit.NoForm {
		s.Form = unit.FeetInches
	}
	return s
}

func metric(s unit.Style) bool {
	return s.Form == unit.Metres || s.Form == unit.Centimetres || s.Form == unit.Millimetres
}

// within prints a radius of uncertainty as the sheet does, never as less than
// it is.
func within(s unit.Style, l unit.Length) string {
	up := func(v, per float64) float64 { return math.Ceil(v*per-1e-9) / per }
	switch {
	case !(l >= 0) || math.IsInf(float64(l), 0):
		return "unknown"
	case metric(s):
		return fmt.Sprintf("%.0f cm", up(l.Metres()*100, 1))
	case s.Form == unit.DecimalFeet:
		return fmt.Sprintf("%.2f ft", up(l.Feet(), 100))
	case l < unit.Foot:
		return fmt.Sprintf("%.1f\"", up(l.Inches(), 10))
	}
	return fmt.Sprintf("%.1f ft", up(l.Feet(), 10))
}

// normal95 is the factor from a standard deviation to 95 % of one number
// (table of the standard normal distribution).
const normal95 = 1.959964

// within95 prints the 95 % bound of one number from its standard deviation;
// nothing for the one that the others count from.
func within95(s unit.Style, sd unit.Length) string {
	if sd == 0 {
		return ""
	}
	return within(s, normal95*sd)
}

var months = [...]string{"", "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

// day prints a date so that no one can take the month for the day.
func day(d calendar.Date) string {
	switch {
	case d.IsZero():
		return ""
	case d.Month < 1 || d.Month > 12:
		return fmt.Sprintf("%d", d.Year)
	case !d.Whole():
		return fmt.Sprintf("%s %d", months[d.Month], d.Year)
	}
	return fmt.Sprintf("%d %s %d", d.Day, months[d.Month], d.Year)
}

// visitDay prints the date of the visit, as written where it is no date.
func visitDay(job *site.Job) string {
	d, err := calendar.Parse(job.Visit.Date)
	if err != nil {
		return tidy(job.Visit.Date)
	}
	return day(d)
}

// sentence makes a clause begin with a capital and end with a full stop.
func sentence(s string) string {
	s = tidy(s)
	if s == "" {
		return ""
	}
	r := []rune(s)
	s = strings.ToUpper(string(r[0])) + string(r[1:])
	if strings.ContainsAny(s[len(s)-1:], ".!?:") || strings.HasSuffix(s, "…") {
		return s
	}
	return s + "."
}

// capital makes a caption begin with a capital.
func capital(s string) string {
	r := []rune(tidy(s))
	if len(r) == 0 {
		return ""
	}
	return strings.ToUpper(string(r[0])) + string(r[1:])
}

// joined puts sentences one behind the other.
func joined(all ...string) string {
	var out []string
	for _, s := range all {
		if s = sentence(s); s != "" {
			out = append(out, s)
		}
	}
	return strings.Join(out, " ")
}

// count prints a number of things: "one thing", "3 things".
func count(n int, one, many string) string {
	if n == 1 {
		return "one " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func names(all []site.Name) string {
	out := make([]string, 0, len(all))
	for _, n := range all {
		out = append(out, tidy(string(n)))
	}
	return english.And(out)
}

// percent prints a share in whole percent.
func percent(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "unknown"
	}
	return fmt.Sprintf("%.0f %%", 100*v)
}

// stateWords says how far a point is known.
func stateWords(p adjust.Point) string {
	switch {
	case p.State == adjust.TwoAnswers:
		return "one of two places"
	case p.State != adjust.Determined || !p.Placed:
		return "not located"
	case p.Doubt > p.Ellipse.Radius:
		return "in doubt: readings disagree"
	case p.Checked <= 0:
		return "not checked by a further reading"
	}
	return ""
}
