package clearance

import (
	"math"

	"undersod/core/planar"
	"undersod/core/unit"
)

// steps is how many steps a place is improved by at most.
const steps = 40

// climb moves a place at one turn to where its smallest margin is the largest
// about it. Each step goes to the highest place under the tangents of the
// margins. As margins are convex functions of the place, they lie above their
// tangents, and no step makes the smallest one smaller.
func (s *search) climb(turn int, p planar.Vec, among []int, step unit.Length) (planar.Vec, unit.Length) {
	v := s.look(turn, p, among, step*2)
	for range steps {
		move, height := highestUnder(v.readings, step)
		if height <= v.least+touching/10 {
			if step = step / 8; step < touching {
				break
			}
			continue
		}
		next := s.look(turn, p.Plus(move), s.all, step*2)
		if next.least <= v.least {
			step /= 8
			continue
		}
		p, v = p.Plus(move), next
	}
	return p, v.least
}

// highestUnder is the step, at most so long east or north, to where the lowest of
// the tangents is highest, and that height: the best of all places where three of
// the tangents and of the bounds of the step meet.
func highestUnder(readings []reading, step unit.Length) (planar.Vec, unit.Length) {
	rows := tangents(readings, step)
	best, at := unit.Length(math.Inf(-1)), planar.Vec{}
	for i := range rows {
		for k := range i {
			for l := range k {
				v, h, ok := solve(rows[i], rows[k], rows[l])
				if ok && h > best && under(rows, v, h) {
					best, at = h, v
				}
			}
		}
	}
	return at, best
}

// row is a plane: uphill·v - weight h + height >= 0, of weight 1 for a tangent and
// 0 for a bound of the step.
type row struct {
	uphill planar.Vec
	weight float64
	height unit.Length
}

// tangents lists the lowest of the readings and the bounds of a step.
func tangents(readings []reading, step unit.Length) []row {
	var low [combined]slope
	n := 0
	for _, r := range readings {
		n = insert(&low, n, slope{r.margin, r.uphill})
	}
	rows := make([]row, 0, combined+4)
	for _, t := range low[:n] {
		rows = append(rows, row{t.uphill, 1, t.height})
	}
	return append(rows, row{planar.Vec{East: 1}, 0, step}, row{planar.Vec{East: -1}, 0, step},
		row{planar.Vec{North: 1}, 0, step}, row{planar.Vec{North: -1}, 0, step})
}

// under tells whether a place and height keep below every row.
func under(rows []row, v planar.Vec, h unit.Length) bool {
	for _, r := range rows {
		if unit.Length(r.uphill.Dot(v))-unit.Length(r.weight)*h+r.height < -1e-12*(1+unit.Length(math.Abs(float64(h)))) {
			return false
		}
	}
	return true
}

// solve finds where three rows meet, by Cramer's rule; false where they do not in
// one place.
func solve(a, b, c row) (planar.Vec, unit.Length, bool) {
	det := func(x, y, z [3]float64) float64 {
		return x[0]*(y[1]*z[2]-y[2]*z[1]) - y[0]*(x[1]*z[2]-x[2]*z[1]) + z[0]*(x[1]*y[2]-x[2]*y[1])
	}
	e := [3]float64{float64(a.uphill.East), float64(b.uphill.East), float64(c.uphill.East)}
	n := [3]float64{float64(a.uphill.North), float64(b.uphill.North), float64(c.uphill.North)}
	w := [3]float64{-a.weight, -b.weight, -c.weight}
	r := [3]float64{-float64(a.height), -float64(b.height), -float64(c.height)}
	d := det(e, n, w)
	if math.Abs(d) < 1e-12 {
		return planar.Vec{}, 0, false
	}
	return planar.Vec{East: unit.Length(det(r, n, w) / d), North: unit.Length(det(e, r, w) / d)}, unit.Length(det(e, n, r) / d), true
}
