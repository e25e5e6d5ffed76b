// Package planar is the plane geometry of a site: points and vectors on the
// ground plane, east and north, and the distances and figures made of them.
package planar

import (
	"math"

	"undersod/core/unit"
)

// Vec is a point of the plane, or the step from one point to another, by its
// east and north parts.
type Vec struct {
	East, North unit.Length
}

// Plus returns the point reached from v by the step w.
func (v Vec) Plus(w Vec) Vec { return Vec{v.East + w.East, v.North + w.North} }

// Minus returns the step from w to v.
func (v Vec) Minus(w Vec) Vec { return Vec{v.East - w.East, v.North - w.North} }

// Times returns v made f times as long.
func (v Vec) Times(f float64) Vec {
	return Vec{v.East * unit.Length(f), v.North * unit.Length(f)}
}

// Dot returns the scalar product of v and w in square metres.
func (v Vec) Dot(w Vec) unit.Area {
	return unit.Area(v.East)*unit.Area(w.East) + unit.Area(v.North)*unit.Area(w.North)
}

// Cross returns the signed area of the parallelogram of v and w in square
// metres, positive when w lies to the left of v.
func (v Vec) Cross(w Vec) unit.Area {
	return unit.Area(v.East)*unit.Area(w.North) - unit.Area(v.North)*unit.Area(w.East)
}

// Length returns how long v is.
func (v Vec) Length() unit.Length {
	return unit.Length(math.Hypot(float64(v.East), float64(v.North)))
}

// Azimuth returns the direction of v clockwise from north, from 0 up to a full
// turn. The azimuth of the zero vector is 0.
func (v Vec) Azimuth() unit.Angle {
	return unit.Angle(math.Atan2(float64(v.East), float64(v.North))).Turn()
}

// Right returns v turned a quarter turn clockwise.
func (v Vec) Right() Vec { return Vec{v.North, -v.East} }

// Unit returns v made one metre long, and false where v has no direction.
func (v Vec) Unit() (Vec, bool) {
	l := v.Length()
	if l == 0 || math.IsInf(float64(l), 0) || math.IsNaN(float64(l)) {
		return Vec{}, false
	}
	return v.Times(1 / float64(l)), true
}

// Clockwise returns v turned clockwise about the origin by a.
func (v Vec) Clockwise(a unit.Angle) Vec {
	s, c := math.Sincos(float64(a))
	e, n := float64(v.East), float64(v.North)
	return Vec{unit.Length(e*c + n*s), unit.Length(-e*s + n*c)}
}

// Polar returns the step of length l in the direction azimuth.
func Polar(azimuth unit.Angle, l unit.Length) Vec {
	s, c := math.Sincos(float64(azimuth))
	return Vec{unit.Length(s) * l, unit.Length(c) * l}
}
