// Package level turns level rod readings and depths into heights with their
// uncertainty, checks that they close, and says how pipes fall and how a box is
// tipped.
package level

import (
	"undersod/core/site"
	"undersod/core/unit"
)

// Key is one height that can be known: of what the rod stood on, at a point.
type Key struct {
	Point site.Name
	On    site.RodOn
}

// Height is one adjusted height over the first of its group.
type Height struct {
	Key
	At, SD unit.Length
	Group  int // only heights of one group can be compared
}

// Reading is one rod reading or depth against the adjusted heights.
type Reading struct {
	ID         site.ReadingID
	Words      string
	Residual   unit.Length // adjusted minus read
	SD         unit.Length
	Standard   float64 // standardized residual; 0 where nothing checks it
	Redundancy float64
	Flagged    bool
	Place      site.Place
}

// Closure is a loop of set-ups that comes back to where it began.
type Closure struct {
	Through   []site.Name // set-ups, in order
	Misclosed unit.Length
	Allowed   unit.Length // 95 % of what the readings' own deviations allow
	Closes    bool
	Words     string
}

// Fall is how a pipe runs.
type Fall struct {
	Line     site.Name
	From, To site.Name   // points of its path whose inverts are known
	Drop     unit.Length // from From down to To; negative runs backwards
	DropSD   unit.Length
	Run      unit.Length // along the plan
	RunKnown bool
	Slope    float64 // drop per run; meaningful when RunKnown
	SlopeSD  float64
	Way      Way
	Words    string // "falls 3 1/4\" in 22' (0.15 in/ft, 1.2 %)"
}

// Way is which way a pipe falls, as far as the readings can tell.
type Way string

// The ways.
const (
	Falls     Way = "falls"
	Level     Way = "level" // not told from level
	Backwards Way = "runs backwards"
)

// Outlet is one opening of a box with its level.
type Outlet struct {
	Line  site.Name
	Known bool
	At    unit.Length // invert over the lowest known invert of the box's outlets
	SD    unit.Length // against that lowest one
}

// Tilt is the plane through a box's outlets or rim.
type Tilt struct {
	Known   bool
	Why     string // why it is not known
	By      string // "outlets" or "rim"
	Slope   float64
	SlopeSD float64
	// Toward is the way it goes down, clockwise from the direction across the
	// box from its inlet wall to the far one.
	Toward   unit.Angle
	Words    string      // "falls 1/4\" across the box toward the right wall"
	Residual unit.Length // largest distance of an outlet from the plane
}

// Box is the levels of one opened box.
type Box struct {
	Part    site.Name
	Outlets []Outlet
	Spread  unit.Length  // highest minus lowest known outlet
	Inlet   *Outlet      // At over the lowest outlet; nil when not known
	Lid     *unit.Length // underside over the lowest outlet
	Floor   *unit.Length // over the lowest outlet: negative below it
	Water   *unit.Length // standing water over the lowest outlet
	Tilt    Tilt
	Words   []string // what should be looked at, as an outlet higher than the inlet
}
