// Package planned answers for what the owner wants to build: whether each thing
// fits and what its bedrooms ask for, and all that a report tells of setbacks
// and plans. The command line and the server ask it alike.
package planned

import (
	"errors"
	"slices"
	"strings"

	"undersod/core/adjust"
	"undersod/core/judge"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/clearfile"
	"undersod/internal/report"
)

// One fits one thing, by steps of its turn, 0 for the usual, with what its
// bedrooms ask for. The error tells in words why it cannot be asked.
func One(job *site.Job, plan *adjust.Plan, pack *rules.Pack, p site.Proposed, step unit.Angle) (clearfile.Answered, error) {
	fit, err := fitted(job, plan, pack, p, step)
	if err != nil {
		return clearfile.Answered{}, err
	}
	capacity := with(job, plan, pack, p)
	join(fit, capacity, job)
	return clearfile.Answered{Fit: fit, Capacity: capacity}, nil
}

// Fill gives a report what the rules say of the site and of what is planned
// there.
func Fill(in *report.Input, pack *rules.Pack) {
	job, plan := in.Job, in.Plan
	in.Table = setback.Judge(job, plan, pack)
	in.Checks = setback.Checks(job, plan, pack)
	if rooms := job.Site.PlannedBedrooms(); rooms > 0 {
		in.Capacity = setback.Bedrooms(job, plan, pack, in.Judgement.Capacity, in.Judgement.Added, rooms)
	}
	for _, p := range job.Site.Proposed {
		fit, err := fitted(job, plan, pack, p, 0)
		if err != nil {
			in.Unfitted = append(in.Unfitted, err.Error())
			continue
		}
		join(fit, in.Capacity, job)
		in.Fits = append(in.Fits, fit)
	}
}

// Mistakes tells what is wrong in words, a line each; empty where nothing keeps
// the question from being asked.
func Mistakes(problems []site.Problem) string {
	var words []string
	for _, p := range problems {
		if p.Severity == site.Mistake {
			words = append(words, p.Error())
		}
	}
	return strings.Join(words, "\n")
}

func fitted(job *site.Job, plan *adjust.Plan, pack *rules.Pack, p site.Proposed, step unit.Angle) (*setback.Fit, error) {
	q, problems := setback.Ask(job, plan, p)
	if words := Mistakes(problems); words != "" {
		return nil, errors.New(words)
	}
	if step > 0 {
		q.Turning.Step = step
	}
	return setback.Find(job, plan, pack, q)
}

// join ends the words of a fit with the line that tells of its bedrooms too.
func join(fit *setback.Fit, capacity *setback.Capacity, job *site.Job) {
	if joined := setback.Join(fit, capacity, job.Show.Style()); joined != "" {
		fit.Words = append(fit.Words, joined)
	}
}

// with is what the bedrooms ask for that are planned with p: in the house, in p,
// and in what else the job proposes; nil where none is.
func with(job *site.Job, plan *adjust.Plan, pack *rules.Pack, p site.Proposed) *setback.Capacity {
	then := *job
	then.Site.Proposed = slices.DeleteFunc(slices.Clone(then.Site.Proposed), func(q site.Proposed) bool { return q.Name == p.Name })
	then.Site.Proposed = append(then.Site.Proposed, p)
	rooms := then.Site.PlannedBedrooms()
	if rooms == 0 {
		return nil
	}
	j := judge.Judge(&then, plan, pack)
	return setback.Bedrooms(&then, plan, pack, j.Capacity, j.Added, rooms)
}
