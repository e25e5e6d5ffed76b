package render

import (
	"fmt"
	"io"
	"math"

	"undersod/core/planar"
	"undersod/core/sheet"
	"undersod/core/unit"
)

// GroundUnit is the unit of length in which a DXF holds the ground.
type GroundUnit uint8

// The units of a DXF. Feet are international feet of exactly 0.3048 m.
const (
	Feet GroundUnit = iota
	Metres
)

// size returns one unit as a length.
func (u GroundUnit) size() unit.Length {
	if u == Metres {
		return unit.Metre
	}
	return unit.Foot
}

// Bounds of a scale in millimetres of paper to a metre of ground: from 1 to
// 1,000,000 up to a hundredfold enlargement.
const (
	smallestScale = 0.001
	largestScale  = 100_000
	farthestPlan  = unit.Length(1e8) // from the origin of the plan
)

// DXF writes the sheet as a DXF file of text, of release AC1021 (2007, the first
// in UTF-8, so that fractions and accents need no escapes), in the given unit or else in Feet. Everything lies in
// model space in the true coordinates of the plan, east along X and north
// along Y; the frame and the tables of the sheet stand around it at the same
// scale, so that plotting the whole at the sheet's scale gives the sheet.
// Arcs are arcs; text is text, Arial in place of the Go fonts, which are as
// wide, with feet, inches, quotes and dashes as the keyboard has them. A picture is a
// rectangle with its name, because DXF cannot hold one. Each shape that has a
// name carries it as extended data. It returns an error that names the shape or the mapping at fault, and the error of w.
func DXF(w io.Writer, s sheet.Scene, in ...GroundUnit) error {
	if err := check(s); err != nil {
		return fmt.Errorf("no DXF can be made of the sheet: %w", err)
	}
	if err := checkMapping(s.Mapping); err != nil {
		return fmt.Errorf("no DXF can be made of the sheet: %w", err)
	}
	unit := Feet
	if len(in) > 0 {
		unit = in[0]
	}
	d := newDXFWriter(s, unit)
	_, err := w.Write(d.file())
	return err
}

func checkMapping(m sheet.Mapping) error {
	if !(m.MMPerMetre >= smallestScale && m.MMPerMetre <= largestScale) {
		return fmt.Errorf("its scale is %v mm of paper to a metre of ground; give one from %v to %v, as 4.1667 for 1 inch = 20 feet",
			m.MMPerMetre, smallestScale, largestScale)
	}
	if a := float64(m.Turn); math.IsNaN(a) || math.IsInf(a, 0) {
		return fmt.Errorf("the plan's turn on the paper is %v; give a plain angle", a)
	}
	if err := checkPos("the origin of the plan on paper", m.Origin); err != nil {
		return err
	}
	if c := m.Centre; !(c.East.Abs() <= farthestPlan && c.North.Abs() <= farthestPlan) {
		return fmt.Errorf("the centre of the plan is at %v, %v m; give plain numbers within %v m of its origin", c.East, c.North, farthestPlan)
	}
	return nil
}

// ground is a place in the units of a DXF.
type ground struct{ x, y float64 }

// dxfWriter collects a DXF file. Sections are written in the order of the file,
// but entities first, because the header tells the last handle.
type dxfWriter struct {
	scene   sheet.Scene
	unit    GroundUnit
	perMM   float64 // units of the ground per millimetre of paper
	layers  []dxfLayer
	lines   []dxfLineType
	handles int // the last one given out
	out     []byte
}

func newDXFWriter(s sheet.Scene, u GroundUnit) *dxfWriter {
	d := &dxfWriter{scene: s, unit: u, perMM: 1 / s.Mapping.MMPerMetre / float64(u.size())}
	d.layers = dxfLayers(s.Layers)
	d.lines = d.lineTypes()
	d.handles = firstFree
	return d
}

// ground returns where a place on paper lies in the drawing.
func (d *dxfWriter) ground(p sheet.Pos) ground {
	return d.inUnits(d.scene.Mapping.Plan(p))
}

func (d *dxfWriter) inUnits(v planar.Vec) ground {
	u := d.unit.size()
	return ground{float64(v.East / u), float64(v.North / u)}
}

// file returns the whole file.
func (d *dxfWriter) file() []byte {
	tables := d.part(d.tables)
	blocks := d.part(d.blocks)
	entities := d.part(d.entities)
	objects := d.part(d.objects)
	header := d.part(d.header)
	d.out = nil
	for _, section := range []struct {
		name string
		body []byte
	}{
		{"HEADER", header}, {"CLASSES", nil}, {"TABLES", tables},
		{"BLOCKS", blocks}, {"ENTITIES", entities}, {"OBJECTS", objects},
	} {
		d.text(0, "SECTION")
		d.text(2, section.name)
		d.out = append(d.out, section.body...)
		d.text(0, "ENDSEC")
	}
	d.text(0, "EOF")
	return d.out
}

// part returns what write puts out.
func (d *dxfWriter) part(write func()) []byte {
	d.out = nil
	write()
	return d.out
}

// text writes a group with a value that needs no escapes or has them already.
func (d *dxfWriter) text(code int, value string) {
	d.out = fmt.Appendf(d.out, "%3d\n%s\n", code, value)
}

func (d *dxfWriter) integer(code, value int) { d.text(code, fmt.Sprint(value)) }

// real writes lengths in units of the ground to a millionth and angles in
// degrees to a millionth.
func (d *dxfWriter) real(code int, value float64) {
	d.text(code, decimal(value, 6))
}

// point writes a place with the given group for X and the usual ones for Y and
// Z.
func (d *dxfWriter) point(code int, p ground) {
	d.flat(code, p)
	d.real(code+20, 0)
}

// flat writes a place without its height.
func (d *dxfWriter) flat(code int, p ground) {
	d.real(code, p.x)
	d.real(code+10, p.y)
}

// handle writes the next free handle under the given group.
func (d *dxfWriter) handle(code int) {
	d.handles++
	d.reference(code, d.handles)
}

func (d *dxfWriter) reference(code, handle int) { d.text(code, fmt.Sprintf("%X", handle)) }
