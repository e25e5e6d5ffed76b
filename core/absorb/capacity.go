// Package absorb says how large a field and a tank are against what the
// household needs by a rule pack, and how often the tank wants pumping.
package absorb

import (
	"undersod/core/rules"
	"undersod/core/unit"
)

// Trench is one trench as built.
type Trench struct {
	Name       string
	Length     unit.Length
	LengthSD   unit.Length
	Width      unit.Length // 0 when not known
	WidthSD    unit.Length
	StoneBelow unit.Length // under the pipe; 0 when not known
	OutOfUse   bool
}

// Question is what is to be judged.
type Question struct {
	Bedrooms, Persons int
	Measured          unit.Flow // by a meter; 0 when not measured
	Grinder           bool
	Percolation       unit.Percolation
	Texture           string
	Structure         string
	Strength          string
	Loading           unit.Loading // the permit's own; wins over the pack's
	Trenches          []Trench
	Tank              unit.Volume // 0 when not known
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
	Daily  unit.Flow
	Words  string // "3 bedrooms at 150 gal a day"
	Source rules.Source
	Known  bool
}

// TrenchArea is the area of one trench.
type TrenchArea struct {
	Name         string
	Bottom, Side unit.Area
	Share        float64 // of the standard length that this depth of stone stands for: the allowance
	Counted      unit.Area
	CountedSD    unit.Area
	Known        bool
	Words        string
}

// Required is the area a rule wants.
type Required struct {
	Area    unit.Area
	Known   bool
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
	Years  float64
	Words  string
	Source rules.Source
}
