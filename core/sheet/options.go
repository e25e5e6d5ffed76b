package sheet

import (
	"fmt"

	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Paper is a size of paper by name.
type Paper string

// The papers.
const (
	PaperAuto Paper = ""
	Letter    Paper = "letter"
	Tabloid   Paper = "tabloid"
	A4        Paper = "a4"
	A3        Paper = "a3"
)

// Orientation is which way the paper lies.
type Orientation uint8

// The orientations.
const (
	OrientationAuto Orientation = iota
	Portrait
	Landscape
)

// Scale is how many times smaller than the ground the drawing is: 240 is
// 1:240, which is 1 in = 20 ft. 0 leaves the choice to the program.
type Scale int

// Options is how a sheet is to be drawn. Its zero value leaves every choice to
// the program and to the job.
type Options struct {
	Paper       Paper // PaperAuto takes the job's, and without one the smallest that reads well
	Orientation Orientation
	Scale       Scale
	Ties        bool // draw the tie lines; the job's own wish holds as well
	Findings    []Finding
	Clear       *Clear // nil for a record drawing without setbacks
}

// Finding is something seen in a line, drawn at its place with its words.
type Finding struct {
	Line  site.Name
	Path  []planar.Vec // one place, or the stretch along the line
	Words string       // "41' fine roots"
	Grade site.Grade
}

// Size returns the width and height of the paper standing upright, and false
// for a paper not known.
func (p Paper) Size() (width, height MM, ok bool) {
	switch p {
	case Letter:
		return 215.9, 279.4, true
	case Tabloid:
		return 279.4, 431.8, true
	case A4:
		return 210, 297, true
	case A3:
		return 297, 420, true
	}
	return 0, 0, false
}

// merge fills what the options leave open from the job.
func (o Options) merge(show site.Show) (Options, error) {
	if o.Paper == PaperAuto {
		o.Paper = Paper(show.Paper)
	}
	if o.Paper != PaperAuto {
		if _, _, ok := o.Paper.Size(); !ok {
			return o, fmt.Errorf("paper %q is not known; expected letter, tabloid, a4 or a3, for example \"letter\"", string(o.Paper))
		}
	}
	if o.Orientation > Landscape {
		return o, fmt.Errorf("orientation %d is not known; expected automatic, portrait or landscape", o.Orientation)
	}
	if o.Scale < 0 || o.Scale > 1_000_000 {
		return o, fmt.Errorf("scale 1:%d cannot be drawn; expected 1:1 to 1:1000000, for example 1:240 (1 in = 20 ft)", int(o.Scale))
	}
	o.Ties = o.Ties || show.Ties
	return o, nil
}

// papers lists the papers to try, smallest first.
func (o Options) papers(form unit.Form) []Paper {
	switch {
	case o.Paper != PaperAuto:
		return []Paper{o.Paper}
	case form == unit.Metres:
		return []Paper{A4, A3}
	}
	return []Paper{Letter, Tabloid}
}

// ways lists the orientations to try.
func (o Options) ways() []Orientation {
	if o.Orientation != OrientationAuto {
		return []Orientation{o.Orientation}
	}
	return []Orientation{Landscape, Portrait}
}
