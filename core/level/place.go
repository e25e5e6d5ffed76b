package level

import (
	"math"

	"undersod/core/site"
	"undersod/core/unit"
)

// spot is a place in the box whose height is known: right of the left wall and
// away from the near wall, in metres.
type spot struct {
	right, away float64
	node        int
}

// inside returns the box's width and length in metres, and whether both are
// known.
func (m *measurer) inside() (width, length float64, ok bool) {
	w, okw := size(m.box.Width)
	l, okl := size(m.box.Length)
	return w, l, okw && okl
}

func size(w *unit.Written) (float64, bool) {
	if w == nil || !(w.Length > 0 && w.Length < farthest) {
		return 0, false
	}
	return float64(w.Length), true
}

// outletSpots places the outlets whose level, wall and distance from the left
// corner are known. Without the box's size only those in one wall can be placed
// against each other, and their right and away count from that wall's corner.
func (m *measurer) outletSpots() []spot {
	width, length, sized := m.inside()
	var out []spot
	var wall site.Edge
	for k, i := range m.known {
		o := &m.box.Outlets[k]
		if i < 0 || o.FromLeft == nil || !(o.FromLeft.Length >= 0 && o.FromLeft.Length < farthest) {
			continue
		}
		right, away, ok := inWall(o.Wall, float64(o.FromLeft.Length), width, length)
		if !ok || sized && (right < 0 || right > width || away < 0 || away > length) {
			continue
		}
		if wall == site.AnyEdge {
			wall = o.Wall
		}
		if !sized && o.Wall != wall {
			return nil
		}
		out = append(out, spot{right, away, i})
	}
	return out
}

// inWall returns the place at a distance from the left corner of a wall, faced
// from inside: facing the far wall left is left, facing the near wall left is
// right.
func inWall(wall site.Edge, left, width, length float64) (right, away float64, ok bool) {
	switch wall {
	case site.EdgeNear:
		return width - left, 0, true
	case site.EdgeRight:
		return width, length - left, true
	case site.EdgeFar:
		return left, length, true
	case site.EdgeLeft:
		return 0, left, true
	}
	return 0, 0, false
}

// rimSpots places the middles of the rim; none where the box's size is not
// known.
func (m *measurer) rimSpots() []spot {
	width, length, ok := m.inside()
	if !ok {
		return nil
	}
	var out []spot
	for _, wall := range walls {
		i, ok := m.find(slot(0, slotRim-int(wall)))
		if !ok {
			continue
		}
		half := length / 2
		if wall == site.EdgeNear || wall == site.EdgeFar {
			half = width / 2
		}
		right, away, _ := inWall(wall, half, width, length)
		out = append(out, spot{right, away, i})
	}
	return out
}

// spread is the second moments of places about their middle.
type spread struct {
	middle     [2]float64
	xx, xy, yy float64
	count      int
}

func spreadOf(list []spot) spread {
	s := spread{count: len(list)}
	if s.count == 0 {
		return s
	}
	for _, p := range list {
		s.middle[0] += p.right / float64(s.count)
		s.middle[1] += p.away / float64(s.count)
	}
	for _, p := range list {
		x, y := p.right-s.middle[0], p.away-s.middle[1]
		s.xx, s.xy, s.yy = s.xx+x*x, s.xy+x*y, s.yy+y*y
	}
	return s
}

// leastBreadth is how far places must lie apart, as a root mean square from
// their middle or from the line through them, to tell a slope (common practice,
// no source).
const leastBreadth = float64(unit.Inch)

// axes returns the direction in which the places spread most, and their root
// mean square along and across it.
func (s spread) axes() (x, y, along, across float64) {
	if s.count == 0 {
		return 1, 0, 0, 0
	}
	mean, half := (s.xx+s.yy)/2, math.Hypot((s.xx-s.yy)/2, s.xy)
	turn := math.Atan2(2*s.xy, s.xx-s.yy) / 2
	n := float64(s.count)
	y, x = math.Sincos(turn)
	return x, y, math.Sqrt((mean + half) / n), math.Sqrt(math.Max(mean-half, 0) / n)
}
