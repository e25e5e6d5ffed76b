package adjust_test

import (
	"fmt"
	"testing"

	"undersod/core/adjust"
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

// grid is a field of points with rough places, each tied to its neighbours and
// diagonals: about four readings per point, hung on two marks.
func grid(n int) *yard {
	y := newYard(13)
	side := 1
	for side*side < n {
		side++
	}
	y.put("M", site.RoleMark, at(-5, -15))
	y.put("N", site.RoleMark, at(45, -15))
	y.exact("M", "N")
	name := func(i int) site.Name { return site.Name(fmt.Sprintf("p%d", i)) }
	for i := range n {
		e, no := 20*float64(i%side), 20*float64(i/side)
		y.put(name(i), site.RolePart, at(e, no))
		y.job.Site.Points[len(y.job.Site.Points)-1].Rough = &site.Rough{
			From: "M", To: "N", Along: ft(e + 5 + 2), Right: ft(-no - 15 + 2)}
	}
	for i := range n {
		if i < 3 {
			y.exact("M", name(i))
			y.exact("N", name(i))
		}
		if i%side > 0 {
			y.exact(name(i-1), name(i))
		}
		if i >= side {
			y.exact(name(i-side), name(i))
			if i%side > 0 {
				y.exact(name(i-side-1), name(i))
			}
			if i%side < side-1 {
				y.exact(name(i-side+1), name(i))
			}
		}
	}
	return y
}

func BenchmarkGrowth(b *testing.B) {
	for _, n := range []int{10, 30, 100, 300, 1000, 3000} {
		b.Run(fmt.Sprintf("%d_points", n), func(b *testing.B) {
			y := grid(n)
			p := adjust.Solve(&y.job, adjust.Settings{SkipSearch: true, SkipNext: true})
			for _, q := range p.Points {
				if q.State != adjust.Determined {
					b.Fatalf("%s: %v %s", q.Name, q.State, q.Why)
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
