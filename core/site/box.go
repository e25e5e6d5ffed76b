package site

import "undersod/core/unit"

// Box is what was measured in an opened distribution box or drop box. Looking
// into it from the inlet, across the flow: near is the inlet's wall, then right,
// far, left clockwise as seen from above.
type Box struct {
	Part          Name          // a distribution box or a drop box
	Length, Width *unit.Written // inside, Length from near to far and Width from left to right
	Floor         *unit.Written // down from the level line to the floor
	Lid           *unit.Written // down from the level line to the lid's underside; negative when above it
	Inlet         *Opening
	Outlets       []Opening
	Rim           map[Edge]unit.Written // down from the level line to the middle of each wall's rim
	Water         *unit.Written         // down from the level line to standing water, nil when dry
	Place         Place
}

// Opening is one pipe opening of a box. Its level is known by Down, or by rod
// readings on the invert of the level point Rod; a nil Down and an empty Rod
// mean it was not measured.
type Opening struct {
	Line Name        // the line that leaves or arrives here
	Bore unit.Length // inside diameter; 0 when not known
	// Down is measured from a level line (water filled to one level, a levelled
	// straightedge, a line of sight) down to the invert: the more, the lower.
	Down *unit.Written
	Rod  Name         // level point whose invert the rod read
	SD   *unit.Length // of Down, nil for the default
	Wall Edge         // AnyEdge when not known
	// FromLeft is from the corner on the left, facing the wall from inside, to
	// the middle of the opening.
	FromLeft *unit.Written
	// Closed says that nothing can pass: capped or blocked.
	Closed bool
	// Narrowed is how much of the bore's area roots or sediment close, 0 to 1.
	Narrowed float64
	Note     string
	Place    Place
}

// LevelPoint is a point that only the level rod speaks of: a turning point, a
// bench mark off the plan, an opening of a box. It has a height and no place.
type LevelPoint struct {
	Name  Name
	Words string // what it is
	Place Place
}
