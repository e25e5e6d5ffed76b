package figure

import (
	"math"

	"undersod/core/sheet"
	"undersod/core/typeset"
	"undersod/core/unit"
)

type (
	mm  = sheet.MM
	pos = sheet.Pos
)

// The colours: earth, clay, grass and water. Each differs from the others in
// how dark it is as well, so that a print in grey is read the same.
var (
	ink   = sheet.Colour{R: 38, G: 33, B: 28}
	earth = sheet.Colour{R: 92, G: 72, B: 52}
	clay  = sheet.Colour{R: 150, G: 68, B: 38}
	grass = sheet.Colour{R: 78, G: 104, B: 48}
	slate = sheet.Colour{R: 48, G: 92, B: 116}
	stone = sheet.Colour{R: 112, G: 106, B: 98}
	rule  = sheet.Colour{R: 190, G: 183, B: 172}
	sand  = sheet.Colour{R: 240, G: 233, B: 220}
	loam  = sheet.Colour{R: 176, G: 154, B: 126}
	water = sheet.Colour{R: 150, G: 186, B: 204}
	paper = sheet.Colour{R: 255, G: 255, B: 255}
)

// The sizes of type, of the em. None is smaller than fine.
const (
	fine  mm = 2.4
	label mm = 2.6
	head  mm = 3.4
)

// edge is kept free round a figure.
const edge mm = 1.5

// pen draws one figure from the top down.
type pen struct {
	say    Say
	m      sheet.Metrics
	width  mm
	y      mm // what is above it is drawn
	shapes []sheet.Shape
	texts  []sheet.Shape // drawn last, on top of everything
}

func newPen(say Say) *pen {
	p := &pen{say: say, m: say.Metrics, width: say.width(), y: edge}
	if p.m == nil {
		p.m = guess{}
	}
	return p
}

// scene ends the figure.
func (p *pen) scene(title string) sheet.Scene {
	return sheet.Scene{
		Title: title, Width: p.width, Height: p.y + edge, Mapping: sheet.Mapping{MMPerMetre: 1},
		Layers: []sheet.Layer{{Name: "figure", Shapes: p.shapes}, {Name: "words", Shapes: p.texts}},
	}
}

func (p *pen) advance(text string, w sheet.Weight, size mm) mm { return p.m.Advance(text, w, size) }

// lead is the distance from one baseline to the next.
func (p *pen) lead(size mm) mm {
	return max(p.m.Ascent(sheet.Regular, size), p.m.Ascent(sheet.Bold, size)) +
		max(p.m.Descent(sheet.Regular, size), p.m.Descent(sheet.Bold, size))
}

// script is how a text is set.
type script struct {
	size   mm
	weight sheet.Weight
	colour sheet.Colour
	align  sheet.Align
}

// write sets one line with its top at y.
func (p *pen) write(x, y mm, text string, s script) {
	if text == "" {
		return
	}
	up := max(p.m.Ascent(sheet.Regular, s.size), p.m.Ascent(sheet.Bold, s.size))
	p.texts = append(p.texts, sheet.Text{At: pos{X: x, Y: y + up}, Text: text, Size: s.size, Weight: s.weight, Colour: s.colour, Align: s.align})
}

// wrap breaks a text into lines.
func (p *pen) wrap(text string, s script, width mm) []string {
	return typeset.Wrap(text, width, func(t string) mm { return p.advance(t, s.weight, s.size) })
}

// shorten cuts a text to a width.
func (p *pen) shorten(text string, s script, width mm) string {
	return typeset.Shorten(text, width, func(t string) mm { return p.advance(t, s.weight, s.size) })
}

// mostLines and mostOfText are how many lines and letters of one text are
// printed.
const (
	mostLines  = 6
	mostOfText = 600
)

// paragraph sets a text over the whole width below what is drawn.
func (p *pen) paragraph(text string, s script) {
	lines := p.wrap(typeset.Clean(text, mostOfText), s, p.width-2*edge)
	if len(lines) > mostLines {
		lines = lines[:mostLines]
		lines[mostLines-1] = p.shorten(lines[mostLines-1]+" and more and more", s, p.width-2*edge)
	}
	for _, l := range lines {
		p.write(edge, p.y, l, s)
		p.y += p.lead(s.size)
	}
}

// head sets the figure's own heading.
func (p *pen) head(text string) {
	p.paragraph(text, script{size: head, weight: sheet.Bold, colour: earth})
	p.y += 1
}

// note sets a line of what the drawing does not show.
func (p *pen) note(text string) { p.paragraph(text, script{size: fine, colour: stone}) }

func (p *pen) draw(s sheet.Path) { p.shapes = append(p.shapes, s) }

// line draws a full line.
func (p *pen) line(a, b pos, width mm, c sheet.Colour, dash ...mm) {
	p.draw(sheet.Path{Runs: []sheet.Run{run(false, a, b)}, Stroke: &sheet.Stroke{Width: width, Colour: c, Dash: dash}})
}

// area fills a figure of straight pieces.
func (p *pen) area(c sheet.Colour, corners ...pos) {
	p.draw(sheet.Path{Runs: []sheet.Run{run(true, corners...)}, Fill: &c})
}

// box fills an upright rectangle.
func (p *pen) box(x0, y0, x1, y1 mm, c sheet.Colour) {
	p.area(c, pos{X: x0, Y: y0}, pos{X: x1, Y: y0}, pos{X: x1, Y: y1}, pos{X: x0, Y: y1})
}

// run returns the run through points.
func run(closed bool, points ...pos) sheet.Run {
	r := sheet.Run{Start: points[0], Closed: closed}
	for _, q := range points[1:] {
		r.Pieces = append(r.Pieces, sheet.Piece{To: q})
	}
	return r
}

// disc returns a full circle.
func disc(c pos, r mm) sheet.Run {
	a, b := pos{X: c.X - r, Y: c.Y}, pos{X: c.X + r, Y: c.Y}
	return sheet.Run{Start: a, Closed: true, Pieces: []sheet.Piece{
		{To: b, Arc: true, Centre: c, Clockwise: true}, {To: a, Arc: true, Centre: c, Clockwise: true},
	}}
}

// mostLetters is how many letters of a name or an entry are printed.
const mostLetters = 120

func clean[T ~string](s T) string { return typeset.Clean(string(s), mostLetters) }

// finite tells whether a length is a number that can be on a site.
func finite(l unit.Length) bool { return l.Abs() < 1e5*unit.Metre }

// between holds a value within bounds; what is no number becomes the lower.
func between(v, lo, hi float64) float64 {
	if math.IsNaN(v) {
		return lo
	}
	return min(max(v, lo), hi)
}
