package answer

import (
	"context"

	"undersod/core/compare"
	"undersod/core/look"
	"undersod/core/overlay"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/internal/comparefile"
	"undersod/internal/render"
	"undersod/internal/report"
)

// Pair is two visits of one site that are held against each other.
type Pair struct {
	Before, After Job
	Renamed       map[site.Name]site.Name // what was called otherwise before
}

// Compare tells what moved, what grew and what was done between two visits, as
// compare --json does. Both are judged by the pack that the later one asks for.
func (d *Desk) Compare(ctx context.Context, p Pair) (comparefile.Document, error) {
	earlier, later, err := d.openBoth(ctx, p)
	if err != nil {
		return comparefile.Document{}, err
	}
	return inTurn(ctx, d, func() (comparefile.Document, error) {
		c, _, err := p.compared(earlier, later)
		if err != nil {
			return comparefile.Document{}, err
		}
		return comparefile.Make(earlier.head(), later.head(), c), nil
	})
}

// DrawCompared draws the sheet of the later visit with an arrow from where each
// thing lay that moved.
func (d *Desk) DrawCompared(ctx context.Context, p Pair, how Drawing) (File, error) {
	options, err := how.options()
	if err != nil {
		return File{}, err
	}
	earlier, later, err := d.openBoth(ctx, p)
	if err != nil {
		return File{}, err
	}
	return inTurn(ctx, d, func() (File, error) {
		c, one, err := p.compared(earlier, later)
		if err != nil {
			return File{}, err
		}
		job := &later.result.Job
		options.Clear = overlay.OfComparison(one.Job, c)
		options.Findings = report.Marks(job, look.Lay(job, later.plan))
		scene, err := sheet.Draw(*job, *later.plan, render.Metrics(), options)
		if err != nil {
			return File{}, refused("the sheet cannot be drawn: %v", err)
		}
		return draw(how.Format, scene, job)
	})
}

// inTurn calls f in a turn of its own.
func inTurn[T any](ctx context.Context, d *Desk, f func() (T, error)) (T, error) {
	var none T
	done, err := d.turn(ctx)
	if done != nil {
		defer done()
	}
	if err != nil {
		return none, err
	}
	return guarded(ctx, func(context.Context) (T, error) { return f() })
}

func (d *Desk) openBoth(ctx context.Context, p Pair) (earlier, later *opened, err error) {
	if earlier, err = d.open(ctx, p.Before); err != nil {
		return nil, nil, err
	}
	later, err = d.open(ctx, p.After)
	return earlier, later, err
}

// compared holds the two against each other.
func (p Pair) compared(earlier, later *opened) (*compare.Comparison, compare.Side, error) {
	one, err := earlier.side(p.After.Pack)
	if err != nil {
		return nil, one, err
	}
	two, err := later.side(p.After.Pack)
	if err != nil {
		return nil, one, err
	}
	two.Renamed = p.Renamed
	return compare.Visits(one, two), one, nil
}

// side is one of the two visits, judged.
func (o *opened) side(asked string) (compare.Side, error) {
	pack, _, err := o.pack(asked)
	if err != nil {
		return compare.Side{}, err
	}
	return compare.Side{Job: &o.result.Job, Plan: o.plan, Judgement: o.judgement(pack)}, nil
}
