package adjust

import (
	"math"
	"sort"

	"undersod/core/least"
	"undersod/core/quantile"
	"undersod/core/site"
)

// Limits of the search for wrong readings.
const (
	// rivalMargin is the difference of squared standardized residuals below
	// which two readings cannot be told apart as the wrong one: odds of
	// 100 to 1, 2 ln 100.
	rivalMargin = 9.21
	// rivalCorrelation is the squared correlation of two tests above which one
	// slip may show in both.
	rivalCorrelation = 0.1
	// maxRivals bounds how many are refitted.
	maxRivals = 8
	// maxAccused bounds how many wrong readings one job is searched for.
	maxAccused = 12
	// maxGroup bounds how many readings of a group are explained one by one.
	maxGroup = 5
)

// searcher looks for readings that disagree. Equations it has set aside are
// off in its own problem; the plan itself keeps every reading as written.
type searcher struct {
	w       *work
	problem *least.Problem // a copy whose equations may be off or corrected
	sol     *least.Solution
	netOf   []int // network equation of each problem equation
	accused []suspect
}

// suspect is one accusation in the making.
type suspect struct {
	group    []int // problem equations, likeliest first
	standard float64
	common   *commonCause
	swap     *exchange
}

// search fills the plan's Search.
func (w *work) search() {
	s := &searcher{w: w, sol: w.sol, netOf: make([]int, len(w.problem.Equations))}
	for k, q := range w.eqOf {
		if q >= 0 {
			s.netOf[q] = k
		}
	}
	s.problem = w.problem
	s.problem = s.copyProblem()
	s.unchecked()
	s.accuse()
	s.acquit()
	out := &w.plan.Search
	if s.sol != nil && s.sol.Freedom > 0 {
		upper := quantile.Chi2Quantile(1-w.settings.Significance/2, float64(s.sol.Freedom))
		out.Unexplained = s.sol.Statistic > upper
	}
	for _, a := range s.accused {
		out.Accused = append(out.Accused, s.explain(a))
	}
	s.flag()
	s.markDoubt()
	out.Words = s.words()
}

// unchecked lists the readings that nothing checks.
func (s *searcher) unchecked() {
	for i := range s.w.plan.Readings {
		r := &s.w.plan.Readings[i]
		if r.Use == Used && r.Source == FromReading && r.share() <= leastShare {
			s.w.plan.Search.Unchecked = append(s.w.plan.Search.Unchecked, r.ID)
		}
	}
}

// standard is the standardized residual of a problem equation, 0 where nothing
// checks it.
func (s *searcher) standard(k int) float64 {
	if s.problem.Equations[k].Off {
		return 0
	}
	q := s.sol.Redundancy(k)
	if q <= leastShare {
		return 0
	}
	return s.sol.Residual(k) / (s.problem.Equations[k].SD * math.Sqrt(q))
}

// accuse sets the worst reading aside, tests again, and goes on until all that
// is left agrees.
func (s *searcher) accuse() {
	for len(s.accused) < maxAccused {
		worst, t := -1, s.w.critical
		for k := range s.problem.Equations {
			if v := math.Abs(s.standard(k)); v > t {
				worst, t = k, v
			}
		}
		if worst < 0 {
			return
		}
		a := suspect{standard: t}
		if c := s.commonCause(t); c != nil {
			a.group, a.standard, a.common = c.members, c.standard, c
			for _, k := range c.members {
				s.problem.Equations[k].Read -= c.bias
			}
			if !s.resolve() {
				return
			}
		} else if a.group = s.rivals(worst); len(a.group) == 0 {
			return
		} else if x, is := s.undoForExchange(a, worst); is {
			x.standard = t
			a = x
		}
		s.accused = append(s.accused, a)
	}
}

// undoForExchange takes back the reading just set aside where two exchanged
// readings explain more.
func (s *searcher) undoForExchange(a suspect, worst int) (suspect, bool) {
	if s.calm() {
		return suspect{}, false // one reading set aside explains all there is
	}
	off := a.group[0]
	s.problem.Equations[off].Off = false
	if x, is := s.preferExchange(worst); is {
		s.applyExchange(x.swap)
		return x, true
	}
	s.problem.Equations[off].Off = true
	return suspect{}, false
}

// resolve solves again from the starting places, which no wrong reading has
// bent.
func (s *searcher) resolve() bool {
	sol := s.solveWithout(-1)
	if sol == nil {
		return false
	}
	s.sol = sol
	return true
}

// solveWithout solves with one more equation off; -1 for none.
func (s *searcher) solveWithout(k int) *least.Solution {
	if k >= 0 {
		s.problem.Equations[k].Off = true
		defer func() { s.problem.Equations[k].Off = false }()
	}
	// A solution that has not settled still tells more than none.
	sol, _ := least.Solve(s.problem, s.restart(k), least.Settings{})
	return sol
}

// restart returns starting places in which the points of equation k are placed
// anew without it and without the readings set aside: a large slip drags a start
// far enough to end in a mirrored place.
func (s *searcher) restart(k int) []float64 {
	l, b := s.startLayout(), s.careful()
	var points []int
	if k >= 0 {
		points = s.equation(k).points
	}
	for _, a := range s.accused {
		points = append(points[:len(points):len(points)], s.equation(a.group[0]).points...)
	}
	for _, p := range points {
		if s.w.net.points[p].IsMark() {
			continue
		}
		if found := b.answers(l, p); len(found) > 0 {
			l.set(p, found[0].at)
		}
	}
	return l.x
}

// startLayout returns the starting places of the plan.
func (s *searcher) startLayout() *layout {
	l := s.w.layout.clone()
	copy(l.x, s.w.start)
	return l
}

// careful returns a builder that does not use the readings set aside.
func (s *searcher) careful() *builder {
	b := *s.w.builder
	b.skip = func(e int) bool { q := s.w.eqOf[e]; return q >= 0 && s.problem.Equations[q].Off }
	return &b
}

// rivals finds which reading it helps most to set aside, among the worst one
// and those in whose tests the same slip shows, and sets that one aside. It
// returns it with those that explain the misfit about as well. Each is refitted:
// after a large slip the tests of the bent plan are a poor guide.
func (s *searcher) rivals(worst int) []int {
	type refit struct {
		k   int
		sol *least.Solution
	}
	var list []refit
	for _, k := range s.candidates(worst) {
		if sol := s.solveWithout(k); sol != nil {
			list = append(list, refit{k, sol})
		}
	}
	if len(list) == 0 {
		return nil
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].sol.Statistic < list[j].sol.Statistic })
	var out []int
	for _, r := range list {
		if r.sol.Statistic-list[0].sol.Statistic <= rivalMargin {
			out = append(out, r.k)
		}
	}
	s.problem.Equations[list[0].k].Off = true
	s.sol = list[0].sol
	return out
}

// candidates lists the worst equation, those that speak of a part it speaks of,
// and those whose tests are correlated with its own.
func (s *searcher) candidates(worst int) []int {
	out := []int{worst}
	spread := s.spread(worst)
	for k := range s.problem.Equations {
		if k == worst || s.standard(k) == 0 {
			continue
		}
		if c := s.correlation(worst, k, spread); c*c > rivalCorrelation || s.sharePart(worst, k) {
			out = append(out, k)
		}
	}
	sort.SliceStable(out[1:], func(i, j int) bool {
		return math.Abs(s.standard(out[1+i])) > math.Abs(s.standard(out[1+j]))
	})
	if len(out) > maxRivals {
		out = out[:maxRivals]
	}
	return out
}

// sharePart tells whether two equations speak of one point that is no mark.
func (s *searcher) sharePart(a, b int) bool {
	for _, p := range s.equation(a).points {
		if !s.w.net.points[p].IsMark() && indexOf(s.equation(b).points, p) >= 0 {
			return true
		}
	}
	return false
}

// spread returns Q a for an equation's slopes a: how every unknown moves with
// its reading, up to the weight.
func (s *searcher) spread(k int) []float64 {
	_, terms := s.problem.Equations[k].Model.Predict(s.sol.X, nil)
	out := make([]float64, s.problem.Unknowns)
	for _, t := range terms {
		if s.problem.Held[t.Index] {
			continue
		}
		for j, v := range s.sol.Column(t.Index) {
			out[j] += t.Slope * v
		}
	}
	return out
}

// correlation returns the correlation of the tests of two equations,
// -a Q b / (sa sb √(ra rb)).
func (s *searcher) correlation(a, b int, spread []float64) float64 {
	_, terms := s.problem.Equations[b].Model.Predict(s.sol.X, nil)
	c := 0.0
	for _, t := range terms {
		c -= t.Slope * spread[t.Index]
	}
	c /= s.problem.Equations[a].SD * s.problem.Equations[b].SD
	return c / math.Sqrt(s.sol.Redundancy(a)*s.sol.Redundancy(b))
}

// acquit takes back every reading set aside early that agrees after all with
// what is left: a large slip can make its neighbours look wrong.
func (s *searcher) acquit() {
	for i := 0; i < len(s.accused) && len(s.accused) > 1; i++ {
		a := s.accused[i]
		if a.common != nil || a.swap != nil {
			continue
		}
		k := a.group[0]
		value, sd := s.foretell(s.sol, k)
		if math.Abs(value-s.problem.Equations[k].Read) > s.w.critical*sd {
			continue
		}
		s.problem.Equations[k].Off = false
		before := s.sol
		if s.resolve() && s.calm() {
			s.accused = append(s.accused[:i], s.accused[i+1:]...)
			i = -1
			continue
		}
		s.problem.Equations[k].Off = true
		s.sol = before
	}
}

// calm tells whether no reading in use disagrees.
func (s *searcher) calm() bool {
	for k := range s.problem.Equations {
		if math.Abs(s.standard(k)) > s.w.critical {
			return false
		}
	}
	return true
}

// foretell returns what a solution that does not use equation k says it should
// read, near the reading itself for a direction, and the standard deviation of
// their difference.
func (s *searcher) foretell(sol *least.Solution, k int) (value, sd float64) {
	e := &s.problem.Equations[k]
	v, terms := e.Model.Predict(sol.X, nil)
	if e.Wrap {
		v = e.Read + math.Remainder(v-e.Read, 2*math.Pi)
	}
	return v, math.Sqrt(e.SD*e.SD + math.Max(sol.PredictedVariance(terms), 0))
}

// flag marks the accused readings of the plan.
func (s *searcher) flag() {
	byID := map[site.ReadingID]int{}
	for i := range s.w.plan.Readings {
		byID[s.w.plan.Readings[i].ID] = i
	}
	for _, a := range s.w.plan.Search.Accused {
		for _, id := range a.Readings {
			s.w.plan.Readings[byID[id]].Flagged = true
		}
	}
}

// equation returns the network equation behind a problem equation.
func (s *searcher) equation(k int) *equation { return &s.w.net.eqs[s.netOf[k]] }

// reading returns the plan's reading behind a problem equation.
func (s *searcher) reading(k int) *Reading { return &s.w.plan.Readings[s.equation(k).reading] }
