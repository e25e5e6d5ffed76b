package sheet_test

import (
	"fmt"
	"math"

	"undersod/core/planar"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

// round returns a circle of n corners about a place, in feet.
func round(e, n, radius float64, corners int) planar.Ring {
	out := make(planar.Ring, corners)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(corners))
		out[i] = feet(e+radius*s, n+radius*c)
	}
	return out
}

// grown returns an upright rectangle grown by a distance, round at its corners.
func grown(e0, n0, e1, n1, by float64) planar.Ring {
	var out planar.Ring
	for q, corner := range [4][2]float64{{e1, n1}, {e1, n0}, {e0, n0}, {e0, n1}} {
		for i := range 13 {
			s, c := math.Sincos(math.Pi / 2 * (float64(q) + float64(i)/12))
			out = append(out, feet(corner[0]+by*s, corner[1]+by*c))
		}
	}
	return out
}

func upright(e0, n0, e1, n1 float64) planar.Ring {
	return planar.Ring{feet(e0, n0), feet(e1, n0), feet(e1, n1), feet(e0, n1)}
}

// clearYard is an invented lot with every kind of thing that setbacks ask of,
// and what the owner wants to build on it.
func clearYard(form unit.Form) (*yard, *sheet.Clear) {
	y := newYard(8)
	y.job.Show.Form = form
	y.house(44, 28)
	y.tank(feet(24, -16), 90*unit.Degree)
	box := y.part("D-box", site.DistributionBox, feet(40, -28), "")
	y.line("Sewer", site.BuildingSewer, 0, y.point("House outlet", site.RoleBend, feet(16, -1)), "Inlet lid")
	y.line("Effluent", site.EffluentPipe, 0, "Outlet lid", box)
	for i := range 3 {
		e := 32 + 8*float64(i)
		bend := y.point(fmt.Sprintf("L%d bend", i+1), site.RoleBend, feet(e, -36))
		end := y.part(fmt.Sprintf("L%d end", i+1), site.LineEnd, feet(e, -90), "")
		y.line(fmt.Sprintf("Line %d", i+1), site.DrainLine, 3*unit.Foot, box, bend, end)
	}
	y.area("Lot line", site.PropertyLine, true, feet(-70, -125), feet(95, -125), feet(95, 60), feet(-70, 60))
	y.spot("Well", site.Well, feet(70, 40), 0)
	y.neighbours()
	return y, clearOf(form)
}

// neighbours adds a feature of each kind that only setbacks ask of.
func (y *yard) neighbours() {
	y.spot("Hill spring", site.Spring, feet(-50, 48), 0)
	y.spot("Roof dry well", site.DryWell, feet(54, 22), 0)
	y.spot("Cistern", site.Cistern, feet(52, 8), 0)
	y.spot("Old sinkhole", site.Sinkhole, feet(-58, -112), 5*unit.Foot)
	y.area("Wet meadow", site.Wetland, true, feet(60, -120), feet(92, -122), feet(92, -92), feet(74, -100))
	y.area("Pasture bank", site.Bank, false, feet(-68, 30), feet(-40, 34), feet(-12, 56))
	y.area("Power easement", site.Easement, true, feet(80, -85), feet(92, -85), feet(92, 10), feet(80, 10))
	y.area("Flood line", site.FloodPlain, false, feet(20, -122), feet(52, -112), feet(94, -84))
	y.area("Road ditch", site.Ditch, false, feet(-68, 56), feet(0, 57), feet(92, 57))
	y.area("Storm pipe", site.StormPipe, false, feet(60, 56), feet(64, -10), feet(78, -60))
	y.area("Curtain drain", site.Drain, false, feet(0, -8), feet(-8, -40), feet(0, -110))
	y.area("Neighbour's field", site.OtherField, true, feet(-66, 4), feet(-44, 4), feet(-44, 22), feet(-66, 22))
	y.area("Cellar cistern", site.Cistern, true, feet(-12, 6), feet(-4, 6), feet(-4, 14), feet(-12, 14))
	y.area("Swallow hole", site.Sinkhole, true, feet(-30, -118), feet(-20, -122), feet(-14, -112), feet(-24, -108))
}

// clearOf is what stands on the sheet of clearYard.
func clearOf(form unit.Form) *sheet.Clear {
	say := func(gap, need float64) string {
		s := unit.Style{Form: form, Denominator: 4, Digits: 2}
		return s.Format(unit.Length(gap)*unit.Foot) + ", " + s.Format(unit.Length(need)*unit.Foot) + " required"
	}
	by := func(need float64, from string) string {
		s := unit.Style{Form: form, Denominator: 4, Digits: 2}
		return s.Format(unit.Length(need)*unit.Foot) + " from " + from
	}
	return &sheet.Clear{
		Bands: []sheet.Band{
			{sheet.Patch{Outer: grown(32, -90, 48, -36, 20)}, by(20, "the drain lines")},
			{sheet.Patch{Outer: grown(20, -18.5, 28.5, -13.5, 10)}, by(10, "the tank")},
			{sheet.Patch{Outer: round(70, 40, 50, 96)}, by(50, "the well")},
			{sheet.Patch{Outer: upright(-70, -125, 95, 60), Holes: []planar.Ring{upright(-60, -115, 85, 50)}}, by(10, "the lot line")},
			{sheet.Patch{Outer: round(70, 40, 400, 96)}, by(400, "the quarry")},
		},
		Allowed: []sheet.Patch{
			{Outer: planar.Ring{feet(-48, -103), feet(-2, -103), feet(-2, -90), feet(-6, -40), feet(-12, -20), feet(-30, -6), feet(-48, -6)}, Holes: []planar.Ring{round(-30, -70, 8, 48)}},
			{Outer: upright(-30, 30, 10, 36)},
		},
		AllowedAs: "where the middle of the workshop may lie",
		Proposed: []sheet.Proposal{
			{Name: "Workshop", Outline: upright(-44, -50, -28, -26), Words: []string{"Workshop", by(24, "x")[:5] + " x 16"}},
			{Name: "New well", Outline: planar.Ring{feet(-20, 44)}, Words: []string{"New well"}},
		},
		Distances: []sheet.Distance{
			{feet(-28, -38), feet(-7.6, -38), say(20.4, 15), site.Note},
			{feet(-44, -38), feet(-70, -38), say(26, 10), site.Note},
			{feet(-36, -26), feet(-36, 4), say(30, 50), site.Act},
			{feet(-20, 44), feet(12, -10), say(62.8, 63), site.Watch},
			{feet(-20, 44), feet(-300, 90), say(283.8, 100), site.Note},
			{feet(-300, 90), feet(-400, 90), say(100, 100), site.Watch},
		},
	}
}
