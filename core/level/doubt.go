package level

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"undersod/core/least"
	"undersod/core/site"
	"undersod/core/unit"
)

// Limits of the search for wrong readings; those of the plan's adjustment.
const (
	// rivalMargin is the difference of squared standardized residuals below
	// which two readings cannot be told apart as the wrong one: odds of 100 to
	// 1, 2 ln 100. Leaving a reading out lowers the weighted sum of squares by
	// just its square.
	rivalMargin = 9.21
	// rivalCorrelation is the squared correlation of two tests above which one
	// slip may show in both.
	rivalCorrelation = 0.1
	// maxDoubts bounds how many wrong readings one visit is searched for;
	// fewDoubts does where there are more than manyReadings, far beyond a day's
	// work.
	maxDoubts, fewDoubts, manyReadings = 12, 2, 4000
)

// search sets the reading with the largest standardized residual aside as long
// as one is beyond the limit, adjusts again, and notes what it blames (Baarda's
// data snooping, 1968, from memory).
func (n *Net) search() {
	if n.solution == nil || n.solution.Freedom <= 0 {
		return
	}
	p := *n.problem
	p.Equations = append([]least.Equation(nil), n.problem.Equations...)
	s, most := n.solution, maxDoubts
	if len(n.edges) > manyReadings {
		most = fewDoubts
	}
	for len(n.doubts) < most {
		worst, largest := -1, n.critical
		for k := range p.Equations {
			if z := standard(s, k); z > largest {
				worst, largest = k, z
			}
		}
		if worst < 0 {
			return
		}
		n.blame(s, n.rivals(&p, s, worst))
		p.Equations[worst].Off = true
		next, err := least.Solve(&p, s.X, least.Settings{})
		if err != nil {
			return
		}
		s = next
	}
}

// standard is the size of a standardized residual, 0 where nothing checks it.
func standard(s *least.Solution, k int) float64 {
	if s.Redundancy(k) <= leastShare {
		return 0
	}
	return math.Abs(s.Standardized(k))
}

// rivals lists the worst equation and those that explain the misfit about as
// well, likeliest first.
func (n *Net) rivals(p *least.Problem, s *least.Solution, worst int) []int {
	out := []int{worst}
	top := standard(s, worst)
	e := n.edges[worst]
	over, under := s.Column(e.over), s.Column(e.under)
	for k := range p.Equations {
		z := standard(s, k)
		if k == worst || z == 0 || top*top-z*z > rivalMargin {
			continue
		}
		f := n.edges[k]
		q := over[f.over] - over[f.under] - under[f.over] + under[f.under]
		c := q / (e.sd * f.sd)
		if c*c > rivalCorrelation*s.Redundancy(worst)*s.Redundancy(k) {
			out = append(out, k)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return standard(s, out[i]) > standard(s, out[j])+1e-6 })
	return out
}

// blame notes a doubt and flags its readings.
func (n *Net) blame(s *least.Solution, edges []int) {
	d := Doubt{Located: len(edges) == 1}
	var suspects []suspect
	for _, k := range edges {
		i := n.edges[k].reading
		n.readings[i].Flagged = true
		d.Readings = append(d.Readings, n.readings[i].ID)
		suspects = append(suspects, n.suspect(s, i, k))
	}
	d.Misfit = -suspects[0].off
	d.Words = doubtWords(suspects)
	n.doubts = append(n.doubts, d)
}

// suspect is a reading that may be wrong, with what the others say it should
// be. For residual v and redundancy share r, the others say read + v/r, and the
// standard deviation of that difference is sd/√r.
type suspect struct {
	Reading
	written unit.Written
	off     unit.Length // what the others say minus what was read
	sd      unit.Length // of off
}

func (n *Net) suspect(s *least.Solution, reading, edge int) suspect {
	r := s.Redundancy(edge)
	return suspect{
		Reading: n.readings[reading], written: n.written[reading],
		off: unit.Length(s.Residual(edge) / r),
		sd:  unit.Length(n.edges[edge].sd / math.Sqrt(r)),
	}
}

// doubtWords tells a doubt in full.
func doubtWords(list []suspect) string {
	first := list[0]
	style := styleOf(first.written)
	if len(list) == 1 {
		text := fmt.Sprintf("The %s, written %s, disagrees with the others: they say %s.",
			first.Words, first.Written, style.Format(first.written.Length+first.off))
		if s, ok := first.slip(); ok {
			text += fmt.Sprintf(" Perhaps %s: %s.", s.what, s.text)
		}
		return text + " Read it once more."
	}
	var names []string
	for _, r := range list {
		names = append(names, r.Words)
	}
	text := fmt.Sprintf("One of these %d readings is wrong by about %s, and nothing tells which: %s.",
		len(list), style.Format(first.off.Abs()), strings.Join(some(names), "; "))
	return text + groupSlips(list) + " Set up once more and read two of these points again."
}

// groupSlips tells the slips that would explain a group's misfit, each once.
func groupSlips(list []suspect) string {
	var kinds []string
	count, last := map[string]int{}, map[string]string{}
	for _, r := range list {
		s, ok := r.slip()
		if !ok {
			continue
		}
		if count[s.what] == 0 {
			kinds = append(kinds, s.what)
		}
		count[s.what]++
		last[s.what] = fmt.Sprintf("%s in the %s (%s)", s.what, r.Words, s.text)
	}
	for i, what := range kinds {
		kinds[i] = last[what]
		if count[what] > 1 {
			kinds[i] = what + " in one of them"
		}
	}
	if len(kinds) == 0 {
		return ""
	}
	return " Perhaps " + strings.Join(kinds, ", or ") + "."
}

// Trouble tells in words what disagrees among the rod readings and depths:
// first the doubts, in wrong; then, in open, the loops that do not close though
// no single reading of theirs stands out.
func (n *Net) Trouble() (wrong, open []string) {
	if n == nil {
		return nil, nil
	}
	doubted := map[site.Name]bool{}
	for _, d := range n.doubts {
		wrong = append(wrong, d.Words)
	}
	for i, r := range n.readings {
		if k := n.of[i]; r.Flagged && k >= 0 && n.nodes[n.edges[k].over].kind == atSetup {
			doubted[n.nodes[n.edges[k].over].name] = true
		}
	}
	for _, c := range n.closures {
		if !c.Closes && !anyOf(c.Through, doubted) {
			open = append(open, c.Words)
		}
	}
	return wrong, open
}

func anyOf(names []site.Name, set map[site.Name]bool) bool {
	for _, n := range names {
		if set[n] {
			return true
		}
	}
	return false
}
