// Package site is the model of the work: one property, what stands and lies on
// it, and the readings of one day's visit, kept exactly as written. It computes
// nothing about positions; see the adjust package for that.
package site

import "undersod/core/unit"

// Name names a point, a part, a line, a building, a feature or an instrument.
// Names are unique among points, and unique within each other group.
type Name string

// Job is one property with one visit: everything a job file holds.
type Job struct {
	Site  Site
	Visit Visit
	Datum Datum
	Show  Show
}

// Site is one property: the words on its papers and everything that stands or
// lies on it.
type Site struct {
	Name, Address, County, Owner, Parcel string
	Permit                               string // permit number
	Authority                            string // who decides, as "Tamsin County Health"

	Points    []Point // every located point, in the order first named
	Buildings []Building
	Parts     []Part
	Lines     []Line
	Features  []Feature

	LevelPoints []LevelPoint // known to the level rod alone
	Record      *Record      // what the permit or an older drawing claims
	Household   Household
	Soil        Soil
	Care        []Care     // what was done before, oldest first
	Proposed    []Proposed // what the owner wants to build, in the order of the job
	Setbacks    *Setbacks  // the permit's own distances; nil where none is entered
	Rules       string     // name of the rule pack that judges the site; empty for the default
}

// Visit is one day's work on a site.
type Visit struct {
	Date        string // as written in the job, ISO 8601 calendar date
	By          string // who measured
	Company     string
	Licence     string // licence number of who measured
	Declination *unit.Angle
	Accuracy    *Accuracy
	Instruments []Instrument
	Readings    []Reading
	Runs        []Run // camera runs
	Boxes       []Box // opened boxes
	Photos      []Photo
	Notes       []string
}

// Accuracy is the limit an authority sets for a located part, with its source.
type Accuracy struct {
	Limit  unit.Length
	Source string
}

// Show is how results are printed.
type Show struct {
	Form        unit.Form // FeetInches, DecimalFeet or Metres
	Denominator int       // smallest fraction of an inch as 1/Denominator, for FeetInches
	Paper       string    // letter, tabloid, a4, a3 or empty for the program's choice
	Ties        bool      // draw the tie lines on the sheet
	Title       string    // the sheet's title, empty for the default
}

// DatumKind is how the plan is held in place.
type DatumKind uint8

// The ways of holding the plan.
const (
	DatumAuto     DatumKind = iota // the first wall, or the first two marks
	DatumBaseline                  // Mark is held, and the direction to Toward
	DatumFree                      // minimal constraint spread over all marks
)

// Datum is what the plan's coordinates are counted from.
type Datum struct {
	Kind      DatumKind
	Mark      Name
	East      unit.Length // where Mark lies, for DatumBaseline
	North     unit.Length
	Toward    Name
	Azimuth   *unit.Angle // true direction from Mark to Toward; nil when it was not measured
	Latitude  *unit.Angle // of Mark, positive north; nil when not known
	Longitude *unit.Angle // of Mark, positive east; nil when not known
	Height    unit.Length // ellipsoidal or map height of the site, for latitude and longitude
	Place     Place
}
