package figure

import (
	"math"
	"strconv"
	"strings"

	"undersod/core/sheet"
	"undersod/core/unit"
)

// axis maps what is counted in a unit from lo to hi onto a stretch of the paper.
type axis struct {
	lo, hi float64
	a, b   mm // where lo and hi lie
}

// at returns the place of a value on paper, at an end for what lies beyond it.
func (x axis) at(v float64) mm {
	if !(x.hi > x.lo) {
		return x.a
	}
	return x.a + (x.b-x.a)*mm((between(v, x.lo, x.hi)-x.lo)/(x.hi-x.lo))
}

// step returns the smallest of 1, 2, 5 times a power of ten that is no smaller
// than least, above zero.
func step(least float64) float64 {
	if !(least > 0) || math.IsInf(least, 0) {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(least)))
	for _, k := range [...]float64{1, 2, 5} {
		if k*p >= least*(1-1e-9) {
			return k * p
		}
	}
	return 10 * p
}

// stepOf returns the first of some steps that is no smaller than least, and the
// last one doubled until it is.
func stepOf(least float64, steps ...float64) float64 {
	for _, s := range steps {
		if s >= least {
			return s
		}
	}
	s := steps[len(steps)-1]
	for s < least && s < 1e12 {
		s *= 2
	}
	return s
}

// mostTicks bounds the ticks of one axis.
const mostTicks = 200

// ticks returns the multiples of a step on the axis.
func (x axis) ticks(step float64) []float64 {
	var out []float64
	for n := math.Ceil(x.lo/step - 1e-9); n*step <= x.hi+step*1e-9 && len(out) < mostTicks; n++ {
		out = append(out, n*step+0) // never minus zero
	}
	return out
}

// farUnit is the unit of distances along a line.
func (s Say) farUnit() (per unit.Length, name string) {
	if s.metric() {
		return unit.Metre, "m"
	}
	return unit.Foot, "ft"
}

// numberText prints the number of a tick without needless zeros.
func numberText(v float64) string {
	t := strconv.FormatFloat(v, 'f', 6, 64)
	return strings.TrimSuffix(strings.TrimRight(t, "0"), ".")
}

// ground draws the scale of distances along a line, with its unit in words.
func (p *pen) ground(x axis, words string) {
	per, _ := p.say.farUnit()
	scaled := axis{x.lo / float64(per), x.hi / float64(per), x.a, x.b}
	widest := max(p.advance(numberText(math.Round(scaled.lo)), sheet.Regular, fine), p.advance(numberText(math.Round(scaled.hi)), sheet.Regular, fine))
	every := step((scaled.hi - scaled.lo) * float64((widest+6)/max(x.b-x.a, 1)))
	p.line(pos{X: x.a, Y: p.y}, pos{X: x.b, Y: p.y}, 0.2, ink)
	for _, v := range scaled.ticks(every / 5) {
		p.line(pos{X: scaled.at(v), Y: p.y}, pos{X: scaled.at(v), Y: p.y + 0.8}, 0.13, stone)
	}
	for _, v := range scaled.ticks(every) {
		at := scaled.at(v)
		p.line(pos{X: at, Y: p.y}, pos{X: at, Y: p.y + 1.6}, 0.25, ink)
		p.write(at, p.y+1.9, numberText(v), script{size: fine, colour: ink, align: sheet.AlignMiddle})
	}
	s := script{size: fine, colour: stone}
	p.write(x.b+2, p.y-p.lead(fine)/2, p.shorten(words, s, p.width-edge-x.b-2), s)
	p.y += 1.9 + p.lead(fine)
}
