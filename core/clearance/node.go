package clearance

import (
	"undersod/core/planar"
	"undersod/core/unit"
)

// cell is a box of places and a run of turns, with what is known of it.
type cell struct {
	middle, half planar.Vec
	first, last  int         // of the turns
	bound        unit.Length // what the search goes by: the best that any of its places can be
	order        int         // of two that are alike the one made first goes first
	sources      []int       // that can limit any of its places
}

// turn is the turn in the middle of the run.
func (c cell) turn() int { return (c.first + c.last) / 2 }

// swing is the most that a corner of the footprint moves from the middle turn to
// any other one of the cell.
func (s *search) swing(c cell) unit.Length {
	m := s.turns[c.turn()]
	return s.reach * unit.Length(max(m-s.turns[c.first], s.turns[c.last]-m))
}

// split halves a cell, the turns where they matter more, else the longer side.
func (s *search) split(c cell) [2]cell {
	a, b := c, c
	switch {
	case s.swing(c) > length(c.half) || c.first < c.last && length(c.half) <= touching:
		a.last = c.turn()
		b.first = c.turn() + 1
	case c.half.East >= c.half.North:
		a.half.East, b.half.East = c.half.East/2, c.half.East/2
		a.middle.East, b.middle.East = c.middle.East-a.half.East, c.middle.East+a.half.East
	default:
		a.half.North, b.half.North = c.half.North/2, c.half.North/2
		a.middle.North, b.middle.North = c.middle.North-a.half.North, c.middle.North+a.half.North
	}
	return [2]cell{a, b}
}

// queue gives cells back by their bound, the lowest first.
type queue struct{ cells []cell }

func (q *queue) before(i, k int) bool {
	a, b := &q.cells[i], &q.cells[k]
	if a.bound != b.bound {
		return a.bound < b.bound
	}
	return a.first < b.first || a.first == b.first && a.order < b.order
}

func (q *queue) push(c cell) {
	q.cells = append(q.cells, c)
	for i := len(q.cells) - 1; i > 0; {
		up := (i - 1) / 2
		if !q.before(i, up) {
			return
		}
		q.cells[i], q.cells[up] = q.cells[up], q.cells[i]
		i = up
	}
}

// pop takes out the first cell; there must be one.
func (q *queue) pop() cell {
	top, last := q.cells[0], len(q.cells)-1
	q.cells[0] = q.cells[last]
	q.cells = q.cells[:last]
	for i := 0; ; {
		first := i
		for k := 2*i + 1; k <= 2*i+2 && k < last; k++ {
			if q.before(k, first) {
				first = k
			}
		}
		if first == i {
			return top
		}
		q.cells[i], q.cells[first] = q.cells[first], q.cells[i]
		i = first
	}
}
