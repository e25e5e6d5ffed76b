package sheet

import (
	"math"

	"undersod/core/window"
)

// rect is an upright rectangle on paper.
type rect struct{ X0, Y0, X1, Y1 MM }

func (r rect) width() MM  { return r.X1 - r.X0 }
func (r rect) height() MM { return r.Y1 - r.Y0 }

func (r rect) centre() Pos { return Pos{(r.X0 + r.X1) / 2, (r.Y0 + r.Y1) / 2} }

// grown returns r made larger by d on every side.
func (r rect) grown(d MM) rect { return rect{r.X0 - d, r.Y0 - d, r.X1 + d, r.Y1 + d} }

func (r rect) meets(q rect) bool {
	return r.X0 < q.X1 && q.X0 < r.X1 && r.Y0 < q.Y1 && q.Y0 < r.Y1
}

func (r rect) holds(q rect) bool {
	return r.X0 <= q.X0 && r.Y0 <= q.Y0 && q.X1 <= r.X1 && q.Y1 <= r.Y1
}

// segRect returns the upright rectangle about a segment.
func segRect(a, b Pos) rect {
	return rect{min(a.X, b.X), min(a.Y, b.Y), max(a.X, b.X), max(a.Y, b.Y)}
}

// box is a rectangle on paper that may be turned: half its width along U, half
// its height across.
type box struct {
	C      Pos
	UX, UY float64 // direction of the width, one long
	HW, HH MM
}

// upright returns the box of a rectangle.
func upright(r rect) box {
	return box{C: r.centre(), UX: 1, HW: r.width() / 2, HH: r.height() / 2}
}

// along returns the box about a segment that reaches half to each side.
func along(a, b Pos, half MM) box {
	d, l := direction(a, b)
	return box{C: middle(a, b), UX: d.x, UY: d.y, HW: l / 2, HH: half}
}

func (b box) grown(d MM) box {
	b.HW += d
	b.HH += d
	return b
}

// bounds returns the upright rectangle about the box.
func (b box) bounds() rect {
	ux, uy := MM(math.Abs(b.UX)), MM(math.Abs(b.UY))
	w, h := b.HW*ux+b.HH*uy, b.HW*uy+b.HH*ux
	return rect{b.C.X - w, b.C.Y - h, b.C.X + w, b.C.Y + h}
}

// local returns p in the frame of the box.
func (b box) local(p Pos) (x, y MM) {
	dx, dy := p.X-b.C.X, p.Y-b.C.Y
	ux, uy := MM(b.UX), MM(b.UY)
	return dx*ux + dy*uy, -dx*uy + dy*ux
}

// place is the inverse of local.
func (b box) place(x, y MM) Pos {
	ux, uy := MM(b.UX), MM(b.UY)
	return Pos{b.C.X + x*ux - y*uy, b.C.Y + x*uy + y*ux}
}

// holds tells whether p lies in the box.
func (b box) holds(p Pos) bool {
	x, y := b.local(p)
	return -b.HW <= x && x <= b.HW && -b.HH <= y && y <= b.HH
}

// meetsSegment tells whether any part of the segment lies inside the box.
func (b box) meetsSegment(p, q Pos) bool {
	x0, y0 := b.local(p)
	x1, y1 := b.local(q)
	_, _, ok := window.Clip(x0, y0, x1, y1, b.HW, b.HH)
	return ok
}

// meets tells whether two boxes overlap, by their separating axes.
func (b box) meets(o box) bool {
	return !b.separates(o) && !o.separates(b)
}

// separates tells whether one of b's own axes has the boxes apart.
func (b box) separates(o box) bool {
	x, y := b.local(o.C)
	c := MM(math.Abs(b.UX*o.UX + b.UY*o.UY))
	s := MM(math.Abs(b.UX*o.UY - b.UY*o.UX))
	return MM(math.Abs(float64(x))) >= b.HW+o.HW*c+o.HH*s ||
		MM(math.Abs(float64(y))) >= b.HH+o.HW*s+o.HH*c
}

// nearest returns the point of the box nearest to p.
func (b box) nearest(p Pos) Pos {
	x, y := b.local(p)
	return b.place(min(max(x, -b.HW), b.HW), min(max(y, -b.HH), b.HH))
}

// step is a direction on paper, one long.
type step struct{ x, y float64 }

// direction returns the direction and distance from a to b; along x where they
// fall together.
func direction(a, b Pos) (step, MM) {
	l := distance(a, b)
	if l == 0 {
		return step{1, 0}, 0
	}
	return step{float64((b.X - a.X) / l), float64((b.Y - a.Y) / l)}, l
}

func distance(a, b Pos) MM {
	return MM(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)))
}

func middle(a, b Pos) Pos { return between(a, b, 0.5) }

func between(a, b Pos, t float64) Pos {
	return Pos{a.X + (b.X-a.X)*MM(t), a.Y + (b.Y-a.Y)*MM(t)}
}

// toward returns the point at a distance from p in a direction.
func (p Pos) toward(d step, l MM) Pos {
	return Pos{p.X + MM(d.x)*l, p.Y + MM(d.y)*l}
}

// cross tells whether two segments cross or touch.
func cross(a, b, c, d Pos) bool {
	s1, s2 := turnOf(a, b, c), turnOf(a, b, d)
	s3, s4 := turnOf(c, d, a), turnOf(c, d, b)
	return s1*s2 <= 0 && s3*s4 <= 0 && segRect(a, b).grown(1e-9).meets(segRect(c, d).grown(1e-9))
}

func turnOf(a, b, c Pos) float64 {
	return float64((b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X))
}

// inside tells whether p lies in the polygon, by the even-odd rule.
func inside(p Pos, poly []Pos) bool {
	in := false
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < (b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y)+a.X {
			in = !in
		}
	}
	return in
}
