// Package absorb says how large a field and a tank are against what the
// household needs by a rule pack, and how often the tank wants pumping.
package absorb

import (
	"undersod/core/rules"
	"undersod/core/unit"
)

// Trench is one trench as built.
type Trench struct {
	Name     string
	Length   unit.Length
	LengthSD unit.Length
	Width    unit.Length // 0 when not known
	// WidthSD is one standard deviation. The widths of all trenches are taken to
	// be off together, as one bucket dug them.
	WidthSD    unit.Length
	StoneBelow unit.Length // under the pipe; 0 when not known
	OutOfUse   bool
}

// Question is what is to be judged.
type Question struct {
	Bedrooms, Persons int
	Measured          unit.Flow // by a meter; 0 when not measured
	Permitted         unit.Flow // the permit's own design flow; wins over the pack's; 0 when it states none
	PermittedBedrooms int       // that Permitted holds for; 0 for any number
	Grinder           bool
	Percolation       unit.Percolation
	Texture           string
	Structure         string
	Strength          string
	Loading           unit.Loading // the permit's own; wins over the pack's
	Trenches          []Trench
	Tank              unit.Volume // 0 when not known
	Say               unit.Style  // how the words print numbers
}

// Verdict is the answer of a comparison.
type Verdict string

// The verdicts.
const (
	Enough         Verdict = "enough"
	Short          Verdict = "short"
	TooCloseToCall Verdict = "too close to call" // within the measurement's own uncertainty
	CannotTell     Verdict = "cannot tell"
)

// Capacity is the answer.
type Capacity struct {
	Pack       string
	Flow       Flow
	Trenches   []TrenchArea
	Present    unit.Area // that counts
	PresentSD  unit.Area
	Required   Required
	Field      Verdict
	FieldWords string
	Tank       Tank
	Pumping    Pumping
	Missing    []string // what was not known, in words that say what to enter
}

// Flow is the design flow of a day.
type Flow struct {
	Daily    unit.Flow
	Basis    Basis
	Measured unit.Flow // beside it; 0 when not measured
	Words    string    // "3 bedrooms: 450 gpd"; names a measured flow and which of the two is used
	Source   rules.Source
	Known    bool
	ask      string // what to enter for a design flow, empty where it is known
}

// Basis is what a design flow was reckoned from.
type Basis string

// The bases.
const (
	ByBedrooms Basis = "bedrooms"
	ByPersons  Basis = "persons"
	ByPermit   Basis = "the permit"
	ByMeter    Basis = "the measured flow"
)

// TrenchArea is the area of one trench.
type TrenchArea struct {
	Name         string
	Bottom, Side unit.Area
	// Share is the part of the standard length that is enough with this depth of
	// stone: the allowance. Counted is the area of the counted faces divided by
	// it; 1 where there is no allowance.
	Share     float64
	Counted   unit.Area // 0 for a trench out of use
	CountedSD unit.Area
	Known     bool
	Words     string
}

// PermitLoading is the method where the permit states its own loading rate,
// which wins over any pack.
const PermitLoading rules.Method = "the permit's own loading rate"

// Decides ends every answer.
const Decides = "The local authority decides."

// Required is the area a rule wants.
type Required struct {
	Area    unit.Area
	Known   bool
	Guide   bool // outside of what the rule covers: shown beside, and no verdict
	Method  rules.Method
	Loading unit.Loading // where the method has one
	Words   string       // how it was reckoned, the method named
	Source  rules.Source
}

// Tank is the tank against its rule.
type Tank struct {
	Present, Required unit.Volume
	Verdict           Verdict
	Words             string
	Source            rules.Source
}

// Pumping is how often the tank wants pumping.
type Pumping struct {
	Known  bool
	Years  float64 // a grinder allowed for
	Table  float64 // years without a grinder
	Words  string
	Source rules.Source
}
