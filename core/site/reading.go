package site

import "undersod/core/unit"

// ReadingID names a reading within a visit, as "tie A > tank lid" or, for the
// second of the same, "tie A > tank lid #2". It is stable while the entry and
// its repeats keep their order.
type ReadingID string

// Reading is one thing measured, kept as written: one of Tie, Offset, Bearing,
// Fix, Depth, Rod, Footage.
type Reading interface {
	// Common returns what every reading has.
	Common() Taken
}

// Taken is what every reading has.
type Taken struct {
	ID         ReadingID
	Instrument Name // empty for the default of its kind
	Note       string
	SetAside   string // why the reading is not to be used; empty when it is used
	Place      Place
}

// Common returns t.
func (t Taken) Common() Taken { return t }

// Held is how the tape was held.
type Held uint8

// The ways.
const (
	HeldAsGiven Held = iota // sloped where the heights of both ends are known, else taken as level
	HeldLevel
	HeldSloped
)

// Tie is the distance between two points.
type Tie struct {
	Taken
	From, To Name // From is the mark by custom; the distance is the same both ways
	Read     unit.Written
	// Corrected is what the person decided the reading should have been; it is
	// adjusted in place of Read, which is kept. Nil when Read stands.
	Corrected *unit.Written
	SD        *unit.Length // stated standard deviation, nil for the instrument's
	Held      Held
	Drop      *unit.Written // vertical difference of the tape's ends, where measured
}

// Offset is a point's station along a baseline and its distance right of it.
type Offset struct {
	Taken
	From, To Name // the baseline; stations count from From
	Point    Name
	Station  unit.Written
	Right    unit.Written // negative Length when left; Text as written
	SD       *unit.Length // of the station and of the distance, nil for the instrument's
}

// Bearing is the direction from one point to another.
type Bearing struct {
	Taken
	From, To Name
	Read     unit.WrittenAngle
	Magnetic bool // read against magnetic north; the visit's declination turns it
	SD       *unit.Angle
}

// Fix is a position from satellites, or in the datum's grid where Grid is set.
type Fix struct {
	Taken
	Point               Name
	Latitude, Longitude unit.Angle // positive north and east; when Grid is false
	Grid                bool
	East, North         unit.Length  // when Grid is true
	Text                string       // as written
	SD                  *unit.Length // of each of east and north, nil for the instrument's
}

// Depth is how far below the ground a point's part lies.
type Depth struct {
	Taken
	Point Name
	Read  unit.Written
	SD    *unit.Length
}

// RodOn is what the foot of the rod stood on.
type RodOn string

// What the rod may stand on.
const (
	OnGround RodOn = "ground"
	OnLid    RodOn = "lid"
	OnInvert RodOn = "invert"
	OnTop    RodOn = "top"
)

// Rod is a level rod reading at a point, from one set-up of the level.
type Rod struct {
	Taken
	Setup Name // readings with the same set-up share one height of instrument
	Point Name
	On    RodOn
	Read  unit.Written // down from the line of sight
	SD    *unit.Length
}

// Footage is the length along a line from its start to a point of its path.
type Footage struct {
	Taken
	Line Name
	To   Name // a point of the line's path
	Read unit.Written
	SD   *unit.Length
}

// InstrumentKind is what a reading was taken with.
type InstrumentKind string

// The kinds of instrument.
const (
	SteelTape      InstrumentKind = "steel tape"
	FibreglassTape InstrumentKind = "fibreglass tape"
	LaserMeter     InstrumentKind = "laser meter"
	CameraCounter  InstrumentKind = "camera counter"
	Compass        InstrumentKind = "compass"
	PhoneFix       InstrumentKind = "phone"
	SurveyReceiver InstrumentKind = "survey receiver"
	LevelRod       InstrumentKind = "level and rod"
	ProbeRod       InstrumentKind = "probe rod"
	Transit        InstrumentKind = "transit"
)

// Instrument is a device with its standard deviation: a fixed part and a part
// per distance, or an angle. Nil parts take the default of its kind.
type Instrument struct {
	Name    Name
	Kind    InstrumentKind
	Fixed   *unit.Length
	PerUnit *float64 // standard deviation per distance, a ratio (0.001 is 1 in 1,000)
	Angle   *unit.Angle
	Place   Place
}
