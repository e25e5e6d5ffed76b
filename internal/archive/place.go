package archive

import (
	"math"

	"undersod/core/unit"
)

// MeanRadius is the Earth's mean radius R1 (Moritz, Geodetic Reference System
// 1980, Journal of Geodesy 74, 2000: 6,371,008.7714 m). On a globe of this size
// a distance is wrong by at most about 0.6 %, which is enough to say what is
// near.
const MeanRadius = 6371008.7714 * unit.Metre

// Distance returns how far a place lies from where Near asks, along the ground
// of a round Earth (haversine formula: Sinnott, Virtues of the Haversine, Sky
// and Telescope 68, 1984). Every store uses it, so that all sort alike.
func (n Near) Distance(latitude, longitude unit.Angle) unit.Length {
	square := func(a float64) float64 { return a * a }
	p, q := n.Latitude.Radians(), latitude.Radians()
	h := square(math.Sin((q-p)/2)) + math.Cos(p)*math.Cos(q)*square(math.Sin((longitude-n.Longitude).Radians()/2))
	return unit.Length(2*math.Asin(math.Sqrt(min(1, max(0, h))))) * MeanRadius
}

// Box is a part of the map; West is never past East.
type Box struct{ South, North, West, East unit.Angle }

// Boxes returns one box or two (where the date line lies between) that hold
// every place within reach, for a store that looks for boxes first. Longitudes
// lie between -180° and 180°. A reach of 0 or less is the whole Earth.
func (n Near) Boxes() []Box {
	const slack = 1e-9 // radians, 6 mm; what rounding takes
	reach := n.Within.Metres()/MeanRadius.Metres() + slack
	south, north := n.Latitude.Radians()-reach, n.Latitude.Radians()+reach
	if !(n.Within > 0) || reach >= math.Pi {
		south, north = -math.Pi/2, math.Pi/2
	}
	if south <= -math.Pi/2 || north >= math.Pi/2 {
		return []Box{{unit.Angle(max(south, -math.Pi/2)), unit.Angle(min(north, math.Pi/2)), -math.Pi, math.Pi}}
	}
	half := math.Asin(min(1, math.Sin(reach)/math.Cos(n.Latitude.Radians()))) + slack
	return around(unit.Angle(south), unit.Angle(north), n.Longitude.HalfTurn().Radians(), half)
}

// around returns the boxes of a longitude and what lies beside it.
func around(south, north unit.Angle, middle, half float64) []Box {
	west, east := middle-half, middle+half
	box := func(w, e float64) Box { return Box{south, north, unit.Angle(w), unit.Angle(e)} }
	switch {
	case west < -math.Pi:
		return []Box{box(-math.Pi, east), box(west+2*math.Pi, math.Pi)}
	case east > math.Pi:
		return []Box{box(-math.Pi, east-2*math.Pi), box(west, math.Pi)}
	}
	return []Box{box(west, east)}
}
