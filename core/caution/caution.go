// Package caution holds the usual cautions of the work, each where the danger
// arises and each with its source where it states a number.
package caution

// Where is where a danger arises.
type Where string

// The places and jobs.
const (
	Digging  Where = "digging and probing"
	OpenTank Where = "an open tank"
	OpenBox  Where = "an open box"
	Trench   Where = "a trench"
	Pump     Where = "a pump tank"
	Camera   Where = "camera and hands"
	Well     Where = "a well"
)

// Caution is one warning.
type Caution struct {
	Where  Where
	Words  string
	Source string // title, section and year, "common practice, no source", or "from memory"
}

// Decides is said wherever cautions or rule values are shown.
const Decides = "Local code and the licensed practitioner decide."
