// Package judge brings what was measured and seen together into judgements:
// the box and its split, the field against the house, the permit against the
// ground, the condition, and what to do next.
package judge

import (
	"undersod/core/absorb"
	"undersod/core/calendar"
	"undersod/core/hydraulic"
	"undersod/core/level"
	"undersod/core/look"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/storage"
	"undersod/core/unit"
)

// Judgement is everything that is judged of one visit.
type Judgement struct {
	Pack       string // name of the rule pack
	Runs       []look.Run
	Parts      []look.Finding // at parts
	Levels     Levels
	Boxes      []Box
	Storage    *Storage // nil when too little is known; Missing says what
	Capacity   absorb.Capacity
	Added      *absorb.Capacity // with the bedrooms that are planned; nil when none is
	AddedRooms int
	AddedWords string // what they change
	Permit     []Comparison
	Old        *OldDrawing // nil when no old drawing was entered
	Lives      []Life
	Actions    []Action // what matters first
	Fine       []string // what was looked at and is well, in words
	Reminders  []Reminder
	Missing    []string       // what could not be judged, and what to enter
	Problems   []site.Problem // readings that cannot be right
}

// Levels is what the rod says.
type Levels struct {
	Heights  []level.Height
	Readings []level.Reading
	Closures []level.Closure
	Falls    []level.Fall
	Words    string   // how far the rods check each other
	Carries  []string // what pipes that fall can carry full
}

// Box is one opened box.
type Box struct {
	level.Box
	Openings    []hydraulic.Opening // as given to the split, in the order of Outlets
	Splits      []NamedSplit
	Correction  *hydraulic.Correction // for shares by the area of each line
	Level       *hydraulic.Correction // for equal shares, as published rules ask
	Sensitivity []hydraulic.Sensitivity
	SpreadWords string   // the measured spread and the split it makes; never a pass or a fail
	Missing     []string // why there is no split
}

// NamedSplit is a split at one inflow.
type NamedSplit struct {
	Name  string // "daily average", "surge"
	Words string // where the inflow comes from
	Split hydraulic.Split
}

// AskedFor names the split at an inflow of the user's own.
const AskedFor = "asked for"

// Storage is the routed day of the field, as it is and with each line out of
// use in turn.
type Storage struct {
	Run         storage.Run
	Now         storage.Result
	Without     []Without
	Assumptions []string
	Words       []string // which line ponds to its top, and when
}

// Without is the routed day with one line taken out of use.
type Without struct {
	Line   site.Name
	Result storage.Result
}

// Agreement is the answer of a comparison with the permit.
type Agreement string

// The answers.
const (
	Agrees     Agreement = "agrees"
	Differs    Agreement = "differs"
	CannotTell Agreement = "cannot tell"
)

// Comparison is one line of the permit against what was measured.
type Comparison struct {
	What     string // "length of Line 3"
	Claimed  string // as the job prints it
	Measured string // empty when it was not measured
	Off      string // measured minus claimed, empty where there is no number
	Within   string // 95 % uncertainty of the measurement
	Answer   Agreement
	Words    string
}

// OldDrawing is an old drawing laid over the plan.
type OldDrawing struct {
	Scale  float64     // drawing units per metre
	Misfit unit.Length // root mean square over the points that both know
	Points []OldPoint
	Words  string
}

// OldPoint is a point of the old drawing, laid over the plan.
type OldPoint struct {
	Name    site.Name
	At      planar.Vec  // where the old drawing puts it
	Control bool        // a mark that lays the drawing over
	Off     unit.Length // from where it was measured
	Radius  unit.Length // 95 % search circle about At
	Answer  Agreement
	Words   string
}

// Life is the age of something against how long it commonly lasts.
type Life struct {
	What      site.Name
	Kind      string
	Installed string
	Years     float64 // of age at the visit
	Least     float64
	Most      float64
	Words     string
	Source    rules.Source
}

// Urgency is when something should be done.
type Urgency uint8

// The urgencies.
const (
	Now     Urgency = iota // before the hole is filled, or before the system is used
	Soon                   // matters: within weeks
	CanWait                // at the next visit
)

// Action is something to do.
type Action struct {
	Urgency Urgency
	What    string // for the owner, plain
	Why     string
	By      calendar.Date // zero when no date can be given
	About   []site.Name   // lines and parts
}

// Reminder is a date to remember.
type Reminder struct {
	Key   string // stable, as "pump-tank"
	On    calendar.Date
	Words string
	Why   string
}
