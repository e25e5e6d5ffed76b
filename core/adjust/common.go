package adjust

import (
	"math"

	"undersod/core/site"
	"undersod/core/unit"
)

// commonCause is one constant error in every tie taken from one mark or with
// one tape, as when the tape's end was not held at zero.
type commonCause struct {
	members  []int
	bias     float64 // read minus true, m
	standard float64 // of the bias
	what     string  // "taken from B", "taken with the steel tape"
}

// Limits of a common cause.
const (
	leastMembers = 3
	// commonMargin is by how much (in squared standard deviations) one common
	// error must beat one wrong reading to be believed: it is the rarer slip.
	commonMargin = 12.0
	leastBias    = 8 * unit.Millimetre
	mostBias     = 2 * unit.Foot
	// commonUnknowns bounds the size of a network in which it is looked for.
	commonUnknowns = 600
)

// commonCause returns the constant error that explains clearly more than the
// worst single reading does, or nil. The test is the usual one for an added
// unknown: with e marking the members, T = (eᵀPv)² / (eᵀP Qv P e).
func (s *searcher) commonCause(worst float64) *commonCause {
	if s.problem.Unknowns > commonUnknowns {
		return nil
	}
	var best *commonCause
	limit := worst*worst + commonMargin
	for _, g := range s.tieGroups() {
		c := s.testGroup(g)
		if c == nil || c.standard*c.standard <= limit {
			continue
		}
		if b := unit.Length(c.bias).Abs(); b < leastBias || b > mostBias {
			continue
		}
		limit = c.standard * c.standard
		best = c
	}
	return best
}

type tieGroup struct {
	members []int
	what    string
}

// tieGroups gathers the ties in use by the mark they were taken from and by
// the instrument, in the order of the job. A group of all ties is left out: a
// tape that is wrong throughout shows in the size of the house alone.
func (s *searcher) tieGroups() []tieGroup {
	var out []tieGroup
	index := map[string]int{}
	put := func(what string, k int) {
		i, ok := index[what]
		if !ok {
			i = len(out)
			index[what] = i
			out = append(out, tieGroup{what: what})
		}
		out[i].members = append(out[i].members, k)
	}
	ties := s.ties()
	for k := range s.problem.Equations {
		if t, ok := ties[s.reading(k).ID]; ok && !s.problem.Equations[k].Off {
			put("taken from "+string(t.From), k)
			if t.Instrument != "" {
				put("taken with "+string(t.Instrument), k)
			}
		}
	}
	return out
}

// ties returns the visit's ties by their identity.
func (s *searcher) ties() map[site.ReadingID]site.Tie {
	out := map[site.ReadingID]site.Tie{}
	for _, r := range s.w.net.job.Visit.Readings {
		if t, ok := r.(site.Tie); ok {
			out[t.ID] = t
		}
	}
	return out
}

func (s *searcher) testGroup(g tieGroup) *commonCause {
	if len(g.members) < leastMembers {
		return nil
	}
	slopes := make([]float64, s.problem.Unknowns) // Aᵀ P e
	var pull, own float64                         // eᵀ P v, eᵀ P e
	for _, k := range g.members {
		e := &s.problem.Equations[k]
		w := 1 / (e.SD * e.SD)
		pull += w * s.sol.Residual(k)
		own += w
		_, terms := e.Model.Predict(s.sol.X, nil)
		for _, t := range terms {
			slopes[t.Index] += w * t.Slope
		}
	}
	taken := 0.0 // eᵀ P A Q Aᵀ P e
	for i, v := range slopes {
		if v == 0 || s.problem.Held[i] {
			continue
		}
		for j, c := range s.sol.Column(i) {
			taken += v * c * slopes[j]
		}
	}
	left := own - taken
	if left <= 1e-6*own {
		return nil
	}
	return &commonCause{members: g.members, bias: -pull / left,
		standard: math.Abs(pull) / math.Sqrt(left), what: g.what}
}
