package hydraulic

import (
	"fmt"

	"undersod/core/unit"
)

// Sense tells by how much the share of each opening changes when it alone is
// raised by a length (lowered, when negative), in the order of the openings; a
// closed one changes nothing. Errors are those of Divide, and a length that is
// no number or above 1 m.
func Sense(openings []Opening, inflow unit.Flow, by unit.Length) ([]Sensitivity, error) {
	if !(by.Abs() <= unit.Metre) {
		return nil, fmt.Errorf("an outlet cannot be raised by %s; give at most 1 m, such as 1/16\"", show(by))
	}
	now, err := Divide(openings, inflow)
	if err != nil {
		return nil, err
	}
	moved := append([]Opening(nil), openings...)
	out := make([]Sensitivity, len(openings))
	for i, o := range openings {
		out[i] = Sensitivity{Name: o.Name, By: by}
		if o.Closed {
			continue
		}
		moved[i].Invert += by
		then, err := Divide(moved, inflow)
		if err != nil {
			return nil, err
		}
		moved[i] = o
		out[i].Change = then.Shares[i].Share - now.Shares[i].Share
	}
	return out, nil
}
