package adjust

import (
	"math"
	"sort"

	"undersod/core/site"
	"undersod/core/unit"
)

// answer is a place where a point may lie, with the misfit of the readings
// that can judge it there.
type answer struct {
	at     spot
	misfit float64
}

// sight is what the placed points say about one open point.
type sight struct {
	circles []circle
	rays    []ray
	spots   []spot // complete positions: offsets, fixes, a building's figure
	ready   []int  // equations that can judge a place
	curves  []int  // those of them that are neither circle, ray nor spot
}

// answers returns where a point may lie: nothing while too little is placed,
// one place when that is certain, else the mirrored ones, best first.
func (b *builder) answers(l *layout, p int) []answer {
	s := b.look(l, p)
	seeds := s.seeds(b, l, p)
	if len(seeds) == 0 {
		return nil
	}
	all := make([]answer, 0, len(seeds))
	for i, seed := range seeds {
		if !crowded(seeds[:i], seed) {
			all = append(all, b.refine(l, p, seed, s.ready))
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].misfit < all[j].misfit })
	kept := all[:1]
	for _, a := range all[1:] {
		if a.misfit > kept[0].misfit+mirrorMargin {
			break
		}
		near := false
		for _, k := range kept {
			near = near || k.at.from(a.at) <= samePlace
		}
		if !near {
			kept = append(kept, a)
		}
	}
	if len(kept) > 1 && b.hints {
		return b.decide(l, p, kept)
	}
	return kept
}

// sameSeed is the distance in metres below which two seeds lead to one place.
const sameSeed = 0.1

func crowded(before []spot, seed spot) bool {
	for _, s := range before {
		if math.Abs(s.e-seed.e) < sameSeed && math.Abs(s.n-seed.n) < sameSeed {
			return true
		}
	}
	return false
}

// look gathers what the placed points say about p.
func (b *builder) look(l *layout, p int) sight {
	var s sight
	for _, k := range b.n.at[p] {
		e := &b.n.eqs[k]
		if !b.framed(l, e) || !b.othersPlaced(l, e, p) || (b.skip != nil && b.skip(k)) {
			continue
		}
		s.ready = append(s.ready, k)
		b.sort(l, p, k, &s)
	}
	for _, o := range b.n.building {
		if c, ok := o.corner(l, p); ok {
			s.spots = append(s.spots, c)
		}
	}
	return s
}

func (b *builder) othersPlaced(l *layout, e *equation, p int) bool {
	for _, q := range e.points {
		if q != p && !l.placed[q] {
			return false
		}
	}
	return true
}

// sort files one equation by the figure it draws for p.
func (b *builder) sort(l *layout, p, k int, s *sight) {
	e := &b.n.eqs[k]
	switch m := e.Model.(type) {
	case distanceModel:
		s.circles = append(s.circles, circle{l.at(m.a + m.b - p), e.radius})
	case directionModel:
		az := e.Read - l.x[b.n.turn]
		if m.b == p {
			s.rays = append(s.rays, rayAt(l.at(m.a), az))
		} else {
			s.rays = append(s.rays, rayAt(l.at(m.b), az+math.Pi))
		}
	case squareModel:
		switch p {
		case m.b:
			s.rays = append(s.rays, rayAt(l.at(m.c), azimuthOf(l.at(m.a), l.at(m.c))+e.Read))
		case m.a:
			s.rays = append(s.rays, rayAt(l.at(m.c), azimuthOf(l.at(m.c), l.at(m.b))-e.Read+math.Pi))
		default:
			s.curves = append(s.curves, k)
		}
	case baselineModel:
		if c, ok := b.offsetSpot(l, p, k); ok {
			s.spots = append(s.spots, c)
		} else if m.p != p {
			s.curves = append(s.curves, k)
		}
	case fixModel:
		if c, ok := b.fixSpot(l, k); ok {
			s.spots = append(s.spots, c)
		}
	case pathModel:
		b.sortPath(l, p, k, m, s)
	}
}

func (b *builder) sortPath(l *layout, p, k int, m pathModel, s *sight) {
	last := len(m.points) - 1
	if m.points[last] != p {
		s.curves = append(s.curves, k)
		return
	}
	left := b.n.eqs[k].Read
	for i := 1; i < last; i++ {
		left -= l.at(m.points[i-1]).from(l.at(m.points[i]))
	}
	if left > 0 {
		s.circles = append(s.circles, circle{l.at(m.points[last-1]), left})
	}
}

func azimuthOf(from, to spot) float64 { return math.Atan2(to.e-from.e, to.n-from.n) }

// offsetSpot combines a station with its partner, the distance beside it.
func (b *builder) offsetSpot(l *layout, p, k int) (spot, bool) {
	e := &b.n.eqs[k]
	m := e.Model.(baselineModel)
	if m.p != p || m.right || k+1 >= len(b.n.eqs) || b.n.eqs[k+1].reading != e.reading {
		return spot{}, false
	}
	a, c := l.at(m.a), l.at(m.b)
	d := a.from(c)
	if d < 1e-6 {
		return spot{}, false
	}
	ue, un := (c.e-a.e)/d, (c.n-a.n)/d
	station, right := e.Read, b.n.eqs[k+1].Read
	return spot{a.e + station*ue + right*un, a.n + station*un - right*ue}, true
}

// fixSpot combines the east of a fix with its partner, the north.
func (b *builder) fixSpot(l *layout, k int) (spot, bool) {
	e := &b.n.eqs[k]
	m := e.Model.(fixModel)
	if m.north || k+1 >= len(b.n.eqs) || b.n.eqs[k+1].reading != e.reading {
		return spot{}, false
	}
	ge, gn := e.Read-l.x[m.shift], b.n.eqs[k+1].Read-l.x[m.shift+1]
	s, c := math.Sincos(l.x[m.turn])
	return spot{ge*c - gn*s, ge*s + gn*c}, true
}

// corner returns where p lies if it is a corner of the building and two other
// corners are placed: the ideal figure laid on the two farthest apart.
func (o *outline) corner(l *layout, p int) (spot, bool) {
	at := indexOf(o.corners, p)
	if at < 0 {
		return spot{}, false
	}
	i, j, far := -1, -1, 0.0
	for g, c := range o.corners {
		for h := g + 1; h < len(o.corners); h++ {
			if c == p || o.corners[h] == p || !l.placed[c] || !l.placed[o.corners[h]] {
				continue
			}
			if d := float64(o.ideal[g].Minus(o.ideal[h]).Length()); d > far {
				i, j, far = g, h, d
			}
		}
	}
	if i < 0 || l.at(o.corners[i]).from(l.at(o.corners[j])) < 1e-6 {
		return spot{}, false
	}
	turn := azimuthOf(l.at(o.corners[i]), l.at(o.corners[j])) -
		float64(o.ideal[j].Minus(o.ideal[i]).Azimuth())
	d := o.ideal[at].Minus(o.ideal[i]).Clockwise(unit.Angle(turn))
	from := l.at(o.corners[i])
	return spot{from.e + float64(d.East), from.n + float64(d.North)}, true
}

// maxPairs bounds how many circles of one point are crossed with each other.
const maxPairs = 6

// seeds crosses the figures with each other.
func (s *sight) seeds(b *builder, l *layout, p int) []spot {
	out := append([]spot(nil), s.spots...)
	circles := s.circles
	if len(circles) > maxPairs {
		circles = circles[:maxPairs]
	}
	for i, c := range circles {
		for _, d := range circles[i+1:] {
			out = append(out, meetCircles(c, d)...)
		}
		for _, r := range s.rays {
			out = append(out, meetRayCircle(r, c)...)
		}
	}
	for i, r := range s.rays {
		for _, q := range s.rays[i+1:] {
			out = append(out, meetRays(r, q)...)
		}
	}
	if len(out) == 0 && len(circles) > 0 && len(s.curves) > 0 {
		out = b.scan(l, p, circles[0], s.curves[0])
	}
	return out
}

// scan walks a circle and returns the places where another reading is met.
func (b *builder) scan(l *layout, p int, c circle, k int) []spot {
	was, placed := l.at(p), l.placed[p]
	defer func() { l.set(p, was); l.placed[p] = placed }()
	e := &b.n.eqs[k]
	miss := func(a float64) float64 {
		s, co := math.Sincos(a)
		l.set(p, spot{c.centre.e + c.radius*s, c.centre.n + c.radius*co})
		var d float64
		d, b.scratch = e.misclosure(l.x, b.scratch)
		return d
	}
	var out []spot
	best, bestAt := math.Inf(1), spot{}
	before := miss(0)
	for i := 1; i <= scanSteps; i++ {
		lo, hi := float64(i-1)*2*math.Pi/scanSteps, float64(i)*2*math.Pi/scanSteps
		now := miss(hi)
		if math.Abs(now) < best {
			best, bestAt = math.Abs(now), l.at(p)
		}
		if before*now < 0 && math.Abs(before-now) < math.Pi+10*e.SD {
			for range 40 {
				mid := (lo + hi) / 2
				if v := miss(mid); v*before > 0 {
					lo = mid
				} else {
					hi = mid
				}
			}
			miss((lo + hi) / 2)
			out = append(out, l.at(p))
		}
		before = now
	}
	if len(out) == 0 && best < 30*e.SD {
		out = append(out, bestAt)
	}
	return out
}

// refine moves a seed to the nearby place that the ready readings like best,
// by a few robust Gauss-Newton steps, and judges it there.
func (b *builder) refine(l *layout, p int, seed spot, ready []int) answer {
	was, placed := l.at(p), l.placed[p]
	defer func() { l.set(p, was); l.placed[p] = placed }()
	best := answer{seed, math.Inf(1)}
	at := seed
	for range 6 {
		l.set(p, at)
		n := b.localNormal(l, p, ready)
		if n.misfit < best.misfit {
			best = answer{at, n.misfit}
		}
		de, dn, ok := n.step()
		if !ok {
			break
		}
		at = spot{at.e + de, at.n + dn}
	}
	return best
}

// normal2 is the robust normal equation of one point.
type normal2 struct{ m11, m12, m22, g1, g2, misfit float64 }

func (b *builder) localNormal(l *layout, p int, ready []int) normal2 {
	var n normal2
	for _, k := range ready {
		e := &b.n.eqs[k]
		var r float64
		r, b.scratch = e.misclosure(l.x, b.scratch)
		n.misfit += e.strain(r)
		w := 1 / (e.SD * e.SD)
		if z := math.Abs(r) / e.SD; z > huber {
			w *= huber / z
		}
		var a1, a2 float64
		for _, t := range b.scratch {
			switch t.Index {
			case 2 * p:
				a1 += t.Slope
			case 2*p + 1:
				a2 += t.Slope
			}
		}
		n.m11, n.m12, n.m22 = n.m11+w*a1*a1, n.m12+w*a1*a2, n.m22+w*a2*a2
		n.g1, n.g2 = n.g1+w*a1*r, n.g2+w*a2*r
	}
	return n
}

// step solves for the next step; false where there is none worth taking.
func (n normal2) step() (de, dn float64, ok bool) {
	ridge := 1e-9 * (n.m11 + n.m22)
	m11, m22 := n.m11+ridge, n.m22+ridge
	det := m11*m22 - n.m12*n.m12
	if !(det > 0) {
		return 0, 0, false
	}
	de, dn = -(m22*n.g1-n.m12*n.g2)/det, -(m11*n.g2-n.m12*n.g1)/det
	size := math.Hypot(de, dn)
	return de, dn, size >= 1e-4 && size <= 1e4
}

// orient finds the turn of the frame from bearings or fixes between placed
// points, and the shifts from fixes, once each. It tells whether it did.
func (b *builder) orient(l *layout) bool {
	if !l.turn && (b.turnFromBearings(l) || b.turnFromFixes(l)) {
		l.turn = true
		return true
	}
	if !l.turn {
		return false
	}
	did := false
	for slot, first := range [2]int{b.n.gridShift, b.n.geoShift} {
		if !l.shift[slot] && b.shiftFromFixes(l, first) {
			l.shift[slot], did = true, true
		}
	}
	return did
}

func (b *builder) turnFromBearings(l *layout) bool {
	var s, c float64
	for k := range b.n.eqs {
		e := &b.n.eqs[k]
		if m, ok := e.Model.(directionModel); ok && l.placed[m.a] && l.placed[m.b] {
			si, co := math.Sincos(e.Read - azimuthOf(l.at(m.a), l.at(m.b)))
			s, c = s+si/e.SD, c+co/e.SD
		}
	}
	if s == 0 && c == 0 {
		return false
	}
	l.x[b.n.turn] = math.Atan2(s, c)
	return true
}

// turnFromFixes turns the frame by the two fixes farthest apart.
func (b *builder) turnFromFixes(l *layout) bool {
	type fixed struct {
		at    spot
		e, n  float64
		shift int
	}
	list := make([]fixed, 0, 8)
	if f := &b.n.frame; f.mark >= 0 && l.placed[f.mark] {
		if b.n.gridGiven() {
			list = append(list, fixed{l.at(f.mark), float64(f.east0), float64(f.north0), b.n.gridShift})
		}
		if f.geoKnown {
			list = append(list, fixed{l.at(f.mark), 0, 0, b.n.geoShift})
		}
	}
	for k := range b.n.eqs {
		e := &b.n.eqs[k]
		if m, ok := e.Model.(fixModel); ok && !m.north && l.placed[m.p] && k+1 < len(b.n.eqs) {
			list = append(list, fixed{l.at(m.p), e.Read, b.n.eqs[k+1].Read, m.shift})
		}
	}
	far, turn := 1.0, 0.0
	for i, f := range list {
		for _, g := range list[i+1:] {
			if d := f.at.from(g.at); d > far && f.shift == g.shift {
				far = d
				turn = math.Atan2(g.e-f.e, g.n-f.n) - azimuthOf(f.at, g.at)
			}
		}
	}
	if far <= 1 {
		return false
	}
	l.x[b.n.turn] = turn
	return true
}

func (b *builder) shiftFromFixes(l *layout, first int) bool {
	var sum [2]float64
	var weight [2]float64
	for k := range b.n.eqs {
		e := &b.n.eqs[k]
		m, ok := e.Model.(fixModel)
		if !ok || m.shift != first || !l.placed[m.p] {
			continue
		}
		axis := 0
		if m.north {
			axis = 1
		}
		l.x[first], l.x[first+1] = 0, 0
		v, _ := m.Predict(l.x, nil)
		w := 1 / (e.SD * e.SD)
		sum[axis] += w * (e.Read - v)
		weight[axis] += w
	}
	if weight[0] == 0 || weight[1] == 0 {
		return false
	}
	l.x[first], l.x[first+1] = sum[0]/weight[0], sum[1]/weight[1]
	return true
}

// decide lets side hints and then a rough place choose among mirrored answers.
func (b *builder) decide(l *layout, p int, list []answer) []answer {
	var kept []answer
	for _, a := range list {
		if b.n.sidesAgree(l, p, a.at) {
			kept = append(kept, a)
		}
	}
	if len(kept) == 0 {
		kept = list // every answer is on the wrong side: the hint decides nothing
	}
	if len(kept) < 2 {
		return kept
	}
	rough, ok := b.roughly(l, p)
	if !ok {
		return kept
	}
	sort.SliceStable(kept, func(i, j int) bool {
		return kept[i].at.from(rough) < kept[j].at.from(rough)
	})
	if kept[0].at.from(rough) < kept[1].at.from(rough)/1.5 {
		return kept[:1]
	}
	return kept
}

// roughly returns where a point lies roughly: as read off a sketch, or as a fix
// says that is too coarse to decide by its weight alone.
func (b *builder) roughly(l *layout, p int) (spot, bool) {
	if r := b.n.points[p].Rough; r != nil {
		if at, ok := b.n.roughSpot(l, r); ok {
			return at, true
		}
	}
	for _, k := range b.n.at[p] {
		if _, ok := b.n.eqs[k].Model.(fixModel); ok && b.framed(l, &b.n.eqs[k]) {
			if at, ok := b.fixSpot(l, k); ok {
				return at, true
			}
		}
	}
	return spot{}, false
}

// sidesAgree tells whether a place lies on the sides its hints name; hints
// whose ends are not placed say nothing.
func (n *network) sidesAgree(l *layout, p int, at spot) bool {
	for _, s := range n.points[p].Sides {
		pts, ok := n.find(s.From, s.To)
		if !ok || !l.placed[pts[0]] || !l.placed[pts[1]] {
			continue
		}
		want := n.wantedSide(s, pts)
		if float64(want)*signedSide(l.at(pts[0]), l.at(pts[1]), at) < 0 {
			return false
		}
	}
	return true
}

// roughSpot turns a rough place into the working frame.
func (n *network) roughSpot(l *layout, r *site.Rough) (spot, bool) {
	from, to := n.frame.mark, n.frame.toward
	if r.From != "" {
		pts, ok := n.find(r.From, r.To)
		if !ok {
			return spot{}, false
		}
		from, to = pts[0], pts[1]
	}
	if from < 0 || to < 0 || !l.placed[from] || !l.placed[to] {
		return spot{}, false
	}
	a, c := l.at(from), l.at(to)
	d := a.from(c)
	if d < 1e-6 {
		return spot{}, false
	}
	ue, un := (c.e-a.e)/d, (c.n-a.n)/d
	s, o := float64(r.Along), float64(r.Right)
	return spot{a.e + s*ue + o*un, a.n + s*un - o*ue}, true
}
