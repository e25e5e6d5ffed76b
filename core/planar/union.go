package planar

import (
	"cmp"
	"errors"
	"slices"

	"undersod/core/unit"
)

// mostMeetings bounds the memory that an outline of very many overlapping
// shapes may take.
const mostMeetings = 2_000_000

// patch is a convex outline with what is needed to ask quickly where a place
// lies in it.
type patch struct {
	corners []Vec // counterclockwise
	spokes  []Vec // from the middle to the corners
	middle  Vec
	lo, hi  Vec
	start   int  // how many patches cover its first corner
	within  bool // wholly inside another
}

// meeting is a place where the outlines of two patches cross.
type meeting struct {
	at     Vec
	along  [2]float64
	patch  [2]int32
	edge   [2]int32
	enters int32 // which of the two goes into the other: 0 or 1
}

// event is a meeting as seen from one of the two outlines.
type event struct {
	along               float64
	meeting, side, edge int32
}

// union outlines what any of some convex patches covers: every outline is cut
// where others cross it, what others cover is left out, and the rest is put
// together at the meetings. No place is compared with another to do so; a
// meeting belongs to the two outlines that made it.
type union struct {
	patches  []patch
	meetings []meeting
	events   [][]event  // for each patch, in order along it
	next     []openSpan // by the meeting that it starts from
	tooMany  bool
}

// openSpan is a part of an outline that nothing covers: from one meeting
// to another along a patch.
type openSpan struct {
	patch, from, to  int // from and to among the events of the patch
	uncovered, taken bool
}

// ErrManyMeet tells that the outlines cross in too many places to be kept.
var ErrManyMeet = errors.New("too many shapes overlap: their outlines cross in more than 2,000,000 places; leave out what lies within others")

// ErrContradiction tells that rounding made two answers contradict one another, as it
// can where three outlines meet in one place or sides coincide: move one a little.
var ErrContradiction = errors.New("outlines contradict one another by rounding: move one of the shapes by a hair")

// UnionOfConvex returns the rings about all that some convex outlines cover, each
// of them counterclockwise with at least 3 corners; what is covered lies on the
// left of every ring. The outlines must cross properly: sides that coincide and
// outlines that only touch give ErrContradiction or slivers. ErrManyMeet is the
// other error.
func UnionOfConvex(outlines [][]Vec) ([]Ring, error) {
	u := &union{patches: make([]patch, len(outlines))}
	total := 0
	for _, o := range outlines {
		if total += len(o); len(o) < 3 {
			return nil, ErrContradiction
		}
	}
	spokes := make([]Vec, total)
	for i, o := range outlines {
		u.patches[i] = patchOf(o, spokes[:len(o)])
		spokes = spokes[len(o):]
	}
	return u.outlines()
}

// outlines returns the rings of the union, covered on their left.
func (u *union) outlines() ([]Ring, error) {
	if u.meet(); u.tooMany {
		return nil, ErrManyMeet
	}
	if u.order(); !u.cover() {
		return nil, ErrContradiction
	}
	var out []Ring
	for i := range u.patches {
		if p := &u.patches[i]; len(u.events[i]) == 0 && p.start == 0 {
			out = append(out, slices.Clone(p.corners))
		}
	}
	for m := range u.next {
		if s := &u.next[m]; s.uncovered && !s.taken {
			ring, ok := u.follow(m)
			if !ok {
				return nil, ErrContradiction
			}
			out = append(out, ring)
		}
	}
	return out, nil
}

// meet finds the meetings of all pairs whose boxes overlap, from west to east.
func (u *union) meet() {
	order := make([]int, len(u.patches))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(u.patches[a].lo.East, u.patches[b].lo.East), a-b)
	})
	for n, i := range order {
		for _, j := range order[n+1:] {
			a, b := &u.patches[i], &u.patches[j]
			if b.lo.East > a.hi.East || a.within || u.tooMany {
				break
			}
			if !b.within && b.lo.North <= a.hi.North && a.lo.North <= b.hi.North {
				u.pair(i, j)
			}
		}
	}
}

// order sorts the events along each outline.
func (u *union) order() {
	ends := make([]int, len(u.patches)+1)
	for _, x := range u.meetings {
		ends[x.patch[0]+1]++
		ends[x.patch[1]+1]++
	}
	all := make([]event, 2*len(u.meetings))
	u.events = make([][]event, len(u.patches))
	for i := range u.events {
		ends[i+1] += ends[i]
		u.events[i] = all[ends[i]:ends[i]:ends[i+1]]
	}
	for m, x := range u.meetings {
		for side, p := range x.patch {
			u.events[p] = append(u.events[p], event{x.along[side], int32(m), int32(side), x.edge[side]})
		}
	}
	for _, e := range u.events {
		slices.SortFunc(e, func(a, b event) int {
			return cmp.Or(cmp.Compare(a.edge, b.edge), cmp.Compare(a.along, b.along), cmp.Compare(a.meeting, b.meeting))
		})
	}
}

// cover walks around each outline, counts how many others cover it, and notes
// the open spans that none covers. It is false where the count does not come
// out, or where the two outlines of a meeting do not agree whether a third
// covers it.
func (u *union) cover() bool {
	u.next = make([]openSpan, len(u.meetings))
	ends := make([]bool, len(u.meetings))
	for p, events := range u.events {
		count := u.patches[p].start
		for k, e := range events {
			if u.meetings[e.meeting].enters == e.side {
				if count == 0 {
					ends[e.meeting] = true
				}
				count++
				continue
			}
			if count--; count < 0 {
				return false
			}
			if count == 0 {
				u.next[e.meeting] = openSpan{patch: p, from: k, to: (k + 1) % len(events), uncovered: true}
			}
		}
		if count != u.patches[p].start {
			return false
		}
	}
	for m, s := range u.next {
		if s.uncovered != ends[m] {
			return false
		}
	}
	return true
}

// follow puts together the ring that starts at a meeting.
func (u *union) follow(first int) (Ring, bool) {
	var ring Ring
	for m := first; ; {
		s := &u.next[m]
		if !s.uncovered || s.taken {
			return nil, false
		}
		s.taken = true
		ring = append(ring, u.meetings[m].at)
		events := u.events[s.patch]
		a, b := events[s.from], events[s.to]
		ring = appendCorners(ring, u.patches[s.patch].corners, a, b, s.to <= s.from)
		if m = int(b.meeting); m == first {
			return ring, true
		}
	}
}

// appendCorners adds the corners of an outline between two events; around is
// whether the way leads over its first corner.
func appendCorners(ring Ring, corners []Vec, a, b event, around bool) Ring {
	n := int(b.edge - a.edge)
	if around {
		n += len(corners)
	}
	for k := 1; k <= n; k++ {
		ring = append(ring, corners[(int(a.edge)+k)%len(corners)])
	}
	return ring
}

// patchOf prepares a convex outline.
func patchOf(corners []Vec, spokes []Vec) patch {
	p := patch{corners: corners, spokes: spokes, lo: corners[0], hi: corners[0]}
	for _, c := range corners {
		p.middle = p.middle.Plus(c)
		p.lo = Vec{East: min(p.lo.East, c.East), North: min(p.lo.North, c.North)}
		p.hi = Vec{East: max(p.hi.East, c.East), North: max(p.hi.North, c.North)}
	}
	p.middle = p.middle.Times(1 / float64(len(corners)))
	for i, c := range corners {
		p.spokes[i] = c.Minus(p.middle)
	}
	return p
}

// leftBy is the area by which a place lies to the left of a directed side.
func leftBy(a, b, v Vec) unit.Area { return b.Minus(a).Cross(v.Minus(a)) }
