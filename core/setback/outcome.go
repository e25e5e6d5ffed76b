package setback

import (
	"slices"

	"undersod/core/site"
)

// Outcome is how a fit came out, in the fewest words.
type Outcome string

// The outcomes.
const (
	FitsNowhere     Outcome = "it fits nowhere"
	FitsSomewhere   Outcome = "it fits somewhere, but no property line is in the job, so that the freest place alone says nothing"
	FitsByNoRule    Outcome = "cannot be judged: it fits on the ground alone"
	FitsByLocated   Outcome = "it fits by what is located, but something that it must keep away from is not"
	FitsElsewhere   Outcome = "it fits, but not at the stated place"
	FitsWhereStated Outcome = "it fits at the stated place"
	FitsFreely      Outcome = "it fits"
	FitsNearWish    Outcome = "it fits; the place nearest to the wish keeps just what is asked"
	FitsTooClose    Outcome = "too close to call, within what the measuring can tell"
)

// Outcome returns how the fit came out.
func (f *Fit) Outcome() Outcome {
	q := &f.Question
	switch {
	case !f.Best.Fits:
		return FitsNowhere
	case len(f.Ground.Lot) == 0 && q.Near == nil && q.Stated == nil: // it lies as far off as the search went
		return FitsSomewhere
	case q.Stated != nil && f.Verdict == Short:
		return FitsElsewhere
	case f.Ruleless():
		return FitsByNoRule
	case len(f.LeftOut) > 0:
		return FitsByLocated
	case q.Stated != nil && f.Verdict == Clear:
		return FitsWhereStated
	case f.Verdict == Clear:
		return FitsFreely
	case q.Near != nil && q.Stated == nil:
		return FitsNearWish
	}
	return FitsTooClose
}

// Ruleless tells whether the rules ask for no distance from any part of the
// system, though there are parts: that it fits then says little.
func (f *Fit) Ruleless() bool {
	parts := 0
	for _, l := range f.Limits {
		if !ofSystem(l.Thing.Kind) {
			continue
		}
		if parts++; l.Required > 0 {
			return false
		}
	}
	return parts > 0
}

// Settled tells whether the answer is yes. A place nearest to a wish keeps just
// what is asked by its nature, so that it is no less of a yes.
func (f *Fit) Settled() bool {
	switch f.Outcome() {
	case FitsWhereStated, FitsFreely, FitsNearWish:
		return true
	}
	return false
}

// Settled tells whether every distance and limit is kept, and every proposed thing
// at its stated place, and that there is a distance.
func (t *Table) Settled() bool {
	open := func(r Row) bool { return r.Verdict != Clear }
	off := func(l LimitRow) bool { return l.Known && l.Verdict != Clear }
	broken := func(s Stands) bool { return s.Verdict != Clear }
	return len(t.Rows) > 0 && len(t.Clashes) == 0 && !t.Lotless &&
		!slices.ContainsFunc(t.Rows, open) && !slices.ContainsFunc(t.Limits, off) && !slices.ContainsFunc(t.Proposed, broken)
}

// ofSystem tells whether a kind is of the system, the ground of its next field
// included.
func ofSystem(kind string) bool {
	return kind == string(site.ReserveArea) || slices.Contains(site.PartKinds(), site.PartKind(kind)) ||
		slices.Contains(site.LineKinds(), site.LineKind(kind))
}
