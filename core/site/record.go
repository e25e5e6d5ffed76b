package site

import "undersod/core/unit"

// Record is what the permit or an older drawing claims. Zero or nil is not
// stated. The permitted length of each line is with the line.
type Record struct {
	Source       string // "permit T-1996-0412 and its sketch"
	Date         string // ISO 8601 calendar date, or a year
	Lines        int    // how many drain lines
	Outlets      int    // how many outlets the box has
	Bedrooms     int
	Tank         unit.Volume
	DailyFlow    unit.Flow
	Area         unit.Area // absorption area
	TrenchWidth  *unit.Written
	TrenchDepth  *unit.Written // bottom of the trench below the ground
	StoneBelow   *unit.Written // stone below the pipe
	TrenchLength *unit.Written // of each line, where a line states none of its own
	Spacing      *unit.Written // between the middles of neighbouring lines
	Distances    []Claim
	Drawing      *Drawing
	Place        Place
}

// Claim is a distance that the record states between two points.
type Claim struct {
	From, To Name
	Read     unit.Written
	SD       *unit.Length // how well the record knew it; nil for the default
	Place    Place
}

// Drawing is an old drawing whose points were read off in units of its own,
// such as millimetres of paper or dots of a scan.
type Drawing struct {
	File   string // the scan, empty where there is none
	Points []DrawnPoint
	// Down is set when the second number counts down the page, as in a scan.
	Down  bool
	SD    float64 // of one number read off, in the drawing's own units; 0 for the default
	Place Place
}

// DrawnPoint is a point of an old drawing, in the drawing's own units.
type DrawnPoint struct {
	Name  Name
	X, Y  float64 // right, and up or down as Drawing.Down says
	Place Place
}

// Household is who uses the system, and what they plan. Zero is not stated.
type Household struct {
	Bedrooms      int
	AddedBedrooms int // planned
	Persons       int
	Grinder       bool      // a kitchen grinder feeds the tank
	DailyFlow     unit.Flow // measured, as by a water meter
	Surge         unit.Flow // the largest short flow, as of a laundry or a pump
	Hours         []float64 // 24 shares of the day's flow from midnight on, in any unit; nil for the default
	Place         Place
}

// Soil is what was found about the ground of the field.
type Soil struct {
	Percolation unit.Percolation // 0 when not tested
	Texture     string           // "sandy loam"
	Structure   string           // "blocky", "massive"; empty when not described
	StructureBy string           // its strength: "weak", "moderate", "strong"
	Loading     unit.Loading     // the permit's own loading rate; 0 when it states none
	Source      string           // who found it
	Place       Place
}

// Care is something done to the system before.
type Care struct {
	Date  string // ISO 8601 calendar date
	What  string // "pumped", "jetted", "box levelled"
	By    string
	Note  string
	Place Place
}
