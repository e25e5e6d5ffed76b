package clearance

import (
	"fmt"

	"undersod/core/planar"
	"undersod/core/unit"
)

// Band is all that lies within a distance of any of the shapes, as a region:
// what a setback keeps free about them. Arcs become chords that contain them and
// miss them by at most the tolerance. The distance must be finite and at least
// 0; shapes without a finite place count for nothing.
func Band(shapes []Shape, by unit.Length, tolerance unit.Length) (Region, error) {
	if !finite(by) || by < 0 {
		return Region{}, fmt.Errorf("the width of a band must be a length of at least zero, for example 10 ft")
	}
	if !positive(tolerance) {
		return Region{}, badTolerance()
	}
	t := &terrain{}
	for _, s := range shapes {
		t.add(pieces(s), by)
	}
	if len(t.blocks) == 0 {
		return Region{Tolerance: tolerance}, nil
	}
	if err := t.settle(tolerance); err != nil {
		return Region{}, err
	}
	rings, err := outlined(t.blocks, []planar.Vec{{}}, t.round, t.hair)
	if err != nil {
		return Region{}, err
	}
	return regionOf(rings, t.origin, t.tolerance, sliver), nil
}
