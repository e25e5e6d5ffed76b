// Package unit holds the quantities of the trade as named types, and reads
// and prints them the way people in the field write them.
//
// Every quantity is kept in SI: a Length in metres, an Angle in radians, an
// Area in square metres, a Volume in cubic metres, a Flow in cubic metres per
// second. The foot is the international foot of exactly 0.3048 m; see
// docs/decisions for why the retired US survey foot is not used for tapes.
package unit

import "math"

// Length is a distance in metres.
type Length float64

// Units of length. Metre to Yard are exact; USSurveyFoot is the ratio
// 1200/3937 m, retired for new work in the United States at the end of 2022
// (NIST and NOAA, Federal Register 85 FR 62698, 2020).
const (
	Metre        Length = 1
	Centimetre   Length = 0.01
	Millimetre   Length = 0.001
	Foot         Length = 0.3048
	Inch         Length = Foot / 12
	Yard         Length = 3 * Foot
	USSurveyFoot Length = 1200.0 / 3937.0
)

// Metres returns l as a plain number of metres.
func (l Length) Metres() float64 { return float64(l) }

// Feet returns l as a plain number of international feet.
func (l Length) Feet() float64 { return float64(l / Foot) }

// Inches returns l as a plain number of inches.
func (l Length) Inches() float64 { return float64(l / Inch) }

// Abs returns the size of l without its sign, in metres.
func (l Length) Abs() Length { return Length(math.Abs(float64(l))) }

// Angle is a plane angle in radians. A direction is counted clockwise from
// north.
type Angle float64

// Degree is one degree of arc in radians.
const Degree Angle = math.Pi / 180

// Radians returns a as a plain number of radians.
func (a Angle) Radians() float64 { return float64(a) }

// Degrees returns a as a plain number of degrees.
func (a Angle) Degrees() float64 { return float64(a / Degree) }

// Turn returns a brought into the range from 0 up to (not including) one full
// turn.
func (a Angle) Turn() Angle {
	t := math.Mod(float64(a), 2*math.Pi)
	if t < 0 {
		t += 2 * math.Pi
	}
	if t >= 2*math.Pi { // a tiny negative angle rounds up to a whole turn
		t = 0
	}
	return Angle(t)
}

// HalfTurn returns a brought into the range above minus half a turn up to
// half a turn, the natural range of a difference of directions.
func (a Angle) HalfTurn() Angle {
	t := a.Turn()
	if t > math.Pi {
		t -= 2 * math.Pi
	}
	return t
}

// Area is an area in square metres.
type Area float64

// SquareFoot is one square foot in square metres, exact.
const SquareFoot Area = Area(Foot * Foot)

// Volume is a volume in cubic metres.
type Volume float64

// Units of volume. The US liquid gallon is 231 cubic inches, exact
// (NIST Handbook 44, Appendix C, 2024).
const (
	Litre  Volume = 0.001
	Gallon Volume = 231 * Volume(Inch*Inch*Inch)
)

// Flow is a volume per time in cubic metres per second.
type Flow float64

// Units of flow.
const (
	GallonPerMinute Flow = Flow(Gallon) / 60
	GallonPerDay    Flow = Flow(Gallon) / 86400
	LitrePerSecond  Flow = 0.001
)
