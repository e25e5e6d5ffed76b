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
// trench: a strip with flat ends, round at the outside of its bends.
type Shape struct {
	Points    []planar.Vec
	Closed    bool
	Radius    unit.Length // of a disc
	HalfWidth unit.Length // of a strip
}

// Spot is a place on a shape: the share Along of the way from point From to
// point To of the shape's Points, and then off it by a disc's radius or a
// strip's half width. From and To are equal at a corner.
type Spot struct {
	At       planar.Vec
	From, To int
	Along    float64 // 0 to 1
}

// Gap is how far apart two shapes are.
type Gap struct {
	Distance unit.Length // 0 where they touch or overlap
	Overlap  bool        // their insides meet
	From, To Spot        // the nearest places, on the first and on the second shape
}

// Obstacle is a shape that the footprint must keep away from.
type Obstacle struct {
	Name    string
	Shape   Shape
	Setback unit.Length // at least 0
}

// Ground is where a footprint may stand at all.
type Ground struct {
	Lot       []planar.Vec // the property's outline, in either order, not self-crossing; none is everywhere near the obstacles
	Setback   unit.Length  // from its edges
	Obstacles []Obstacle
}

// LotName names the lot's outline among the margins.
const LotName = "the property line"

// Footprint is a convex outline about its reference point, the centre, with
// its length to the north before it is turned. One corner is a spot without
// size, as of a well.
type Footprint struct{ Corners []planar.Vec }

// Region is where the footprint's centre may lie at one turn: pieces with holes,
// counterclockwise outside and clockwise holes. Arcs are drawn as straight sides
// that touch them and whose corners miss them by at most Tolerance, always on the
// safe side: no point of the region breaks a setback. A Band is such a region
// too, with all that is near the shapes inside.
type Region struct {
	Pieces    []Piece
	Area      unit.Area
	Tolerance unit.Length
}

// Piece is one connected part of a region.
type Piece struct {
	Outer planar.Ring
	Holes []planar.Ring
}

// Placement is a footprint standing somewhere.
type Placement struct {
	At   planar.Vec
	Turn unit.Angle // clockwise from its unturned position: the azimuth of its length
}

// Margin is how much farther than its setback a footprint stands from one
// thing; negative breaks it. Where the two overlap it counts how deep.
type Margin struct {
	Name     string // of the obstacle; LotName for the lot
	Obstacle int    // its place among the obstacles; -1 for the lot
	Margin   unit.Length
	Gap      Gap // from the footprint to the thing
}

// TurnArea is the size of the allowed region at one turn.
type TurnArea struct {
	Turn unit.Angle
	Area unit.Area
}

// Turns is which turns are allowed: from From to To by Step, both ends
// included, or From alone where Step is 0.
type Turns struct{ From, To, Step unit.Angle }

// Found is a place that was looked for and how it was found.
type Found struct {
	Placement
	Fits     bool        // false where the footprint fits nowhere: the placement is then the one that breaks least, to Within
	Margins  []Margin    // smallest first
	Moved    unit.Length // from the place wished for or stated; 0 without one
	Searched int         // turns that were tried
	Within   unit.Length // how much better another place can be at most: its smallest margin larger, or nearer to the wish where it fits
}
