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
)

// hatches tell buried tanks from buildings on a sheet printed in grey.
var hatches = [looks][]step{
	lookTank: {rising},
	lookPump: {rising, falling},
}

// hatch returns the lines that fill an area of a look, with gaps where boxes
// cut them; false where the look has none.
func hatch(l look, area []Pos, cuts []box, name string) (Path, bool) {
	p := Path{Stroke: &Stroke{Width: 0.13, Colour: clay}, Name: name}
	for _, d := range hatches[l] {
		for _, s := range across(area, d, hatchEvery) {
			for _, g := range gaps(s[0], s[1], cuts) {
				p.Runs = append(p.Runs, straight([]Pos{between(s[0], s[1], g[0]), between(s[0], s[1], g[1])}, false))
			}
		}
	}
	return p, len(p.Runs) > 0
}

// across returns the pieces of parallel lines in a direction that lie inside an
// area, by the even-odd rule.
func across(area []Pos, d step, every MM) [][2]Pos {
	off := func(p Pos) MM { return p.Y*MM(d.x) - p.X*MM(d.y) }
	far := func(p Pos) MM { return p.X*MM(d.x) + p.Y*MM(d.y) }
	lo, hi := off(area[0]), off(area[0])
	for _, p := range area {
		lo, hi = min(lo, off(p)), max(hi, off(p))
	}
	var out [][2]Pos
	for level := lo + every/2; level < hi; level += every {
		var hits []Pos
		for i, a := range area {
			b := area[(i+1)%len(area)]
			if ta, tb := off(a), off(b); (ta > level) != (tb > level) {
				hits = append(hits, between(a, b, float64((level-ta)/(tb-ta))))
			}
		}
		slices.SortFunc(hits, func(p, q Pos) int {
			return cmp.Compare(far(p), far(q))
		})
		for i := 0; i+1 < len(hits); i += 2 {
			out = append(out, [2]Pos{hits[i], hits[i+1]})
		}
	}
	return out
}
