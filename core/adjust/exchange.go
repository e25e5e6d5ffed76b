package adjust

import (
	"fmt"
	"math"
	"sort"

	"undersod/core/least"
	"undersod/core/site"
)

// exchange is two ties to one part written down in each other's place.
type exchange struct {
	a, b   int // problem equations
	sol    *least.Solution
	rivals []*exchange // others that fit about as well
	misfit float64     // of the part alone, everything else where it is
}

// solvedExchanges is how many exchanges, the likeliest at the part itself, are
// tried on the whole plan.
const solvedExchanges = 3

// bestExchange tries every exchange of two ties to a part that equation k speaks
// of, and returns the one that fits best, with its rivals, or nil. At a
// symmetrical house, ties exchanged between two corners fit the mirrored part as
// well as those between the other two do the part itself.
func (s *searcher) bestExchange(k int) *exchange {
	var pairs []exchange
	for _, p := range s.equation(k).points {
		if s.w.net.points[p].IsMark() {
			continue
		}
		ties := s.tiesTo(p)
		for i, a := range ties {
			for _, b := range ties[i+1:] {
				if math.Abs(s.problem.Equations[a].Read-s.problem.Equations[b].Read) < 3*s.problem.Equations[a].SD {
					continue // nobody would notice
				}
				pairs = append(pairs, exchange{a: a, b: b, misfit: s.misfitExchanged(p, a, b)})
			}
		}
	}
	sort.SliceStable(pairs, func(i, j int) bool { return pairs[i].misfit < pairs[j].misfit })
	var all []*exchange
	for i, x := range pairs {
		if i == solvedExchanges {
			break
		}
		if solved := s.exchanged(x.a, x.b); solved != nil {
			all = append(all, solved)
		}
	}
	if len(all) == 0 {
		return nil
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].sol.Statistic < all[j].sol.Statistic })
	best := all[0]
	for _, x := range all[1:] {
		if x.sol.Statistic <= best.sol.Statistic+rivalMargin {
			best.rivals = append(best.rivals, x)
		}
	}
	return best
}

// tiesTo lists the ties in use that end at a part.
func (s *searcher) tiesTo(p int) []int {
	var out []int
	for _, e := range s.w.net.at[p] {
		q := s.w.eqOf[e]
		if q < 0 || s.problem.Equations[q].Off || s.reading(q).Source != FromReading {
			continue
		}
		if _, tie := s.equation(q).Model.(distanceModel); tie {
			out = append(out, q)
		}
	}
	return out
}

// exchanged solves with two readings in each other's place; the part is placed
// anew for it, since the wrong order may have put it far off.
func (s *searcher) exchanged(a, b int) *exchange {
	s.swapReads(a, b)
	defer s.swapReads(a, b)
	sol, _ := least.Solve(s.problem, s.restart(a), least.Settings{})
	if sol == nil {
		return nil
	}
	return &exchange{a: a, b: b, sol: sol}
}

// misfitExchanged is how badly a part fits its readings at its best place with
// two of them in each other's place.
func (s *searcher) misfitExchanged(p, a, b int) float64 {
	s.swapReads(a, b)
	defer s.swapReads(a, b)
	builder := s.careful()
	if found := builder.answers(s.startLayout(), p); len(found) > 0 {
		return found[0].misfit
	}
	return math.Inf(1)
}

func (s *searcher) swapReads(a, b int) {
	pa, pb := &s.problem.Equations[a], &s.problem.Equations[b]
	ea, eb := s.equation(a), s.equation(b)
	pa.Read, pb.Read = pb.Read, pa.Read
	ea.Read, eb.Read = eb.Read, ea.Read
	ea.radius, eb.radius = eb.radius, ea.radius
}

// preferExchange takes an exchange for the cause where it leaves nothing to
// explain about its part, and setting the one worst reading aside does not: one
// slip is likelier than two.
func (s *searcher) preferExchange(worst int) (suspect, bool) {
	x := s.bestExchange(worst)
	if x == nil {
		return suspect{}, false
	}
	alone := s.sol // with the best single reading set aside, see rivals
	if x.sol.Statistic > alone.Statistic-rivalMargin {
		return suspect{}, false
	}
	group := []int{x.a, x.b}
	for _, r := range x.rivals {
		for _, k := range []int{r.a, r.b} {
			if indexOf(group, k) < 0 {
				group = append(group, k)
			}
		}
	}
	return suspect{group: group, swap: x}, true
}

// applyExchange puts the two readings in each other's place for the rest of the
// search.
func (s *searcher) applyExchange(x *exchange) {
	pa, pb := &s.problem.Equations[x.a], &s.problem.Equations[x.b]
	pa.Read, pb.Read = pb.Read, pa.Read
	s.sol = x.sol
}

// explainExchange tells an exchange that was taken for the cause.
func (s *searcher) explainExchange(a suspect, out *Accusation) {
	x := a.swap
	out.Located = len(x.rivals) == 0
	out.Misfit = s.equation(x.a).Read - s.equation(x.b).Read
	out.Predicted = s.equation(x.b).Read
	out.Hypotheses = []Hypothesis{s.exchangeHypothesis(x)}
	for _, r := range x.rivals {
		out.Hypotheses = append(out.Hypotheses, s.exchangeHypothesis(r))
	}
	if out.Located {
		out.Words = fmt.Sprintf("The %s are exchanged, it seems: in each other's place they agree with the others.", s.pairWords(x))
		return
	}
	out.Words = fmt.Sprintf("Two ties are exchanged, it seems: either the %s", s.pairWords(x))
	for _, r := range x.rivals {
		out.Words += ", or the " + s.pairWords(r)
	}
	out.Words += "."
	out.NextReading = s.separating(a)
}

// pairWords names the two readings of an exchange.
func (s *searcher) pairWords(x *exchange) string {
	ra, rb := s.reading(x.a), s.reading(x.b)
	return fmt.Sprintf("%s (%s) and the %s (%s)", ra.Words, ra.Written, rb.Words, rb.Written)
}

func (s *searcher) exchangeHypothesis(x *exchange) Hypothesis {
	ra, rb := s.reading(x.a), s.reading(x.b)
	fit := s.worstOf(x.sol, []int{x.a, x.b})
	return Hypothesis{
		Kind:     SlipSwapped,
		Words:    fmt.Sprintf("%s and %s: the two readings are exchanged", ra.Words, rb.Words),
		Readings: []site.ReadingID{ra.ID, rb.ID}, Corrected: rb.Written,
		Change:    s.equation(x.b).Read - s.equation(x.a).Read,
		Statistic: x.sol.Statistic, Standard: fit, Explains: fit <= explains, Score: penaltySwapBoth,
		Moves: s.movesBetween(s.w.layout.x, x.sol.X),
	}
}

// groupExchanges lists the exchanges that explain a group of which no single
// reading can be named, as three ties to one part.
func (s *searcher) groupExchanges(first, size int, base *least.Solution) []Hypothesis {
	if size < 2 {
		return nil
	}
	s.problem.Equations[first].Off = false
	defer func() { s.problem.Equations[first].Off = true }()
	x := s.bestExchange(first)
	if x == nil {
		return nil
	}
	var out []Hypothesis
	for _, y := range append([]*exchange{x}, x.rivals...) {
		h := s.exchangeHypothesis(y)
		z2 := math.Max(y.sol.Statistic-base.Statistic, 0)
		h.Standard, h.Explains, h.Score = math.Sqrt(z2), z2 <= explains*explains, z2+penaltySwapped
		if h.Explains {
			out = append(out, h)
		}
	}
	return out
}
