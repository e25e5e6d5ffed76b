package clearance

import (
	"fmt"
	"math"
	"slices"

	"undersod/core/planar"
	"undersod/core/unit"
)

// source is one convex piece of what a footprint keeps away from.
type source struct {
	piece   bounded
	plane   halfPlane
	isPlane bool
	setback unit.Length
}

// search looks for places of a footprint on a ground. It holds what a place is
// judged by: the limits of every source at every turn, made when first asked for.
type search struct {
	ground  Ground
	foot    Footprint
	reach   unit.Length // of the footprint's farthest corner from its centre
	turns   []unit.Angle
	sources []source
	turned  [][]planar.Vec // the footprint's corners by turn
	limits  [][]limit      // by turn and source
	made    [][]bool
	all     []int // every source
	read    int   // margins so far, and cells
}

// newSearch makes a search ready, or tells what is wrong with the question.
func newSearch(g Ground, f Footprint, t Turns) (*search, error) {
	if err := g.Check(); err != nil {
		return nil, err
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	turns, err := t.All()
	if err != nil {
		return nil, err
	}
	s := &search{ground: g, foot: f}
	for _, c := range f.Corners {
		s.reach = max(s.reach, length(c))
	}
	if s.reach == 0 {
		turns = turns[:1]
	}
	s.turns = turns
	s.turned, s.limits, s.made = make([][]planar.Vec, len(turns)), make([][]limit, len(turns)), make([][]bool, len(turns))
	for _, t := range thingsOf(g, s.reach == 0) {
		for _, h := range t.planes {
			s.sources = append(s.sources, source{plane: h, isPlane: true, setback: t.setback})
		}
		for _, p := range t.solid {
			s.sources = append(s.sources, source{piece: p, setback: t.setback})
		}
	}
	for i := range s.sources {
		s.all = append(s.all, i)
	}
	return s, nil
}

// check tells what is wrong with a footprint that was not made by Rectangle,
// Convex or Point.
func (f Footprint) check() error {
	if len(f.Corners) == 1 {
		return checkPlaces(f.Corners, "the footprint")
	}
	again, err := Convex(f.Corners)
	if err != nil {
		return err
	}
	if !slices.Equal(again.Corners, f.Corners) {
		return fmt.Errorf("the footprint goes clockwise: give its corners the other way round")
	}
	return checkPlaces(f.Corners, "the footprint")
}

// limit is what a source means for the footprint's centre at a turn.
func (s *search) limit(turn, source int) *limit {
	if s.made[turn] == nil {
		s.turned[turn] = s.foot.Placed(Placement{Turn: s.turns[turn]}).Points
		s.limits[turn] = make([]limit, len(s.sources))
		s.made[turn] = make([]bool, len(s.sources))
	}
	l := &s.limits[turn][source]
	if !s.made[turn][source] {
		s.made[turn][source] = true
		if from := &s.sources[source]; from.isPlane {
			*l = planeLimit(from.plane, s.turned[turn], from.setback)
		} else {
			*l = pieceLimit(from.piece.convex, s.turned[turn], from.setback)
		}
	}
	return l
}

// atLeast is a margin that a source surely leaves at a place, at any turn.
func (s *search) atLeast(source int, p planar.Vec) unit.Length {
	from := &s.sources[source]
	if from.isPlane {
		return from.plane.offset - unit.Length(p.Dot(from.plane.normal)) - s.reach - from.setback
	}
	return length(p.Minus(from.piece.middle)) - from.piece.reach - s.reach - from.setback
}

// view is the margins that matter about a place at one turn.
type view struct {
	sources  []int
	readings []reading
	least    unit.Length // the smallest margin; huge where nothing limits
}

// look reads the margins of the given sources at a place, and keeps those that can
// be the smallest one within a reach of it.
func (s *search) look(turn int, p planar.Vec, among []int, reach unit.Length) view {
	v := view{least: farthest}
	s.read++
	for _, i := range among {
		if s.atLeast(i, p) > v.least+2*reach {
			continue
		}
		s.read++
		r := s.limit(turn, i).read(p)
		if r.margin > v.least+2*reach {
			continue
		}
		v.least = min(v.least, r.margin)
		v.sources, v.readings = append(v.sources, i), append(v.readings, r)
	}
	kept := 0
	for k, r := range v.readings {
		if r.margin <= v.least+2*reach {
			v.sources[kept], v.readings[kept] = v.sources[k], r
			kept++
		}
	}
	v.sources, v.readings = v.sources[:kept], v.readings[:kept]
	return v
}

// margin is the smallest margin of a placement; huge where nothing limits it.
func (s *search) margin(turn int, p planar.Vec) unit.Length {
	return s.look(turn, p, s.all, 0).least
}

// earliest is the first of the turns at which a place is as good.
func (s *search) earliest(turn int, p planar.Vec, least unit.Length) int {
	for i := range turn {
		if s.margin(i, p) >= least-touching {
			return i
		}
	}
	return turn
}

// found tells what stands at a place, with its margins by their size.
func (s *search) found(turn int, p planar.Vec) Found {
	place := Placement{At: p, Turn: s.turns[turn]}
	margins := Margins(s.ground, s.foot, place)
	slices.SortStableFunc(margins, func(a, b Margin) int {
		switch {
		case a.Margin < b.Margin:
			return -1
		case a.Margin > b.Margin:
			return 1
		}
		return 0
	})
	fits := len(margins) == 0 || margins[0].Margin >= -touching
	return Found{Placement: place, Fits: fits, Margins: margins, Searched: len(s.turns)}
}

// extent is the box of the lot, or of the obstacles with their setbacks where
// there is none, grown by the footprint's reach.
func (s *search) extent() (low, high planar.Vec) {
	low, high = at2(math.Inf(1)), at2(math.Inf(-1))
	take := func(p planar.Vec, by unit.Length) {
		low = planar.Vec{East: min(low.East, p.East-by), North: min(low.North, p.North-by)}
		high = planar.Vec{East: max(high.East, p.East+by), North: max(high.North, p.North+by)}
	}
	for _, p := range s.ground.Lot {
		take(p, s.reach)
	}
	if len(s.ground.Lot) == 0 {
		for i := range s.sources {
			from := &s.sources[i]
			take(from.piece.middle, from.piece.reach+from.setback+s.reach+beside)
		}
	}
	if low.East > high.East {
		take(planar.Vec{}, 0)
	}
	return low, high
}

// beside is how far beyond the obstacles' setbacks a ground without a lot is
// searched.
const beside unit.Length = 1

func at2(v float64) planar.Vec { return planar.Vec{East: unit.Length(v), North: unit.Length(v)} }
