package answer

import (
	"bytes"
	"context"
	"slices"
	"strings"

	"undersod/core/judge"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/internal/clearfile"
	"undersod/internal/jobfile"
	"undersod/internal/wish"
)

// mostProposed is how many things are fitted at once.
const mostProposed = 10

// Fit tells where things fit, as fit --json does: what the job proposes, or in
// its place what is sent, as JSON or YAML in the shape of proposed in a job
// file. Nothing of it is kept.
func (d *Desk) Fit(ctx context.Context, j Job, proposed []byte) (clearfile.Fits, error) {
	return with(ctx, d, j, func(o *opened, pack *rules.Pack, _ []site.Problem) (clearfile.Fits, error) {
		asked, err := o.proposals(proposed)
		if err != nil {
			return clearfile.Fits{}, err
		}
		found, err := o.fits(ctx, pack, asked)
		if err != nil {
			return clearfile.Fits{}, err
		}
		return clearfile.MakeFits(o.head(), &o.result.Job, o.plan, pack, found), nil
	})
}

// proposals lists what is to be fitted.
func (o *opened) proposals(sent []byte) ([]site.Proposed, error) {
	all := o.result.Job.Site.Proposed
	if sent != nil {
		read, err := jobfile.ReadProposed("what is proposed", bytes.NewReader(sent), o.result.Job, wish.Bare(&o.result.Job))
		if err != nil {
			return nil, refused("%s", problemWords(err))
		}
		if words := mistakes(read.Problems); words != "" {
			return nil, refused("%s", words)
		}
		all = read.Job.Site.Proposed
	}
	switch {
	case len(all) == 0:
		return nil, notThere("nothing is proposed: enter it under proposed in the job, or send it")
	case len(all) > mostProposed:
		return nil, refused("%d things are proposed; at most %d are answered at once", len(all), mostProposed)
	}
	return all, nil
}

// mistakes tells what is wrong in words, empty where nothing is.
func mistakes(problems []site.Problem) string {
	var words []string
	for _, p := range problems {
		if p.Severity == site.Mistake {
			words = append(words, p.Error())
		}
	}
	return strings.Join(words, "\n")
}

// fits fits each. What cannot be asked is an error where nothing else is
// answered.
func (o *opened) fits(ctx context.Context, pack *rules.Pack, asked []site.Proposed) ([]clearfile.Answered, error) {
	var found []clearfile.Answered
	var wrong error
	for _, p := range asked {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		a, err := o.fit(pack, p)
		if err != nil {
			wrong = err
			continue
		}
		found = append(found, a)
	}
	if len(found) > 0 {
		return found, nil
	}
	return nil, wrong
}

// fit fits one thing; what cannot be asked is told in the words of the core.
func (o *opened) fit(pack *rules.Pack, p site.Proposed) (clearfile.Answered, error) {
	job := &o.result.Job
	q, problems := setback.Ask(job, o.plan, p)
	if words := mistakes(problems); words != "" {
		return clearfile.Answered{}, refused("%s", words)
	}
	fit, err := setback.Find(job, o.plan, pack, q)
	if err != nil {
		return clearfile.Answered{}, refused("%s: %v", p.Name, err)
	}
	capacity := o.capacityWith(pack, p)
	if joined := setback.Join(fit, capacity, job.Show.Style()); joined != "" {
		fit.Words = append(fit.Words, joined)
	}
	return clearfile.Answered{Fit: fit, Capacity: capacity}, nil
}

// capacityWith is what the bedrooms ask for that are planned with p: in the
// house, in p, and in what else the job proposes; nil where none is.
func (o *opened) capacityWith(pack *rules.Pack, p site.Proposed) *setback.Capacity {
	job := o.result.Job
	job.Site.Proposed = slices.DeleteFunc(slices.Clone(job.Site.Proposed), func(q site.Proposed) bool { return q.Name == p.Name })
	job.Site.Proposed = append(job.Site.Proposed, p)
	rooms := job.Site.PlannedBedrooms()
	if rooms == 0 {
		return nil
	}
	j := judge.Judge(&job, o.plan, pack)
	return setback.Bedrooms(&job, o.plan, pack, j.Capacity, j.Added, rooms)
}
