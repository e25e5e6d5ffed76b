package adjust

import (
	"fmt"
	"math"
	"sort"

	"undersod/core/least"
	"undersod/core/site"
	"undersod/core/unit"
)

const (
	// longestTie is the longest tie that is proposed.
	longestTie = 200 * unit.Foot
	// shownNext is how many further readings are proposed.
	shownNext = 3
	// exhaustive is the number of drawn parts up to which every tie is tried;
	// beyond it only ties to the worst part are.
	exhaustive = 60
	// worthwhile is the least gain in the worst radius that is worth a reading.
	worthwhile = 0.02
)

// planner predicts what a further tie would do, before it is measured: adding
// a reading with slopes a and variance s² turns the covariance Q into
// Q - Qa aᵀQ / (s² + aᵀQa), whatever the reading turns out to be.
type planner struct {
	w       *work
	sol     *least.Solution
	parts   []int // drawn parts that are determined
	marks   []int
	columns map[int][]float64
	tied    map[[2]int]bool
	sd      Deviation
}

// planner returns the one planner of a plan, made when first asked for.
func (w *work) planner() *planner {
	if w.plans == nil {
		w.plans = w.newPlanner()
	}
	return w.plans
}

func (w *work) newPlanner() *planner {
	p := &planner{w: w, sol: w.sol, columns: map[int][]float64{}, tied: map[[2]int]bool{},
		sd: w.usualTape()}
	for i := range w.plan.Points {
		pt := &w.plan.Points[i]
		if !pt.Placed || pt.State != Determined {
			continue
		}
		if w.net.points[i].IsMark() {
			p.marks = append(p.marks, i)
		} else if drawn(pt.Role) {
			p.parts = append(p.parts, i)
		}
	}
	for k := range w.net.eqs {
		if m, ok := w.net.eqs[k].Model.(distanceModel); ok {
			p.tied[[2]int{m.a, m.b}], p.tied[[2]int{m.b, m.a}] = true, true
		}
	}
	return p
}

// drawn tells whether a point of this role is part of the system as drawn.
func drawn(r site.Role) bool {
	return r == site.RolePart || r == site.RoleBend || r == site.RoleHit
}

// usualTape is the deviation of the instrument that most ties were taken with.
func (w *work) usualTape() Deviation {
	count := map[site.Name]int{}
	best := site.Name("")
	for _, r := range w.net.job.Visit.Readings {
		if t, ok := r.(site.Tie); ok {
			count[t.Instrument]++
			if count[t.Instrument] > count[best] {
				best = t.Instrument
			}
		}
	}
	return w.net.dev.of(best, site.FibreglassTape)
}

// column returns a column of the covariance; zero for a held unknown.
func (p *planner) column(i int) []float64 {
	c, ok := p.columns[i]
	if !ok {
		c = p.w.column(i)
		p.columns[i] = c
	}
	return c
}

// spread returns Q a and aᵀQa for a tie between two points.
func (p *planner) spread(from, to int, out []float64) float64 {
	_, terms := distanceModel{a: from, b: to}.Predict(p.w.layout.x, nil)
	for i := range out {
		out[i] = 0
	}
	for _, t := range terms {
		for j, v := range p.column(t.Index) {
			out[j] += t.Slope * v
		}
	}
	v := 0.0
	for _, t := range terms {
		v += t.Slope * out[t.Index]
	}
	return v
}

// radius returns the 95 % radius of a point once a tie with spread y is added.
func (p *planner) radius(i int, y []float64, weight float64) unit.Length {
	ee, en, nn := p.column(2 * i)[2*i], p.column(2 * i)[2*i+1], p.column(2*i + 1)[2*i+1]
	if y != nil {
		ee -= y[2*i] * y[2*i] * weight
		en -= y[2*i] * y[2*i+1] * weight
		nn -= y[2*i+1] * y[2*i+1] * weight
	}
	return sigmaOf(ee, en, nn).Ellipse95().Radius
}

// worst returns the largest radius among the parts, and whose it is.
func (p *planner) worst(y []float64, weight float64) (unit.Length, int) {
	var most unit.Length
	who := -1
	for _, i := range p.parts {
		if r := p.radius(i, y, weight); r > most {
			most, who = r, i
		}
	}
	return most, who
}

// next fills in the best further readings: those that make the worst radius
// smallest.
func (w *work) next() {
	p := w.planner()
	before, who := p.worst(nil, 0)
	if who < 0 {
		return
	}
	targets := p.parts
	if len(targets) > exhaustive {
		targets = []int{who}
	}
	y := make([]float64, w.net.unknowns)
	var list []Candidate
	for _, to := range targets {
		for _, from := range p.marks {
			d := unit.Length(w.layout.at(from).from(w.layout.at(to)))
			if !p.possible(from, to, d) {
				continue
			}
			v := p.spread(from, to, y)
			sd := float64(p.sd.At(d))
			after, _ := p.worst(y, 1/(sd*sd+v))
			if w.style().FormatDeviation(after) == w.style().FormatDeviation(before) ||
				float64(after) > float64(before)*(1-worthwhile) {
				continue // no gain that anybody could read
			}
			list = append(list, Candidate{Kind: "tie", From: w.net.points[from].Name, To: w.net.points[to].Name,
				Expect: d, Before: before, After: after, Point: w.net.points[who].Name})
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].After < list[j].After })
	if len(list) > shownNext {
		list = list[:shownNext]
	}
	for i := range list {
		c := &list[i]
		c.Words = fmt.Sprintf("a tie from %s to %s (about %s) would bring the least sure part, %s, from %s to %s",
			c.From, c.To, w.lengthWords(c.Expect), c.Point, w.style().FormatDeviation(c.Before), w.style().FormatDeviation(c.After))
	}
	w.plan.Next = list
}

// possible tells whether a tie can be taken: it is new, no longer than a tape,
// and no building stands in its way.
func (p *planner) possible(from, to int, d unit.Length) bool {
	return !p.tied[[2]int{from, to}] && d <= longestTie && d >= unit.Foot && !p.w.blocked(from, to)
}

// blocked tells whether a building stands between two points.
func (w *work) blocked(from, to int) bool {
	a, b := w.layout.at(from), w.layout.at(to)
	for _, o := range w.net.building {
		for k, c := range o.corners {
			d := o.corners[(k+1)%len(o.corners)]
			if w.layout.placed[c] && w.layout.placed[d] && crosses(a, b, w.layout.at(c), w.layout.at(d)) {
				return true
			}
		}
		if w.startsInside(o, from, to) {
			return true
		}
	}
	return false
}

// crosses tells whether two pieces cross strictly inside both.
func crosses(a, b, c, d spot) bool {
	side := func(p, q, r spot) float64 { return (q.e-p.e)*(r.n-p.n) - (q.n-p.n)*(r.e-p.e) }
	const slack = 1e-6 // square metres: a corner touched is not crossed
	s1, s2 := side(a, b, c), side(a, b, d)
	s3, s4 := side(c, d, a), side(c, d, b)
	return s1*s2 < -slack && s3*s4 < -slack
}

// startsInside tells whether a tie from a corner of the building leaves through
// its inside: its first step from the corner lies within the figure.
func (w *work) startsInside(o outline, from, to int) bool {
	if indexOf(o.corners, from) < 0 {
		return false
	}
	a, b := w.layout.at(from), w.layout.at(to)
	d := a.from(b)
	if d == 0 {
		return false
	}
	return w.inside(o, spot{a.e + 0.05*(b.e-a.e)/d, a.n + 0.05*(b.n-a.n)/d})
}

// checking returns the tie that would check a part best: from the mark, not
// tied to it yet, that shrinks its own radius most.
func (p *planner) checking(to int) *Candidate {
	y := make([]float64, p.w.net.unknowns)
	before := p.radius(to, nil, 0)
	var best *Candidate
	for _, from := range p.marks {
		d := unit.Length(p.w.layout.at(from).from(p.w.layout.at(to)))
		if !p.possible(from, to, d) {
			continue
		}
		v := p.spread(from, to, y)
		sd := float64(p.sd.At(d))
		after := p.radius(to, y, 1/(sd*sd+v))
		if best == nil || after < best.After {
			best = &Candidate{Kind: "tie", From: p.w.net.points[from].Name, To: p.w.net.points[to].Name,
				Expect: d, Before: before, After: after, Point: p.w.net.points[to].Name}
		}
	}
	return best
}

// separating returns the reading that tells a group of suspects apart: a tie
// to the point they share from a mark none of them uses, else one of them
// taken again.
func (s *searcher) separating(a suspect) *Candidate {
	p := s.w.planner()
	count := map[int]int{}
	best := -1
	for _, k := range a.group {
		for _, q := range s.equation(k).points {
			if s.w.net.points[q].IsMark() {
				continue
			}
			count[q]++
			if best < 0 || count[q] > count[best] {
				best = q
			}
		}
	}
	if best >= 0 {
		if c := p.checking(best); c != nil {
			c.Words = fmt.Sprintf("take a tie from %s to %s (about %s): it tells which is wrong",
				c.From, c.To, s.w.lengthWords(c.Expect))
			return c
		}
	}
	r := s.reading(a.group[0])
	for _, k := range a.group { // a tape can be taken again, a right angle cannot
		if s.reading(k).Source == FromReading {
			r = s.reading(k)
			break
		}
	}
	c := &Candidate{Kind: "repeat", Words: "take the " + r.Words + " again"}
	if r.Source != FromReading {
		c.Words = "measure a diagonal of the building, as a tie between two of its corners"
	}
	if len(r.Touches) > 1 {
		c.From, c.To = r.Touches[0], r.Touches[1]
	}
	return c
}

// cures proposes, for each point that is not determined, the cheapest reading
// that would fix it.
func (w *work) cures() {
	for i := range w.plan.Points {
		q := &w.plan.Points[i]
		switch q.State {
		case TwoAnswers:
			q.Cure, q.CureWords = w.cureMirror(i)
		case Undetermined, Unconnected:
			q.Cure, q.CureWords = w.cureOpen(i)
		}
	}
}

// cureMirror tells two mirrored places apart: by the word on which side it
// lies, or by the tie whose reading differs most between them.
func (w *work) cureMirror(i int) (*Candidate, string) {
	q := &w.plan.Points[i]
	var best *Candidate
	var most unit.Length
	for m := range w.plan.Points {
		mk := &w.plan.Points[m]
		if !w.net.points[m].IsMark() || !mk.Placed || mk.State != Determined {
			continue
		}
		d1, d2 := mk.At.Minus(q.At).Length(), mk.At.Minus(*q.Other).Length()
		if gap := (d1 - d2).Abs(); gap > most && d1 < longestTie {
			most = gap
			best = &Candidate{Kind: "tie", From: mk.Name, To: q.Name, Expect: d1, Point: q.Name}
		}
	}
	words := fmt.Sprintf("say on which side %s lies", q.Name)
	if a, b, ok := w.net.markPair(i); ok {
		words = fmt.Sprintf("say on which side of %s-%s %s lies", w.net.points[a].Name, w.net.points[b].Name, q.Name)
	}
	if best != nil && most > unit.Foot {
		words += fmt.Sprintf(", or take a tie from %s: it reads %s on the one side and %s on the other", best.From,
			w.lengthWords(best.Expect), w.lengthWords(w.at(best.From).Minus(*q.Other).Length()))
		best.Words = words
		return best, words
	}
	return &Candidate{Kind: "side", To: q.Name, Point: q.Name, Words: words}, words
}

// cureOpen proposes a tie for a point that is free to move.
func (w *work) cureOpen(i int) (*Candidate, string) {
	name := w.net.points[i].Name
	var p *planner
	if w.sol != nil {
		p = w.planner()
	}
	if p == nil || len(p.marks) == 0 {
		return nil, fmt.Sprintf("tie %s to two marks that are tied to each other", name)
	}
	if w.plan.Points[i].Placed {
		if c := w.cureNull(p, i); c != nil {
			return c, c.Words
		}
	}
	if _, is := w.flat[i]; is {
		if c := w.cureFlat(i); c != nil {
			return c, c.Words
		}
		words := fmt.Sprintf("measure how far %s lies from the wall or line of those marks, as an offset", name)
		return &Candidate{Kind: "offset", To: name, Point: name, Words: words}, words
	}
	if c, ok := w.cureCircle(p, i); ok {
		return c, c.Words
	}
	a, b := w.usualMarks(p.marks)
	if a == b {
		return nil, fmt.Sprintf("tie %s to two marks", name)
	}
	c := &Candidate{Kind: "tie", From: w.net.points[a].Name, To: name, Point: name}
	c.Words = fmt.Sprintf("take ties to %s from two marks, as %s and %s, and say on which side it lies",
		name, w.net.points[a].Name, w.net.points[b].Name)
	return c, c.Words
}

// cureNull finds the tie that best stops a point from moving in its free
// direction.
func (w *work) cureNull(p *planner, i int) *Candidate {
	var best *Candidate
	most := 0.2 // a tie nearly square to the free direction stops nothing
	for _, d := range w.sol.Deficient {
		e, n := d.Vector[2*i], d.Vector[2*i+1]
		size := math.Hypot(e, n)
		if size == 0 {
			continue
		}
		for _, m := range p.marks {
			at, from := w.layout.at(i), w.layout.at(m)
			dist := at.from(from)
			if dist < 0.3 || !p.possible(m, i, unit.Length(dist)) {
				continue
			}
			if c := math.Abs((at.e-from.e)*e+(at.n-from.n)*n) / (dist * size); c > most {
				most = c
				best = &Candidate{Kind: "tie", From: w.net.points[m].Name, To: w.net.points[i].Name,
					Expect: unit.Length(dist), Point: w.net.points[i].Name}
			}
		}
	}
	if best != nil {
		best.Words = fmt.Sprintf("take a tie from %s to %s (about %s)", best.From, best.To, w.lengthWords(best.Expect))
	}
	return best
}

// cureCircle handles a point with one tie: the second mark is the one whose
// tie crosses the first best, averaged over all places where the point may be.
func (w *work) cureCircle(p *planner, i int) (*Candidate, bool) {
	name := w.net.points[i].Name
	for _, k := range w.net.at[i] {
		e := &w.net.eqs[k]
		m, ok := e.Model.(distanceModel)
		if !ok {
			continue
		}
		centre := m.a + m.b - i
		if !w.layout.placed[centre] {
			continue
		}
		best, worth := -1, 0.0
		for _, q := range p.marks {
			if q == centre || p.tied[[2]int{q, i}] {
				continue
			}
			if g := w.crossing(circle{w.layout.at(centre), e.radius}, w.layout.at(q)); g > worth {
				best, worth = q, g
			}
		}
		if best < 0 {
			continue
		}
		c := &Candidate{Kind: "tie", From: w.net.points[best].Name, To: name, Point: name}
		c.Words = fmt.Sprintf("take one more tie, from %s to %s, and say on which side of %s-%s it lies",
			c.From, name, w.net.points[centre].Name, c.From)
		return c, true
	}
	return nil, false
}

// crossing is the mean squared sine of the angle at which a tie from q crosses
// a circle.
func (w *work) crossing(c circle, q spot) float64 {
	const steps = 36
	sum := 0.0
	for s := range steps {
		si, co := math.Sincos(2 * math.Pi * float64(s) / steps)
		at := spot{c.centre.e + c.radius*si, c.centre.n + c.radius*co}
		if d := at.from(q); d > 0 {
			x := (si*(at.n-q.n) - co*(at.e-q.e)) / d
			sum += x * x
		}
	}
	return sum / steps
}

// usualMarks returns the two marks from which most parts are tied, those the
// crew can see and reach.
func (w *work) usualMarks(marks []int) (a, b int) {
	ties := func(m int) int { return len(w.net.at[m]) }
	a, b = marks[0], marks[0]
	for _, m := range marks[1:] {
		switch {
		case ties(m) > ties(a):
			a, b = m, a
		case b == a || ties(m) > ties(b):
			b = m
		}
	}
	return a, b
}
