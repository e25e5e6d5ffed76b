package setback

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"undersod/core/adjust"
	"undersod/core/clearance"
	"undersod/core/phrase"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// RegionTolerance is how far the chords of a region's arcs may miss them; always
// on the safe side.
const RegionTolerance = 5 * unit.Millimetre

// coarsest is the step between the turns for which the size of the region is
// told, where any turn is allowed: it changes slowly.
const coarsest = 5 * unit.Degree

// Find looks for where a footprint may stand, and judges where it is stated to
// stand. An error says what cannot be asked: a footprint that is none, a lot
// whose outline crosses itself. What is not located is left out and told under
// Missing.
func Find(job *site.Job, plan *adjust.Plan, pack *rules.Pack, q Question) (*Fit, error) {
	y := newYard(job, plan, pack)
	if err := q.check(); err != nil {
		return nil, err
	}
	y.gatherProposed()
	g := y.ground(q)
	if err := g.Check(); err != nil {
		return nil, fmt.Errorf("%s: %w", q.Name, err)
	}
	if g.crossed != "" {
		return nil, fmt.Errorf("%s: %s", q.Name, g.crossed)
	}
	f := &Fit{Question: q, Ground: g.Ground, LeftOut: g.leftOut.Words, Others: g.others()}
	for _, w := range y.clashes() {
		g.caution.Add(w)
	}
	if err := g.look(f); err != nil {
		return nil, fmt.Errorf("%s: %w", q.Name, err)
	}
	f.Words = g.answer(f)
	f.Missing, f.Caution = y.asks.Words, phrase.Sentences(g.caution.Words)
	return f, nil
}

// check says what keeps a question from being asked.
func (q Question) check() error {
	switch q.Kind {
	case site.Structure, site.Pool, site.Well, site.Driveway:
	default:
		return fmt.Errorf("%s: %q cannot be placed; expected structure, pool, well or driveway, for example structure", q.Name, string(q.Kind))
	}
	if len(q.Footprint.Corners) == 0 {
		return errors.New(q.Name + ": it has no size; give its length and width, for example 24' x 16'")
	}
	for _, v := range q.Footprint.Corners {
		if !finite(v) {
			return errors.New(q.Name + ": its size is not a number; give its length and width, for example 24' x 16'")
		}
	}
	if q.Near != nil && !finite(*q.Near) || q.Stated != nil && !finite(q.Stated.At) {
		return errors.New(q.Name + ": the place wished for is not a number; name a point of the job, for example D-box")
	}
	return nil
}

// look fills in the places, the region and the margins.
func (g *ground) look(f *Fit) error {
	q, turns := g.q, g.q.turns()
	var err error
	if q.Near != nil {
		f.Best, err = clearance.NearestTo(g.Ground, q.Footprint, turns, *q.Near)
	} else {
		f.Best, err = clearance.Best(g.Ground, q.Footprint, turns)
	}
	if err != nil {
		return err
	}
	f.Limits = g.limiting(f.Best.Placement, f.Best.Margins, nil)
	turn := f.Best.Turn
	if q.Stated != nil {
		p := g.stated()
		f.Question.Stated = &p
		turn = p.Turn
		if err := g.judgeStated(f, p); err != nil {
			return err
		}
	}
	if f.Region, err = clearance.Allowed(g.Ground, q.Footprint, turn, RegionTolerance); err != nil {
		return err
	}
	if turns.Step > 0 {
		turns.Step = max(turns.Step, coarsest)
		f.ByTurn, err = clearance.AreaByTurn(g.Ground, q.Footprint, turns, RegionTolerance)
	} else {
		f.ByTurn = []clearance.TurnArea{{Turn: turn, Area: f.Region.Area}}
	}
	f.Verdict = worst(f.Limits, f.Best.Fits)
	switch {
	case q.Stated != nil:
		if f.Verdict = worst(f.Stated, true); f.Verdict != Clear {
			f.Sure = g.safeStated(*f.Question.Stated, f.Stated)
		}
	case q.Near != nil && f.Best.Fits && f.Verdict != Clear:
		f.Sure = g.safeNear(f.Best, f.Limits)
	}
	if f.Verdict == Clear && len(f.LeftOut) > 0 {
		f.Verdict = TooClose // what is not located cannot be called
	}
	return err
}

// stated is the stated placement; where its turn is open, with the turn that
// keeps the largest smallest margin there.
func (g *ground) stated() clearance.Placement {
	p, turns := *g.q.Stated, g.q.turns()
	if turns.Step == 0 {
		if !g.q.Turning.Free {
			p.Turn = g.q.Turning.Fixed
		}
		return p
	}
	best, found := p, unit.Length(0)
	for t, first := turns.From, true; t < turns.To; t, first = t+turns.Step, false {
		p.Turn = t
		if m := smallest(clearance.Margins(g.Ground, g.q.Footprint, p)); first || m > found {
			best, found = p, m
		}
	}
	return best
}

func smallest(margins []clearance.Margin) unit.Length {
	var out unit.Length
	for i, m := range margins {
		if i == 0 || m.Margin < out {
			out = m.Margin
		}
	}
	return out
}

// judgeStated weighs the stated place and looks for the smallest cure.
func (g *ground) judgeStated(f *Fit, p clearance.Placement) error {
	margins := clearance.Margins(g.Ground, g.q.Footprint, p)
	slices.SortStableFunc(margins, func(a, b clearance.Margin) int { return cmp.Compare(a.Margin, b.Margin) })
	f.Stated = g.limiting(p, margins, g.hold(p))
	if len(margins) == 0 || margins[0].Margin >= 0 {
		return nil
	}
	cure, err := clearance.Cure(g.Ground, g.q.Footprint, p)
	if err == nil && cure.Fits {
		f.Cure = &cure
	}
	return err
}

// hold is what the stated place hangs on, nil where the question was made
// without the job.
func (g *ground) hold(p clearance.Placement) *stand {
	s := g.q.stood
	if !s.known || s.at != p.At {
		return nil
	}
	return &s.stand
}

// worst is the verdict over all distances.
func worst(list []Limiting, fits bool) Verdict {
	out := Clear
	if !fits {
		return Short
	}
	for _, l := range list {
		if rank(l.Verdict) < rank(out) {
			out = l.Verdict
		}
	}
	return out
}
