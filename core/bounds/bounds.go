// Package bounds weighs what was measured against the number that bounds it:
// clear, short or too close to call within its uncertainty. It knows the limits
// that need no distances between shapes; those that do are weighed by others.
package bounds

import (
	"undersod/core/phrase"
	"undersod/core/rules"
	"undersod/core/unit"
)

// Normal95 is how many standard deviations hold 95 % of a normal distribution.
const Normal95 = 1.959964

// Farthest bounds what a site may measure; what lies beyond is a slip.
const Farthest = 1e6 * unit.Metre

// Verdict is the answer of a distance against its rule.
type Verdict string

// The verdicts.
const (
	Clear    Verdict = "clear"
	Short    Verdict = "short"
	TooClose Verdict = "too close to call" // within the 95 % uncertainty of the margin, or not located
)

// Row is one measured thing against a limit of the pack.
type Row struct {
	What     string // "trench width of Line 1"
	On       rules.LimitOn
	Least    unit.Length // 0 where there is none
	Most     unit.Length // 0 where there is none
	Measured unit.Length
	Within   unit.Length // 95 %; 0 where it is not known
	Known    bool
	Verdict  Verdict // Clear is within the limit, Short is not; empty where it is not Known
	Words    string
	Source   rules.Source
}

// Weigh weighs a margin against its uncertainty.
func Weigh(margin, within unit.Length) Verdict {
	switch {
	case margin-within >= 0:
		return Clear
	case margin+within < 0:
		return Short
	}
	return TooClose
}

// Limited weighs one measured thing; lost says why it is not known.
func Limited(l rules.Limit, say unit.Style, what string, measured, within unit.Length, lost string) Row {
	r := Row{What: what, On: l.On, Least: l.Least, Most: l.Most, Source: l.Source}
	bounds := allowed(l, say)
	if lost != "" {
		r.Words = phrase.Tell(what + ": " + bounds + "; it cannot be told, as " + lost)
		return r
	}
	r.Known, r.Measured, r.Within = true, measured, within
	margin := measured - l.Least
	if l.Most > 0 && (l.Least == 0 || l.Most-measured < margin) {
		margin = l.Most - measured
	}
	const rounding = 1e-9 * unit.Metre // two writings of one number
	if margin.Abs() < rounding {
		margin = 0
	}
	r.Verdict = Weigh(margin, within)
	said := map[Verdict]string{Clear: "within it", Short: "not within it", TooClose: "too close to call"}[r.Verdict]
	size := say.Format(measured)
	if within > 0 {
		size += " ± " + say.Format(within)
	}
	r.Words = phrase.Tell(what + ": " + size + "; " + bounds + ": " + said)
	return r
}

// bounds words a limit.
func allowed(l rules.Limit, say unit.Style) string {
	switch {
	case l.Least > 0 && l.Most > 0:
		return say.Format(l.Least) + " to " + say.Format(l.Most) + " allowed"
	case l.Least > 0:
		return "at least " + say.Format(l.Least)
	}
	return "at most " + say.Format(l.Most)
}

// Sane returns a size that can be, and 0 for what cannot.
func Sane(l unit.Length) unit.Length {
	if l > 0 && l <= Farthest {
		return l
	}
	return 0
}
