package clearance

import (
	"fmt"
	"math"

	"undersod/core/unit"
)

// MostTurns is how many turns are tried at most.
const MostTurns = 3601

// All lists the turns, From first and To last. It is an error where one of them
// is not finite, the step or the range goes backwards, or they are more than
// MostTurns.
func (t Turns) All() ([]unit.Angle, error) {
	for _, a := range []unit.Angle{t.From, t.To, t.Step} {
		if math.IsNaN(float64(a)) || math.Abs(float64(a)) > 1e6 {
			return nil, fmt.Errorf("the turns of the footprint are not numbers: give them in degrees, for example from 0° to 180° by 1°")
		}
	}
	if t.Step == 0 {
		return []unit.Angle{t.From}, nil
	}
	span := t.To - t.From
	steps := math.Floor(float64(span/t.Step) + 1e-9)
	switch {
	case t.Step < 0 || span < 0:
		return nil, fmt.Errorf("the turns of the footprint run from %.4g° to %.4g° by %.4g°: give the smaller one first and a step above 0°", t.From.Degrees(), t.To.Degrees(), t.Step.Degrees())
	case steps > MostTurns-2:
		return nil, fmt.Errorf("from %.4g° to %.4g° by %.4g° the footprint would be turned %.0f times: take a larger step, for example 1°", t.From.Degrees(), t.To.Degrees(), t.Step.Degrees(), steps)
	}
	out := make([]unit.Angle, 0, int(steps)+2)
	for i := range int(steps) + 1 {
		out = append(out, t.From+unit.Angle(i)*t.Step)
	}
	if last := len(out) - 1; math.Abs(float64(out[last]-t.To)) <= 1e-9 {
		out[last] = t.To
	} else {
		out = append(out, t.To)
	}
	return out, nil
}
