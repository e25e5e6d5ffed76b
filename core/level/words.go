package level

import (
	"fmt"
	"strings"

	"undersod/core/site"
	"undersod/core/unit"
)

// fine is the style in which small height differences are printed: a sixteenth
// of an inch, a thousandth of a foot or a millimetre, in the system of say.
func fine(say unit.Style) unit.Style {
	switch say.Form {
	case unit.Metres, unit.Centimetres, unit.Millimetres:
		return unit.Style{Form: unit.Metres, Digits: 3}
	case unit.DecimalFeet:
		return unit.Style{Form: unit.DecimalFeet, Digits: 3}
	}
	return unit.Style{Form: unit.FeetInches, Denominator: 16}
}

// small is fine for what lies inside one box: whole millimetres in a metric job.
func small(say unit.Style) unit.Style {
	if s := fine(say); s.Form != unit.Metres {
		return s
	}
	return unit.Style{Form: unit.Millimetres, Digits: unit.NoDigits}
}

// finer prints with one place more.
func finer(s unit.Style) unit.Style {
	if s.Form == unit.FeetInches {
		s.Denominator = 64
	}
	s.Digits++
	return s
}

// metric tells whether lengths are printed in metres.
func metric(say unit.Style) bool { return fine(say).Form == unit.Metres }

// styleOf is the fine style in the form of a reading; a bare number is one of
// feet.
func styleOf(w unit.Written) unit.Style {
	if w.Form == unit.NoForm {
		return fine(unit.Style{Form: unit.DecimalFeet})
	}
	return fine(unit.Style{Form: w.Form})
}

// within prints 95 % of a standard deviation: "within 1/8\"".
func within(say unit.Style, sd unit.Length) string {
	return "within " + strings.TrimPrefix(fine(say).FormatDeviation(unit.Length(z95())*sd), "±")
}

// maxNamed bounds how many things are named in words.
const maxNamed = 10

// some shortens a long list of names.
func some(names []string) []string {
	if len(names) <= maxNamed {
		return names
	}
	short := append([]string(nil), names[:maxNamed]...)
	return append(short, fmt.Sprintf("%d more", len(names)-maxNamed))
}

func plain(names []site.Name) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = string(n)
	}
	return out
}

// rods counts the rod readings in use, and those of them that nothing checks.
func (n *Net) rods() (used, unchecked int) {
	if n == nil {
		return 0, 0
	}
	for i, k := range n.of {
		if k < 0 || n.nodes[n.edges[k].over].kind != atSetup {
			continue
		}
		used++
		if n.readings[i].Redundancy <= leastShare {
			unchecked++
		}
	}
	return used, unchecked
}

// Words tells in one or two sentences how far the rod readings check each
// other; empty where there is none.
func (n *Net) Words() string {
	used, unchecked := n.rods()
	switch {
	case used == 0:
		return ""
	case unchecked == used:
		return "Nothing checks the rod readings: no run comes back to where it began, and none was read twice. " +
			"Before you leave, set up once more and read the first and the last point again."
	case len(n.doubts) > 0:
		return fmt.Sprintf("Among %d rod readings, %s.", used, disagreements(len(n.doubts)))
	case unchecked > 0:
		return fmt.Sprintf("The rod readings that can be checked agree; nothing checks %d of %d.", unchecked, used)
	}
	return "Every rod reading is checked by others and agrees with them."
}

func disagreements(n int) string {
	if n == 1 {
		return "one disagreement was found"
	}
	return fmt.Sprintf("%d disagreements were found", n)
}
