package figure_test

import (
	"fmt"
	"testing"

	"undersod/core/figure"
	"undersod/core/hydraulic"
	"undersod/core/judge"
	"undersod/core/level"
	"undersod/core/site"
	"undersod/core/unit"
)

func height(l unit.Length) *unit.Length { return &l }

// opened is an invented box with the levels of its outlets over the lowest.
func opened(inches ...float64) (judge.Box, site.Box) {
	b := judge.Box{}
	b.Part = "D-box"
	m := site.Box{Part: "D-box"}
	for i, h := range inches {
		name := fmt.Sprintf("Line %d", i+1)
		at := unit.Length(h) * unit.Inch
		b.Outlets = append(b.Outlets, level.Outlet{Line: site.Name(name), Known: true, At: at, SD: unit.Inch / 16})
		b.Openings = append(b.Openings, hydraulic.Opening{Name: name, Invert: at, Bore: 4 * unit.Inch})
		m.Outlets = append(m.Outlets, site.Opening{Line: site.Name(name), Bore: 4 * unit.Inch})
	}
	b.Inlet = &level.Outlet{Line: "Effluent", Known: true, At: 2.25 * unit.Inch}
	b.Floor, b.Lid = height(-2*unit.Inch), height(9.5*unit.Inch)
	return b, m
}

// divided is a split of one inflow as its shares say, without hydraulics.
func divided(inflow unit.Flow, water unit.Length, shares ...float64) hydraulic.Split {
	s := hydraulic.Split{Inflow: inflow, Water: water}
	for i, v := range shares {
		h := hydraulic.Share{
			Name: fmt.Sprintf("Line %d", i+1), Share: v, Flow: inflow * unit.Flow(v), Wanted: 1 / float64(len(shares)),
			Depth: water * unit.Length(0.7*v*float64(len(shares))), Regime: hydraulic.Brink,
		}
		if v == 0 {
			h.Regime, h.Depth = hydraulic.Dry, 0
		}
		s.Shares = append(s.Shares, h)
	}
	return s
}

func TestSections(t *testing.T) {
	b, m := opened(0.25, 0, 0.1875)
	check(t, "section", figure.Section(b, m, divided(5*unit.GallonPerMinute, 0.9*unit.Inch, 0.27, 0.44, 0.29), feetAndInches(180)))
	check(t, "section-narrow", figure.Section(b, m, divided(450*unit.GallonPerDay, 0.3*unit.Inch, 0.05, 0.8, 0.15), feetAndInches(90)))

	closed, cm := opened(0.25, 0, 0.5, 0.125, 0.3, 0.1)
	closed.Openings[1].Closed, cm.Outlets[1].Closed = true, true
	closed.Outlets[2].Known = false
	closed.Floor, closed.Lid, closed.Inlet = nil, nil, nil
	closed.Water = height(0.4 * unit.Inch)
	s := divided(450*unit.GallonPerDay, 0.3*unit.Inch, 0.2, 0, 0, 0.5, 0, 0.3)
	check(t, "section-closed", figure.Section(closed, cm, s, feetAndInches(180)))

	wide, wm := opened(0, 0.1, 0.2, 0.3, 0.1, 0.5, 0.4, 0.3, 0.2, 0.1, 0.6, 0.05)
	wide.Lid = height(40 * unit.Inch)
	check(t, "section-twelve", figure.Section(wide, wm, divided(10*unit.GallonPerMinute, 0.9*unit.Inch, 0.3, 0.1, 0.1, 0.02, 0.08, 0, 0, 0.05, 0.1, 0.05, 0, 0.2), inMetres(180)))

	bare, bm := opened(0.25, 0)
	bare.Outlets, bare.Openings, bare.Floor = nil, nil, nil
	bare.Missing = []string{"the outlets' levels were not measured"}
	check(t, "section-bare", figure.Section(bare, bm, hydraulic.Split{}, feetAndInches(180)))
	check(t, "section-nothing", figure.Section(judge.Box{}, site.Box{}, hydraulic.Split{}, feetAndInches(180)))
}
