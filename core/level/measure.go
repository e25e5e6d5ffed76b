package level

import (
	"strconv"

	"undersod/core/site"
	"undersod/core/unit"
)

// measurer works out one box.
type measurer struct {
	*opened
	box   *site.Box
	say   unit.Style
	out   Box
	known []int // node of each outlet, -1 where its level cannot be compared
	apart []bool
	base  int // node of the lowest known outlet, -1 for none
	high  int // number of the highest known outlet
}

// rounding is less than any height that is read, in metres: of outlets at one
// level the first is named the highest.
const rounding = 1e-9

// Measure works out the levels of an opened box: of its outlets, inlet, lid,
// floor and water over the lowest outlet, and which way it is tipped. Levels
// come from the level line in the box, from the rod through net (which may be
// nil), or from both together. Outlets that cannot be compared with most of the
// others are not known.
func Measure(box site.Box, net *Net, say unit.Style) Box {
	m := &measurer{opened: open(net, []site.Box{box}), box: &box, say: say, base: -1}
	m.out.Part = box.Part
	m.findOutlets()
	m.measureOutlets()
	m.out.Inlet = m.inlet()
	m.out.Lid, m.out.Floor, m.out.Water = m.over(slotLid), m.over(slotFloor), m.over(slotWater)
	m.out.Tilt = m.tilt()
	m.out.FloodedWords = m.flooded()
	m.out.InletWords = m.inletLow()
	m.out.Flooded, m.out.InletLow = m.out.FloodedWords != "", m.out.InletWords != ""
	m.out.Words = m.words()
	return m.out
}

// findOutlets finds the largest set of outlets that can be compared.
func (m *measurer) findOutlets() {
	m.known, m.apart = make([]int, len(m.box.Outlets)), make([]bool, len(m.box.Outlets))
	count, most := map[int]int{}, -1
	for k := range m.box.Outlets {
		m.known[k] = -1
		i, ok := m.find(m.openingNode(0, k))
		if !ok {
			continue
		}
		m.known[k] = i
		g := m.group[i]
		count[g]++
		if most < 0 || count[g] > count[most] {
			most = g
		}
	}
	for k, i := range m.known {
		if i >= 0 && m.group[i] != most {
			m.known[k], m.apart[k] = -1, true
		}
	}
}

// measureOutlets fills in the outlets over the lowest, and their spread.
func (m *measurer) measureOutlets() {
	for k, i := range m.known {
		if i < 0 {
			continue
		}
		if m.base < 0 || m.solution.X[i] < m.solution.X[m.base] {
			m.base = i
		}
		if h := m.known[m.high]; h < 0 || m.solution.X[i] > m.solution.X[h]+rounding {
			m.high = k
		}
	}
	m.out.Outlets = make([]Outlet, len(m.known))
	for k, i := range m.known {
		o := &m.out.Outlets[k]
		o.Line = m.box.Outlets[k].Line
		if i >= 0 {
			o.At, o.SD, o.Known = m.between(i, m.base)
		}
	}
	if m.base >= 0 {
		m.out.Spread, m.out.SpreadSD = m.out.Outlets[m.high].At, m.out.Outlets[m.high].SD
	}
}

func (m *measurer) inlet() *Outlet {
	if m.box.Inlet == nil || m.base < 0 {
		return nil
	}
	i, ok := m.find(m.openingNode(0, slotInlet))
	if !ok {
		return nil
	}
	o := &Outlet{Line: m.box.Inlet.Line}
	if o.At, o.SD, o.Known = m.between(i, m.base); !o.Known {
		return nil
	}
	return o
}

// over returns the height of a slot over the lowest outlet, nil where it is not
// known.
func (m *measurer) over(s int) *unit.Length {
	i, ok := m.find(slot(0, s))
	if !ok || m.base < 0 {
		return nil
	}
	rise, _, ok := m.between(i, m.base)
	if !ok {
		return nil
	}
	return &rise
}

// name is an outlet in words.
func (m *measurer) name(k int) string {
	if l := m.box.Outlets[k].Line; l != "" {
		return "the outlet to " + string(l)
	}
	return "outlet " + strconv.Itoa(k+1)
}
