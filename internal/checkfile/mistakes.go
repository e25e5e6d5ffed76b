package checkfile

import (
	"fmt"

	"undersod/core/adjust"
)

// CountMistakes turns the verdict of a plan to no when its job file has
// mistakes: what was left out of the adjustment may be what matters.
func CountMistakes(plan *adjust.Plan, mistakes int) {
	if mistakes == 0 {
		return
	}
	what := "1 entry of the job file is"
	if mistakes > 1 {
		what = fmt.Sprintf("%d entries of the job file are", mistakes)
	}
	v := &plan.Verdict
	v.Fill, v.Words, v.Unused = adjust.FillNo, "Do not fill yet.", mistakes
	v.Reasons = append([]string{what + " wrong and not used; see the list."}, v.Reasons...)
}
