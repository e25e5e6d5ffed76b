package level

import (
	"fmt"
	"math"

	"undersod/core/least"
	"undersod/core/quantile"
	"undersod/core/unit"
)

// tilt fits a plane through the outlets, failing that through the rim, failing
// that a slope along the one direction in which either can tell.
func (m *measurer) tilt() Tilt {
	sets := [...]struct {
		by    string
		spots []spot
	}{{"outlets", m.outletSpots()}, {"rim", m.rimSpots()}}
	for _, s := range sets {
		if t, ok := m.plane(s.spots, s.by); ok {
			return t
		}
	}
	for _, s := range sets {
		if t, ok := m.alongOne(s.spots, s.by); ok {
			return t
		}
	}
	return Tilt{Why: "needed are the levels and the places (wall, and distance from its left corner) of two outlets or more, " +
		"or the levels of two sides of the rim and the inside length and width of the box"}
}

// gradient is a slope to the right and away from the near wall, with its
// covariance.
type gradient struct {
	right, away float64
	rr, ra, aa  float64
}

// plane fits height = c + right·x + away·y by plain least squares through three
// places or more that do not lie in one line. Its slopes are fixed linear
// functions of the heights, so their covariance follows from that of the adjusted
// heights (propagation of variance; Ghilani and Wolf, Adjustment Computations,
// chapter 6, from memory).
func (m *measurer) plane(list []spot, by string) (Tilt, bool) {
	s := spreadOf(list)
	if _, _, _, across := s.axes(); len(list) < 3 || across < leastBreadth || !m.oneGroup(list) {
		return Tilt{}, false
	}
	det := s.xx*s.yy - s.xy*s.xy
	right, away := make([]least.Term, len(list)), make([]least.Term, len(list))
	for i, p := range list {
		x, y := p.right-s.middle[0], p.away-s.middle[1]
		right[i] = least.Term{Index: p.node, Slope: (s.yy*x - s.xy*y) / det}
		away[i] = least.Term{Index: p.node, Slope: (s.xx*y - s.xy*x) / det}
	}
	g := gradient{right: m.value(right), away: m.value(away)}
	g.rr, g.aa = m.solution.PredictedVariance(right), m.solution.PredictedVariance(away)
	both := append(append([]least.Term(nil), right...), away...)
	g.ra = (m.solution.PredictedVariance(both) - g.rr - g.aa) / 2
	t := Tilt{Known: true, By: by}
	t.Slope = math.Hypot(g.right, g.away)
	t.SlopeSD = g.deviation()
	t.Told = g.told()
	m.finish(&t, -g.right, -g.away, list)
	return t, true
}

func (m *measurer) oneGroup(list []spot) bool {
	for _, p := range list {
		if m.group[p.node] != m.group[list[0].node] {
			return false
		}
	}
	return m.solution != nil
}

func (m *measurer) value(terms []least.Term) float64 {
	sum := 0.0
	for _, t := range terms {
		sum += t.Slope * m.solution.X[t.Index]
	}
	return sum
}

// deviation is that of the size of the gradient, along the gradient; that of
// the worst direction where there is no slope.
func (g gradient) deviation() float64 {
	s := math.Hypot(g.right, g.away)
	if s == 0 {
		return math.Sqrt((g.rr+g.aa)/2 + math.Hypot((g.rr-g.aa)/2, g.ra))
	}
	x, y := g.right/s, g.away/s
	return math.Sqrt(math.Max(0, x*x*g.rr+2*x*y*g.ra+y*y*g.aa))
}

// told tells whether the gradient differs from none: gᵀC⁻¹g above the 95 %
// limit of the chi-square distribution with two degrees of freedom, 5.99.
func (g gradient) told() bool {
	det := g.rr*g.aa - g.ra*g.ra
	if det <= 0 {
		return false
	}
	q := (g.right*g.right*g.aa - 2*g.right*g.away*g.ra + g.away*g.away*g.rr) / det
	return q > quantile.Chi2Quantile(sure, 2)
}

// alongOne fits a slope along the direction in which the places spread.
func (m *measurer) alongOne(list []spot, by string) (Tilt, bool) {
	s := spreadOf(list)
	x, y, along, _ := s.axes()
	if len(list) < 2 || along < leastBreadth || !m.oneGroup(list) {
		return Tilt{}, false
	}
	terms := make([]least.Term, len(list))
	for i, p := range list {
		part := x*(p.right-s.middle[0]) + y*(p.away-s.middle[1])
		terms[i] = least.Term{Index: p.node, Slope: part / (along * along * float64(s.count))}
	}
	slope, sd := m.value(terms), math.Sqrt(m.solution.PredictedVariance(terms))
	t := Tilt{Known: true, By: by, OneWay: true, Slope: math.Abs(slope), SlopeSD: sd}
	t.Told = t.Slope > z95()*sd
	if slope > 0 {
		x, y = -x, -y
	}
	m.finish(&t, x, y, list)
	return t, true
}

// finish fills in amount, residual and words, given the way downhill.
func (m *measurer) finish(t *Tilt, right, away float64, list []spot) {
	t.Toward = unit.Angle(math.Atan2(right, away)).Turn()
	x, y := math.Sincos(float64(t.Toward))
	extent := m.extent(x, y, list)
	t.Across = unit.Length(t.Slope * extent)
	t.AcrossSD = unit.Length(t.SlopeSD * extent)
	t.Residual = m.residual(t, x, y, list)
	t.Words = m.tiltWords(t)
}

// extent is how wide the box is in a direction, in metres: over its inside
// where the size is known, else over the places used.
func (m *measurer) extent(x, y float64, list []spot) float64 {
	if w, l, ok := m.inside(); ok {
		return w*math.Abs(x) + l*math.Abs(y)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range list {
		s := x*p.right + y*p.away
		low, high = math.Min(low, s), math.Max(high, s)
	}
	return high - low
}

// residual is the largest distance of a height from the plane.
func (m *measurer) residual(t *Tilt, x, y float64, list []spot) unit.Length {
	middle, off := 0.0, make([]float64, len(list))
	for i, p := range list {
		off[i] = m.solution.X[p.node] + t.Slope*(x*p.right+y*p.away)
		middle += off[i] / float64(len(list))
	}
	largest := 0.0
	for _, v := range off {
		largest = math.Max(largest, math.Abs(v-middle))
	}
	return unit.Length(largest)
}

// sides names the eight ways across a box, clockwise from the far wall.
var sides = [8]string{"far wall", "far right corner", "right wall", "near right corner",
	"near wall", "near left corner", "left wall", "far left corner"}

func (m *measurer) tiltWords(t *Tilt) string {
	k := int(math.Round(float64(t.Toward)/(math.Pi/4))) % 8
	text := fmt.Sprintf("%s lower at the %s than at the %s, %s, by its %s", m.length(t.Across), sides[k], sides[(k+4)%8],
		m.within(t.AcrossSD), t.By)
	if !t.Told {
		text = fmt.Sprintf("level as far as its %s tell: %s lower at the %s than at the %s, %s", t.By,
			m.length(t.Across), sides[k], sides[(k+4)%8], m.within(t.AcrossSD))
	}
	if t.OneWay {
		text += "; the other way across is not told"
	}
	return text
}
