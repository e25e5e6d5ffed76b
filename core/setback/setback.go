// Package setback brings a plan and a rule pack together: how far every part
// lies from everything a rule names, where a footprint may stand, what the
// authority wants on the drawing, and what planned bedrooms ask for. The
// permit's own distances win over a pack's.
package setback

import (
	"undersod/core/absorb"
	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// Verdict is the answer of a distance against its rule.
type Verdict string

// The verdicts.
const (
	Clear    Verdict = "clear"
	Short    Verdict = "short"
	TooClose Verdict = "too close to call" // within the 95 % uncertainty of the margin, or not located
)

// Thing is one of the two sides of a row.
type Thing struct {
	Name  site.Name
	Kind  string // in the words of the job: "septic tank", "drain line", "well", "building"
	Class string // empty where it is not stated
}

// Row is one part against one thing that a rule names.
type Row struct {
	Part     Thing
	Column   rules.Column
	From     Thing
	Required unit.Length
	Measured unit.Length // 0 where they touch; outside the lot negative, by how far
	Known    bool        // false where either is not located: Measured, Margin and Gap are then empty
	Margin   unit.Length // Measured minus Required
	Within   unit.Length // 95 % uncertainty of the margin, and how far readings that disagree move it
	Verdict  Verdict
	Gap      clearance.Gap // from the part to the thing
	Words    string        // one sentence for a person, with the numbers as the job prints them
	Source   rules.Source
	Permit   bool   // Required is the permit's own
	Assumed  string // what was taken for granted, as the strictest class; empty where nothing was
	Note     string // of the rule
	Proposed bool   // From is something the owner wants to build
}

// LimitRow is one measured thing against a limit of the pack.
type LimitRow struct {
	What     string // "trench width of Line 1"
	On       rules.LimitOn
	Least    unit.Length // 0 where there is none
	Most     unit.Length // 0 where there is none
	Measured unit.Length
	Within   unit.Length // 95 %; 0 where it is not known
	Known    bool
	Verdict  Verdict // Clear is within the limit, Short is not; empty where it is not Known
	Words    string
	Source   rules.Source
}

// Table is every distance of a site against its rules.
type Table struct {
	Pack    string // name
	Place   string // where the pack holds
	Rows    []Row  // those that are short first, then those too close to call, then by rising margin
	Limits  []LimitRow
	NoRule  []string // "no rule in this pack for a distribution box from a pool"
	Missing []string // what could not be judged, and what to enter
	Kept    []Kept   // what the parts keep free of buildings, for drawing
}

// Kept is a part with the distance that a building must keep from it.
type Kept struct {
	Part  Thing
	Shape clearance.Shape
	By    unit.Length
}

// Turning is which turns a footprint may have.
type Turning struct {
	Free  bool       // any turn
	Fixed unit.Angle // azimuth of the length, where not Free
	Step  unit.Angle // of the turns tried where Free; 0 takes 1 degree
}

// Question is what is to be fitted.
type Question struct {
	Name      string           // "Workshop"
	Kind      site.FeatureKind // Structure, Pool, Well or Driveway
	Class     string
	Footprint clearance.Footprint
	Size      string // "24' x 16'", for words; empty for a well
	Turning   Turning
	TurnWords string               // "along A-B" where the job says so; empty prints the azimuth
	Stated    *clearance.Placement // where it shall stand, nil where the place is open
	Near      *planar.Vec          // where it is wished, nil for the freest place
	NearWords string               // "D-box"
	FromLot   *unit.Length         // nil takes what the setbacks say
	Bedrooms  int

	stood stood // what the stated place hangs on
}

// Limiting is one thing that a footprint keeps away from.
type Limiting struct {
	Thing    Thing
	Required unit.Length
	Margin   unit.Length // Measured minus Required; negative breaks it
	Measured unit.Length
	Within   unit.Length // 95 % uncertainty of the margin
	Verdict  Verdict
	Gap      clearance.Gap // from the footprint to the thing
	Words    string
	Source   rules.Source
	Permit   bool
	Assumed  string
	Lot      bool // Thing is the outline of the lot
}

// Fit is where a footprint may stand.
type Fit struct {
	Question Question
	Ground   clearance.Ground
	Region   clearance.Region     // at the placement's turn
	ByTurn   []clearance.TurnArea // one entry where the turn is fixed
	Best     clearance.Found      // the freest place, or the nearest one to the wish; with what breaks least where nothing fits
	Limits   []Limiting           // at Best, smallest margin first
	Stated   []Limiting           // at the stated place, smallest margin first
	Cure     *clearance.Found     // the smallest move that makes the stated place allowed; nil where it is, or where none does
	Verdict  Verdict              // of the stated place, or of the best one
	Words    []string             // the answer in sentences, the joined one on bedrooms last
	Missing  []string             // what was not known, and what to enter
	Caution  []string             // what was taken for granted
}

// Capacity is what planned bedrooms ask of field, tank and reserve area.
type Capacity struct {
	Rooms         int
	Now, Then     absorb.Capacity
	ReserveArea   unit.Area // ground of the reserve area; 0 where none is drawn
	ReserveNeeded unit.Area // ground that a whole replacement field would take; 0 where it cannot be told
	Reserve       absorb.Verdict
	Words         []string
}
