package answer

import (
	"bytes"
	"context"
	"strings"

	"undersod/core/rules"
	"undersod/core/site"
	"undersod/internal/clearfile"
	"undersod/internal/jobfile"
	"undersod/internal/planned"
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
		found, wrong, err := o.fits(ctx, pack, asked)
		if err != nil {
			return clearfile.Fits{}, err
		}
		return clearfile.MakeFits(o.head(), &o.result.Job, o.plan, pack, found, wrong), nil
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
		if words := planned.Mistakes(read.Problems); words != "" {
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

// fits fits each; wrong tells in the words of the core what cannot be asked,
// which is an error where nothing else is answered.
func (o *opened) fits(ctx context.Context, pack *rules.Pack, asked []site.Proposed) (found []clearfile.Answered, wrong []string, err error) {
	for _, p := range asked {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		a, err := planned.One(&o.result.Job, o.plan, pack, p, 0)
		if err != nil {
			wrong = append(wrong, err.Error())
			continue
		}
		found = append(found, a)
	}
	if len(found) == 0 {
		return nil, nil, refused("%s", strings.Join(wrong, "\n"))
	}
	return found, wrong, nil
}
