package hydraulic

import (
	"math"

	"undersod/core/unit"
)

// Section is the wetted part of a round pipe that runs partly full.
type Section struct {
	Area   unit.Area
	Top    unit.Length // width of the water's surface; 0 when empty or full
	Wetted unit.Length // perimeter that the water touches
	Radius unit.Length // hydraulic radius: area over wetted perimeter; 0 when empty
}

// PartFull returns the section of a pipe of inside diameter bore with water to
// depth over its lowest point, both in metres. With θ half the angle that the
// surface spans at the centre, cos θ = 1 − 2 depth/bore, the area is
// bore²/4 (θ − sin θ cos θ), the top width bore sin θ, the wetted perimeter
// bore θ (plane geometry; Chow, Open-Channel Hydraulics, 1959, table 2-1, from
// memory). A depth below zero or above the bore is an error, and so is a bore
// outside 1 mm to 10 m.
func PartFull(bore, depth unit.Length) (Section, error) {
	if err := checkBore("the pipe", bore); err != nil {
		return Section{}, err
	}
	if err := checkDepth(bore, depth); err != nil {
		return Section{}, err
	}
	d, y := float64(bore), float64(depth)
	if y == 0 {
		return Section{}, nil
	}
	half := halfAngle(y / d)
	area, wetted := d*d*unitArea(half), d*half
	return Section{
		Area:   unit.Area(area),
		Top:    unit.Length(2 * math.Sqrt(y*(d-y))),
		Wetted: unit.Length(wetted),
		Radius: unit.Length(area / wetted),
	}, nil
}

// halfAngle returns half the angle that the surface spans at the centre of a
// pipe filled to the given share of its bore: 0 when empty, π when full.
func halfAngle(filled float64) float64 { return 2 * math.Asin(math.Sqrt(filled)) }

// filledTo is the inverse of halfAngle.
func filledTo(half float64) float64 {
	s := math.Sin(half / 2)
	return s * s
}

// unitArea returns the wetted area of a pipe of bore 1.
func unitArea(half float64) float64 { return angleLessSine(half, math.Sin(half), math.Cos(half)) / 4 }

// angleLessSine returns θ − sin θ cos θ. Below half a radian the difference is
// taken term by term, since the leading terms cancel: with x = 2θ it is
// (x − sin x)/2, and the first term left out, x¹⁹/19!, is under 1e-17.
func angleLessSine(half, sin, cos float64) float64 {
	if half >= 0.5 {
		return half - sin*cos
	}
	x := 2 * half
	xx := x * x
	sum := 1.0
	for n := 16.0; n >= 4; n -= 2 {
		sum = 1 - sum*xx/(n*(n+1))
	}
	return x * xx / 12 * sum
}

// rising finds where a rising function is zero between low and high: Newton's
// steps from start, halving the bracket where one leaves it. f returns the
// value and its slope.
func rising(f func(x float64) (value, slope float64), low, high, start float64) float64 {
	x := start
	if !(x > low && x < high) {
		x = low + (high-low)/2
	}
	for range 200 {
		v, slope := f(x)
		switch {
		case v > 0:
			high = x
		case v < 0:
			low = x
		default:
			return x
		}
		next := x - v/slope
		if !(next > low && next < high) {
			next = low + (high-low)/2
		}
		if math.Abs(next-x) <= 2e-16*x {
			return next
		}
		x = next
	}
	return x
}
