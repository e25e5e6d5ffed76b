// Package hydraulic is the flow of water in pipes and boxes: how a distribution
// box divides its inflow among outlets at different levels, and what a sloping
// pipe carries. It knows nothing of sites and files.
package hydraulic

import "undersod/core/unit"

// Opening is one outlet of a box.
type Opening struct {
	Name   string
	Invert unit.Length // height of the lowest point of the bore, over any common level
	Bore   unit.Length // inside diameter
	Closed bool        // capped or blocked: it takes nothing
	// Narrowed is the share of the bore's area that roots or sediment close, 0
	// to less than 1.
	Narrowed float64
	// Wanted is the weight of the share this outlet should have, as the
	// absorption area behind it; all zero means equal shares.
	Wanted float64
}

// Regime is how water leaves an opening.
type Regime string

// The regimes.
const (
	Dry     Regime = "dry"     // the water stands below the invert, or the opening is closed
	Brink   Regime = "brink"   // partly full, critical flow at the brink
	Orifice Regime = "orifice" // the pipe runs full at its mouth
)

// Share is what one outlet takes.
type Share struct {
	Name   string
	Head   unit.Length // of the water over the outlet's own invert: specific energy at the brink; 0 when dry
	Depth  unit.Length // critical depth at the brink; the bore when full
	Flow   unit.Flow
	Share  float64 // of the inflow
	Wanted float64 // share of the inflow it should have
	Regime Regime
}

// Split is how a box divides one inflow.
type Split struct {
	Inflow unit.Flow
	Lowest unit.Length // the lowest open invert, over the common level
	Water  unit.Length // the box's water over the lowest open invert
	Shares []Share     // in the order of the openings
}

// Turn is by how much one outlet is to be raised (positive) or lowered.
type Turn struct {
	Name string
	By   unit.Length // a whole number of steps
}

// Correction is which outlets to move so that the shares are as wanted.
type Correction struct {
	Turns     []Turn  // outlets that stay are not listed
	Worst     float64 // largest difference between a share and its wanted share, before
	After     float64 // the same after the correction
	Within    bool    // After is within the tolerance
	Tolerance float64
	Step      unit.Length
	Split     Split // after the correction
}

// Sensitivity is what moving one outlet does.
type Sensitivity struct {
	Name   string
	By     unit.Length // raised by this
	Change float64     // of its share
}
