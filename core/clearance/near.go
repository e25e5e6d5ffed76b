package clearance

import (
	"math"

	"undersod/core/planar"
	"undersod/core/unit"
)

// NearestWithin is by how much another allowed place can lie nearer to the wish
// than the one that NearestTo finds.
const NearestWithin unit.Length = 0.0001

// NearestTo finds the allowed place that lies nearest to a wish, at whichever of
// the turns, to NearestWithin; at that place, the earliest turn that is allowed
// there. Where the footprint fits nowhere, Fits is false and the place is the one
// that breaks least, as by Best. It is an error where the ground, the
// footprint, the turns or the wish make no sense.
//
// It is the branch and bound of Best, by the distance from the wish: a cell is left
// out where its largest smallest margin is negative, or where every place in it
// that its smallest margin could allow is farther than one that is allowed.
func NearestTo(g Ground, f Footprint, t Turns, wish planar.Vec) (Found, error) {
	s, err := newSearch(g, f, t)
	if err != nil {
		return Found{}, err
	}
	if err := checkPlaces([]planar.Vec{wish}, "the wish"); err != nil {
		return Found{}, err
	}
	n := s.nearest(wish)
	found := s.found(n.turn, n.at)
	found.Within = n.within
	found.Moved = length(n.at.Minus(wish))
	return found, nil
}

// Cure finds the smallest move, without turning, that makes a placement allowed:
// none where it is. Where no move does, Fits is false, as by NearestTo.
func Cure(g Ground, f Footprint, p Placement) (Found, error) {
	return NearestTo(g, f, Turns{From: p.Turn, To: p.Turn}, p.At)
}

// closestPlace is the nearest allowed place so far.
type closestPlace struct {
	wish planar.Vec
	turn int
	at   planar.Vec
	far  unit.Length // from the wish; infinite where there is none yet
	seen int         // cells
	// within is how much nearer another allowed place can be.
	within unit.Length
}

// nearest searches for the allowed place nearest to a wish.
func (s *search) nearest(wish planar.Vec) closestPlace {
	n := closestPlace{wish: wish, far: unit.Length(math.Inf(1)), within: NearestWithin}
	for turn := range s.turns {
		if s.margin(turn, wish) >= -touching {
			return closestPlace{wish: wish, turn: turn, at: wish}
		}
	}
	if s.seek(&n); math.IsInf(float64(n.far), 1) {
		s.read = 0
		b := s.best()
		if b.least < -touching {
			return closestPlace{wish: wish, turn: s.earliest(b.turn, b.at, b.least), at: b.at, within: b.within}
		}
		n.take(s, b.turn, b.at)
		n.within = min(n.within, n.far)
	}
	n.turn = s.earliest(n.turn, n.at, 0)
	return n
}

// seek halves the box of all places until no cell can hold a nearer one.
func (s *search) seek(n *closestPlace) {
	var q queue
	low, high := s.extent()
	if len(s.ground.Lot) == 0 {
		low = planar.Vec{East: min(low.East, n.wish.East), North: min(low.North, n.wish.North)}
		high = planar.Vec{East: max(high.East, n.wish.East), North: max(high.North, n.wish.North)}
	}
	s.judge(cell{middle: low.Plus(high).Times(0.5), half: high.Minus(low).Times(0.5), last: len(s.turns) - 1}, s.all, n, &q)
	for len(q.cells) > 0 {
		c := q.pop()
		if c.bound >= n.far-NearestWithin || s.read > mostReadings {
			n.within = max(n.within, n.far-c.bound)
			return
		}
		for _, half := range s.split(c) {
			s.judge(half, c.sources, n, &q)
		}
	}
}

// judge puts a cell into the queue where it can hold a nearer allowed place than
// is known, and takes the nearest one that it sees from its middle.
func (s *search) judge(c cell, among []int, n *closestPlace, q *queue) {
	n.seen++
	across := length(c.half)
	if away := n.boxAway(c); away >= n.far-NearestWithin {
		return
	}
	swing := s.swing(c)
	v := s.look(c.turn(), c.middle, among, across+swing)
	if v.highest(c.half)+swing < -touching {
		return
	}
	c.bound = max(n.boxAway(c), v.away(c.middle, n.wish, across)-swing)
	if n.reachFrom(s, c, v); c.bound >= n.far-NearestWithin || across < touching {
		return
	}
	c.order, c.sources = n.seen, v.sources
	q.push(c)
}

// boxAway is how far the wish lies from the box of a cell.
func (n *closestPlace) boxAway(c cell) unit.Length {
	off := n.wish.Minus(c.middle)
	return length(planar.Vec{
		East:  max(0, unit.Length(math.Abs(float64(off.East)))-c.half.East),
		North: max(0, unit.Length(math.Abs(float64(off.North)))-c.half.North),
	})
}

// away is how far the wish lies from all places about the view at which no margin
// need be negative: each is allowed only where its tangent, with what it can bend
// above that, is not below 0.
func (v view) away(middle, wish planar.Vec, across unit.Length) unit.Length {
	far := unit.Length(0)
	for _, r := range v.readings {
		if bend := r.bend(across); !math.IsInf(float64(bend), 1) {
			far = max(far, -(r.margin + bend + unit.Length(wish.Minus(middle).Dot(r.uphill))))
		}
	}
	return far
}

// reachFrom goes from the middle of a cell to the nearest allowed place that the
// tangents show.
func (n *closestPlace) reachFrom(s *search, c cell, v view) {
	step := 2*length(c.half) + NearestWithin
	move, ok := nearestUnder(v.readings, n.wish.Minus(c.middle), step)
	if !ok {
		return
	}
	to := c.middle.Plus(move)
	if length(to.Minus(n.wish)) < n.far-touching && s.margin(c.turn(), to) >= -touching {
		n.take(s, c.turn(), to)
	}
}

// take makes an allowed place the nearest one, after moving it nearer to the wish
// as long as the tangents of the margins show a way. As margins are convex, what
// the tangents allow is allowed.
func (n *closestPlace) take(s *search, turn int, at planar.Vec) {
	n.turn, n.at, n.far = turn, at, length(at.Minus(n.wish))
	step := n.far
	for range steps {
		v := s.look(turn, n.at, s.all, step*2)
		move, ok := nearestUnder(v.readings, n.wish.Minus(n.at), step)
		to := n.at.Plus(move)
		far := length(to.Minus(n.wish))
		if !ok || far >= n.far-touching/10 || s.margin(turn, to) < -touching {
			if step /= 8; step < touching {
				return
			}
			continue
		}
		n.at, n.far = to, far
	}
}

// nearestUnder is the step, at most so long east or north, that comes nearest to
// an aim and leaves no tangent of a margin below 0; false where none does. It is
// the aim itself, or the nearest place on one of the tangents' zero lines and the
// bounds of the step, or where two of them meet.
func nearestUnder(readings []reading, aim planar.Vec, step unit.Length) (planar.Vec, bool) {
	rows := tangents(readings, step)
	best, at := unit.Length(math.Inf(1)), planar.Vec{}
	try := func(v planar.Vec) {
		if d := length(v.Minus(aim)); d < best && under(rows, v, 0) {
			best, at = d, v
		}
	}
	try(aim)
	for i, r := range rows {
		try(aim.Minus(r.uphill.Times(float64(unit.Length(aim.Dot(r.uphill)) + r.height))))
		for _, o := range rows[:i] {
			d := r.uphill.Cross(o.uphill)
			if math.Abs(float64(d)) < 1e-12 {
				continue
			}
			try(r.uphill.Right().Times(float64(o.height)).Minus(o.uphill.Right().Times(float64(r.height))).Times(1 / float64(d)))
		}
	}
	return at, !math.IsInf(float64(best), 1)
}
