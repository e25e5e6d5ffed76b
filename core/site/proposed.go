package site

import "undersod/core/unit"

// Proposed is something the owner wants to build or drill: what it is, how
// large, and where, if that is decided.
type Proposed struct {
	Name Name
	Kind FeatureKind // Structure, Pool, Well or Driveway
	// Class tells rules more, as a feature's.
	Class   string
	Length  *unit.Written
	Width   *unit.Written
	Outline []Stake     // a convex outline in place of length and width: steps along its length and to the right of it
	At      *Stand      // where its middle shall stand; nil leaves the place open
	Near    Name        // a point, part, building or feature that it should stand near; empty for the freest place
	Along   *[2]Name    // its length runs along the line through these two points; wins over Turn
	Turn    *unit.Angle // azimuth of its length on the plan; nil with Along nil leaves the turn open
	// FromLot is how far it must stay from the property line; nil takes what the
	// setbacks say, and 0 where they say nothing.
	FromLot  *unit.Written
	Bedrooms int // it adds to what the system serves
	Place    Place
}

// Stake is a corner by steps along a direction and to the right of it.
type Stake struct{ Along, Right unit.Length }

// Stand is where the middle of something shall stand: at a point, or at a
// station along the line From-To and to the right of it.
type Stand struct {
	Point    Name // empty where From and To are given
	From, To Name
	Station  unit.Written
	Right    unit.Written // negative to the left
}

// Setbacks is the permit's own distances. They win over a rule pack's.
type Setbacks struct {
	Source string // "permit T-1996-0412"
	Rows   []SetbackRow
	Place  Place
}

// SetbackRow is the permit's distances from one thing, in the words of the
// rule packs; nil is not stated.
type SetbackRow struct {
	From  string // "well", "property line", "building"
	Class string // empty for every class
	// By column of the rule packs: "tank", "distribution box", "field",
	// "building sewer", "effluent pipe", "structure".
	Distances map[string]unit.Written
	Note      string
	Place     Place
}

// PlannedBedrooms returns how many bedrooms are planned: in the house and in what is
// proposed.
func (s *Site) PlannedBedrooms() int {
	n := s.Household.AddedBedrooms
	for _, p := range s.Proposed {
		n += p.Bedrooms
	}
	return n
}
