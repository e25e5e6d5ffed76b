package adjust

import (
	"math"

	"undersod/core/site"
	"undersod/core/unit"
)

// Deviation is how far a reading taken with an instrument scatters: a fixed
// part and a part per distance for lengths, combined as the root of the sum of
// squares, and an angle for directions.
type Deviation struct {
	Fixed   unit.Length
	PerUnit float64 // standard deviation per distance, a ratio
	Angle   unit.Angle
	Reason  string // why, or the source
}

// At returns the standard deviation of a length d, in metres.
func (v Deviation) At(d unit.Length) unit.Length {
	return unit.Length(math.Hypot(float64(v.Fixed), v.PerUnit*float64(d)))
}

// InstrumentDefault pairs a kind of instrument with its standard deviation.
type InstrumentDefault struct {
	Kind site.InstrumentKind
	Deviation
}

// Defaults returns the standard deviations used where a job states none, one
// row per kind of instrument. They are common practice, no source: rounded
// figures for work in a yard, where holding the tape to a corner board matters
// more than the tape. docs/method.md prints this table.
func Defaults() []InstrumentDefault {
	return []InstrumentDefault{
		{site.SteelTape, Deviation{Fixed: unit.Inch / 4, PerUnit: 0.0001,
			Reason: "a quarter inch for holding both ends; sag and heat 1 in 10,000"}},
		{site.FibreglassTape, Deviation{Fixed: unit.Inch / 2, PerUnit: 0.001,
			Reason: "half an inch for holding both ends; stretch 1 in 1,000"}},
		{site.LaserMeter, Deviation{Fixed: unit.Inch / 4, PerUnit: 0.0001,
			Reason: "the beam is good to a sixteenth; the aim at a corner is not"}},
		{site.CameraCounter, Deviation{Fixed: unit.Foot / 2, PerUnit: 0.01,
			Reason: "the wheel slips and the rod snakes in the pipe"}},
		{site.Compass, Deviation{Angle: 2 * unit.Degree,
			Reason: "hand compass near steel and wiring"}},
		{site.Transit, Deviation{Angle: unit.Degree / 20,
			Reason: "three minutes for sighting a rod held by hand"}},
		{site.PhoneFix, Deviation{Fixed: 5,
			Reason: "open sky, single phone; worse under trees"}},
		{site.SurveyReceiver, Deviation{Fixed: 0.03,
			Reason: "fixed solution, pole held by hand"}},
		{site.LevelRod, Deviation{Fixed: unit.Inch / 16,
			Reason: "a sixteenth for reading and for the rod's foot"}},
		{site.ProbeRod, Deviation{Fixed: unit.Inch,
			Reason: "the probe leans, the edge is rounded"}},
	}
}

// Standard deviations that belong to no instrument; common practice, no source.
const (
	// SideDeviation is that of a building's side: corner boards and siding.
	SideDeviation = unit.Inch / 2
	// SquareDeviation is that of a right angle of a building.
	SquareDeviation = unit.Degree / 4
	// OffsetDeviation is that of a station or a distance squared off a
	// baseline by eye.
	OffsetDeviation = unit.Foot / 10
	// SizeDeviation is that of a part's outline whose size is stated.
	SizeDeviation = unit.Inch / 2
	// DepthDeviation is that of a depth below the ground.
	DepthDeviation = unit.Inch / 2
)

// deviations looks instruments up by name, falling back to the defaults.
type deviations struct {
	byName map[site.Name]Deviation
	byKind map[site.InstrumentKind]Deviation
	only   map[site.InstrumentKind]Deviation // by the default kind of a reading
}

func newDeviations(list []site.Instrument) deviations {
	d := deviations{
		byName: make(map[site.Name]Deviation, len(list)),
		byKind: make(map[site.InstrumentKind]Deviation, 10),
	}
	for _, row := range Defaults() {
		d.byKind[row.Kind] = row.Deviation
	}
	for _, in := range list {
		v := d.byKind[in.Kind]
		if in.Fixed != nil {
			v.Fixed, v.PerUnit = *in.Fixed, 0
		}
		if in.PerUnit != nil {
			v.PerUnit = *in.PerUnit
		}
		if in.Angle != nil {
			v.Angle = *in.Angle
		}
		d.byName[in.Name] = v
	}
	d.chooseOnly(list)
	return d
}

// standIns lists, for the default kind of each reading, the kinds of instrument
// it may have been taken with.
var standIns = map[site.InstrumentKind][]site.InstrumentKind{
	site.FibreglassTape: {site.SteelTape, site.FibreglassTape, site.LaserMeter},
	site.Compass:        {site.Compass, site.Transit},
	site.PhoneFix:       {site.PhoneFix},
	site.SurveyReceiver: {site.SurveyReceiver},
	site.CameraCounter:  {site.CameraCounter},
	site.LevelRod:       {site.LevelRod},
	site.ProbeRod:       {site.ProbeRod},
}

// chooseOnly notes the kinds of reading for which the job declares just one
// instrument: readings that name none were taken with that.
func (d *deviations) chooseOnly(list []site.Instrument) {
	d.only = map[site.InstrumentKind]Deviation{}
	for kind, may := range standIns {
		count := 0
		var last site.Name
		for _, in := range list {
			for _, k := range may {
				if in.Kind == k {
					count++
					last = in.Name
				}
			}
		}
		if count == 1 {
			d.only[kind] = d.byName[last]
		}
	}
}

// of returns the deviation of the named instrument, or where none is named that
// of the only one declared for such readings, or of the kind.
func (d deviations) of(name site.Name, kind site.InstrumentKind) Deviation {
	if name != "" {
		if v, ok := d.byName[name]; ok {
			return v
		}
		if v, ok := d.byKind[site.InstrumentKind(name)]; ok {
			return v
		}
	}
	if v, ok := d.only[kind]; ok {
		return v
	}
	return d.byKind[kind]
}
