package answer

import (
	"context"
	"slices"

	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/checkfile"
	"undersod/internal/clearfile"
	"undersod/internal/judgefile"
)

// with opens a job and finds its pack, and calls f in a turn of its own.
func with[T any](ctx context.Context, d *Desk, j Job, f func(o *opened, pack *rules.Pack, problems []site.Problem) (T, error)) (T, error) {
	var none T
	o, err := d.open(ctx, j)
	if err != nil {
		return none, err
	}
	pack, problems, err := o.pack(j.Pack)
	if err != nil {
		return none, err
	}
	return inTurn(ctx, d, func() (T, error) { return f(o, pack, problems) })
}

// Check tells whether the hole may be filled, as check --json does.
func (d *Desk) Check(ctx context.Context, j Job) (judgefile.CheckDocument, error) {
	return with(ctx, d, j, func(o *opened, pack *rules.Pack, problems []site.Problem) (judgefile.CheckDocument, error) {
		all := slices.Concat(o.result.Problems, problems)
		return judgefile.CheckDocument{
			Document:  checkfile.Make(o.name, &o.result.Job, o.plan, all),
			Judgement: judgefile.Make(o.judgement(pack)),
		}, nil
	})
}

// Report tells what is judged, as report --json does.
func (d *Desk) Report(ctx context.Context, j Job) (judgefile.ReportDocument, error) {
	return with(ctx, d, j, func(o *opened, pack *rules.Pack, _ []site.Problem) (judgefile.ReportDocument, error) {
		return judgefile.ReportDocument{Undersod: 1, Kind: "report", Job: o.head(), Document: judgefile.Make(o.judgement(pack))}, nil
	})
}

// Split tells how each box shares its flow, as split --json does; inflow is one
// more to reckon with, 0 for none.
func (d *Desk) Split(ctx context.Context, j Job, inflow unit.Flow) (judgefile.SplitDocument, error) {
	return with(ctx, d, j, func(o *opened, pack *rules.Pack, _ []site.Problem) (judgefile.SplitDocument, error) {
		whole := judgefile.Make(o.judgement(pack).WithInflow(inflow))
		return judgefile.SplitDocument{Undersod: 1, Kind: "split", Job: o.head(), Boxes: whole.Boxes, Storage: whole.Storage, Missing: whole.Missing}, nil
	})
}

// Setbacks tells how far every part lies from what a rule names, as setbacks
// --json does.
func (d *Desk) Setbacks(ctx context.Context, j Job) (clearfile.Setbacks, error) {
	return with(ctx, d, j, func(o *opened, pack *rules.Pack, _ []site.Problem) (clearfile.Setbacks, error) {
		job := &o.result.Job
		return clearfile.MakeSetbacks(o.head(), o.plan, setback.Judge(job, o.plan, pack), setback.Checks(job, o.plan, pack)), nil
	})
}

// Checklist tells what the authority wants on the drawing, as checklist --json
// does.
func (d *Desk) Checklist(ctx context.Context, j Job) (clearfile.Checklist, error) {
	return with(ctx, d, j, func(o *opened, pack *rules.Pack, _ []site.Problem) (clearfile.Checklist, error) {
		return clearfile.MakeChecklist(o.head(), o.plan, pack, setback.Checks(&o.result.Job, o.plan, pack)), nil
	})
}
