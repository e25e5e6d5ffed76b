package rules

import "undersod/core/unit"

// Column is what of a site a setback protects, or is kept from.
type Column string

// The columns of a setback table.
const (
	ToTank      Column = "tank"             // septic and pump tanks
	ToBox       Column = "distribution box" // drop boxes too
	ToField     Column = "field"            // drain lines, and the reserve area that is kept for one
	ToSewer     Column = "building sewer"
	ToPipe      Column = "effluent pipe" // from the tank on; pressure pipes too
	ToStructure Column = "structure"     // what the owner wants to build, as by zoning
)

// Columns returns every column, in the order of the documentation.
func Columns() []Column { return []Column{ToTank, ToBox, ToField, ToSewer, ToPipe, ToStructure} }

// Setbacks is how far the parts of a system must lie from things.
type Setbacks struct {
	Rows   []SetbackRow
	Source Source // of every row without its own
}

// SetbackRow is the distances from one thing. Several rows may speak of one
// thing: by its class, as a well that is private, public or for irrigation.
type SetbackRow struct {
	From      string // the thing in the words of a job: "well", "property line", "building", "tank"
	Class     string // of the thing; empty where the row holds for every class
	Distances map[Column]unit.Length
	Note      string
	Source    *Source // where it differs from the table's
}

// Asked is a distance that was looked up. Words tells in every case what holds:
// where there is no rule it says so.
type Asked struct {
	Known    bool
	Distance unit.Length
	Row      SetbackRow
	Source   Source
	Assumed  bool   // the class was not stated, and the strictest row was taken
	More     string // "more for a field from the class basement (20 ft), and none is stated"; Words end with it
	Words    string // "the class of the well is not stated: for a field the strictest of private (100 ft) and irrigation (25 ft)"
}

// LimitOn is what a limit bounds.
type LimitOn string

// The limits.
const (
	OnTrenchWidth  LimitOn = "trench width"
	OnTrenchLength LimitOn = "trench length"
	OnTrenchDepth  LimitOn = "trench depth" // of the bottom below the ground
	OnStoneBelow   LimitOn = "stone below the pipe"
	OnStoneAbove   LimitOn = "stone above the pipe"
	OnSpacing      LimitOn = "soil between trenches"          // edge to edge
	OnCentres      LimitOn = "middle to middle of trenches"   // of neighbouring ones
	OnTankToTrench LimitOn = "soil between tank and trench"   // edge to edge
	OnBoxLid       LimitOn = "depth of the box's lid"         // below the ground
	OnAccuracy     LimitOn = "accuracy of the record drawing" // 95 % radius of a located part
)

// LimitsOn returns everything that a limit may bound, in the order of the
// documentation.
func LimitsOn() []LimitOn {
	return []LimitOn{OnTrenchWidth, OnTrenchLength, OnTrenchDepth, OnStoneBelow, OnStoneAbove,
		OnSpacing, OnCentres, OnTankToTrench, OnBoxLid, OnAccuracy}
}

// Limit is a bound on how a system is built or recorded.
type Limit struct {
	On     LimitOn
	Least  unit.Length // 0 where there is none
	Most   unit.Length // 0 where there is none
	Note   string
	Source Source
}

// Checklist is what an authority wants to see on a record drawing.
type Checklist struct {
	Items  []Item
	Source Source
}

// Item is one thing that is wanted.
type Item struct {
	What   Wanted
	Words  string // as this authority means it, in our own words; empty where What says it
	Source *Source
}

// Wanted is a thing wanted on a record drawing.
type Wanted string

// The things.
const (
	WantTank       Wanted = "tank place"
	WantLids       Wanted = "lid openings"
	WantField      Wanted = "field ends"
	WantBends      Wanted = "pipe ends and bends"
	WantWells      Wanted = "wells"
	WantSoil       Wanted = "soil tests"
	WantBuildings  Wanted = "buildings"
	WantEasements  Wanted = "easements"
	WantLot        Wanted = "property lines with dimensions"
	WantWater      Wanted = "surface water"
	WantUtilities  Wanted = "water lines and utilities"
	WantDriveways  Wanted = "driveways and paving"
	WantNorth      Wanted = "north arrow"
	WantScale      Wanted = "scale"
	WantElevations Wanted = "elevations and bench mark"
	WantReserve    Wanted = "reserve area"
	WantPreparer   Wanted = "preparer and licence"
	WantSignature  Wanted = "signature"
	WantTies       Wanted = "measured ties to landmarks"
	WantDate       Wanted = "date"
	WantParcel     Wanted = "parcel or legal description"
	WantAddress    Wanted = "address"
	WantPermit     Wanted = "permit number"
	WantTitle      Wanted = "title"
	WantMaterials  Wanted = "materials"
	WantPhotos     Wanted = "photos"
	WantSettings   Wanted = "device settings"
	WantAccuracy   Wanted = "accuracy"
	WantHistory    Wanted = "pumping history"
	WantOther      Wanted = "something else" // told by Words alone
)

// AllWanted returns every thing, in the order of the documentation.
func AllWanted() []Wanted {
	return []Wanted{WantTank, WantLids, WantField, WantBends, WantWells, WantSoil, WantBuildings, WantEasements,
		WantLot, WantWater, WantUtilities, WantDriveways, WantNorth, WantScale, WantElevations, WantReserve,
		WantPreparer, WantSignature, WantTies, WantDate, WantParcel, WantAddress, WantPermit, WantTitle,
		WantMaterials, WantPhotos, WantSettings, WantAccuracy, WantHistory, WantOther}
}
