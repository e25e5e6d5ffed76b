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
	// shownHypotheses bounds the list for one accusation.
	shownHypotheses = 6
	// movedHypotheses is how many of them show what they do to the points.
	movedHypotheses = 3
	// explains is the number of standard deviations within which a corrected
	// reading agrees with the others.
	explains = 3.0
	// shownMove is the smallest move of a point that is worth telling.
	shownMove = unit.Foot / 100
)

// explain turns a suspect into an accusation with ranked hypotheses.
func (s *searcher) explain(a suspect) Accusation {
	first := a.group[0]
	out := Accusation{Standard: a.standard, Located: len(a.group) == 1}
	out.Angular = s.problem.Equations[first].Wrap
	a.group = s.tapesFirst(a.group)
	for _, k := range a.group {
		out.Readings = appendOnce(out.Readings, s.reading(k).ID)
	}
	out.Located = out.Located || len(out.Readings) == 1
	switch {
	case a.common != nil:
		s.explainCommon(a, &out)
		return out
	case a.swap != nil:
		s.explainExchange(a, &out)
		return out
	}
	base := s.without(first, first)
	if base == nil {
		return out
	}
	predicted, sd := s.foretell(base, first)
	out.Predicted, out.PredictedSD = predicted, sd
	out.Misfit = s.equation(first).Read - predicted
	for i, k := range a.group {
		if i == maxGroup {
			break
		}
		out.Hypotheses = append(out.Hypotheses, s.hypotheses(first, k)...)
	}
	out.Hypotheses = append(out.Hypotheses, s.groupExchanges(first, len(a.group), base)...)
	sort.SliceStable(out.Hypotheses, func(i, j int) bool {
		return out.Hypotheses[i].Score < out.Hypotheses[j].Score
	})
	out.Hypotheses = s.firstFew(out.Hypotheses)
	s.likeliestFirst(&a, &out)
	if !out.Located {
		out.NextReading = s.separating(a)
	}
	out.Words = s.accusationWords(&out, first)
	return out
}

// tapesFirst leaves right angles out of a group that has readings: nobody took
// them, and a house is squarer than a tape is sure.
func (s *searcher) tapesFirst(group []int) []int {
	var out []int
	for _, k := range group {
		if s.reading(k).Source != FromSquare {
			out = append(out, k)
		}
	}
	if len(out) < 2 {
		return group
	}
	return out
}

// likeliestFirst brings the reading of a group that a known slip explains best
// to the front.
func (s *searcher) likeliestFirst(a *suspect, out *Accusation) {
	if out.Located || len(out.Hypotheses) == 0 {
		return
	}
	h := out.Hypotheses[0]
	if !h.Explains || h.Kind == SlipUnknown {
		return
	}
	sort.SliceStable(out.Readings, func(i, j int) bool {
		return out.Readings[i] == h.Readings[0] && out.Readings[j] != h.Readings[0]
	})
}

// firstFew keeps the best hypotheses, each corrected text of a reading once.
func (s *searcher) firstFew(list []Hypothesis) []Hypothesis {
	type key struct{ id, text string }
	seen := map[key]bool{}
	var out []Hypothesis
	for _, h := range list {
		k := key{string(h.Kind), h.Corrected}
		if len(h.Readings) > 0 {
			k.id = string(h.Readings[0])
		}
		if h.Kind != SlipMirrored && h.Kind != SlipOtherCorner && h.Kind != SlipSwapped {
			k = key{k.id, h.Corrected}
		}
		if seen[k] || len(out) == shownHypotheses {
			continue
		}
		seen[k] = true
		out = append(out, h)
	}
	for i := range out {
		if i < movedHypotheses {
			out[i].Moves = s.moves(&out[i])
		}
	}
	return out
}

// without solves with equation k off and, where they differ, the accused
// equation in use again: both explain the misfit alike.
func (s *searcher) without(accused, k int) *least.Solution {
	if accused == k {
		return s.sol
	}
	p := s.copyProblem()
	p.Equations[accused].Off, p.Equations[k].Off = false, true
	sol, err := least.Solve(p, s.sol.X, least.Settings{})
	if err != nil {
		return nil
	}
	return sol
}

func (s *searcher) copyProblem() *least.Problem {
	p := *s.problem
	p.Equations = append([]least.Equation(nil), s.problem.Equations...)
	return &p
}

// hypotheses tries every slip on one reading of a group.
func (s *searcher) hypotheses(accused, k int) []Hypothesis {
	base := s.without(accused, k)
	if base == nil {
		return nil
	}
	t := trial{s: s, k: k, accused: accused, base: base, reading: s.reading(k)}
	t.predicted, t.sd = s.foretell(base, k)
	t.values()
	t.otherCorners()
	t.swaps()
	t.mirror()
	t.unknown()
	return t.out
}

// trial is one reading with the slips that are tried on it.
type trial struct {
	s             *searcher
	k, accused    int
	base          *least.Solution
	reading       *Reading
	predicted, sd float64
	out           []Hypothesis
}

// add files a hypothesis under which the reading would have been value.
func (t *trial) add(kind HypothesisKind, corrected string, value, predicted, sd, penalty float64, words string) {
	z := (value - predicted) / sd
	e := t.s.equation(t.k)
	t.out = append(t.out, Hypothesis{
		Kind: kind, Words: words, Readings: []site.ReadingID{t.reading.ID},
		Corrected: corrected, Change: value - e.Read,
		Statistic: t.base.Statistic + z*z, Standard: z, Explains: math.Abs(z) <= explains,
		Score: z*z + penalty,
	})
}

// values tries the slips that change the number alone.
func (t *trial) values() {
	written, ok := t.s.w.net.writtenOf(t.reading.ID, t.s.equation(t.k).component)
	e := t.s.equation(t.k)
	name := t.reading.Words
	if ok {
		for _, v := range variants(written) {
			value := math.Copysign(float64(v.length), e.Read)
			// A value rounded to a step is off by up to half of it: step/√12.
			sd := math.Hypot(t.sd, float64(v.step)/math.Sqrt(12))
			t.add(v.kind, v.text, value, t.predicted, sd, v.penalty,
				fmt.Sprintf("%s: %s, so it was %s", name, v.kind, v.text))
		}
	}
	t.sides(e)
	t.otherEnd(e)
}

// sides tries left and right exchanged.
func (t *trial) sides(e *equation) {
	m, ok := e.Model.(baselineModel)
	if !ok || !m.right || e.Read == 0 {
		return
	}
	text := t.s.w.lengthWords(unit.Length(math.Abs(e.Read)))
	side := "left"
	if e.Read < 0 {
		side = "right"
	}
	t.add(SlipOtherSide, text+" "+side, -e.Read, t.predicted, t.sd, penaltySides,
		fmt.Sprintf("%s: left and right exchanged, so it was %s to the %s", t.reading.Words, text, side))
}

// otherEnd tries a station counted from the baseline's other end, and a
// bearing read backwards.
func (t *trial) otherEnd(e *equation) {
	switch m := e.Model.(type) {
	case baselineModel:
		if m.right {
			return
		}
		length, _ := distanceModel{a: m.a, b: m.b}.Predict(t.base.X, nil)
		value := length - e.Read
		text := t.s.w.lengthWords(unit.Length(value))
		t.add(SlipWrongEnd, text, value, t.predicted, t.sd, penaltyEnd,
			fmt.Sprintf("%s: station counted from the other end, so it was %s", t.reading.Words, text))
	case directionModel:
		value := e.Read + math.Pi
		value = t.predicted + math.Remainder(value-t.predicted, 2*math.Pi)
		text := unit.FormatAzimuth(unit.Angle(value).Turn(), 1)
		t.add(SlipWrongEnd, text, value, t.predicted, t.sd, penaltyEnd,
			fmt.Sprintf("%s: read backwards, so it was %s", t.reading.Words, text))
	}
}

// otherCorners tries a tie taken from another corner of the same building.
func (t *trial) otherCorners() {
	e := t.s.equation(t.k)
	m, ok := e.Model.(distanceModel)
	if !ok || t.reading.Source != FromReading {
		return
	}
	for _, end := range [2][2]int{{m.a, m.b}, {m.b, m.a}} {
		for _, o := range t.s.w.net.building {
			if indexOf(o.corners, end[0]) < 0 {
				continue
			}
			for _, c := range o.corners {
				if c != end[0] && c != end[1] && t.s.w.layout.placed[c] {
					t.corner(distanceModel{c, end[1], m.rise}, e, c)
				}
			}
		}
	}
}

func (t *trial) corner(m distanceModel, e *equation, c int) {
	v, terms := m.Predict(t.base.X, nil)
	sd := math.Sqrt(e.SD*e.SD + math.Max(t.base.PredictedVariance(terms), 0))
	name := string(t.s.w.net.points[c].Name)
	before := len(t.out)
	t.add(SlipOtherCorner, "from "+name, e.Read, v, sd, penaltyCorner,
		fmt.Sprintf("%s: taken from corner %s", t.reading.Words, name))
	t.out[before].Change = 0
}

// swaps tries the reading exchanged with another tie to or from the same
// point.
func (t *trial) swaps() {
	e := t.s.equation(t.k)
	if _, ok := e.Model.(distanceModel); !ok || t.reading.Source != FromReading {
		return
	}
	for k := range t.s.problem.Equations {
		o := t.s.equation(k)
		if _, ok := o.Model.(distanceModel); !ok || k == t.k || t.s.reading(k).Source != FromReading {
			continue
		}
		// Only ties that end at the same point are written side by side.
		if o.points[1] != e.points[1] || math.Abs(o.Read-e.Read) < 3*e.SD {
			continue
		}
		t.swap(k)
	}
}

// swap refits with two readings exchanged. When the partner stands accused by
// itself, the exchange explains both at once.
func (t *trial) swap(k int) {
	value, sd := t.s.foretell(t.base, k)
	e, o := t.s.equation(t.k), t.s.equation(k)
	// A quick look before the refit: neither number may be far off.
	if math.Abs(o.Read-t.predicted) > 6*t.sd+6*e.SD || (t.s.problem.Equations[k].Off && math.Abs(e.Read-value) > 6*sd) {
		return
	}
	p := t.s.copyProblem()
	p.Equations[t.accused].Off, p.Equations[t.k].Off, p.Equations[k].Off = false, false, false
	p.Equations[t.k].Read, p.Equations[k].Read = o.Read, e.Read
	sol, err := least.Solve(p, t.base.X, least.Settings{})
	if err != nil {
		return
	}
	z2 := math.Max(sol.Statistic-t.base.Statistic, 0)
	penalty := penaltySwapped
	if t.s.problem.Equations[k].Off {
		penalty = penaltySwapBoth
	}
	t.out = append(t.out, Hypothesis{
		Kind:      SlipSwapped,
		Words:     fmt.Sprintf("%s and %s: the two readings are exchanged", t.reading.Words, t.s.reading(k).Words),
		Readings:  []site.ReadingID{t.reading.ID, t.s.reading(k).ID},
		Corrected: t.s.reading(k).Written, Change: o.Read - e.Read,
		Statistic: sol.Statistic, Standard: math.Sqrt(z2), Explains: z2 <= explains*explains,
		Score: z2 + penalty,
	})
}

// mirror tries the point on the other side of the line through two of its
// marks, every reading as written.
func (t *trial) mirror() {
	e := t.s.equation(t.k)
	net := t.s.w.net
	for _, p := range e.points {
		if net.points[p].IsMark() {
			continue
		}
		a, b, ok := net.markPair(p)
		if !ok {
			continue
		}
		start := append([]float64(nil), t.base.X...)
		reflect(start, a, b, p)
		q := t.s.copyProblem()
		q.Equations[t.accused].Off, q.Equations[t.k].Off = false, false
		sol, err := least.Solve(q, start, least.Settings{})
		if err != nil {
			continue
		}
		moved := spot{sol.X[2*p], sol.X[2*p+1]}.from(spot{t.base.X[2*p], t.base.X[2*p+1]})
		z2 := math.Max(sol.Statistic-t.base.Statistic, 0)
		if moved < samePlace || z2 > 25 {
			continue
		}
		line := string(net.points[a].Name) + "-" + string(net.points[b].Name)
		t.out = append(t.out, Hypothesis{
			Kind:     SlipMirrored,
			Words:    fmt.Sprintf("%s lies on the other side of %s, and every reading is right", net.points[p].Name, line),
			Readings: []site.ReadingID{t.reading.ID}, Corrected: "other side of " + line,
			Statistic: sol.Statistic, Standard: math.Sqrt(z2), Explains: z2 <= explains*explains,
			Score: z2 + penaltyMirrored,
		})
	}
}

// markPair returns the two marks from which p is tied first.
func (n *network) markPair(p int) (a, b int, ok bool) {
	a = -1
	for _, k := range n.at[p] {
		if _, is := n.eqs[k].Model.(distanceModel); !is {
			continue
		}
		q := n.eqs[k].points[0] + n.eqs[k].points[1] - p
		switch {
		case a < 0:
			a = q
		case q != a:
			return a, q, true
		}
	}
	return 0, 0, false
}

// reflect mirrors point p in x over the line through a and b.
func reflect(x []float64, a, b, p int) {
	ae, an := xy(x, a)
	be, bn := xy(x, b)
	d := math.Hypot(be-ae, bn-an)
	if d < 1e-9 {
		return
	}
	ue, un := (be-ae)/d, (bn-an)/d
	pe, pn := xy(x, p)
	right := (pe-ae)*un - (pn-an)*ue
	x[2*p], x[2*p+1] = pe-2*right*un, pn+2*right*ue
}

// unknown is the slip of no known kind: it fits whatever the others say.
func (t *trial) unknown() {
	e := t.s.equation(t.k)
	kind, penalty := SlipUnknown, penaltyUnknown
	off := unit.Length(e.Read - t.predicted).Abs()
	if _, ok := e.Model.(distanceModel); ok && off >= unit.Inch && off <= 8*unit.Inch {
		kind, penalty = SlipTapeZero, penaltyZero
	}
	text := t.s.w.valueWords(e, t.predicted)
	t.add(kind, text, t.predicted, t.predicted, t.sd, penalty,
		fmt.Sprintf("%s: %s; the others say %s", t.reading.Words, kind, text))
}

// worstOf returns the largest standardized residual of some equations in a
// solution, without its sign: how well it explains them.
func (s *searcher) worstOf(sol *least.Solution, group []int) float64 {
	worst := 0.0
	for _, k := range group {
		if r := sol.Redundancy(k); r > leastShare {
			worst = math.Max(worst, math.Abs(sol.Residual(k))/(s.problem.Equations[k].SD*math.Sqrt(r)))
		}
	}
	return worst
}

// explainCommon explains one constant error in many ties.
func (s *searcher) explainCommon(a suspect, out *Accusation) {
	c := a.common
	out.Located, out.Misfit = true, c.bias
	first := s.equation(a.group[0])
	out.Predicted = first.Read - c.bias
	size := s.w.lengthWords(unit.Length(math.Abs(c.bias)))
	way := "long"
	if c.bias < 0 {
		way = "short"
	}
	ids := out.Readings
	fit := s.worstOf(s.sol, a.group)
	out.Hypotheses = []Hypothesis{{
		Kind: SlipTapeZero, Readings: ids, Change: -c.bias, Corrected: size + " " + way,
		Words:     fmt.Sprintf("every tie %s reads %s too %s: the tape's end was not held at zero", c.what, size, way),
		Statistic: s.sol.Statistic, Standard: fit, Explains: fit <= explains, Score: penaltyZero,
	}}
	out.Words = fmt.Sprintf("The %d ties %s all read about %s too %s.", len(a.group), c.what, size, way)
}

// moves returns how far a hypothesis moves the points against the same plan with
// this reading as written; the other accused readings are set aside in both.
func (s *searcher) moves(h *Hypothesis) []Move {
	was, is := s.copyProblem(), s.copyProblem()
	for k := range is.Equations {
		if s.reading(k).ID != h.Readings[0] {
			continue
		}
		was.Equations[k].Off = false
		is.Equations[k].Off = h.Kind == SlipOtherCorner || h.Kind == SlipMirrored || h.Kind == SlipSwapped
		if h.Change != 0 && !is.Equations[k].Off {
			is.Equations[k].Read = s.equation(k).Read + h.Change
		}
	}
	before, _ := least.Solve(was, s.w.layout.x, least.Settings{})
	after, _ := least.Solve(is, s.sol.X, least.Settings{})
	if before == nil || after == nil {
		return nil
	}
	return s.movesBetween(before.X, after.X)
}

// movesBetween lists the points that lie elsewhere, the farthest first.
func (s *searcher) movesBetween(before, after []float64) []Move {
	var out []Move
	for i, placed := range s.w.layout.placed {
		if !placed {
			continue
		}
		by := s.w.toPlan(spot{after[2*i], after[2*i+1]}).Minus(s.w.toPlan(spot{before[2*i], before[2*i+1]}))
		if by.Length() >= shownMove {
			out = append(out, Move{Point: s.w.net.points[i].Name, By: by})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].By.Length() > out[j].By.Length() })
	if len(out) > 5 {
		out = out[:5]
	}
	return out
}

func appendOnce(list []site.ReadingID, id site.ReadingID) []site.ReadingID {
	for _, o := range list {
		if o == id {
			return list
		}
	}
	return append(list, id)
}
