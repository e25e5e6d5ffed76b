package level

import (
	"fmt"
	"slices"
	"strings"

	"undersod/core/english"
	"undersod/core/unit"
)

// Rules on a distribution box that are quoted as read, and not applied: the local
// authority decides. How far the inlet lies over the outlets: 10 NYCRR Appendix
// 75-A.7; 25 Pa. Code 73.42(e); N.J.A.C. 7:9A-9.4 (2022). Standing water: 310 CMR
// 15.303.
const (
	newYorkStep = 2 * unit.Inch
	lesserStep  = 1 * unit.Inch // Pennsylvania, New Jersey

	newYork   = "New York (10 NYCRR Appendix 75-A.7)"
	lesser    = "Pennsylvania (25 Pa. Code 73.42) and New Jersey (N.J.A.C. 7:9A-9.4, 2022)"
	floodRule = "Massachusetts (310 CMR 15.303) counts a static level above the outlet invert as a failed system; the local authority decides."
)

// flooded tells in one sentence which outlets stand under water; empty for none.
func (m *measurer) flooded() string {
	water, ok := m.find(slot(0, slotWater))
	if !ok {
		return ""
	}
	under := m.apartBy(func(i int) (unit.Length, unit.Length, bool) { return m.between(water, i) })
	if len(under) == 0 {
		return ""
	}
	also := ""
	if len(under) > 1 {
		also = ", and over " + m.names(under[1:])
	}
	up, sd, _ := m.between(water, m.known[under[0]])
	return fmt.Sprintf("Water stands %s over the invert of %s (%s)%s: %s",
		m.length(up), m.name(under[0]), m.within(sd), also, floodRule)
}

// inletLow tells in one sentence which outlets lie higher than the inlet; empty
// for none.
func (m *measurer) inletLow() string {
	inlet, ok := m.comparedInlet()
	if !ok {
		return ""
	}
	over := m.apartBy(func(i int) (unit.Length, unit.Length, bool) { return m.between(i, inlet) })
	if len(over) == 0 {
		return ""
	}
	also := ""
	if len(over) > 1 {
		also = ", and so do " + m.names(over[1:])
		if len(over) == 2 {
			also = ", and so does " + m.names(over[1:])
		}
	}
	up, sd, _ := m.between(m.known[over[0]], inlet)
	return fmt.Sprintf("%s lies %s above the inlet (%s)%s: water backs up into the inlet before it runs out there.",
		english.Capital(m.name(over[0])), m.length(up), m.within(sd), also)
}

// comparedInlet is the node of an inlet that can be compared with the outlets.
func (m *measurer) comparedInlet() (int, bool) {
	if m.out.Inlet == nil {
		return 0, false
	}
	return m.find(m.openingNode(0, slotInlet))
}

// apartBy lists the outlets whose difference is told from none: the first of the
// largest, then the others by their number.
func (m *measurer) apartBy(difference func(outlet int) (d, sd unit.Length, ok bool)) []int {
	var out []int
	at, most := 0, unit.Length(0)
	for _, k := range m.passing() {
		d, sd, ok := difference(m.known[k])
		if !ok || wayOf(d, sd) != Falling {
			continue
		}
		if d > most+rounding {
			at, most = len(out), d
		}
		out = append(out, k)
	}
	if at > 0 {
		first := out[at]
		out = slices.Insert(slices.Delete(out, at, at+1), 0, first)
	}
	return out
}

// passing lists the known outlets that water can leave by, or all known ones
// where every outlet is closed.
func (m *measurer) passing() []int {
	var open, all []int
	anyOpen := false
	for k, i := range m.known {
		closed := m.box.Outlets[k].Closed
		anyOpen = anyOpen || !closed
		if i < 0 {
			continue
		}
		all = append(all, k)
		if !closed {
			open = append(open, k)
		}
	}
	if anyOpen {
		return open
	}
	return all
}

// aboutInlet tells an inlet that is level with the highest outlet as far as the
// readings tell, or less above it than rules ask, by more than its uncertainty.
func (m *measurer) aboutInlet() []string {
	inlet, ok := m.comparedInlet()
	if !ok || m.out.InletLow {
		return nil
	}
	step, sd, _ := m.between(inlet, m.known[m.high])
	rules := quoted(step, sd)
	switch {
	case step >= newYorkStep:
		return nil
	case wayOf(step, sd) == Level:
		return []string{strings.TrimSpace(fmt.Sprintf("The inlet is not told from the level of %s (they differ by %s, %s). %s",
			m.name(m.high), m.length(step.Abs()), m.within(sd), rules))}
	case wayOf(step, sd) == Falling && rules != "":
		return []string{fmt.Sprintf("The inlet lies %s above %s, the highest known one (%s). %s",
			m.length(step), m.name(m.high), m.within(sd), rules)}
	}
	return nil
}

// quoted tells the rules that a step falls short of by more than its
// uncertainty.
func quoted(step, sd unit.Length) string {
	switch {
	case wayOf(newYorkStep-step, sd) != Falling:
		return ""
	case wayOf(lesserStep-step, sd) == Falling:
		return newYork + " asks for at least 2 in, " + lesser + " for at least 1 in; the local authority decides."
	case wayOf(step-lesserStep, sd) == Level:
		return newYork + " asks for at least 2 in; the 1 in that " + lesser + " ask for cannot be told from it. The local authority decides."
	}
	return newYork + " asks for at least 2 in; the local authority decides."
}

// names joins the names of outlets.
func (m *measurer) names(outlets []int) string {
	var out []string
	for _, k := range outlets {
		out = append(out, m.name(k))
	}
	return english.And(some(out))
}
