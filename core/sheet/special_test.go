package sheet_test

import (
	"fmt"
	"strings"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// specials are yards that each press on one part of the layout.
func specials() map[string]*yard {
	return map[string]*yard{
		"doubt": doubtYard(), "crowd": crowdYard(), "metric": metricYard(),
		"names": namesYard(), "huge": hugeYard(), "rural": ruralYard(), "full": fullYard(),
	}
}

func (y *yard) find(n site.Name) *adjust.Point {
	for i := range y.plan.Points {
		if y.plan.Points[i].Name == n {
			return &y.plan.Points[i]
		}
	}
	return nil
}

// doubtYard has a point with two answers, one not determined, one unconnected,
// a reading that disagrees, and a wide ellipse.
func doubtYard() *yard {
	y := randomYard(3)
	p := y.find("L1 end")
	other := p.At.Plus(feet(30, 12))
	p.State, p.Other, p.Why = adjust.TwoAnswers, &other, "two ties leave two places"
	q := y.find("L2 end")
	q.State, q.Placed, q.Why = adjust.Undetermined, false, "only one tie reaches it"
	u := y.part("Old cleanout", site.Cleanout, planar.Vec{}, "")
	y.find(u).State, y.find(u).Placed = adjust.Unconnected, false
	e := &y.find("D-box").Ellipse
	e.Major, e.Minor, e.Radius = 3*unit.Foot, 1*unit.Foot, 2.6*unit.Foot
	y.plan.Readings[0].Flagged = true
	y.plan.Frame.North = adjust.NorthMagnetic
	y.find("L3 end").Doubt = 9 * unit.Inch
	y.plan.Verdict = adjust.Verdict{Fill: adjust.FillNo, Words: "Leave the hole open."}
	return y
}

// crowdYard packs thirty cleanouts into a few feet.
func crowdYard() *yard {
	y := randomYard(4)
	for i := range 45 {
		y.part(fmt.Sprintf("Cleanout %d", i+1), site.Cleanout, feet(10+float64(i%7)*2, -40-float64(i/7)*2), "4 inch")
	}
	return y
}

// metricYard is drawn in metres, with every kind of feature.
func metricYard() *yard {
	y := randomYard(5)
	y.job.Show.Form = unit.Metres
	y.plan.Frame.North, y.plan.Frame.NorthSD = adjust.NorthMeasured, 0.8*unit.Degree
	y.area("Pool", site.Pool, true, feet(-30, 5), feet(-12, 5), feet(-12, 20), feet(-30, 20))
	y.area("Creek", site.SurfaceWater, true, feet(-40, -115), feet(60, -112), feet(62, -119), feet(-42, -119))
	y.area("Board fence", site.Fence, false, feet(-35, -30), feet(-35, 45))
	y.area("Gas", site.UtilityLine, false, feet(10, 30), feet(8, 70))
	y.area("Shed", site.Structure, true, feet(-32, -40), feet(-20, -40), feet(-20, -30), feet(-32, -30))
	y.spot("Downspout", site.Downspout, feet(0.5, 25), 0)
	y.spot("Test pit 1", site.SoilTest, feet(-20, -60), 0)
	y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: "Pump tank", Kind: site.PumpTank, Length: 2 * unit.Metre, Width: 1.5 * unit.Metre})
	y.point("Pump tank", site.RolePart, feet(-12, -20))
	y.line("Force main", site.PressurePipe, 0, "Outlet lid", "Pump tank")
	y.part("Port", site.InspectionPort, feet(55, -50), "")
	y.part("Drop box", site.DropBox, feet(60, -40), "")
	return y
}

// namesYard has names no one should use.
func namesYard() *yard {
	y := randomYard(6)
	for i, n := range []string{
		strings.Repeat("Wonderful ", 8), strings.Repeat("X", 80), "line\nbreak\tand\x00zero", "<b>&\"quotes\"</b>", "\xff\xfe broken", " ",
		"Überlaufschacht ü", "\u202eright to left",
	} {
		y.part(n, site.Cleanout, feet(-10+float64(i)*6, -75), strings.Repeat("detail ", i))
	}
	y.job.Site.Address = strings.Repeat("Long Address Way ", 12)
	y.job.Site.Owner = strings.Repeat("O", 200)
	y.job.Visit.Notes = []string{"Ground soft after rain", strings.Repeat("note ", 100), strings.Repeat("y", 300)}
	return y
}

// hugeYard is a mile wide.
func hugeYard() *yard {
	y := randomYard(7)
	y.spot("Far well", site.Well, feet(5280, 900), 0)
	return y
}

// ruralYard lies in one corner of ten acres.
func ruralYard() *yard {
	y := randomYard(10)
	y.area("Farm line", site.PropertyLine, true, feet(-150, -500), feet(510, -490), feet(520, 170), feet(-140, 160))
	y.area("Pasture fence", site.Fence, false, feet(-60, -60), feet(-500, -300))
	y.area("Old pond", site.SurfaceWater, true, feet(60, -100), feet(300, -90), feet(280, 20), feet(75, -20))
	y.spot("Barn well", site.Well, feet(400, -300), 0)
	return y
}

// fullYard has more parts than a table on any paper can hold.
func fullYard() *yard {
	y := randomYard(8)
	for i := range 200 {
		y.part(fmt.Sprintf("Port %d", i+1), site.InspectionPort, feet(-60+float64(i%20)*8, -150-float64(i/20)*8), "")
	}
	return y
}
