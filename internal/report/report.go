// Package report sets the owner's report, the county packet and the tie cards
// as pages, and writes reminders as a calendar file.
package report

import (
	"undersod/core/adjust"
	"undersod/core/judge"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/internal/photo"
)

// Input is what a report is made of.
type Input struct {
	Job       *site.Job
	Plan      *adjust.Plan
	Judgement *judge.Judgement
	Metrics   sheet.Metrics
	// Photos holds the prepared pictures by file name. One that could not be
	// read is absent, and Unreadable says why, by file name.
	Photos     map[string]photo.Prepared
	Unreadable map[string]string
	Mistakes   int // in the job file, told on the report
}
