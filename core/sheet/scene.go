// Package sheet lays a plan out on paper: scale, symbols, labels, tables and title block, as a scene in paper units that knows no file format.
package sheet

import (
	"undersod/core/planar"
	"undersod/core/unit"
)

// MM is a length on paper in millimetres.
type MM float64

// Pos is a place on the sheet, in millimetres right of and down from the top
// left corner of the paper.
type Pos struct{ X, Y MM }

// Scene is a finished sheet: everything on it in paper units, in drawing order,
// with no knowledge of any file format.
type Scene struct {
	Title         string // for the file's own title
	Date          string // of the fieldwork, as in the job; the only date in any output
	Width, Height MM
	Mapping       Mapping // from the plan to the paper, for formats in real units
	Layers        []Layer // in drawing order
}

// Mapping turns plan coordinates into paper coordinates:
// paper = Origin + (MMPerMetre*east', -MMPerMetre*north') where east', north'
// are the plan's coordinates minus Centre, turned clockwise by Turn.
type Mapping struct {
	Centre     planar.Vec
	Origin     Pos
	MMPerMetre float64
	Turn       unit.Angle // clockwise turn of the plan on the paper
}

// Paper returns the place on paper of a point of the plan.
func (m Mapping) Paper(v planar.Vec) Pos {
	d := v.Minus(m.Centre).Clockwise(m.Turn)
	return Pos{
		m.Origin.X + MM(float64(d.East)*m.MMPerMetre),
		m.Origin.Y - MM(float64(d.North)*m.MMPerMetre),
	}
}

// Plan returns the point of the plan that lies at a place on paper.
func (m Mapping) Plan(p Pos) planar.Vec {
	d := planar.Vec{
		East:  unit.Length(float64(p.X-m.Origin.X) / m.MMPerMetre),
		North: unit.Length(float64(m.Origin.Y-p.Y) / m.MMPerMetre),
	}
	return d.Clockwise(-m.Turn).Plus(m.Centre)
}

// Layer is a group of shapes with a name, as "drain lines".
type Layer struct {
	Name   string
	Plan   bool // the shapes lie on the plan; otherwise they are furniture of the sheet
	Shapes []Shape
}

// Shape is one thing to draw: a Path, a Text or an Image.
type Shape interface{ shape() }

// Colour is a red, green and blue colour, opaque.
type Colour struct{ R, G, B uint8 }

// Path is one or more runs of straight pieces and arcs, stroked, filled or
// both.
type Path struct {
	Runs   []Run
	Stroke *Stroke // nil for none
	Fill   *Colour // nil for none; the even-odd rule holds
	Name   string  // of the thing drawn, as "tank", empty for none
}

func (Path) shape() {}

// Run is a start and its pieces.
type Run struct {
	Start  Pos
	Pieces []Piece
	Closed bool
}

// Piece leads from the end of the last piece to To: straight, or as an arc of
// the circle about Centre, clockwise as seen on paper when Clockwise.
type Piece struct {
	To        Pos
	Arc       bool
	Centre    Pos
	Clockwise bool
}

// Stroke is how a run is drawn.
type Stroke struct {
	Width  MM
	Colour Colour
	Dash   []MM // on, off, on, off...; nil for a full line
}

// Weight is the weight of the type.
type Weight uint8

// The weights, one font file each.
const (
	Regular Weight = iota
	Bold
)

// Align is how a text lies to its place.
type Align uint8

// The alignments.
const (
	AlignLeft Align = iota
	AlignMiddle
	AlignRight
)

// Text is one line of text.
type Text struct {
	At     Pos // on the baseline, at the left, middle or right by Align
	Text   string
	Size   MM // of the em
	Weight Weight
	Colour Colour
	Align  Align
	Turn   unit.Angle // clockwise on paper, about At
	Name   string     // of the thing it labels, empty for none
}

func (Text) shape() {}

// Image is a picture set upright into a rectangle of the paper.
type Image struct {
	At            Pos // top left corner
	Width, Height MM
	Picture       *Picture // the same pointer is written once a file
	Name          string   // what it shows, for readers who cannot see it
}

func (Image) shape() {}

// Picture is a photograph as baseline JPEG without any other data in it.
type Picture struct {
	Wide, High int // dots
	Grey       bool
	JPEG       []byte
}

// Metrics measures text in the font that every output format embeds, so that
// what the layout computes is what is drawn.
type Metrics interface {
	// Advance returns how wide text is at the given size.
	Advance(text string, w Weight, size MM) MM
	// Ascent and Descent return how far letters reach above and below the
	// baseline at the given size, both positive.
	Ascent(w Weight, size MM) MM
	Descent(w Weight, size MM) MM
}
