package sheet

import (
	"cmp"
	"math"
	"slices"
)

// hatchEvery is the distance from one line of a hatch to the next.
const hatchEvery MM = 1.2

var (
	rising  = step{math.Sqrt2 / 2, -math.Sqrt2 / 2}
	falling = step{math.Sqrt2 / 2, math.Sqrt2 / 2}
	level   = step{1, 0}
	upward  = step{0, 1}
)

// hatching is what fills an area: lines in some directions.
type hatching struct {
	along []step
	every MM
	pen   Stroke
}

// hatches tell areas apart on a sheet printed in grey: buried tanks from
// buildings, a wetland from open water, the allowed region from all of them.
var hatches = [looks]hatching{
	lookTank:       {[]step{rising}, hatchEvery, Stroke{Width: 0.13, Colour: clay}},
	lookPump:       {[]step{rising, falling}, hatchEvery, Stroke{Width: 0.13, Colour: clay}},
	lookAllowed:    {[]step{falling}, 2.6, Stroke{Width: 0.13, Colour: grass}},
	lookWetland:    {[]step{level}, 1.8, Stroke{Width: 0.2, Colour: slate, Dash: []MM{1.2, 2.2}}},
	lookCistern:    {[]step{level}, hatchEvery, Stroke{Width: 0.13, Colour: slate}},
	lookEasement:   {[]step{rising}, 4, Stroke{Width: 0.15, Colour: stone, Dash: []MM{0.3, 1.2}}},
	lookOtherField: {[]step{upward}, 2, Stroke{Width: 0.18, Colour: clay, Dash: []MM{1.4, 0.8}}},
}

// mostHatch bounds the lines of one hatch; an area too ragged for it has none.
const mostHatch = 20_000

// hatch returns the lines that fill the area between rings, by the even-odd
// rule, with gaps where boxes cut them; false where the look has none.
func hatch(l look, rings [][]Pos, cuts []box, name string) (Path, bool) {
	h := &hatches[l]
	pen := h.pen
	p := Path{Stroke: &pen, Name: name}
	for _, d := range h.along {
		for _, s := range across(rings, d, h.every) {
			for _, g := range gaps(s[0], s[1], cuts) {
				p.Runs = append(p.Runs, straight([]Pos{between(s[0], s[1], g[0]), between(s[0], s[1], g[1])}, false))
			}
		}
	}
	return p, len(p.Runs) > 0
}

// across returns the pieces of parallel lines in a direction that lie inside
// the rings of an area, by the even-odd rule; none where they are more than a
// sheet holds.
func across(rings [][]Pos, d step, every MM) [][2]Pos {
	off := func(p Pos) MM { return p.Y*MM(d.x) - p.X*MM(d.y) }
	far := func(p Pos) MM { return p.X*MM(d.x) + p.Y*MM(d.y) }
	edges, lo, hi := edgesAcross(rings, off)
	var out [][2]Pos
	var hits []Pos
	first, open := 0, []edge{}
	for line := lo + every/2; line < hi && len(out) <= mostHatch; line += every {
		for ; first < len(edges) && edges[first].lo <= line; first++ {
			open = append(open, edges[first])
		}
		open = slices.DeleteFunc(open, func(e edge) bool { return e.hi <= line })
		hits = hits[:0]
		for _, e := range open {
			ta, tb := off(e.a), off(e.b)
			hits = append(hits, between(e.a, e.b, float64((line-ta)/(tb-ta))))
		}
		slices.SortFunc(hits, func(p, q Pos) int {
			return cmp.Compare(far(p), far(q))
		})
		for i := 0; i+1 < len(hits); i += 2 {
			out = append(out, [2]Pos{hits[i], hits[i+1]})
		}
	}
	if len(out) > mostHatch {
		return nil
	}
	return out
}

// edge is a side of a ring and the levels between which lines cross it.
type edge struct {
	a, b   Pos
	lo, hi MM
}

// edgesAcross returns the sides of rings that lines may cross, lowest first,
// and the levels of the lowest and the highest corner.
func edgesAcross(rings [][]Pos, off func(Pos) MM) (edges []edge, lo, hi MM) {
	lo, hi = MM(math.Inf(1)), MM(math.Inf(-1))
	for _, ring := range rings {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			ta, tb := off(a), off(b)
			lo, hi = min(lo, ta), max(hi, ta)
			if ta != tb {
				edges = append(edges, edge{a, b, min(ta, tb), max(ta, tb)})
			}
		}
	}
	slices.SortStableFunc(edges, func(p, q edge) int { return cmp.Compare(p.lo, q.lo) })
	return edges, lo, hi
}
