package sheet

import "math"

// symbol is a small sign of fixed size on paper.
type symbol uint8

const (
	symbolNone symbol = iota
	symbolTank
	symbolPump
	symbolBox
	symbolDrop
	symbolLid
	symbolCleanout
	symbolPort
	symbolEnd
	symbolBend
	symbolHit
	symbolSeenNote
	symbolSeenWatch
	symbolSeenAct
	symbolMark
	symbolWell
	symbolTree
	symbolStructure
	symbolDownspout
	symbolSoil
	symbolSpring
	symbolDryWell
	symbolCistern
	symbolSinkhole
	symbolFarNote
	symbolFarWatch
	symbolFarAct
	symbols
)

// stroke is a part of a symbol: a circle about Centre when R is above 0, otherwise straight
// pieces through Points.
type stroke struct {
	R      MM
	Centre Pos
	Points []Pos
	Open   bool // not closed, and not filled
	Solid  bool // filled with the colour of its own outline
}

func ring(r MM) stroke   { return stroke{R: r} }
func spot(r MM) stroke   { return stroke{R: r, Solid: true} }
func bar(p ...MM) stroke { return stroke{Points: pairs(p...), Open: true} }
func poly(p ...MM) stroke {
	return stroke{Points: pairs(p...)}
}
func solid(p ...MM) stroke { return stroke{Points: pairs(p...), Solid: true} }

func pairs(p ...MM) []Pos {
	out := make([]Pos, 0, len(p)/2)
	for i := 0; i+1 < len(p); i += 2 {
		out = append(out, Pos{p[i], p[i+1]})
	}
	return out
}

// figures holds the strokes of each symbol, about its own middle, in
// millimetres right and down.
var figures = [symbols][]stroke{
	symbolTank:      {poly(-2.6, -1.5, 2.6, -1.5, 2.6, 1.5, -2.6, 1.5)},
	symbolPump:      {poly(-2.6, -1.5, 2.6, -1.5, 2.6, 1.5, -2.6, 1.5), ring(0.8)},
	symbolBox:       {poly(-1.3, -1.3, 1.3, -1.3, 1.3, 1.3, -1.3, 1.3), solid(-1.3, 1.3, 1.3, 1.3, 1.3, -1.3)},
	symbolDrop:      {poly(-1.3, -1.3, 1.3, -1.3, 1.3, 1.3, -1.3, 1.3), solid(-1.3, 0.3, 1.3, 0.3, 1.3, 1.3, -1.3, 1.3)},
	symbolLid:       {ring(1.1), spot(0.4)},
	symbolCleanout:  {ring(1), bar(-1, 0, 1, 0), bar(0, -1, 0, 1)},
	symbolPort:      {poly(0, -1.3, 1.2, 0.9, -1.2, 0.9)},
	symbolEnd:       {poly(0, -1.1, 1.1, 0, 0, 1.1, -1.1, 0)},
	symbolBend:      {ring(0.5)},
	symbolHit:       {bar(-0.6, -0.6, 0.6, 0.6), bar(-0.6, 0.6, 0.6, -0.6)},
	symbolSeenNote:  {ring(1.2)},
	symbolSeenWatch: {ring(1.2), solid(1.2, 0, 1.04, 0.6, 0.6, 1.04, 0, 1.2, -0.6, 1.04, -1.04, 0.6, -1.2, 0)},
	symbolSeenAct:   {spot(1.2)},
	symbolMark:      {solid(-0.75, -0.75, 0.75, -0.75, 0.75, 0.75, -0.75, 0.75)},
	symbolWell:      {ring(1.7), ring(0.9), spot(0.3)},
	symbolTree:      {spot(0.7), bar(-1.4, 0, 1.4, 0), bar(0, -1.4, 0, 1.4)},
	symbolStructure: {poly(-1.5, -1.1, 1.5, -1.1, 1.5, 1.1, -1.5, 1.1)},
	symbolDownspout: {poly(0, 1.2, 1.1, -0.8, -1.1, -0.8)},
	symbolSoil:      {poly(-1.1, -1.1, 1.1, -1.1, 1.1, 1.1, -1.1, 1.1), bar(-1.1, -1.1, 1.1, 1.1), bar(-1.1, 1.1, 1.1, -1.1)},
	symbolSpring:    {ring(0.9), bar(0.9, 0, 1.25, -0.45, 1.6, 0, 1.95, 0.45, 2.3, 0)},
	symbolDryWell:   {ring(1.4), {R: 0.25, Centre: Pos{-0.55, -0.35}, Solid: true}, {R: 0.25, Centre: Pos{0.55, -0.35}, Solid: true}, {R: 0.25, Centre: Pos{0, 0.6}, Solid: true}},
	symbolCistern:   {ring(1.4), solid(-1.37, 0.3, 1.37, 0.3, 1.08, 0.9, 0.5, 1.31, -0.5, 1.31, -1.08, 0.9)},
	symbolSinkhole:  {ring(1.5), bar(-1.5, 0, -0.6, 0), bar(0.6, 0, 1.5, 0), bar(0, -1.5, 0, -0.6), bar(0, 0.6, 0, 1.5)},
	symbolFarNote:   {bar(-0.7, 0.7, 0.7, -0.7)},
	symbolFarWatch:  {ring(0.7)},
	symbolFarAct:    {solid(-0.75, -0.75, 0.75, -0.75, 0.75, 0.75, -0.75, 0.75)},
}

// reach returns half the size of the square about a symbol, with its outline.
func (s symbol) reach() MM {
	var r MM
	for _, f := range figures[s] {
		r = max(r, f.R)
		for _, p := range f.Points {
			r = max(r, max(MM(math.Abs(float64(p.X))), MM(math.Abs(float64(p.Y)))))
		}
	}
	return r + 0.2
}

// draw returns the paths of the symbol at a place.
func (s symbol) draw(at Pos, m manner, name string) []Shape {
	pen := m.stroke
	if m.form != formPoint {
		pen.Dash = nil // made for a long edge; too coarse for a symbol
	}
	out := make([]Shape, 0, len(figures[s]))
	for _, f := range figures[s] {
		p := Path{Stroke: &pen, Fill: m.fill, Name: name}
		if f.Solid {
			p.Fill = &pen.Colour
		}
		if f.R > 0 {
			p.Runs = []Run{circle(Pos{at.X + f.Centre.X, at.Y + f.Centre.Y}, f.R)}
		} else {
			p.Runs = []Run{shifted(f.Points, at, !f.Open)}
		}
		if f.Open {
			p.Fill = nil
		}
		out = append(out, p)
	}
	return out
}

func shifted(points []Pos, by Pos, closed bool) Run {
	moved := make([]Pos, len(points))
	for i, p := range points {
		moved[i] = Pos{p.X + by.X, p.Y + by.Y}
	}
	return straight(moved, closed)
}

// straight returns the run through points.
func straight(points []Pos, closed bool) Run {
	r := Run{Start: points[0], Closed: closed, Pieces: make([]Piece, 0, len(points)-1)}
	for _, p := range points[1:] {
		r.Pieces = append(r.Pieces, Piece{To: p})
	}
	return r
}

// circle returns a full circle as two half turns.
func circle(c Pos, r MM) Run {
	a, b := Pos{c.X - r, c.Y}, Pos{c.X + r, c.Y}
	return Run{Start: a, Closed: true, Pieces: []Piece{
		{To: b, Arc: true, Centre: c, Clockwise: true},
		{To: a, Arc: true, Centre: c, Clockwise: true},
	}}
}
