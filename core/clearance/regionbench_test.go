package clearance_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

// benchYard is a lot of 100 m x 80 m for every thirty features of three legs
// each, with setbacks of 1.5 to 6 m, and a workshop of 24 ft x 16 ft.
func benchYard(b testing.TB, features int) yard {
	rnd := rand.New(rand.NewPCG(21, 22))
	y := yard{Foot: rectangle(b, 24*0.3048, 16*0.3048), Turn: 0.4}
	size := math.Sqrt(float64(features) / 30)
	y.Ground = clearance.Ground{Lot: box(0, 0, 100*size, 80*size).Points, Setback: 3}
	for range features {
		s := clearance.Shape{Points: []planar.Vec{at(100*size*rnd.Float64(), 80*size*rnd.Float64())}}
		if rnd.IntN(2) == 0 {
			s.HalfWidth = 0.45
		}
		for len(s.Points) < 4 {
			s.Points = append(s.Points, s.Points[len(s.Points)-1].Plus(at(8*rnd.Float64()-4, 8*rnd.Float64()-4)))
		}
		y.Ground.Obstacles = append(y.Ground.Obstacles, clearance.Obstacle{Shape: s, Setback: unit.Length(1.5 + 4.5*rnd.Float64())})
	}
	return y
}

const benchTolerance = unit.Inch / 8

func benchmarkAllowed(b *testing.B, features int) {
	y := benchYard(b, features)
	b.ReportAllocs()
	for b.Loop() {
		r, err := clearance.Allowed(y.Ground, y.Foot, y.Turn, benchTolerance)
		if err != nil {
			b.Fatal(err)
		}
		if r.Area <= 0 {
			b.Fatal("nothing is allowed")
		}
	}
}

func BenchmarkAllowed(b *testing.B)     { benchmarkAllowed(b, 30) }
func BenchmarkAllowed1000(b *testing.B) { benchmarkAllowed(b, 1000) }

// BenchmarkAreaByTurn asks for every degree of half a turn.
func BenchmarkAreaByTurn(b *testing.B) {
	y := benchYard(b, 30)
	for b.Loop() {
		if _, err := clearance.AreaByTurn(y.Ground, y.Foot, clearance.Turns{To: 180 * unit.Degree, Step: unit.Degree}, benchTolerance); err != nil {
			b.Fatal(err)
		}
	}
}
