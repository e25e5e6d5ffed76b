// Package setback brings a plan and a rule pack together: how far every part
// lies from everything a rule names, where a footprint may stand, what the
// authority wants on the drawing, and what planned bedrooms ask for. The
// permit's own distances win over a pack's.
package setback

import (
	"undersod/core/absorb"
	"undersod/core/bounds"
	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// Verdict is the answer of a distance against its rule, and LimitRow one measured
// thing against a limit of the pack.
type (
	Verdict  = bounds.Verdict
	LimitRow = bounds.Row
)

// The verdicts.
const (
	Clear    = bounds.Clear
	Short    = bounds.Short
	TooClose = bounds.TooClose // or not located
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
	Advice   string // what would narrow a distance that is too close to call
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

	Proposed []Stands // what is proposed, at its stated place
	Clashes  []string // buried things that lie one on the other
	Lotless  bool     // a rule speaks of the property line, and none is located
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

// Named names what is asked with its size, where it has one.
func (q *Question) Named() string {
	if q.Size == "" {
		return q.Name
	}
	return q.Name + ", " + q.Size
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
	Lot      bool   // Thing is the outline of the lot
	Ruled    bool   // false where no rule asks for a distance: it is only kept from being built over
	Proposed bool   // Thing is something else that the owner wants to build
	Advice   string // what would narrow a distance that is too close to call

	obstacle int // its place among the obstacles of the ground
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
	Sure     *clearance.Found     // where the stated place, or the one nearest to the wish, is not clear: the nearest that is, whatever the uncertainty; nil where there is none
	LeftOut  []string             // what it must keep away from and is not located
	Others   []Stands             // what else is proposed, at its stated place
	Verdict  Verdict              // of the stated place, or of the best one
	Words    []string             // the answer in sentences, the joined one on bedrooms last
	Missing  []string             // what was not known, and what to enter
	Caution  []string             // what was taken for granted
}

// Stands is something proposed at its stated place.
type Stands struct {
	Thing   Thing
	Size    string       // empty for a well
	Outline []planar.Vec // its corners; one for a well
	Verdict Verdict
	Words   string // what it breaks or comes too close to there; empty where nothing
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
