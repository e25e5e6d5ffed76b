// Package storage follows the water of a household through the trenches of a
// field, minute by minute: what comes in, what the box sends where, what soaks
// away, what stays in the stone.
package storage

import "undersod/core/unit"

// Trench is one trench as it stores and passes water to the soil.
type Trench struct {
	Name          string
	Length, Width unit.Length
	Height        unit.Length  // of the stone that can hold water, from the bottom up
	Porosity      float64      // share of the stone's room that is void
	Bottom, Side  bool         // through which faces water soaks away
	Rate          unit.Loading // at which a wetted face takes water
	Start         unit.Length  // water standing in it at the beginning
	OutOfUse      bool         // it takes no inflow; what stands in it still soaks away
}

// Divider tells what share of an inflow each trench is sent, in the order of
// the trenches; full tells which can take no more. The shares add up to 1, or
// are all zero when every one is full.
type Divider func(inflow unit.Flow, full []bool) []float64

// Run is what is to be followed.
type Run struct {
	Trenches []Trench
	Daily    unit.Volume
	Hours    []float64 // 24 weights of the day's hours from midnight
	Days     int
	Step     Seconds
	Divide   Divider // nil shares equally among the trenches that are in use and not full
}

// Seconds is a time span in seconds.
type Seconds float64

// Course is what happened in one trench.
type Course struct {
	Name      string
	Level     []unit.Length // standing water at the end of each step
	Inflow    unit.Volume   // over the whole time
	Soaked    unit.Volume
	Start     unit.Volume // in store at the beginning
	End       unit.Volume // in store at the end
	Highest   unit.Length
	HighestAt Seconds
	Full      bool    // it ponded to the top
	FullAt    Seconds // first
	FullFor   Seconds // in all
}

// Result is the whole of it.
type Result struct {
	Step    Seconds
	Steps   int
	Inflow  unit.Volume // from the house over the whole time
	Backed  unit.Volume // that no trench could take: it backs up into the box and the tank
	BackAt  Seconds     // when first; meaningful when Backed is above zero
	Courses []Course
	Closure unit.Volume // inflow minus everything accounted for
}
