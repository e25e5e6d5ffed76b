// Package rules holds rule packs: the numbers of one place for flow, field,
// tank, service lives, setbacks and limits, and what its authority wants on a
// record drawing, each with its source. The packs are data; a pack of the user's
// own is read the same way.
package rules

import "undersod/core/unit"

// Status says how far a number can be trusted.
type Status string

// The statuses.
const (
	Read           Status = "read"            // read in a copy of the source
	FromMemory     Status = "from memory"     // known, but the source was not at hand
	CommonPractice Status = "common practice" // of the trade, no source
	TheUser        Status = "the user's own"
)

// Source is where a number comes from.
type Source struct {
	Title, Section, Year string
	Status               Status
	Note                 string // what it depends on
}

// Pack is the rules of one place.
type Pack struct {
	Name  string // "washington"
	Place string // "Washington State"
	Words string // what it covers and what it leaves out
	Flow  *FlowRule
	Field *FieldRule
	Tank  *TankRule
	Lives []ServiceLife
	Looks []Interval // how often to look, by what
	// Setbacks and Limits are nil where the pack has none, and a Checklist that
	// was not read is too; one that was read has at least the common one.
	Setbacks  *Setbacks
	Limits    []Limit
	Checklist *Checklist

	borrowed bool // the checklist is the common one
}

// FlowRule is the design flow of a dwelling.
type FlowRule struct {
	PerBedroom unit.Flow
	PerPerson  unit.Flow         // 0 when the rule knows bedrooms only
	ByBedrooms map[int]unit.Flow // where the rule prints them; wins over PerBedroom
	EachMore   unit.Flow         // for each bedroom past the largest of ByBedrooms
	Least      unit.Flow
	Source     Source
}

// Counts is which faces of a trench count as absorption area.
type Counts string

// The ways.
const (
	CountBottom Counts = "bottom"
	CountSides  Counts = "sidewall"
	CountBoth   Counts = "bottom and sidewall"
)

// Method is how a rule turns soil and household into a required area. They are
// never derived from one another.
type Method string

// The methods.
const (
	AreaPerBedroom   Method = "area per bedroom by percolation time"
	RateFormula      Method = "rate formula by percolation time"
	LoadingByPerc    Method = "loading rate by percolation time"
	LoadingByTexture Method = "loading rate by soil texture"
)

// FieldRule is how a rule sizes a field.
type FieldRule struct {
	Method     Method
	Counts     Counts
	SideFeet   unit.Length      // height of the sidewall that counts, where Counts has sides; 0 counts the stone below the pipe
	Ends       bool             // the sidewall of the two ends counts too, where Counts has sides
	Steps      []PercStep       // for AreaPerBedroom and LoadingByPerc, by rising percolation time
	Between    Between          // for times between two steps
	Textures   []TextureStep    // for LoadingByTexture
	Rate       unit.Loading     // for RateFormula: at 1 min/in; at t min/in it is Rate/sqrt(t)
	From       unit.Percolation // no row for faster soil; 0 when the rule states none
	TooFast    unit.Percolation // soil faster than this is unsuitable; 0 when the rule states none
	Unsuitable unit.Percolation // no trench above this time; 0 when the rule states none
	LeastFlow  unit.Flow        // the rule holds from this daily flow on; 0 when it states none
	MostFlow   unit.Flow        // and up to this one; 0 when it states none
	Allowance  *StoneAllowance
	Source     Source
}

// Between is what holds for a percolation time between two steps.
type Between string

// The ways.
const (
	NextSlower  Between = "the next slower step" // bands: up to and including the step
	Interpolate Between = "between the steps in proportion"
)

// PercStep is one row by percolation time.
type PercStep struct {
	UpTo       unit.Percolation
	Texture    string       // the row is for this soil texture alone; empty for any
	PerBedroom unit.Area    // for AreaPerBedroom
	Loading    unit.Loading // for LoadingByPerc; other rules may print it beside their area
	Source     *Source      // where it differs from the rule's
}

// TextureStep is one row by soil texture. The first row that fits holds.
type TextureStep struct {
	Texture   string       // "sandy loam"; "any" for every texture
	Structure string       // empty for any
	Strength  string       // "weak", "moderate", "strong"; empty for any
	Loading   unit.Loading // 0: not suitable
	Source    *Source
}

// StoneAllowance is how deeper stone under the pipe shortens a field.
type StoneAllowance struct {
	Formula bool        // the old federal manual's: (w+2)/(w+1+2d), w and d in feet
	Steps   []StoneStep // otherwise
	Source  Source
}

// StoneStep is the share of the standard area needed from a depth of stone on.
type StoneStep struct {
	From  unit.Length
	Share float64
}

// TankRule is the least working capacity of a septic tank.
type TankRule struct {
	Steps    []TankStep  // by rising bedrooms; empty where only the least is known
	EachMore unit.Volume // for each bedroom past the last step; 0 when the rule has no row there
	Least    unit.Volume // of any tank; 0 when the rule states none
	Source   Source
}

// TankStep is one row.
type TankStep struct {
	UpToBedrooms int
	Capacity     unit.Volume
}

// ServiceLife is how long something commonly lasts.
type ServiceLife struct {
	What       string // "concrete tank", "distribution box", "field"
	LeastYears float64
	MostYears  float64
	Source     Source
}

// Interval is how often something is to be done.
type Interval struct {
	What   string // "look at the tank", "look at the box"
	Months int
	Source Source
}
