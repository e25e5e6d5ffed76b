package sheet_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// yard builds an invented site with its plan, all positions known.
type yard struct {
	r    *rand.Rand
	job  site.Job
	plan adjust.Plan
	at   map[site.Name]planar.Vec
}

func feet(e, n float64) planar.Vec {
	return planar.Vec{East: unit.Length(e) * unit.Foot, North: unit.Length(n) * unit.Foot}
}

func (y *yard) point(n string, role site.Role, v planar.Vec) site.Name {
	name := site.Name(n)
	y.job.Site.Points = append(y.job.Site.Points, site.Point{Name: name, Role: role})
	p := adjust.Point{Name: name, Role: role, At: v, Placed: true}
	if role != site.RoleMark && role != site.RoleCorner {
		major := unit.Length(0.01 + 0.12*y.r.Float64())
		p.Ellipse = adjust.Ellipse{Major: major, Minor: major * 0.6, Azimuth: unit.Angle(y.r.Float64() * 3), Radius: major * 0.9}
	}
	y.plan.Points = append(y.plan.Points, p)
	y.at[name] = v
	return name
}

func written(l unit.Length) unit.Written {
	return unit.Written{Text: unit.Style{Form: unit.FeetInches, Denominator: 4}.Format(l), Length: l, Form: unit.FeetInches}
}

func (y *yard) tie(from, to site.Name) {
	id := site.ReadingID(fmt.Sprintf("tie %s > %s", from, to))
	y.job.Visit.Readings = append(y.job.Visit.Readings, site.Tie{
		Taken: site.Taken{ID: id}, From: from, To: to, Read: written(y.at[to].Minus(y.at[from]).Length()),
	})
	y.plan.Readings = append(y.plan.Readings, adjust.Reading{ID: id})
}

func (y *yard) part(n string, k site.PartKind, v planar.Vec, detail string) site.Name {
	name := y.point(n, site.RolePart, v)
	y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: name, Kind: k, Detail: detail})
	y.tie("A", name)
	y.tie("B", name)
	if y.r.IntN(2) == 0 {
		y.tie("C", name)
	}
	return name
}

// tank adds a tank by its fitted outline, with a lid at each end.
func (y *yard) tank(at planar.Vec, azimuth unit.Angle) {
	l, w := 8.5*unit.Foot, 5*unit.Foot
	u, v := planar.Polar(azimuth, l/2), planar.Polar(azimuth, w/2).Right()
	y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: "Tank", Kind: site.SepticTank, Detail: "1,000 gal concrete", Outline: &site.Outline{}})
	y.plan.Outlines = append(y.plan.Outlines, adjust.Outline{
		Part: "Tank", Fitted: true, Centre: at, Azimuth: azimuth, Length: l, Width: w,
		Corners: [4]planar.Vec{at.Minus(u).Plus(v), at.Minus(u).Minus(v), at.Plus(u).Minus(v), at.Plus(u).Plus(v)},
		Hits:    make([]adjust.HitResult, 5), Freedom: 2, Sigma: adjust.Sigma{East: unit.Inch, North: unit.Inch / 2},
	})
	y.part("Inlet lid", site.Lid, at.Minus(u.Times(0.7)), "")
	y.part("Outlet lid", site.Lid, at.Plus(u.Times(0.7)), "")
	y.job.Visit.Readings = append(y.job.Visit.Readings, site.Depth{Point: "Inlet lid", Read: written(14 * unit.Inch)})
}

func (y *yard) line(name string, k site.LineKind, width unit.Length, path ...site.Name) {
	y.job.Site.Lines = append(y.job.Site.Lines, site.Line{Name: site.Name(name), Kind: k, Path: path, TrenchWidth: width})
	var l unit.Length
	for i := 1; i < len(path); i++ {
		l += y.at[path[i]].Minus(y.at[path[i-1]]).Length()
	}
	y.plan.Footages = append(y.plan.Footages, adjust.LineLength{Line: site.Name(name), Known: true, Length: l})
}

func (y *yard) area(name string, k site.FeatureKind, closed bool, corners ...planar.Vec) {
	f := site.Feature{Name: site.Name(name), Kind: k, Closed: closed}
	for i, v := range corners {
		f.Points = append(f.Points, y.point(fmt.Sprintf("%s %d", name, i+1), site.RoleFeature, v))
	}
	y.job.Site.Features = append(y.job.Site.Features, f)
}

func (y *yard) spot(name string, k site.FeatureKind, v planar.Vec, radius unit.Length) {
	n := y.point(name, site.RoleFeature, v)
	y.job.Site.Features = append(y.job.Site.Features, site.Feature{Name: n, Kind: k, Points: []site.Name{n}, Radius: radius})
}

func (y *yard) house(w, d float64) {
	corners := []planar.Vec{feet(0, 0), feet(w, 0), feet(w, d), feet(0, d)}
	b := site.Building{Name: "House"}
	for i, v := range corners {
		b.Corners = append(b.Corners, y.point(string(rune('A'+i)), site.RoleCorner, v))
		b.Sides = append(b.Sides, written(corners[(i+1)%4].Minus(v).Length()))
	}
	y.job.Site.Buildings = append(y.job.Site.Buildings, b)
}

func newYard(seed uint64) *yard {
	y := &yard{r: rand.New(rand.NewPCG(seed, 7)), at: map[site.Name]planar.Vec{}}
	y.job.Site = site.Site{Name: "7 Fernbrake Row", Address: "7 Fernbrake Row, Ostler County", County: "Ostler", Owner: "R. Example", Permit: "OC-2026-118", Authority: "Ostler County Health"}
	y.job.Visit = site.Visit{Date: "2026-05-14", By: "J. Example", Company: "Example Septic", Accuracy: &site.Accuracy{Limit: unit.Foot / 2, Source: "county rule"}}
	y.plan.Frame = adjust.Frame{Mark: "A", Toward: "B"}
	return y
}

// randomYard is an invented site: house, tank, box, two to six lines, trees,
// well, drive and lot.
func randomYard(seed uint64) *yard {
	y := newYard(seed)
	f := func(lo, hi float64) float64 { return lo + (hi-lo)*y.r.Float64() }
	w, d := f(30, 56), f(24, 36)
	y.house(w, d)
	if y.r.IntN(2) == 0 {
		y.plan.Frame.North = adjust.NorthMeasured
	}
	tank := feet(f(5, w-5), -f(12, 22))
	y.tank(tank, unit.Angle(f(80, 100))*unit.Degree)
	box := y.part("D-box", site.DistributionBox, tank.Plus(feet(f(-8, 12), -f(14, 24))), "")
	y.line("Sewer", site.BuildingSewer, 0, y.point("House outlet", site.RoleBend, feet(f(8, w-8), -1)), "Inlet lid")
	y.line("Effluent", site.EffluentPipe, 0, "Outlet lid", box)
	n, gap, length := 2+y.r.IntN(5), f(6, 10), f(45, 75)
	turn := unit.Angle(f(-25, 25)) * unit.Degree
	width := unit.Length(0)
	if y.r.IntN(3) > 0 {
		width = unit.Length(f(1.5, 3)) * unit.Foot
	}
	for i := range n {
		off := (float64(i) - float64(n-1)/2) * gap
		bend := y.at[box].Plus(feet(off, -f(5, 8)).Clockwise(turn))
		end := bend.Plus(feet(f(-1, 1), -length+f(-6, 6)).Clockwise(turn))
		name := fmt.Sprintf("Line %d", i+1)
		b := y.point(fmt.Sprintf("L%d bend", i+1), site.RoleBend, bend)
		e := y.part(fmt.Sprintf("L%d end", i+1), site.LineEnd, end, "")
		y.line(name, site.DrainLine, width, box, b, e)
	}
	for i := range y.r.IntN(5) {
		kind := []string{"Maple", "White oak", "Spruce", "Birch", "Old apple tree"}[i]
		y.spot(kind, site.Tree, feet(f(-40, w+40), f(-110, d+30)), unit.Length(f(0, 15))*unit.Foot)
	}
	y.spot("Well", site.Well, feet(f(-40, w+40), d+f(15, 40)), 0)
	x := w + f(4, 12)
	y.area("Driveway", site.Driveway, true, feet(x, -20), feet(x+12, -20), feet(x+12, d+50), feet(x, d+50))
	y.area("Lot line", site.PropertyLine, true, feet(-f(42, 60), -120), feet(w+f(45, 60), -125), feet(w+50, d+55), feet(-45, d+52))
	if y.r.IntN(2) == 0 {
		y.area("Reserve area", site.ReserveArea, true, feet(-38, -100), feet(-10, -105), feet(-12, -50), feet(-38, -48))
	}
	if y.r.IntN(2) == 0 {
		y.area("Water line", site.WaterLine, false, y.at["Well"], feet(w/2, d))
	}
	return y
}

// hypot keeps a distance check short.
func hypot(a, b float64) float64 { return math.Hypot(a, b) }
