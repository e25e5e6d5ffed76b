package setback_test

import (
	"fmt"
	"math"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

func ft(v float64) unit.Length { return unit.Length(v) * unit.Foot }

func at(east, north float64) planar.Vec { return planar.Vec{East: ft(east), North: ft(north)} }

// yard is an invented property whose plan is set by hand: every point where it
// is put, with a standard deviation in each direction.
type yard struct {
	job  site.Job
	plan adjust.Plan
	sd   unit.Length
	n    int
}

// put locates places and returns their names.
func (y *yard) put(places ...planar.Vec) []site.Name {
	var out []site.Name
	for _, v := range places {
		y.n++
		out = append(out, y.point(site.Name(fmt.Sprintf("p%d", y.n)), v))
	}
	return out
}

func (y *yard) point(n site.Name, v planar.Vec) site.Name {
	y.job.Site.Points = append(y.job.Site.Points, site.Point{Name: n, Role: site.RoleBend})
	y.plan.Points = append(y.plan.Points, adjust.Point{Name: n, Role: site.RoleBend, At: v, Placed: true, Sigma: adjust.Sigma{East: y.sd, North: y.sd}})
	return n
}

func (y *yard) part(n site.Name, k site.PartKind, v planar.Vec) *site.Part {
	y.point(n, v)
	y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: n, Kind: k})
	return &y.job.Site.Parts[len(y.job.Site.Parts)-1]
}

func (y *yard) line(n site.Name, k site.LineKind, width unit.Length, places ...planar.Vec) *site.Line {
	y.job.Site.Lines = append(y.job.Site.Lines, site.Line{Name: n, Kind: k, Path: y.put(places...), TrenchWidth: width})
	return &y.job.Site.Lines[len(y.job.Site.Lines)-1]
}

func (y *yard) feature(n site.Name, k site.FeatureKind, closed bool, places ...planar.Vec) *site.Feature {
	y.job.Site.Features = append(y.job.Site.Features, site.Feature{Name: n, Kind: k, Closed: closed, Points: y.put(places...)})
	return &y.job.Site.Features[len(y.job.Site.Features)-1]
}

func (y *yard) building(n site.Name, places ...planar.Vec) *site.Building {
	y.job.Site.Buildings = append(y.job.Site.Buildings, site.Building{Name: n, Corners: y.put(places...)})
	return &y.job.Site.Buildings[len(y.job.Site.Buildings)-1]
}

func box(w, s, e, n float64) []planar.Vec {
	return []planar.Vec{at(w, s), at(e, s), at(e, n), at(w, n)}
}

// example is a lot of 200 ft by 150 ft with a house, a tank, a box and one
// trench 60 ft long, 3 ft wide, with a well and a tree.
func example(sd unit.Length) *yard {
	y := &yard{sd: sd}
	y.feature("Lot", site.PropertyLine, true, box(0, 0, 200, 150)...)
	y.building("House", box(20, 20, 60, 50)...)
	tank := y.part("Tank", site.SepticTank, at(80, 40))
	tank.Length, tank.Width = ft(8), ft(5)
	y.part("D-box", site.DistributionBox, at(100, 40))
	y.line("Line 1", site.DrainLine, ft(3), at(104, 40), at(164, 40))
	y.feature("Well", site.Well, false, at(104, 140))
	y.feature("Oak", site.Tree, false, at(120, 60)).Trunk = ft(2)
	return y
}

// county is an invented rule pack.
func county() *rules.Pack {
	row := func(from, class string, tank, box, field float64) rules.SetbackRow {
		r := rules.SetbackRow{From: from, Class: class, Distances: map[rules.Column]unit.Length{
			rules.ToTank: ft(tank), rules.ToBox: ft(box), rules.ToField: ft(field)}}
		for c, d := range r.Distances {
			if d == 0 { // no rule
				delete(r.Distances, c)
			}
		}
		return r
	}
	lot := row("property line", "", 5, 5, 10)
	lot.Distances[rules.ToStructure] = ft(7)
	return &rules.Pack{Name: "county", Place: "an invented county", Setbacks: &rules.Setbacks{
		Source: rules.Source{Title: "An invented code", Section: "table 1", Year: "2020", Status: rules.Read},
		Rows: []rules.SetbackRow{
			lot, row("building", "", 5, 10, 20), row("well", "", 50, 50, 100), row("tree", "", 0, 0, 10),
			row("tank", "", 0, 0, 10),
		},
	}}
}

func find(t *testing.T, rows []setback.Row, part, from site.Name) setback.Row {
	t.Helper()
	for _, r := range rows {
		if r.Part.Name == part && r.From.Name == from {
			return r
		}
	}
	t.Fatalf("no row of %s from %s", part, from)
	return setback.Row{}
}

func near(a, b unit.Length) bool { return math.Abs(float64(a-b)) < 1e-9 }
