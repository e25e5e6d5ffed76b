package clearance

import (
	"math"

	"undersod/core/planar"
	"undersod/core/unit"
)

// BestWithin is by how much the smallest margin elsewhere can be larger than that
// of the place that Best finds.
const BestWithin unit.Length = 0.001

// mostReadings is how many margins are read before a search ends with what it has
// found. A yard with 30 things takes some 25,000.
const mostReadings = 4000000

// Best finds the place and the turn at which the smallest margin is largest, to
// BestWithin; of places as good to a nanometre the one found first, at its
// earliest turn. Where the footprint fits nowhere it is the place that breaks
// least. A ground without a lot is searched to 1 m beyond the setbacks of the
// obstacles. It is an error where the ground, the footprint or the turns make
// no sense.
//
// It is a branch and bound over east, north and turn at once: the box of cells that
// can hold the best place is halved until none can hold a better one (Land and
// Doig, "An automatic method of solving discrete programming problems",
// Econometrica 28, 1960, from memory), as margins change no faster than the
// footprint moves (see Margins). Of a ground so crowded that this takes too
// long, Within of what is found tells how far it came.
func Best(g Ground, f Footprint, t Turns) (Found, error) {
	s, err := newSearch(g, f, t)
	if err != nil {
		return Found{}, err
	}
	b := s.best()
	found := s.found(s.earliest(b.turn, b.at, b.least), b.at)
	found.Within = b.within
	return found, nil
}

// freest is the best place so far.
type freest struct {
	turn          int
	at            planar.Vec
	least, within unit.Length
	seen          int // cells
}

// best searches for the place with the largest smallest margin.
func (s *search) best() freest {
	best := freest{least: unit.Length(math.Inf(-1)), within: BestWithin}
	var q queue
	root := s.root(&best)
	s.weigh(root, s.all, &best, &q)
	for len(q.cells) > 0 {
		c := q.pop()
		if s.read > mostReadings || -c.bound <= best.least+BestWithin {
			best.within = max(BestWithin, -c.bound-best.least)
			break
		}
		for _, half := range s.split(c) {
			s.weigh(half, c.sources, &best, &q)
		}
	}
	return best
}

// root is the box in which the best place lies. Beyond the lot by more than the
// smallest margin of any place is negative, the margin from the lot alone is
// smaller.
func (s *search) root(best *freest) cell {
	low, high := s.extent()
	c := cell{middle: low.Plus(high).Times(0.5), last: len(s.turns) - 1}
	best.turn = c.turn()
	best.at, best.least = s.climb(best.turn, c.middle, s.all, length(high.Minus(low))/4)
	c.half = high.Minus(low).Times(0.5)
	if len(s.ground.Lot) > 0 {
		more := max(0, -best.least) + s.reach
		c.half = c.half.Plus(planar.Vec{East: more, North: more})
	}
	return c
}

// weigh bounds the smallest margin in a cell, takes its middle where that is the
// best place so far, and puts it into the queue where it can hold a better one.
func (s *search) weigh(c cell, among []int, best *freest, q *queue) {
	best.seen++
	swing := s.swing(c)
	across := length(c.half)
	v := s.look(c.turn(), c.middle, among, across+swing)
	if v.least > best.least {
		best.turn = c.turn()
		best.at, best.least = s.climb(c.turn(), c.middle, s.all, across+BestWithin)
	}
	upper := v.highest(c.half) + swing
	if upper <= best.least+BestWithin {
		return
	}
	c.bound, c.order, c.sources = -upper, best.seen, v.sources
	q.push(c)
}
