package clearance

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"undersod/core/planar"
	"undersod/core/unit"
)

const (
	// finest is the smallest tolerance that is kept to; a smaller one is taken
	// for it.
	finest = unit.Millimetre / 100

	// beyondBox is how far the box reaches about obstacles without a lot, beside
	// their setbacks and twice the footprint's reach.
	beyondBox = 10 * unit.Metre

	// sliver is the area below which a piece of a region is left out, and noHole
	// that below which a hole is: nothing stands in the first, and the second is
	// a spot without size that may be touched.
	sliver unit.Area = 1e-6
	noHole unit.Area = 1e-12

	// tries is how often an outline is made again, a hair farther out, when
	// rounding made it contradict itself.
	tries = 6

	// roomy is the largest coordinate, about the first corner, that is reckoned with.
	roomy = 10_000 * 1000 * unit.Metre
)

// Allowed is where the footprint's centre may lie at one turn so that it stands
// inside the lot and keeps every setback: the lot's inside less, for each of the
// lot's edges and each convex piece of an obstacle, the Minkowski sum of the
// piece and the footprint turned about, rounded by the setback. Arcs become
// sides that touch them from outside, so that no place of the region breaks a
// setback by more than 1e-9 m, and an allowed place that is missing lies where
// something is nearer than its setback and Region.Tolerance. Every piece is
// grown by a further hair, 10 to 20 nanometres on a lot of 1 km, which makes
// pieces that touch overlap; so a gap that the footprint fits without any play
// is not in the region. Pieces below one square millimetre are left out.
//
// Without a lot the region has no end: it is then cut off at a box about the
// obstacles that reaches beyond them by the largest setback, twice the
// footprint's reach and 10 m, within which every place near them lies.
//
// A tolerance below 0.01 mm is taken for that, and a circle has at most 4,096
// sides; Region.Tolerance is what was kept. The error tells what is wrong with
// the ground, the footprint, the turn or the tolerance. A region without a piece
// is no error: the footprint stands nowhere at this turn.
func Allowed(g Ground, f Footprint, turn unit.Angle, tolerance unit.Length) (Region, error) {
	t, err := terrainOf(g, f, tolerance)
	if err != nil {
		return Region{}, err
	}
	return t.allowed(turn)
}

// AreaByTurn is the area of the allowed region at each of the turns, found as by
// Allowed, with its errors; Turns must be finite, From at most To.
func AreaByTurn(g Ground, f Footprint, t Turns, tolerance unit.Length) ([]TurnArea, error) {
	ground, err := terrainOf(g, f, tolerance)
	if err != nil {
		return nil, err
	}
	turns, err := t.All()
	if err != nil {
		return nil, err
	}
	out := make([]TurnArea, len(turns))
	for i, turn := range turns {
		r, err := ground.allowed(turn)
		if err != nil {
			return nil, err
		}
		out[i] = TurnArea{turn, r.Area}
	}
	return out, nil
}

// terrain is what does not change with the turn.
type terrain struct {
	origin    planar.Vec
	lot       []planar.Vec // about the origin; the box where there is none
	boxed     bool
	blocks    []block
	foot      []planar.Vec // counterclockwise
	hair      unit.Length
	tolerance unit.Length
	round     *planar.Rounder
}

func terrainOf(g Ground, f Footprint, tolerance unit.Length) (*terrain, error) {
	if err := g.Check(); err != nil {
		return nil, err
	}
	foot, err := f.outline()
	if err != nil {
		return nil, err
	}
	if !positive(tolerance) {
		return nil, badTolerance()
	}
	t := &terrain{foot: foot}
	for _, o := range g.Obstacles {
		t.add(pieces(o.Shape), o.Setback)
	}
	t.bound(g)
	return t, t.settle(tolerance)
}

func badTolerance() error {
	return fmt.Errorf("the tolerance of arcs must be a length above zero, for example 1/8 in")
}

// outline checks a footprint that may have been put together by hand.
func (f Footprint) outline() ([]planar.Vec, error) {
	for i, c := range f.Corners {
		if !finite(c.East) || !finite(c.North) {
			return nil, fmt.Errorf("corner %d of the footprint is not a number: give its east and north", i+1)
		}
	}
	if len(f.Corners) == 1 {
		return f.Corners, nil
	}
	cut := pieces(Shape{Points: f.Corners, Closed: true})
	if len(cut) != 1 || len(cut[0].corners) < 3 {
		return nil, fmt.Errorf("the footprint is no convex outline with a size: give its length and width, for example 12 ft by 6 ft, or its corners in order around it")
	}
	return cut[0].corners, nil
}

// add takes in a shape. The first one gives the origin, near which numbers are
// exact enough wherever on the grid the job lies.
func (t *terrain) add(cut []convex, setback unit.Length) {
	if len(t.blocks) == 0 && len(cut) > 0 {
		t.origin = cut[0].corners[0]
	}
	t.blocks = append(t.blocks, blocksOf(cut, setback, t.origin)...)
}

// bound takes in the edges of the lot, or of a box where there is none.
func (t *terrain) bound(g Ground) {
	ring := outline(clean(g.Lot))
	if t.boxed = len(ring) == 0; !t.boxed {
		t.add(edgesOf(ring), g.Setback)
		for _, c := range ring {
			t.lot = append(t.lot, c.Minus(t.origin))
		}
		return
	}
	if len(t.blocks) == 0 {
		return
	}
	t.lot = t.box()
	for _, b := range blocksOf(edgesOf(t.lot), 0, planar.Vec{}) {
		b.bare = true
		t.blocks = append(t.blocks, b)
	}
}

func (t *terrain) box() []planar.Vec {
	var reach, most unit.Length
	for _, c := range t.foot {
		reach = max(reach, c.Length())
	}
	lo, hi := t.blocks[0].corners[0], t.blocks[0].corners[0]
	for _, b := range t.blocks {
		most = max(most, b.radius)
		for _, c := range b.corners {
			lo = planar.Vec{East: min(lo.East, c.East), North: min(lo.North, c.North)}
			hi = planar.Vec{East: max(hi.East, c.East), North: max(hi.North, c.North)}
		}
	}
	by := most + 2*reach + beyondBox
	lo, hi = lo.Minus(planar.Vec{East: by, North: by}), hi.Plus(planar.Vec{East: by, North: by})
	return []planar.Vec{lo, {East: hi.East, North: lo.North}, hi, {East: lo.East, North: hi.North}}
}

// settle sets the hair and the tolerance by the size of the whole.
func (t *terrain) settle(tolerance unit.Length) error {
	var size, radius unit.Length
	for _, b := range t.blocks {
		radius = max(radius, b.radius)
		for _, c := range b.corners {
			size = max(size, c.East.Abs(), c.North.Abs())
		}
	}
	for _, c := range t.foot {
		size = max(size, c.Length())
	}
	if size+radius > roomy {
		return fmt.Errorf("places, sizes or setbacks reach %.0f km, more than the 10,000 km that can be reckoned with: is a coordinate wrong?", (size+radius).Metres()/1000)
	}
	t.hair = max(1e-8, (size+radius)*1e-11)
	t.tolerance = max(tolerance, finest, 1000*t.hair)
	t.round = planar.NewRounder(t.tolerance - 40*t.hair)
	for _, b := range t.blocks {
		t.tolerance = max(t.tolerance, t.round.Miss(b.radius)+40*t.hair)
	}
	return nil
}

// allowed is the region at one turn.
func (t *terrain) allowed(turn unit.Angle) (Region, error) {
	if math.IsNaN(float64(turn)) || math.IsInf(float64(turn), 0) {
		return Region{}, fmt.Errorf("the turn of the footprint is not a number: give degrees clockwise from north, for example 30")
	}
	opposite := make([]planar.Vec, len(t.foot))
	for i, c := range t.foot {
		opposite[i] = c.Clockwise(turn).Times(-1)
	}
	rings, err := outlined(t.blocks, opposite, t.round, t.hair)
	if err != nil {
		return Region{}, err
	}
	var kept []planar.Ring
	inside := t.inside(opposite[0])
	for _, r := range rings {
		slices.Reverse(r)
		if planar.Ring(inside).Contains(r[0]) {
			kept = append(kept, r)
		}
	}
	return regionOf(kept, t.origin, t.tolerance, sliver), nil
}

// inside is where the centre is while one corner of the footprint is in the lot;
// as the outlines never cross the edges of this, a corner tells for a whole ring.
func (t *terrain) inside(corner planar.Vec) []planar.Vec {
	if t.boxed {
		return t.lot
	}
	out := make([]planar.Vec, len(t.lot))
	for i, c := range t.lot {
		out[i] = c.Plus(corner)
	}
	return out
}

// outlined are the rings about everything within their distances of the blocks,
// each first summed with the footprint turned about, covered on their left.
func outlined(blocks []block, opposite []planar.Vec, round *planar.Rounder, hair unit.Length) ([]planar.Ring, error) {
	for try := range tries {
		rings, err := planar.UnionOfConvex(grown(blocks, opposite, round, hair*unit.Length(1+3*try), try))
		if err == nil {
			return tidyAll(rings, hair), nil
		}
		if !errors.Is(err, planar.ErrContradiction) {
			return nil, err
		}
	}
	return nil, planar.ErrContradiction
}

// grown are the convex outlines of the blocks. Each is grown by a hair of its own, from
// one to two hairs wide by the golden ratio's multiples, which lie as far from
// one another as any: sides that would coincide then lie within one another,
// and those that touch overlap.
func grown(blocks []block, opposite []planar.Vec, round *planar.Rounder, hair unit.Length, try int) [][]planar.Vec {
	starts := make([]int, len(blocks)+1)
	size := 0
	for _, b := range blocks {
		size += round.Chords(b.radius) + 4*(len(b.corners)+len(opposite))
	}
	corners, sums := make([]planar.Vec, 0, size), []planar.Vec(nil)
	var beside [][]planar.Vec
	var of []int
	for i, b := range blocks {
		_, share := math.Modf(float64(i+1)*0.6180339887498949 + float64(try)*0.37)
		radius := b.radius + hair*unit.Length(1+share)
		if b.bare {
			sums = append(sums[:0], b.corners...)
			corners = round.Grow(corners, sums, nil, radius)
		} else {
			sums, of = planar.SumOfConvex(sums[:0], of[:0], b.corners, opposite)
			beside = besideOf(beside[:0], b, of)
			corners = round.Grow(corners, sums, beside, radius)
		}
		starts[i+1] = len(corners)
	}
	out := make([][]planar.Vec, len(blocks))
	for i := range out {
		out[i] = corners[starts[i]:starts[i+1]]
	}
	return out
}

// besideOf carries the further directions of a block's corners over to those of
// its sum.
func besideOf(out [][]planar.Vec, b block, of []int) [][]planar.Vec {
	if b.beside == nil {
		return nil
	}
	for _, i := range of {
		out = append(out, b.beside[i])
	}
	return out
}

// regionOf sorts rings into pieces, the largest first, and holes; free is on
// their left. What has no size is left out.
func regionOf(rings []planar.Ring, origin planar.Vec, tolerance unit.Length, least unit.Area) Region {
	out := Region{Tolerance: tolerance}
	var holes []planar.Ring
	for _, r := range rings {
		switch a := area(r); {
		case a > least:
			out.Pieces = append(out.Pieces, Piece{Outer: r})
		case a < -noHole:
			holes = append(holes, r)
		}
	}
	sortRings(holes)
	slices.SortStableFunc(out.Pieces, func(a, b Piece) int { return byArea(a.Outer, b.Outer) })
	for _, h := range holes {
		if p := around(out.Pieces, h); p >= 0 {
			out.Pieces[p].Holes = append(out.Pieces[p].Holes, h)
		}
	}
	for _, p := range out.Pieces {
		out.Area += area(p.Outer)
		moveBy(p.Outer, origin)
		for _, h := range p.Holes {
			out.Area += area(h)
			moveBy(h, origin)
		}
	}
	return out
}

// around is the smallest piece that a hole lies in, or -1: pieces come largest
// first, so the last that holds it.
func around(pieces []Piece, hole planar.Ring) int {
	for i := len(pieces) - 1; i >= 0; i-- {
		if pieces[i].Outer.Contains(hole[0]) {
			return i
		}
	}
	return -1
}

func sortRings(rings []planar.Ring) { slices.SortStableFunc(rings, byArea) }

func byArea(a, b planar.Ring) int {
	return cmp.Or(-cmp.Compare(math.Abs(float64(area(a))), math.Abs(float64(area(b)))),
		cmp.Compare(a[0].North, b[0].North), cmp.Compare(a[0].East, b[0].East))
}

func moveBy(r planar.Ring, by planar.Vec) {
	for i := range r {
		r[i] = r[i].Plus(by)
	}
}
