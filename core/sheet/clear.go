package sheet

import (
	"undersod/core/planar"
	"undersod/core/site"
)

// Clear is what a sheet shows of setbacks and of what the owner wants to build.
type Clear struct {
	// Title stands in place of the job's own, so that nobody takes what is not
	// built for the record; empty for the job's.
	Title     string
	Bands     []Band
	Allowed   []Patch // where the middle of the footprint may lie, hatched
	AllowedAs string  // for the legend: "where the middle of the workshop may lie"
	Proposed  []Proposal
	Distances []Distance
	Sources   []string // where the distances that are required come from
	Shifts    []Shift  // of two visits compared
}

// Band is the edge of the ground that a setback keeps free.
type Band struct {
	Area  Patch
	Words string // "20 ft from the drain lines"
}

// Patch is an area with holes.
type Patch struct {
	Outer planar.Ring
	Holes []planar.Ring
}

// Proposal is the outline of something that the owner wants to build; a single
// point is a well to be drilled.
type Proposal struct {
	Name    site.Name
	Outline planar.Ring
	Words   []string // lines of its label: name and size
}

// Distance is a dimension drawn between two nearest places.
type Distance struct {
	From, To planar.Vec
	Words    string     // "21' 3\", 20' required"
	Grade    site.Grade // Note is clear, Watch too close to call, Act short
}

// Shift is an arrow from where something lay to where it lies, with what it
// looked like before.
type Shift struct {
	From, To planar.Vec
	Before   []planar.Path // its outline or the runs of line at it before; nil where it is a point
	Closed   bool          // Before is an outline
	Words    string        // "D-box moved 4\" toward N 20° E"
}
