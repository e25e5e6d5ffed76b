package hydraulic

import (
	"math"

	"undersod/core/unit"
)

// Divide tells how a box shares an inflow among its openings. The water stands
// level in the box, the speed of the inflow neglected, so that every mouth sees
// the head of that level over its own invert and passes what MouthFlow tells,
// less the share of its bore that is narrowed; the level is the one at which
// all together pass the inflow. The pipes behind are taken to fall steeply
// enough not to hold the water back, which a smooth 4 in pipe does at household
// flows from about 1 in 120.
//
// Wanted shares count among the openings that are not closed. With no inflow
// every opening is dry. Errors name the opening: an opening of impossible bore,
// level or narrowing, no opening at all, or none that is open, and an inflow
// that is negative or no number, or that the outlets pass only with the water
// over 100 m high.
func Divide(openings []Opening, inflow unit.Flow) (Split, error) {
	if err := check(openings); err != nil {
		return Split{}, err
	}
	if err := checkInflow(inflow); err != nil {
		return Split{}, err
	}
	b, lowest := newBox(openings)
	s := Split{Inflow: inflow, Lowest: lowest, Shares: make([]Share, len(openings))}
	wanted := wantedShares(openings)
	for i, o := range openings {
		s.Shares[i] = Share{Name: o.Name, Wanted: wanted[i], Regime: Dry}
	}
	if inflow < smallest {
		return s, nil
	}
	level := b.level(float64(inflow))
	if err := checkWater(inflow, unit.Length(level)); err != nil {
		return Split{}, err
	}
	s.Water = unit.Length(level)
	taken := make([]float64, len(b))
	b.shares(level, taken)
	for i := range b {
		at := &s.Shares[b[i].at]
		at.Head, at.Depth, at.Regime = b[i].share(level)
		at.Share = taken[i]
		at.Flow = unit.Flow(taken[i]) * inflow
	}
	return s, nil
}

// wantedShares returns the share of the inflow that each opening should have: 0
// where it is closed, equal ones where no open one has a weight.
func wantedShares(openings []Opening) []float64 {
	sum, open := 0.0, 0.0
	for _, o := range openings {
		if !o.Closed {
			sum += o.Wanted
			open++
		}
	}
	shares := make([]float64, len(openings))
	for i, o := range openings {
		switch {
		case o.Closed:
		case sum > 0:
			shares[i] = o.Wanted / sum
		default:
			shares[i] = 1 / open
		}
	}
	return shares
}

// box is the open mouths of a box, their inverts over the lowest.
type box []mouth

// newBox returns the open mouths and the height of the lowest.
func newBox(openings []Opening) (box, unit.Length) {
	b := make(box, 0, len(openings))
	lowest := math.Inf(1)
	for i, o := range openings {
		if !o.Closed {
			b = append(b, newMouth(i, o))
			lowest = min(lowest, float64(o.Invert))
		}
	}
	for i := range b {
		b[i].invert -= lowest
	}
	return b, unit.Length(lowest)
}

// level returns how high over the lowest mouth the water stands when all pass
// the inflow together. What the lowest alone needs is a bound from above. From
// there Newton's steps go on the square root of the flow, which is nearly a
// straight line of the level near an invert, inside a bracket.
func (b box) level(inflow float64) float64 {
	low, high := 0.0, math.Inf(1)
	for i := range b {
		if b[i].invert == 0 {
			high = b[i].levelFor(inflow)
			break
		}
	}
	x := high
	for range 200 {
		sum, slope := b.passes(x)
		if math.Abs(sum-inflow) <= 1e-15*inflow {
			return x
		}
		if sum > inflow {
			high = x
		} else {
			low = x
		}
		root := math.Sqrt(sum)
		next := x - (root-math.Sqrt(inflow))*2*root/slope
		if !(next > low && next < high) {
			next = low + (high-low)/2
		}
		if math.Abs(next-x) <= 2e-16*x {
			return next
		}
		x = next
	}
	return x
}

// passes returns what all mouths pass with the water at a level, and its slope.
func (b box) passes(level float64) (flow, slope float64) {
	for i := range b {
		q, s := b[i].passes(level)
		flow += q
		slope += s
	}
	return flow, slope
}

// shares writes the share of each mouth with the water at a level. They are
// made to add up to 1, which changes the last digits.
func (b box) shares(level float64, into []float64) {
	sum := 0.0
	for i := range b {
		into[i], _ = b[i].passes(level)
		sum += into[i]
	}
	for i := range into {
		into[i] /= sum
	}
}
