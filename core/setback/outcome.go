package setback

// Outcome is how a fit came out, in the fewest words.
type Outcome string

// The outcomes.
const (
	FitsNowhere     Outcome = "it fits nowhere"
	FitsSomewhere   Outcome = "it fits somewhere, but no property line is in the job, so that the freest place alone says nothing"
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
	case len(f.Ground.Lot) == 0 && q.Near == nil && q.Stated == nil:
		return FitsSomewhere
	case q.Stated != nil && f.Verdict == Short:
		return FitsElsewhere
	case q.Stated != nil && f.Verdict == Clear:
		return FitsWhereStated
	case f.Verdict == Clear:
		return FitsFreely
	case q.Near != nil && q.Stated == nil:
		return FitsNearWish
	}
	return FitsTooClose
}
