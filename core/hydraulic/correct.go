package hydraulic

import (
	"fmt"
	"math"

	"undersod/core/unit"
)

// defaultStep is the step of a correction that names none.
const defaultStep = unit.Inch / 16

// Correct tells which openings to raise or lower, each by a whole number of
// steps (1/16 in where step is 0), so that no share is further from its wanted
// share than the tolerance (0.02 is two parts in a hundred of the inflow). Of
// the corrections that reach it, it takes one that moves the fewest openings,
// of those one that moves them least in all, of those one that comes closest,
// as far as a search finds them that does not try every combination (the tests
// hold it against all of them for boxes of two and three outlets). Where steps are too coarse to reach the tolerance it comes as close as it
// can, and Within is false. A closed opening is not moved and takes nothing; a
// narrowed one is set lower than its neighbours, to take its share through what
// is open of it.
//
// The levels hold for this inflow. Equal openings that are level share every
// inflow alike, unequal ones do not.
//
// Errors are those of Divide, two openings of one name, no inflow, a tolerance
// outside 0 to 1, a step outside 0.1 mm to 100 mm, and more than 16 openings.
func Correct(openings []Opening, inflow unit.Flow, tolerance float64, step unit.Length) (Correction, error) {
	if step == 0 {
		step = defaultStep
	}
	if _, err := Divide(openings, inflow); err != nil {
		return Correction{}, err
	}
	if err := checkCorrection(openings, inflow, tolerance, step); err != nil {
		return Correction{}, err
	}
	s := newSearch(openings, float64(inflow), tolerance, float64(step))
	before := s.judge(make([]int, len(s.box)))
	after := s.best(before)

	out := Correction{Worst: before.worst, After: after.worst, Within: after.worst <= tolerance, Tolerance: tolerance, Step: step}
	moved := append([]Opening(nil), openings...)
	for i, k := range after.steps {
		if k == 0 {
			continue
		}
		o := &moved[s.box[i].at]
		by := unit.Length(k) * step
		o.Invert += by
		out.Turns = append(out.Turns, Turn{Name: o.Name, By: by})
	}
	var err error
	out.Split, err = Divide(moved, inflow)
	return out, err
}

// checkCorrection tells what speaks against a correction of a box that can be
// divided.
func checkCorrection(openings []Opening, inflow unit.Flow, tolerance float64, step unit.Length) error {
	if inflow < smallest {
		return errNothingToShare
	}
	if !(tolerance >= 0 && tolerance <= 1) {
		return fmt.Errorf("the tolerance of the shares is %g; it must be between 0 and 1, such as 0.02 for two parts in a hundred", tolerance)
	}
	if !(step >= 0.1*unit.Millimetre && step <= 100*unit.Millimetre) {
		return fmt.Errorf("an outlet cannot be moved in steps of %s; give between 0.1 mm and 100 mm, such as 1/16\"", show(step))
	}
	if len(openings) > mostTurned {
		return fmt.Errorf("the box has %d outlets; a correction is searched for at most %d", len(openings), mostTurned)
	}
	for i, o := range openings {
		for _, p := range openings[:i] {
			if o.Name == p.Name {
				return fmt.Errorf("%s: two outlets have this name, so a correction could not say which to turn; name them apart", naming(i, o))
			}
		}
	}
	return nil
}

// search is the search for a correction.
type search struct {
	box       box
	wanted    []float64 // shares, as box
	level     []float64 // over the lowest mouth, at which each takes its wanted share
	inflow    float64
	tolerance float64
	step      float64

	moved  box       // room for judge
	shares []float64 // room for judge
}

func newSearch(openings []Opening, inflow, tolerance, step float64) *search {
	b, _ := newBox(openings)
	s := &search{box: b, inflow: inflow, tolerance: tolerance, step: step,
		moved: append(box(nil), b...), shares: make([]float64, len(b))}
	wanted := wantedShares(openings)
	for i := range b {
		w := wanted[b[i].at]
		s.wanted = append(s.wanted, w)
		s.level = append(s.level, b[i].levelFor(w*inflow))
	}
	return s
}

// trial is a correction tried.
type trial struct {
	steps []int   // each mouth is moved by
	worst float64 // difference of a share
	turns int     // mouths moved
	total int     // steps in all
}

// judge works out what moving the mouths brings.
func (s *search) judge(steps []int) trial {
	t := trial{steps: steps}
	lowest := math.Inf(1)
	for i, k := range steps {
		s.moved[i].invert = s.box[i].invert + float64(k)*s.step
		lowest = min(lowest, s.moved[i].invert)
		if k != 0 {
			t.turns++
			t.total += max(k, -k)
		}
	}
	for i := range s.moved {
		s.moved[i].invert -= lowest
	}
	s.moved.shares(s.moved.level(s.inflow), s.shares)
	for i, w := range s.wanted {
		t.worst = max(t.worst, math.Abs(s.shares[i]-w))
	}
	return t
}

// better tells whether a trial is to be taken instead of another. Differences
// of a share under a millionth do not count, so that the order does not hang on
// the last digits.
func (s *search) better(a, b trial) bool {
	const same = 1e-6
	ain, bin := a.worst <= s.tolerance, b.worst <= s.tolerance
	switch {
	case ain != bin:
		return ain
	case !ain && math.Abs(a.worst-b.worst) > same:
		return a.worst < b.worst
	case a.turns != b.turns:
		return a.turns < b.turns
	case a.total != b.total:
		return a.total < b.total
	}
	return a.worst < b.worst-same
}
