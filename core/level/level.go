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
	Words      string      // "rod on the ground at lid from the porch"
	Written    string      // as written
	Why        string      // why it is not used, in words; empty when it is
	Residual   unit.Length // adjusted minus read
	SD         unit.Length
	Standard   float64 // standardized residual; 0 where nothing checks it
	Redundancy float64
	Detectable unit.Length // smallest slip that would be found; +Inf where nothing checks it
	Flagged    bool        // it disagrees, alone or as one of a group
	Place      site.Place
}

// Doubt is one wrong rod reading or depth, or a group of which one is wrong.
type Doubt struct {
	Readings []site.ReadingID // the likeliest first
	Located  bool             // whether one reading is named
	Misfit   unit.Length      // of the first: as written minus what the others say
	Words    string           // in full, with what may have gone wrong and what to do
}

// Closure is a loop of set-ups that comes back to where it began.
type Closure struct {
	Through   []site.Name // set-ups, in order
	By        []Key       // the point between each set-up and the next, the last back to the first
	Misclosed unit.Length
	Allowed   unit.Length // 95 % of what the readings' own deviations allow
	Closes    bool
	Words     string
}

// Fall is how a pipe runs.
type Fall struct {
	Line     site.Name
	From, To site.Name   // points of its path whose inverts are known
	Whole    bool        // from the first known invert of the line to the last
	Drop     unit.Length // from From down to To; negative runs backwards
	DropSD   unit.Length
	Run      unit.Length // along the plan
	RunKnown bool
	Slope    float64 // drop per run; meaningful when RunKnown
	SlopeSD  float64
	Way      Way
	Doubted  bool   // a rod reading of the same set is in doubt
	Words    string // "falls 3 1/4\" in 22' (0.15 in/ft, 1.2 %)"
}

// Way is which way a pipe falls, as far as the readings can tell.
type Way string

// The ways.
const (
	Falling   Way = "falls"
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
	OneWay   bool        // told along one direction only; what it does across that is not known
	Across   unit.Length // how much lower the low side of the box is than the high one
	AcrossSD unit.Length
	Told     bool        // from level, with 95 %
	Words    string      // "1/4\" lower at the right wall than at the left wall"
	Residual unit.Length // largest distance of an outlet, or of a rim's middle, from the plane
}

// Box is the levels of one opened box.
type Box struct {
	Part    site.Name
	Outlets []Outlet
	Spread  unit.Length // highest minus lowest known outlet
	// SpreadSD is that of Spread as a plain difference of those two.
	SpreadSD unit.Length
	Inlet    *Outlet      // At over the lowest outlet; nil when not known
	Lid      *unit.Length // underside over the lowest outlet
	Floor    *unit.Length // over the lowest outlet: negative below it
	Water    *unit.Length // standing water over the lowest outlet
	Tilt     Tilt
	Words    []string // what should be looked at, as an outlet higher than the inlet
	// Flooded says that water stands over an outlet beyond what the readings
	// leave open, InletLow that the inlet is not above the highest outlet; the
	// words tell each in one sentence and are not in Words.
	Flooded, InletLow        bool
	FloodedWords, InletWords string
}
