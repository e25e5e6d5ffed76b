// Package clearance is the geometry of keeping apart: distances between the
// shapes of a plan, the region where a footprint may stand, and its best place.
// A setback is true to distance: round at every corner, the lot's reflex
// corners included. It knows nothing of rules and jobs.
package clearance

import (
	"undersod/core/planar"
	"undersod/core/unit"
)

// Shape is a thing on the ground plane: one point with a Radius is a disc, more
// points are a path, or an area where Closed. A path with a HalfWidth is a
// trench: a strip with flat ends.
type Shape struct {
	Points    []planar.Vec
	Closed    bool
	Radius    unit.Length // of a disc
	HalfWidth unit.Length // of a strip
}

// Gap is how far apart two shapes are.
type Gap struct {
	Distance unit.Length // 0 where they touch or overlap
	Overlap  bool
	From, To planar.Vec // the nearest points, on the first and on the second shape
}

// Obstacle is a shape that the footprint must keep away from.
type Obstacle struct {
	Name    string
	Shape   Shape
	Setback unit.Length // at least 0
}

// Ground is where a footprint may stand at all.
type Ground struct {
	Lot       []planar.Vec // the property's outline, in either order, not self-crossing
	Setback   unit.Length  // from its edges
	Obstacles []Obstacle
}

// Footprint is a convex outline about its reference point, the centre, with
// its length to the east before it is turned.
type Footprint struct{ Corners []planar.Vec }

// Region is where the footprint's centre may lie at one turn: pieces with holes,
// counterclockwise outside and clockwise holes. Arcs are drawn as chords whose
// middles miss them by at most Tolerance, always on the safe side: no point of
// the region breaks a setback.
type Region struct {
	Pieces    []Piece
	Area      unit.Area
	Tolerance unit.Length
}

// Piece is one connected part of a region.
type Piece struct {
	Outer []planar.Vec
	Holes [][]planar.Vec
}

// Placement is a footprint standing somewhere.
type Placement struct {
	At   planar.Vec
	Turn unit.Angle // clockwise from its unturned position
}

// Margin is how much farther than its setback a footprint stands from one
// thing; negative breaks it.
type Margin struct {
	Name   string // of the obstacle; "the property line" for the lot
	Margin unit.Length
	Gap    Gap // from the footprint to the thing
}

// TurnArea is the size of the allowed region at one turn.
type TurnArea struct {
	Turn unit.Angle
	Area unit.Area
}

// Turns is which turns are allowed: from From to To by Step, or From alone where
// Step is 0.
type Turns struct{ From, To, Step unit.Angle }

// Found is the best place and how it was found.
type Found struct {
	Placement
	Margins  []Margin // smallest first
	Moved    unit.Length // from the place wished for; 0 without one
	Searched int      // turns that were tried
}
