package hydraulic

import (
	"math"

	"undersod/core/unit"
)

// orificeCoefficient is the share of the ideal flow that passes a mouth under
// water, where the jet contracts behind the edge of the wall: 0.6 for a sharp
// edge (textbook value, from memory).
const orificeCoefficient = 0.6

// How a mouth passes water, said of bore 1 (see critical.go). While the mouth
// draws air the control is critical flow at the brink. Its energy has no bound
// as the pipe fills, and its flow tends to that of a mouth without contraction,
// which no square-edged mouth passes. Once the water stands over the crown the
// mouth is an orifice, 0.6 (π/4) √(2 (energy − 1/2)). Between the two the
// smaller flow governs, as for a culvert under inlet control. Over the crown
// they meet once, at the constants below: beneath, the brink passes less; above,
// the orifice does. So the flow is continuous and rises with the head; its slope
// alone has a step there.
const (
	switchEnergy = 1.058284974921075 // the water then stands at 0.7206 of the bore
	switchFlow   = 0.497948122849567
)

// passes returns the flow of a mouth under a head, and how fast it grows with
// the head.
func passes(energy float64) (flow, slope float64) {
	switch {
	case energy <= 0:
		return 0, 0
	case energy >= switchEnergy:
		root := math.Sqrt(2*energy - 1)
		return orificeCoefficient * math.Pi / 4 * root, orificeCoefficient * math.Pi / 4 / root
	}
	b := brinkUnder(energy)
	return b.flow, b.slope
}

// needs is the inverse of passes: the head under which a mouth passes a flow.
func needs(flow float64) float64 {
	switch {
	case flow <= 0:
		return 0
	case flow >= switchFlow:
		root := flow / (orificeCoefficient * math.Pi / 4)
		return (root*root + 1) / 2
	}
	_, energy := criticalState(halfAngleOfFlow(flow))
	return energy
}

// mouth is an open opening, in metres and cubic metres per second.
type mouth struct {
	at     int     // of the opening in the list given
	invert float64 // over the lowest mouth
	bore   float64
	scale  float64 // flowScale times the share of the bore that is open
}

// newMouth reads an opening that passed its checks. Roots and sediment are
// taken to narrow the bore by the same share at every height. Area and top
// width of the flow then shrink alike, so that the critical depth and the
// energy at a given head stay and the flow shrinks by that share.
func newMouth(at int, o Opening) mouth {
	d := float64(o.Bore)
	return mouth{at: at, invert: float64(o.Invert), bore: d, scale: flowScale(d) * (1 - o.Narrowed)}
}

// passes returns the flow when the water stands at a level over the lowest
// mouth, and its slope.
func (m *mouth) passes(level float64) (flow, slope float64) {
	q, s := passes((level - m.invert) / m.bore)
	return q * m.scale, s * m.scale / m.bore
}

// levelFor returns the level over the lowest mouth at which this one alone
// passes a flow.
func (m *mouth) levelFor(flow float64) float64 {
	return m.invert + m.bore*needs(flow/m.scale)
}

// share describes what the mouth takes at a level.
func (m *mouth) share(level float64) (head, depth unit.Length, regime Regime) {
	h := level - m.invert
	switch {
	case h <= 0:
		return 0, 0, Dry
	case h/m.bore >= switchEnergy:
		return unit.Length(h), unit.Length(m.bore), Orifice
	}
	return unit.Length(h), unit.Length(m.bore * filledTo(brinkUnder(h/m.bore).half)), Brink
}

// MouthFlow returns what one open mouth of a box passes when the water stands
// at head over its invert, in cubic metres per second, and how. Up to 1.06 bores
// the flow is critical at the brink: head = depth + area/(2 top width), the
// speed of the water in the box neglected. Above, the mouth is an orifice of
// coefficient 0.6, flow = 0.6 area √(2g (head − bore/2)). Both from memory of
// textbooks (Chow, Open-Channel Hydraulics, 1959, for the first). Errors are as
// of PartFull, and a head that is no number or above 100 m.
func MouthFlow(bore, head unit.Length) (unit.Flow, Regime, error) {
	if err := checkBore("the pipe", bore); err != nil {
		return 0, Dry, err
	}
	if err := checkHead(head); err != nil {
		return 0, Dry, err
	}
	m := newMouth(0, Opening{Bore: bore})
	_, _, regime := m.share(float64(head))
	q, _ := m.passes(float64(head))
	return unit.Flow(q), regime, nil
}
