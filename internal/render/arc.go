package render

import (
	"math"

	"undersod/core/sheet"
)

// arc is a piece of a circle on paper. Angles are in radians from the
// direction right, and grow clockwise because Y grows downward. Where the two
// ends lie unequally far from the centre, by the rounding of the layout, the
// radius runs evenly from the one to the other.
type arc struct {
	centre                 sheet.Pos
	startRadius, endRadius float64 // mm
	start                  float64 // angle
	sweep                  float64 // positive clockwise on paper, up to a full turn
}

// newArc returns the arc of a piece that begins at from. Ends that coincide
// mean a full circle.
func newArc(from sheet.Pos, p sheet.Piece) arc {
	dx0, dy0 := float64(from.X-p.Centre.X), float64(from.Y-p.Centre.Y)
	dx1, dy1 := float64(p.To.X-p.Centre.X), float64(p.To.Y-p.Centre.Y)
	a := arc{
		centre:      p.Centre,
		startRadius: math.Hypot(dx0, dy0),
		endRadius:   math.Hypot(dx1, dy1),
		start:       math.Atan2(dy0, dx0),
	}
	a.sweep = math.Atan2(dy1, dx1) - a.start
	if math.Hypot(dx1-dx0, dy1-dy0) < sameFullPoint {
		a.sweep = 2 * math.Pi
	}
	if a.sweep < 0 {
		a.sweep += 2 * math.Pi
	}
	if !p.Clockwise && a.sweep != 2*math.Pi {
		a.sweep -= 2 * math.Pi
	} else if !p.Clockwise {
		a.sweep = -a.sweep
	}
	return a
}

// radius returns the mean radius in millimetres.
func (a arc) radius() float64 { return (a.startRadius + a.endRadius) / 2 }

// full reports whether the arc is a whole circle.
func (a arc) full() bool { return math.Abs(a.sweep) > 2*math.Pi-1e-9 }

// at returns the point at a share of the sweep from 0 to 1.
func (a arc) at(share float64) sheet.Pos {
	r := a.startRadius + share*(a.endRadius-a.startRadius)
	s, c := math.Sincos(a.start + share*a.sweep)
	return sheet.Pos{X: a.centre.X + sheet.MM(r*c), Y: a.centre.Y + sheet.MM(r*s)}
}

// curve is a cubic Bézier piece without its start.
type curve struct{ c1, c2, to sheet.Pos }

// curves returns the arc as Béziers of at most a quarter turn each, which
// stray from the circle by less than 0.03 % of the radius: handles of
// 4/3 tan(sweep/4) radii (Goldapp, "Approximation of circular arcs by cubic
// polynomials", Computer Aided Geometric Design 8, 1991).
func (a arc) curves() []curve {
	n := int(math.Ceil(math.Abs(a.sweep)/(math.Pi/2) - 1e-9))
	n = max(n, 1)
	out := make([]curve, n)
	step := a.sweep / float64(n)
	handle := 4.0 / 3 * math.Tan(step/4)
	for i := range out {
		t0, t1 := float64(i)/float64(n), float64(i+1)/float64(n)
		p0, p1 := a.at(t0), a.at(t1)
		out[i] = curve{a.ahead(p0, handle), a.ahead(p1, -handle), p1}
	}
	return out
}

// ahead returns the point reached from p on the circle along its tangent, by
// handle radii, clockwise when positive.
func (a arc) ahead(p sheet.Pos, handle float64) sheet.Pos {
	dx, dy := p.X-a.centre.X, p.Y-a.centre.Y
	h := sheet.MM(handle)
	return sheet.Pos{X: p.X - h*dy, Y: p.Y + h*dx}
}

// points returns points along the arc, its end but not its start among them,
// so dense that no chord is farther than tolerance from the arc.
func (a arc) points(tolerance float64) []sheet.Pos {
	r := a.radius()
	n := 1
	if r > tolerance {
		n = int(math.Ceil(math.Abs(a.sweep) / (2 * math.Acos(1-tolerance/r))))
	}
	n = max(n, 1)
	out := make([]sheet.Pos, n)
	for i := range out {
		out[i] = a.at(float64(i+1) / float64(n))
	}
	return out
}
