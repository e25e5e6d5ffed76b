package clearfile

import (
	"math"
	"slices"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

// Geometry is a geometry object of GeoJSON (RFC 7946, section 3.1), in plan
// metres. Coordinates nests by Type.
type Geometry struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

// position is east and north in metres.
type position [2]float64

func at(v planar.Vec) position { return position{metres(v.East), metres(v.North)} }

// Point is the geometry of one place.
func Point(v planar.Vec) Geometry { return Geometry{"Point", at(v)} }

// Line is the geometry of the line between two places.
func Line(a, b planar.Vec) Geometry { return Geometry{"LineString", []position{at(a), at(b)}} }

// Outline is the geometry of a footprint: a polygon, or a point where it has no
// size.
func Outline(corners []planar.Vec) Geometry {
	switch len(corners) {
	case 0:
		return Geometry{"Polygon", [][]position{}}
	case 1:
		return Point(corners[0])
	}
	return Geometry{"Polygon", [][]position{closed(corners, false)}}
}

// Pieces is the geometry of a region: outer rings counterclockwise, holes
// clockwise, each closed by its first position (RFC 7946, section 3.1.6).
func Pieces(pieces []clearance.Piece) Geometry {
	out := make([][][]position, 0, len(pieces))
	for _, p := range pieces {
		rings := [][]position{closed(p.Outer, false)}
		for _, h := range p.Holes {
			rings = append(rings, closed(h, true))
		}
		out = append(out, rings)
	}
	return Geometry{"MultiPolygon", out}
}

// closed is a ring turned the way it must be, its first position again at its
// end.
func closed(ring []planar.Vec, clockwise bool) []position {
	var twice unit.Area
	out := make([]position, 0, len(ring)+1)
	for i, v := range ring {
		twice += v.Minus(ring[0]).Cross(ring[(i+1)%len(ring)].Minus(ring[0]))
		out = append(out, at(v))
	}
	if (twice < 0) != clockwise {
		slices.Reverse(out)
	}
	if len(out) > 0 {
		out = append(out, out[0])
	}
	return out
}

// finite keeps JSON valid where a number has no end.
func finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) || v == 0 { // no negative zero either
		return 0
	}
	return v
}

func metres(l unit.Length) float64 { return finite(float64(l)) }

// degrees is an angle without the noise of its way through radians.
func degrees(a unit.Angle) float64 { return finite(math.Round(a.Degrees()*1e9) / 1e9) }

// some is a number that is left out where it is not known.
func some(known bool, v float64) *float64 {
	if !known || math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// each turns every item, and never gives null.
func each[T, U any](in []T, f func(T) U) []U {
	out := make([]U, 0, len(in))
	for _, x := range in {
		out = append(out, f(x))
	}
	return out
}

func list(in []string) []string { return each(in, func(s string) string { return s }) }
