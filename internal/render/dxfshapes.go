package render

import (
	"math"
	"strings"

	"undersod/core/sheet"
)

func (d *dxfWriter) entities() {
	for i, l := range d.scene.Layers {
		for _, shape := range l.Shapes {
			switch v := shape.(type) {
			case sheet.Path:
				d.path(d.layers[i], v)
			case sheet.Text:
				d.label(d.layers[i], v)
			case sheet.Image:
				d.image(d.layers[i], v)
			}
		}
	}
}

// path writes the fill of a path as a hatch and each run as the simplest
// entity that can hold it.
func (d *dxfWriter) path(l dxfLayer, p sheet.Path) {
	runs := drawnRuns(p)
	if p.Fill != nil && len(runs) > 0 {
		d.hatch(l, *p.Fill, runs)
		d.name(p.Name)
	}
	if p.Stroke == nil {
		return
	}
	for _, r := range runs {
		d.run(l, p.Stroke, r)
		d.name(p.Name)
	}
}

// image writes a rectangle with the name of what the picture shows, because a
// DXF holds no pictures, only the paths of their files.
func (d *dxfWriter) image(l dxfLayer, v sheet.Image) {
	right, bottom := v.At.X+v.Width, v.At.Y+v.Height
	corners := []sheet.Piece{{To: sheet.Pos{X: right, Y: v.At.Y}}, {To: sheet.Pos{X: right, Y: bottom}}, {To: sheet.Pos{X: v.At.X, Y: bottom}}}
	d.path(l, sheet.Path{Stroke: &sheet.Stroke{Width: 0.18}, Name: v.Name, Runs: []sheet.Run{{Start: v.At, Pieces: corners, Closed: true}}})
	size := min(2.5, v.Height/4)
	if wide := Metrics().Advance(v.Name, sheet.Regular, size); wide > v.Width*0.9 {
		size *= v.Width * 0.9 / wide
	}
	middle := sheet.Pos{X: v.At.X + v.Width/2, Y: v.At.Y + v.Height/2}
	d.label(l, sheet.Text{At: middle, Text: v.Name, Size: size, Align: sheet.AlignMiddle, Name: v.Name})
}

// run writes a run as a LINE, CIRCLE, ARC or LWPOLYLINE.
func (d *dxfWriter) run(l dxfLayer, s *sheet.Stroke, r sheet.Run) {
	first := r.Pieces[0]
	alone := len(r.Pieces) == 1
	switch {
	case alone && !first.Arc && !r.Closed:
		d.stroke(l, s, "LINE")
		d.text(100, "AcDbLine")
		d.point(10, d.ground(r.Start))
		d.point(11, d.ground(first.To))
	case alone && first.Arc && newArc(r.Start, first).full():
		d.stroke(l, s, "CIRCLE")
		d.circle(newArc(r.Start, first))
	case alone && first.Arc && !r.Closed:
		d.stroke(l, s, "ARC")
		a := newArc(r.Start, first)
		d.circle(a)
		d.arcEnds(a)
	default:
		d.polyline(l, s, r)
	}
}

func (d *dxfWriter) circle(a arc) {
	d.text(100, "AcDbCircle")
	d.point(10, d.ground(a.centre))
	d.real(40, a.radius()*d.perMM)
}

// arcEnds writes the directions of the ends of an arc, which DXF draws
// counter-clockwise from the first to the second.
func (d *dxfWriter) arcEnds(a arc) {
	from, to := a.at(0), a.at(1)
	if a.sweep > 0 {
		from, to = to, from
	}
	centre := d.ground(a.centre)
	direction := func(p sheet.Pos) float64 {
		g := d.ground(p)
		return degreesAround(math.Atan2(g.y-centre.y, g.x-centre.x))
	}
	d.text(100, "AcDbArc")
	d.real(50, direction(from))
	d.real(51, direction(to))
}

// degreesAround returns an angle in radians as degrees from 0 to 360.
func degreesAround(a float64) float64 {
	deg := math.Mod(a*180/math.Pi, 360)
	if deg < 0 {
		deg += 360
	}
	return deg
}

// vertex is a corner of a polyline and how the piece after it bulges: the
// tangent of a quarter of its turn, counter-clockwise positive.
type vertex struct {
	at    sheet.Pos
	bulge float64
}

// vertices returns the corners of a run. An arc beyond three quarters of a
// turn is cut in two, because its bulge would grow without bound. A last
// corner of a closed run that meets the first is left out.
func vertices(r sheet.Run, closed bool) []vertex {
	out := []vertex{{at: r.Start}}
	at := r.Start
	for _, p := range r.Pieces {
		last := &out[len(out)-1]
		if p.Arc {
			a := newArc(at, p)
			if math.Abs(a.sweep) > 1.5*math.Pi {
				last.bulge = -math.Tan(a.sweep / 8)
				out = append(out, vertex{a.at(0.5), last.bulge})
			} else {
				last.bulge = -math.Tan(a.sweep / 4)
			}
		}
		out = append(out, vertex{at: p.To})
		at = p.To
	}
	end := out[len(out)-1].at
	if closed && len(out) > 2 && math.Hypot(float64(end.X-r.Start.X), float64(end.Y-r.Start.Y)) < sameFullPoint {
		out = out[:len(out)-1]
	}
	return out
}

func (d *dxfWriter) polyline(l dxfLayer, s *sheet.Stroke, r sheet.Run) {
	d.stroke(l, s, "LWPOLYLINE")
	d.text(100, "AcDbPolyline")
	corners := vertices(r, r.Closed)
	d.integer(90, len(corners))
	flags := 128 // dashes run on around corners
	if r.Closed {
		flags |= 1
	}
	d.integer(70, flags)
	d.real(43, 0)
	d.vertices(corners, false)
}

func (d *dxfWriter) vertices(corners []vertex, allBulges bool) {
	for _, v := range corners {
		d.flat(10, d.ground(v.at))
		if allBulges || v.bulge != 0 {
			d.real(42, v.bulge)
		}
	}
}

// hatch writes a solid fill by the even-odd rule.
func (d *dxfWriter) hatch(l dxfLayer, fill sheet.Colour, runs []sheet.Run) {
	d.entity(l, "HATCH", fill)
	d.text(100, "AcDbHatch")
	d.point(10, ground{})
	d.real(210, 0)
	d.real(220, 0)
	d.real(230, 1)
	d.text(2, "SOLID")
	d.integer(70, 1)
	d.integer(71, 0)
	d.integer(91, len(runs))
	for _, r := range runs {
		corners := vertices(r, true)
		d.integer(92, 1|2) // an outer boundary, given as a polyline
		d.integer(72, 1)   // with bulges
		d.integer(73, 1)   // closed
		d.integer(93, len(corners))
		d.vertices(corners, true)
		d.integer(97, 0)
	}
	d.integer(75, 0) // odd parity
	d.integer(76, 1)
	d.integer(98, 0)
}

// label writes a text. Its height is that of its capitals, which is what CAD
// programs call the height of a text.
func (d *dxfWriter) label(l dxfLayer, t sheet.Text) {
	f := faceOf(t.Weight)
	letters := f.letters(t.Text)
	if len(letters) == 0 {
		return
	}
	sin, cos := math.Sincos(float64(t.Turn))
	shift := sheet.MM(f.start(t, letters))
	left := sheet.Pos{X: t.At.X + shift*sheet.MM(cos), Y: t.At.Y + shift*sheet.MM(sin)}
	d.entity(l, "TEXT", t.Colour)
	d.text(100, "AcDbText")
	d.point(10, d.ground(left))
	d.real(40, float64(t.Size)*d.perMM*float64(f.metric.capHeight)/float64(f.perEm))
	d.text(1, dxfEscape(keyboard.Replace(f.spelled(t.Text))))
	d.real(50, degreesAround(float64(d.scene.Mapping.Turn-t.Turn)))
	d.text(7, styleName(t.Weight))
	if t.Align == sheet.AlignMiddle || t.Align == sheet.AlignRight {
		d.integer(72, map[sheet.Align]int{sheet.AlignMiddle: 1, sheet.AlignRight: 2}[t.Align])
		d.point(11, d.ground(t.At))
	}
	d.text(100, "AcDbText")
	d.name(t.Name)
}

// entity begins an entity on a layer. Where it has the layer's colour it
// follows the layer.
func (d *dxfWriter) entity(l dxfLayer, kind string, c sheet.Colour) {
	d.text(0, kind)
	d.handle(5)
	d.reference(330, modelSpace)
	d.text(100, "AcDbEntity")
	d.text(8, l.name)
	if c != l.colour {
		d.colour(c)
	}
}

// stroke begins an entity that is a line.
func (d *dxfWriter) stroke(l dxfLayer, s *sheet.Stroke, kind string) {
	d.entity(l, kind, s.Colour)
	d.text(6, d.lineType(s))
	d.integer(370, lineWeight(s.Width))
}

// lineWeights are the widths that DXF knows, in hundredths of a millimetre
// (Autodesk, DXF Reference 2007, group 370).
var lineWeights = []int{0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211}

// lineWeight returns the width that is nearest.
func lineWeight(width sheet.MM) int {
	best := lineWeights[0]
	off := func(w int) float64 { return math.Abs(float64(w) - 100*float64(width)) }
	for _, w := range lineWeights {
		if off(w) < off(best) {
			best = w
		}
	}
	return best
}

// longestName, in characters, keeps a name within the 255 bytes of a string of
// extended data.
const longestName = 80

// name adds the name of a shape to the entity just written.
func (d *dxfWriter) name(name string) {
	runes := []rune(regularFace().spelled(name))
	if len(runes) == 0 {
		return
	}
	d.text(1001, application)
	d.text(1000, dxfEscape(string(runes[:min(len(runes), longestName)])))
}

// keyboard gives the signs of typography that the drawn fonts of CAD programs
// lack as those of the keyboard, with which feet and inches are written there
// anyway.
var keyboard = strings.NewReplacer("′", "'", "’", "'", "‘", "'", "″", `"`, "“", `"`, "”", `"`, "–", "-", "—", "-", "−", "-", "…", "...")

// dxfEscape writes a text so that DXF gives it back: the characters that begin
// an escape are escaped themselves, and a percent sign before another is
// written by its number, because two of them begin a code.
func dxfEscape(s string) string {
	var b strings.Builder
	runes := []rune(s)
	for i, r := range runes {
		next := rune(0)
		if i+1 < len(runes) {
			next = runes[i+1]
		}
		switch {
		case r == '%' && next == '%':
			b.WriteString(`%%037`)
		case r == '\\' && (next == 'U' || next == 'M'):
			b.WriteString(`\U+005C`)
		case r == '^':
			b.WriteString("^ ")
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
