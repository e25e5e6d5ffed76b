package adjust_test

import (
	"fmt"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// benchmarkYard has 25 points and 80 readings: the demo's kind with more parts.
func benchmarkYard() *yard {
	y := newYard(11)
	y.house(1)
	y.put("Pole", site.RoleMark, at(72, -52), site.Side{Kind: site.Outside, From: "C", To: "D"})
	for _, m := range []site.Name{"B", "C", "D", "E"} {
		y.exact(m, "Pole")
	}
	marks := []site.Name{"F", "E", "D", "C", "Pole"}
	for i := range 18 {
		name := site.Name(fmt.Sprintf("part %d", i+1))
		y.put(name, site.RolePart, at(float64(-30+7*(i%9)), float64(-20-14*(i/9))), lawn)
		for k := range 4 {
			y.exact(marks[(i+k)%5], name)
		}
	}
	y.exact("A", "part 1")
	y.exact("A", "part 9")
	y.exact("A", "part 10")
	y.exact("A", "part 18")
	return y
}

func BenchmarkSolveFromReadings(b *testing.B) {
	y := benchmarkYard()
	b.ReportAllocs()
	for b.Loop() {
		adjust.Solve(&y.job, adjust.Settings{SkipSearch: true, SkipNext: true})
	}
}

func BenchmarkSolveNear(b *testing.B) {
	y := benchmarkYard()
	near := adjust.Solve(&y.job, adjust.Settings{SkipSearch: true, SkipNext: true})
	b.ReportAllocs()
	for b.Loop() {
		adjust.Solve(&y.job, adjust.Settings{Near: near, SkipSearch: true, SkipNext: true})
	}
}

func BenchmarkSolveWithSearch(b *testing.B) {
	y := benchmarkYard()
	r := y.job.Visit.Readings[30].(site.Tie)
	spoil(y, r.ID, sixteenth(r.Read.Length+unit.Foot))
	b.ReportAllocs()
	for b.Loop() {
		adjust.Solve(&y.job, adjust.Settings{SkipNext: true})
	}
}

func BenchmarkSolveWithNextReading(b *testing.B) {
	y := benchmarkYard()
	b.ReportAllocs()
	for b.Loop() {
		adjust.Solve(&y.job, adjust.Settings{SkipSearch: true})
	}
}

// village is a street of yards of the demo's kind, each house tied to the next
// by four tapes: 25 points and about 90 readings a yard.
func village(points int) *yard {
	y := newYard(13)
	y.job.Site.Points = nil
	for k := 0; len(y.job.Site.Points) < points; k++ {
		y.plot(k, points)
	}
	return y
}

// plot adds house number k of the village and what lies behind it.
func (y *yard) plot(k, points int) {
	name := func(s string) site.Name { return site.Name(fmt.Sprintf("%s%d", s, k)) }
	corners := []site.Name{name("A"), name("B"), name("C"), name("D"), name("E"), name("F")}
	shift := at(110*float64(k), 0)
	places := []planar.Vec{at(0, 28), at(44, 28), at(44, -12), at(30, -12), at(30, 0), at(0, 0)}
	b := site.Building{Name: name("House"), Corners: corners, Turns: []site.BuildingTurn{1, 1, 1, 1, -1, 1}}
	for i, c := range corners {
		var sides []site.Side
		if k > 0 {
			sides = []site.Side{{Kind: site.Outside, From: site.Name(fmt.Sprintf("B%d", k-1)), To: site.Name(fmt.Sprintf("C%d", k-1))}}
		}
		y.put(c, site.RoleCorner, places[i].Plus(shift), sides...)
		d := places[i].Minus(places[(i+1)%6]).Length()
		b.Sides = append(b.Sides, sixteenth(d+adjust.SideDeviation*unit.Length(y.rand.NormFloat64())))
	}
	y.job.Site.Buildings = append(y.job.Site.Buildings, b)
	if k > 0 {
		for _, from := range []string{"B", "C"} {
			y.exact(site.Name(fmt.Sprintf("%s%d", from, k-1)), name("A"))
			y.exact(site.Name(fmt.Sprintf("%s%d", from, k-1)), name("F"))
		}
	}
	behind := site.Side{Kind: site.Outside, From: name("E"), To: name("F")}
	marks := []site.Name{name("F"), name("E"), name("D"), name("C")}
	for i := 0; i < 19 && len(y.job.Site.Points) < points; i++ {
		part := name(fmt.Sprintf("part %d.", i+1))
		y.put(part, site.RolePart, at(float64(-30+7*(i%10)), float64(-20-14*(i/10))).Plus(shift), behind)
		for _, m := range marks {
			y.exact(m, part)
		}
	}
}

func BenchmarkGrowth(b *testing.B) {
	for _, n := range []int{10, 30, 100, 300, 1000, 3000} {
		b.Run(fmt.Sprintf("%d_points", n), func(b *testing.B) {
			y := village(n)
			p := adjust.Solve(&y.job, adjust.Settings{SkipSearch: true, SkipNext: true})
			for _, q := range p.Points {
				if off := q.At.Minus(y.aligned(p.Frame, y.truth[q.Name])).Length(); q.State != adjust.Determined || off > 4*q.Ellipse.Radius+unit.Inch {
					b.Fatalf("%s: state %v, %v m off", q.Name, q.State, off)
				}
			}
			b.ReportMetric(float64(len(p.Readings)), "readings")
			b.ReportAllocs()
			for b.Loop() {
				adjust.Solve(&y.job, adjust.Settings{SkipSearch: true, SkipNext: true})
			}
		})
	}
}
