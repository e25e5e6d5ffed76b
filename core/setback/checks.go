package setback

import (
	"undersod/core/adjust"
	"undersod/core/checklist"
	"undersod/core/rules"
	"undersod/core/site"
)

// Check is one item of the authority's checklist, and Answer how it stands.
type (
	Check  = checklist.Check
	Answer = checklist.Answer
)

// The answers of a checklist.
const (
	OnSheet       = checklist.OnSheet
	Missing       = checklist.Missing
	NotApplicable = checklist.NotApplicable
)

// Checks answers the pack's checklist, as checklist.Checks does.
func Checks(job *site.Job, plan *adjust.Plan, pack *rules.Pack) []Check {
	return checklist.Checks(job, plan, pack)
}
