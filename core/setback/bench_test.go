package setback_test

import (
	"fmt"
	"testing"

	"undersod/core/adjust"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

// BenchmarkJudgeSolved is the same on a plan that was adjusted: the joint
// covariance of its points is solved for as well, about half of the time.
func BenchmarkJudgeSolved(b *testing.B) {
	y, pack := large(60)
	y.point("A", at(0, -200))
	y.point("B", at(100, -200))
	for _, p := range y.plan.Points {
		if p.Name == "A" || p.Name == "B" {
			continue
		}
		y.job.Visit.Readings = append(y.job.Visit.Readings, site.Offset{Taken: site.Taken{ID: site.ReadingID("o" + p.Name)}, From: "A", To: "B", Point: p.Name,
			Station: unit.Written{Text: "1", Length: p.At.East}, Right: unit.Written{Text: "-1", Length: -(p.At.North + ft(200))}})
	}
	y.job.Visit.Readings = append(y.job.Visit.Readings, site.Tie{Taken: site.Taken{ID: "t"}, From: "A", To: "B", Read: unit.Written{Text: "1", Length: ft(100)}})
	east := 90 * unit.Degree
	y.job.Datum = site.Datum{Kind: site.DatumBaseline, Mark: "A", Toward: "B", Azimuth: &east, North: ft(-200)}
	for i := range y.job.Site.Points {
		if n := y.job.Site.Points[i].Name; n == "A" || n == "B" {
			y.job.Site.Points[i].Role = site.RoleMark
		}
	}
	plan := adjust.Solve(&y.job, adjust.Settings{})
	b.ReportAllocs()
	for b.Loop() {
		t := setback.Judge(&y.job, plan, pack)
		if n := len(t.Rows); n < 400 || !t.Rows[0].Known {
			b.Fatalf("%d rows %q", n, t.Missing)
		}
	}
}

// BenchmarkJudge is 60 features against 8 parts.
func BenchmarkJudge(b *testing.B) {
	y, pack := large(60)
	b.ReportAllocs()
	for b.Loop() {
		if n := len(setback.Judge(&y.job, &y.plan, pack).Rows); n < 400 {
			b.Fatalf("%d rows", n)
		}
	}
}

func large(features int) (*yard, *rules.Pack) {
	y := &yard{sd: ft(0.1)}
	tank := y.part("Tank", site.SepticTank, at(80, 40))
	tank.Length, tank.Width = ft(8), ft(5)
	y.part("D-box", site.DistributionBox, at(100, 40))
	y.line("Sewer", site.BuildingSewer, 0, at(60, 40), at(76, 40))
	y.line("Pipe", site.EffluentPipe, 0, at(84, 40), at(100, 40))
	for i := range 4 {
		n := float64(30 + 9*i)
		y.line(site.Name(fmt.Sprint("Line ", i+1)), site.DrainLine, ft(3), at(104, n), at(130, n+1), at(164, n))
	}
	kinds := []site.FeatureKind{site.Well, site.Tree, site.Driveway, site.WaterLine, site.Pool, site.SurfaceWater}
	pack := &rules.Pack{Setbacks: &rules.Setbacks{Source: rules.Source{Title: "An invented code"}}}
	for i, k := range kinds {
		row := rules.SetbackRow{From: string(k), Distances: map[rules.Column]unit.Length{}}
		for _, c := range rules.Columns() {
			row.Distances[c] = ft(float64(5 + 10*i))
		}
		pack.Setbacks.Rows = append(pack.Setbacks.Rows, row)
	}
	for i := range features {
		e, n := float64(i%10)*40-100, float64(i/10)*40-80
		k := kinds[i%len(kinds)]
		switch name := site.Name(fmt.Sprint(k, i)); k {
		case site.Well, site.Tree:
			y.feature(name, k, false, at(e, n))
		case site.WaterLine:
			y.feature(name, k, false, at(e, n), at(e+30, n+5), at(e+32, n+30))
		default:
			y.feature(name, k, true, box(e, n, e+20, n+12)...)
		}
	}
	return y, pack
}
