// Package comparefile turns the comparison of two visits into JSON: lengths in
// metres, directions in degrees, everything with the words that a person reads.
package comparefile

import "undersod/internal/checkfile"

// Document is what compare --json prints. Places are on the earlier plan.
type Document struct {
	Undersod int           `json:"undersod"` // 1
	Kind     string        `json:"kind"`     // "compare"
	Before   checkfile.Job `json:"before"`
	After    checkfile.Job `json:"after"`
	Summary  []string      `json:"summary"`
	Remarks  []string      `json:"remarks"`
	Overlay  Overlay       `json:"overlay"`
	Places   []Place       `json:"places"`
	Outlines []Outline     `json:"outlines"`
	Lines    []Line        `json:"lines"`
	Levels   Levels        `json:"levels"`
	Depths   []Number      `json:"depths"`
	Boxes    []Box         `json:"boxes"`
	Findings []Finding     `json:"findings"`
	Runs     []Run         `json:"camera_runs"`
	Since    []Care        `json:"done_since"`
	Facts    []Fact        `json:"facts"`
	Readings []Reading     `json:"readings"`
}

// Overlay is how the later plan lies over the earlier one.
type Overlay struct {
	Known   bool     `json:"known"`
	Marks   []string `json:"marks"`
	Aside   []Aside  `json:"set_aside"`
	Turn    float64  `json:"turn_deg"` // clockwise
	East    float64  `json:"east_m"`   // shift after the turn
	North   float64  `json:"north_m"`
	Misfit  float64  `json:"misfit"` // weighted sum of squares
	Freedom int      `json:"freedom"`
	Words   string   `json:"words"`
}

// Aside is a mark that does not fit the others.
type Aside struct {
	Mark  string   `json:"mark"`
	Or    []string `json:"or"` // marks that it cannot be told apart from
	East  float64  `json:"east_m"`
	North float64  `json:"north_m"`
	Words string   `json:"words"`
}

// At is a place on the earlier plan.
type At struct {
	East  float64 `json:"east_m"`
	North float64 `json:"north_m"`
}

// Place is one point.
type Place struct {
	Name    string   `json:"name"`
	Earlier string   `json:"earlier_name,omitempty"`
	What    string   `json:"what"`
	Mark    bool     `json:"mark"`
	Verdict string   `json:"verdict"`
	Was     *At      `json:"was,omitempty"`
	Is      *At      `json:"is,omitempty"`
	By      *float64 `json:"moved_m,omitempty"`
	Toward  *float64 `json:"toward_deg,omitempty"`
	Within  *float64 `json:"within95_m,omitempty"`
	Same    bool     `json:"same_readings"` // every reading is written as before
	Words   string   `json:"words"`
}

// Outline is a part found by its edges.
type Outline struct {
	Part     string  `json:"part"`
	Verdict  string  `json:"verdict"`
	Was      At      `json:"was"` // its middle
	Is       At      `json:"is"`
	By       float64 `json:"moved_m"`
	Toward   float64 `json:"toward_deg"`
	Within   float64 `json:"within95_m"`
	Turned   float64 `json:"turned_deg"` // clockwise
	TurnedSD float64 `json:"turned_sd_deg"`
	Words    string  `json:"words"`
}

// Line is one line.
type Line struct {
	Line        string   `json:"line"`
	Verdict     string   `json:"verdict"`
	Before      *float64 `json:"before_m,omitempty"`
	After       *float64 `json:"after_m,omitempty"`
	Change      *float64 `json:"change_m,omitempty"`
	Within      *float64 `json:"within95_m,omitempty"`
	BendsBefore int      `json:"bends_before"`
	BendsAfter  int      `json:"bends_after"`
	Moved       []string `json:"moved_points"`
	Words       string   `json:"words"`
}

// Levels is the heights.
type Levels struct {
	From    string   `json:"from"` // what they are counted from, empty where none are common
	Heights []Height `json:"heights"`
}

// Height is one height.
type Height struct {
	Point   string  `json:"point"`
	On      string  `json:"on"`
	Verdict string  `json:"verdict"`
	Change  float64 `json:"change_m"` // later minus earlier
	Within  float64 `json:"within95_m"`
	Words   string  `json:"words"`
}

// Number is one length before and now.
type Number struct {
	Point   string  `json:"point,omitempty"`
	Verdict string  `json:"verdict"`
	Before  float64 `json:"before_m"`
	After   float64 `json:"after_m"`
	Change  float64 `json:"change_m"`
	Within  float64 `json:"within95_m"`
	Words   string  `json:"words"`
}

// Box is one opened box.
type Box struct {
	Part    string   `json:"part"`
	Spread  *Number  `json:"spread,omitempty"` // highest less lowest outlet
	Outlets []Outlet `json:"outlets"`
}

// Outlet is one outlet of a box, by its height over the lowest one.
type Outlet struct {
	Line        string   `json:"line"`
	Verdict     string   `json:"verdict"`
	Before      *float64 `json:"before_m,omitempty"`
	After       *float64 `json:"after_m,omitempty"`
	Within      *float64 `json:"within95_m,omitempty"`
	ShareBefore *float64 `json:"share_before,omitempty"` // of the flow, 0 to 1
	ShareAfter  *float64 `json:"share_after,omitempty"`
	Words       string   `json:"words"`
}

// Finding is one thing seen.
type Finding struct {
	Line    string   `json:"line,omitempty"`
	Part    string   `json:"part,omitempty"`
	What    string   `json:"what"`
	Growth  string   `json:"growth"`
	Grade   string   `json:"grade"`
	Station *float64 `json:"station_m,omitempty"`
	Before  *Seen    `json:"before,omitempty"`
	After   *Seen    `json:"after,omitempty"`
	Words   string   `json:"words"`
}

// Seen is a finding as written.
type Seen struct {
	What    string   `json:"what"`
	At      string   `json:"at,omitempty"`
	To      string   `json:"to,omitempty"`
	Depth   string   `json:"depth,omitempty"`
	Percent *float64 `json:"percent,omitempty"`
	Note    string   `json:"note,omitempty"`
}

// Run is how far the camera saw of a line.
type Run struct {
	Line   string  `json:"line"`
	Before []Range `json:"before"`
	After  []Range `json:"after"`
	Words  string  `json:"words"`
}

// Range is the stations that one run saw.
type Range struct {
	From  float64 `json:"from_m"`
	To    float64 `json:"to_m"`
	Ended string  `json:"ended"`
}

// Care is something done since the earlier visit.
type Care struct {
	Date   string `json:"date"`
	What   string `json:"what"`
	By     string `json:"by,omitempty"`
	Note   string `json:"note,omitempty"`
	Unsure bool   `json:"unsure"` // the date does not tell whether it was before or after
	Words  string `json:"words"`
}

// Fact is one entry that changed.
type Fact struct {
	Of     string `json:"of"`
	What   string `json:"what"`
	Before string `json:"before"`
	After  string `json:"after"`
	Words  string `json:"words"`
}

// Reading is a distance that does not read the same.
type Reading struct {
	From   string  `json:"from"`
	To     string  `json:"to"`
	Before float64 `json:"before_m"`
	After  float64 `json:"after_m"`
	Change float64 `json:"change_m"`
	Within float64 `json:"within95_m"`
	Words  string  `json:"words"`
}
