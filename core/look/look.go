// Package look lays camera runs along the lines of a plan: where on the lawn a
// footage lies, how sure that is, and what stands near it.
package look

import (
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Spot is a place along a line on the plan.
type Spot struct {
	Station   unit.Length // from the line's start, along the line
	StationSD unit.Length
	Counted   bool // whether Station means anything
	At        planar.Vec
	Known     bool        // whether At means anything
	Radius    unit.Length // of the circle that holds it with 95 %: footage and plan together
	Beyond    unit.Length // how far past the line's end the footage reaches; 0 when on it
}

// Near is something of the property that a finding lies close to.
type Near struct {
	Feature  site.Name
	Kind     site.FeatureKind
	Building bool        // Feature names a building, Kind is empty
	Distance unit.Length // from the finding to its nearest edge, of a tree to its trunk; 0 when under or inside it
	Over     bool        // it lies over the finding: paving, a crown, a building
	Explains bool        // it may explain what was seen
	Words    string      // "11' from the trunk of Maple, under its crown: its roots may explain this"
}

// Finding is a finding with its place.
type Finding struct {
	site.Finding
	Grade   site.Grade // as stated, or by kind and measure
	Why     string     // why that grade, where the program chose it
	Line    site.Name  // empty for a finding at a part
	Part    site.Name
	From    Spot
	To      *Spot        // nil when at one place
	Stretch unit.Length  // by the counter, from its beginning to its end; 0 at one place
	Path    []planar.Vec // of a stretch, along the bent line; one point otherwise; nil where nothing is known
	Near    []Near       // nearest first
	Words   string       // "fine roots at 41' of Line 2, within 9\" of the place shown"
}

// Run is a camera run laid along its line.
type Run struct {
	site.Run
	Findings []Finding
	Length   unit.Length // of the line on the plan
	LengthSD unit.Length
	Known    bool // the whole line is located
	Entry    Spot
	End      *Spot          // nil when nobody said how far it went
	Seen     [2]unit.Length // stations between which the line was looked at
	Against  bool           // pushed against the flow
	Problems []site.Problem
	Words    string // how far it went and why it ended
}
