package adjust

import (
	"math"
	"sort"

	"undersod/core/least"
)

// Limits of the search for starting places.
const (
	// mirrorMargin is the difference of misfit (in squared standard deviations)
	// above which the better of two mirrored places is taken for right: odds of
	// 22,000 to 1 under normal errors.
	mirrorMargin = 20.0
	// samePlace is the distance in metres below which two places are one.
	samePlace = 0.05
	// huber is where the misfit of a starting place stops growing with the
	// square, so that one wrong reading does not outvote the others.
	huber = 3.0
	// scanSteps is how many places along a circle are tried against a reading
	// that is neither a circle nor a ray.
	scanSteps = 180
	// maxBranches bounds the number of mirrored layouts that are followed.
	maxBranches = 512
)

// layout is a set of starting places: the unknowns, and which are set.
type layout struct {
	x      []float64
	placed []bool  // per point
	turn   bool    // the frame's turn is set
	shift  [2]bool // the grid's and the satellites' shift are set
}

func (l *layout) clone() *layout {
	return &layout{
		x: append([]float64(nil), l.x...), placed: append([]bool(nil), l.placed...),
		turn: l.turn, shift: l.shift,
	}
}

func (l *layout) at(i int) spot { return spot{l.x[2*i], l.x[2*i+1]} }

func (l *layout) set(i int, s spot) {
	l.x[2*i], l.x[2*i+1], l.placed[i] = s.e, s.n, true
}

// builder makes starting places from the readings alone.
type builder struct {
	n        *network
	hints    bool         // whether side hints and rough places may decide
	usable   []bool       // per point: has enough readings to be placed
	branches int          // layouts followed so far
	doubt    map[int]bool // points with mirrored answers that were not followed
	scratch  []least.Term
	skip     func(equation int) bool // readings not to be used; nil for none
}

// build returns the best layout and, for each point left with two answers, the
// other layouts that explain the readings as well.
func (n *network) build() (best *layout, others []*layout, b *builder) {
	b = &builder{n: n, hints: true, usable: n.enough()}
	l := &layout{x: make([]float64, n.unknowns), placed: make([]bool, len(n.points))}
	b.start(l)
	found := b.place(l, b.open(l))
	best = found[0].layout
	for _, f := range found[1:] {
		others = append(others, f.layout)
	}
	return best, others, b
}

// enough tells which points have at least two numbers that speak of them once
// the points that have not are left out with their readings.
func (n *network) enough() []bool {
	ok := make([]bool, len(n.points))
	count := make([]int, len(n.points))
	for i := range ok {
		ok[i] = true
	}
	dead := make([]bool, len(n.eqs))
	for _, e := range n.eqs {
		for _, p := range e.points {
			count[p]++
		}
	}
	var queue []int
	drop := func(p int) {
		if ok[p] && p != n.frame.mark && (count[p] < 2 && !(p == n.frame.toward && count[p] > 0)) {
			ok[p] = false
			queue = append(queue, p)
		}
	}
	for p := range ok {
		drop(p)
	}
	for len(queue) > 0 {
		p := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for _, k := range n.at[p] {
			if dead[k] {
				continue
			}
			dead[k] = true
			for _, q := range n.eqs[k].points {
				count[q]--
				drop(q)
			}
		}
	}
	return ok
}

func indexOf(list []int, v int) int {
	for i, w := range list {
		if w == v {
			return i
		}
	}
	return -1
}

// open lists the points still to be placed.
func (b *builder) open(l *layout) []int {
	var out []int
	for i, ok := range b.usable {
		if ok && !l.placed[i] {
			out = append(out, i)
		}
	}
	return out
}

// found is a finished layout of some points with its misfit.
type found struct {
	layout *layout
	misfit float64
}

// place extends l over the open points. What is certain is placed first; where
// only mirrored choices are left, each independent group of points is followed
// down its branches by itself. The result is never empty; the best comes
// first, then each layout that explains the readings about as well and differs
// from the best in one group.
func (b *builder) place(l *layout, open []int) []found {
	open = b.certain(l, open)
	if len(open) == 0 {
		return []found{{l, 0}}
	}
	groups := b.groups(l, open)
	best := found{l, 0}
	var swaps []struct {
		group []int
		alt   found
	}
	for _, g := range groups {
		alts := b.follow(best.layout, g)
		if len(alts) == 0 {
			continue // nothing places this group; it stays open
		}
		best = found{alts[0].layout, best.misfit + alts[0].misfit}
		for _, a := range alts[1:] {
			a.misfit -= alts[0].misfit
			swaps = append(swaps, struct {
				group []int
				alt   found
			}{g, a})
		}
	}
	out := []found{best}
	for _, s := range swaps {
		c := best.layout.clone()
		for _, p := range s.group {
			if s.alt.layout.placed[p] {
				c.set(p, s.alt.layout.at(p))
			}
		}
		if !l.turn { // the branch may have turned the frame its own way
			copy(c.x[b.n.turn:], s.alt.layout.x[b.n.turn:])
			c.turn, c.shift = s.alt.layout.turn, s.alt.layout.shift
		}
		out = append(out, found{c, best.misfit + s.alt.misfit})
	}
	return out
}

// certain places every point that has one answer, until none is left.
func (b *builder) certain(l *layout, open []int) []int {
	for progress := true; progress; {
		progress = b.orient(l)
		var rest []int
		for _, p := range open {
			if l.placed[p] {
				continue
			}
			if c := b.answers(l, p); len(c) == 1 {
				l.set(p, c[0].at)
				progress = true
				continue
			}
			rest = append(rest, p)
		}
		open = rest
	}
	return open
}

// follow branches one group of points on the mirrored answers of its best
// placed member.
func (b *builder) follow(l *layout, group []int) []found {
	pivot, answers := b.pivot(l, group)
	if pivot < 0 {
		return b.joint(l, group)
	}
	var all []found
	for _, a := range answers {
		b.branches++
		if b.branches > maxBranches {
			if len(all) > 0 {
				b.giveUp(group)
				break
			}
		}
		branch := l.clone()
		branch.set(pivot, a.at)
		for _, f := range b.place(branch, without(group, pivot)) {
			f.misfit = b.misfit(f.layout, group)
			all = append(all, f)
		}
	}
	return b.plausible(all, group)
}

// giveUp notes that a group has answers that were not followed.
func (b *builder) giveUp(group []int) {
	if b.doubt == nil {
		b.doubt = map[int]bool{}
	}
	for _, p := range group {
		b.doubt[p] = true
	}
}

// pivot chooses the member with the fewest answers above one.
func (b *builder) pivot(l *layout, group []int) (int, []answer) {
	best := -1
	var answers []answer
	for _, p := range group {
		if c := b.answers(l, p); len(c) > 0 && (best < 0 || len(c) < len(answers)) {
			best, answers = p, c
		}
	}
	return best, answers
}

// plausible sorts finished layouts and keeps the different ones that are not
// clearly worse than the best.
func (b *builder) plausible(all []found, group []int) []found {
	sort.SliceStable(all, func(i, j int) bool { return all[i].misfit < all[j].misfit })
	var out []found
	for _, f := range all {
		if len(out) > 0 && f.misfit > out[0].misfit+mirrorMargin {
			break
		}
		if !b.repeated(out, f, group) {
			out = append(out, f)
		}
	}
	return out
}

func (b *builder) repeated(list []found, f found, group []int) bool {
	for _, o := range list {
		same := true
		for _, p := range group {
			if o.layout.placed[p] && f.layout.placed[p] && o.layout.at(p).from(f.layout.at(p)) > samePlace {
				same = false
			}
		}
		if same {
			return true
		}
	}
	return false
}

func without(list []int, v int) []int {
	out := make([]int, 0, len(list))
	for _, w := range list {
		if w != v {
			out = append(out, w)
		}
	}
	return out
}

// groups splits the open points into sets that no reading joins.
func (b *builder) groups(l *layout, open []int) [][]int {
	group := map[int]int{}
	for _, p := range open {
		group[p] = -1
	}
	unturned := b.unturned(l, open)
	var out [][]int
	for _, p := range open {
		if group[p] >= 0 {
			continue
		}
		id, stack := len(out), []int{p}
		group[p] = id
		var members []int
		for len(stack) > 0 {
			q := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			members = append(members, q)
			near := b.neighbours(q)
			if indexOf(unturned, q) >= 0 {
				near = append(near, unturned...)
			}
			for _, r := range near {
				if g, isOpen := group[r]; isOpen && g < 0 {
					group[r] = id
					stack = append(stack, r)
				}
			}
		}
		sort.Ints(members)
		out = append(out, members)
	}
	return out
}

// unturned lists the open points whose places decide how the frame is turned,
// while it is not: a mirrored choice at one of them bears on all the others,
// though no reading joins them.
func (b *builder) unturned(l *layout, open []int) []int {
	if l.turn {
		return nil
	}
	f := &b.n.frame
	var out []int
	for _, p := range open {
		decides := p == f.mark && (f.geoKnown || b.n.gridGiven())
		for _, k := range b.n.at[p] {
			decides = decides || b.n.eqs[k].turns || b.n.eqs[k].shift >= 0
		}
		if decides {
			out = append(out, p)
		}
	}
	return out
}

// neighbours lists the points that share a reading or a building with p.
func (b *builder) neighbours(p int) []int {
	var out []int
	for _, k := range b.n.at[p] {
		out = append(out, b.n.eqs[k].points...)
	}
	for _, o := range b.n.building {
		if indexOf(o.corners, p) >= 0 {
			out = append(out, o.corners...)
		}
	}
	return out
}

// misfit sums over every finished reading that speaks of the group.
func (b *builder) misfit(l *layout, group []int) float64 {
	sum := 0.0
	seen := map[int]bool{}
	for _, p := range group {
		for _, k := range b.n.at[p] {
			if !seen[k] && b.ready(l, &b.n.eqs[k]) {
				seen[k] = true
				var miss float64
				miss, b.scratch = b.n.eqs[k].misclosure(l.x, b.scratch)
				sum += b.n.eqs[k].strain(miss)
			}
		}
	}
	return sum
}

// ready tells whether everything an equation needs is placed.
func (b *builder) ready(l *layout, e *equation) bool {
	for _, p := range e.points {
		if !l.placed[p] {
			return false
		}
	}
	return b.framed(l, e)
}

func (b *builder) framed(l *layout, e *equation) bool {
	if e.turns && !l.turn {
		return false
	}
	return e.shift < 0 || l.shift[b.n.shiftSlot(e.shift)]
}

func (n *network) shiftSlot(first int) int {
	if first == n.gridShift {
		return 0
	}
	return 1
}

// strain is a misfit in squared standard deviations, growing only linearly
// beyond the huber limit.
func (e *equation) strain(misclosure float64) float64 {
	r := math.Abs(misclosure) / e.SD
	if r > huber {
		return huber * (2*r - huber)
	}
	return r * r
}

// misclosure is predicted minus read at x, in m or rad, with the slopes.
func (e *equation) misclosure(x []float64, scratch []least.Term) (float64, []least.Term) {
	v, terms := e.Model.Predict(x, scratch[:0])
	d := v - e.Read
	if e.Wrap {
		d = math.Remainder(d, 2*math.Pi)
	}
	return d, terms
}
