package planar

import (
	"math"

	"undersod/core/unit"
)

// Spread is the covariance of an uncertain place or step: the variances of its
// east and north parts and their covariance, in square metres.
type Spread struct {
	East, North, Joint unit.Area
}

// SpreadAlong returns the spread of a step along the direction u, one metre
// long, whose length has the standard deviation sd. With a u of another length
// the step is a number times u, and sd is that of the number.
func SpreadAlong(u Vec, sd unit.Length) Spread {
	e, n, v := float64(u.East), float64(u.North), float64(sd)*float64(sd)
	return Spread{unit.Area(e * e * v), unit.Area(n * n * v), unit.Area(e * n * v)}
}

// Plus returns the spread of the sum of two independent steps.
func (s Spread) Plus(t Spread) Spread {
	return Spread{s.East + t.East, s.North + t.North, s.Joint + t.Joint}
}

// Times returns s made f times as large.
func (s Spread) Times(f float64) Spread {
	return Spread{s.East * unit.Area(f), s.North * unit.Area(f), s.Joint * unit.Area(f)}
}

// Along returns the standard deviation of the part along u, one metre long.
func (s Spread) Along(u Vec) unit.Length {
	e, n := float64(u.East), float64(u.North)
	v := e*e*float64(s.East) + n*n*float64(s.North) + 2*e*n*float64(s.Joint)
	return unit.Length(math.Sqrt(math.Max(v, 0)))
}

// Total returns the sum of the variances, in square metres.
func (s Spread) Total() unit.Area { return s.East + s.North }

// Matrix is a linear map of the plane: East and North are the rows that make
// the east and the north part of the image.
type Matrix struct{ East, North Vec }

// Outer returns the map that takes x to a·(b·x), a plain number times a. The
// lengths of a and b are read as numbers of metres.
func Outer(a, b Vec) Matrix { return Matrix{b.Times(float64(a.East)), b.Times(float64(a.North))} }

// Plus returns the map that adds what m and o make.
func (m Matrix) Plus(o Matrix) Matrix { return Matrix{m.East.Plus(o.East), m.North.Plus(o.North)} }

// Times returns the map that makes f times what m makes.
func (m Matrix) Times(f float64) Matrix { return Matrix{m.East.Times(f), m.North.Times(f)} }

// Of returns the spread of the image under m of a step with the spread s: M S Mᵀ.
func (m Matrix) Of(s Spread) Spread {
	row := func(r Vec) (e, n float64) {
		return float64(r.East)*float64(s.East) + float64(r.North)*float64(s.Joint),
			float64(r.East)*float64(s.Joint) + float64(r.North)*float64(s.North)
	}
	ee, en := row(m.East)
	ne, nn := row(m.North)
	return Spread{
		East:  unit.Area(ee*float64(m.East.East) + en*float64(m.East.North)),
		North: unit.Area(ne*float64(m.North.East) + nn*float64(m.North.North)),
		Joint: unit.Area(ee*float64(m.North.East) + en*float64(m.North.North)),
	}
}

// Bound returns a spread that is not smaller, in any direction, than that of
// the sum of the given steps, however they depend on each other. For positive
// weights w that sum to 1, cov(Σx) ≤ Σ cov(x)/w, because (Σx)² ≤ Σ x²/w for
// every projection (Cauchy and Schwarz); weights in proportion to the root of
// each total make the total of the bound the square of the sum of those roots,
// which is reached where all steps move together.
func Bound(steps ...Spread) Spread {
	sum := 0.0
	for _, s := range steps {
		sum += math.Sqrt(math.Max(float64(s.Total()), 0))
	}
	var out Spread
	for _, s := range steps {
		if root := math.Sqrt(math.Max(float64(s.Total()), 0)); root > 0 {
			out = out.Plus(s.Times(sum / root))
		}
	}
	return out
}
