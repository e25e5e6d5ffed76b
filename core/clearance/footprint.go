package clearance

import (
	"fmt"
	"math"
	"slices"

	"undersod/core/planar"
	"undersod/core/unit"
)

// Rectangle is a footprint about its middle, its length to the north. Both sizes
// must be finite and above zero.
func Rectangle(length, width unit.Length) (Footprint, error) {
	if !positive(length) || !positive(width) {
		return Footprint{}, fmt.Errorf("a footprint needs a length and a width above zero, for example 12 ft by 6 ft")
	}
	l, w := length/2, width/2
	return Footprint{[]planar.Vec{{East: -w, North: -l}, {East: w, North: -l}, {East: w, North: l}, {East: -w, North: l}}}, nil
}

// Point is a footprint without size, as of a well.
func Point() Footprint { return Footprint{[]planar.Vec{{}}} }

// Convex is a footprint of any convex outline, its corners measured from the
// reference point, in either order; they are kept counterclockwise.
func Convex(corners []planar.Vec) (Footprint, error) {
	if len(corners) < 3 {
		return Footprint{}, fmt.Errorf("a footprint needs at least 3 corners, and has %d", len(corners))
	}
	for i, c := range corners {
		if !finite(c.East) || !finite(c.North) {
			return Footprint{}, fmt.Errorf("corner %d of the footprint is not a number: give its east and north", i+1)
		}
	}
	c := slices.Clone(corners)
	if c[1].Minus(c[0]).Cross(c[2].Minus(c[0])) < 0 {
		slices.Reverse(c)
	}
	if !leftOfAll(c) {
		return Footprint{}, fmt.Errorf("the footprint is not convex, or has no size, or repeats a corner or puts one on a straight side: give the corners in order around it")
	}
	return Footprint{c}, nil
}

// leftOfAll asks every corner against every side, so that a star, which turns
// the same way at each corner, is not taken for convex.
func leftOfAll(c []planar.Vec) bool {
	for i := range c {
		side := c[(i+1)%len(c)].Minus(c[i])
		for k := 2; k < len(c); k++ {
			if !(side.Cross(c[(i+k)%len(c)].Minus(c[i])) > 0) {
				return false
			}
		}
	}
	return true
}

// Placed is the footprint's outline where it stands.
func (f Footprint) Placed(p Placement) Shape {
	s := Shape{Closed: true, Points: make([]planar.Vec, len(f.Corners))}
	for i, c := range f.Corners {
		s.Points[i] = c.Clockwise(p.Turn).Plus(p.At)
	}
	return s
}

func finite(l unit.Length) bool   { return !math.IsNaN(float64(l)) && !math.IsInf(float64(l), 0) }
func positive(l unit.Length) bool { return finite(l) && l > 0 }
