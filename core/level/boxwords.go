package level

import (
	"fmt"
	"slices"
	"strings"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
)

// words tells what should be looked at. Published rules want all outlets at one
// level and state no tolerance, so the spread alone is never called wrong.
func (m *measurer) words() []string {
	var out []string
	out = append(out, m.aboutInlet()...)
	out = append(out, m.impossible()...)
	out = append(out, m.misplaced()...)
	if m.critical > 0 && m.contradicted(0) > m.critical {
		out = append(out, "The level line and the rod do not agree about this box: measure its openings again.")
	}
	out = append(out, m.inDoubt()...)
	return append(out, m.missing()...)
}

func (m *measurer) length(l unit.Length) string { return small(m.say).Format(l) }

// within prints 95 % of a standard deviation as length does a length.
func (m *measurer) within(sd unit.Length) string {
	return "within " + strings.TrimPrefix(small(m.say).FormatDeviation(unit.Length(z95())*sd), "±")
}

// impossible tells levels that cannot be as they were read.
func (m *measurer) impossible() []string {
	var out []string
	for k, i := range m.known {
		if i < 0 {
			continue
		}
		if lid, ok := m.find(slot(0, slotLid)); ok {
			if up, sd, ok := m.between(i, lid); ok && wayOf(up, sd) == Falling {
				out = append(out, fmt.Sprintf("The lid's underside is read as %s below the invert of %s: measure both again.", m.length(up), m.name(k)))
			}
		}
		if floor, ok := m.find(slot(0, slotFloor)); ok {
			if up, sd, ok := m.between(floor, i); ok && wayOf(up, sd) == Falling {
				out = append(out, fmt.Sprintf("The floor is read as %s above the invert of %s: measure both again.", m.length(up), m.name(k)))
			}
		}
	}
	return out
}

// inDoubt tells the openings that a rod reading in doubt stood on.
func (m *measurer) inDoubt() []string {
	var out []string
	for k, i := range m.known {
		if i >= 0 && slices.Contains(m.flagged, i) {
			out = append(out, fmt.Sprintf("The rod reading on %s is in doubt: read it again.", m.name(k)))
		}
	}
	if m.out.Inlet != nil {
		if i, _ := m.find(m.openingNode(0, slotInlet)); slices.Contains(m.flagged, i) {
			out = append(out, "The rod reading on the inlet is in doubt: read it again.")
		}
	}
	return out
}

// misplaced tells outlets that were placed beyond the end of their wall.
func (m *measurer) misplaced() []string {
	width, length, ok := m.inside()
	if !ok {
		return nil
	}
	var out []string
	for k, o := range m.box.Outlets {
		if o.FromLeft == nil || o.Wall == site.AnyEdge {
			continue
		}
		wall := width
		if o.Wall == site.EdgeLeft || o.Wall == site.EdgeRight {
			wall = length
		}
		if l := float64(o.FromLeft.Length); !(l >= 0 && l <= wall) {
			out = append(out, fmt.Sprintf("%s is placed %s from the left corner of a wall that is %s long: measure it again.",
				english.Capital(m.name(k)), o.FromLeft.Text, m.say.Format(unit.Length(wall))))
		}
	}
	return out
}

// missing tells which levels are not known, and what to measure.
func (m *measurer) missing() []string {
	var out []string
	if len(m.box.Outlets) == 0 {
		out = append(out, "No outlet is entered: enter each with its line, and measure from one level line down to its invert.")
	}
	for k, i := range m.known {
		switch {
		case i >= 0:
		case m.apart[k]:
			out = append(out, fmt.Sprintf("The level of %s cannot be compared with the others: measure it from the same level line, or read the rod on its invert from the same set-up.", m.name(k)))
		default:
			out = append(out, fmt.Sprintf("The level of %s is not known: measure from the level line down to its invert, or read the rod on it.", m.name(k)))
		}
	}
	if m.base < 0 {
		return out
	}
	if m.out.Inlet == nil {
		out = append(out, "The level of the inlet is not known: measure from the level line down to its invert, or read the rod on it.")
	}
	for _, part := range [...]struct {
		read *unit.Written
		over *unit.Length
		name string
	}{{m.box.Lid, m.out.Lid, "lid"}, {m.box.Floor, m.out.Floor, "floor"}, {m.box.Water, m.out.Water, "water"}} {
		if part.read != nil && part.over == nil {
			out = append(out, fmt.Sprintf("The %s was measured from a level line, but no outlet was: measure one outlet from that line too.", part.name))
		}
	}
	return out
}
