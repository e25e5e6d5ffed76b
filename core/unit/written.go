package unit

// Form is the way a length is written.
type Form uint8

// The forms of a written length.
const (
	NoForm      Form = iota // no unit was given or none is assumed
	FeetInches              // 23' 4 1/2"
	DecimalFeet             // 23.38 ft
	Inches                  // 4 1/2 in
	Metres                  // 7.13 m
	Centimetres             // 713 cm
	Millimetres             // 7130 mm
)

// Written is a length exactly as a person wrote it, with what it means.
type Written struct {
	Text   string // as written, outer blanks removed
	Length Length // what it means
	Form   Form   // how it was written
}

// AngleForm is the way a direction is written.
type AngleForm uint8

// The forms of a written direction.
const (
	NoAngleForm AngleForm = iota
	Azimuth               // 214°30', clockwise from north
	Quadrant              // S 34°30' W
)

// WrittenAngle is a direction exactly as a person wrote it, with what it
// means: clockwise from north, from 0 up to a full turn.
type WrittenAngle struct {
	Text  string
	Angle Angle
	Form  AngleForm
}
