package cli

import (
	"bytes"

	"github.com/spf13/cobra"

	"undersod/core/overlay"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/internal/clearfile"
	"undersod/internal/text"
)

func (p *Program) setbacksCommand() *cobra.Command {
	var pack string
	var asJSON bool
	var outputs []string
	c := &cobra.Command{
		Use:   "setbacks JOB",
		Short: "How far every part lies from everything that a rule names",
		Long: `setbacks measures every part of the system against every thing that a rule names:
from shape to shape, with the width of trenches, and with the 95 % uncertainty of
the margin. Each distance is clear, short, or too close to call. The permit's own
distances, under setbacks in the job, win over those of the rule pack; each
number comes with its source. What the pack has no number for is told as well.

With -o the sheet is drawn with the ground that the parts keep free, the distances
that are short or too close to call, and the tightest of the clear ones.

Exit status: 0 every distance and limit is kept, 1 one is short, too close to
call or not known, none could be judged, a part lies on another, something that
is proposed is not clear at its place, no property line is located of which a
rule speaks, or an entry of the job was not used; 2 bad usage or input. Items
missing from the authority's checklist are counted and change nothing; undersod
checklist lists them.`,
		Example: "  undersod setbacks job.yaml\n  undersod setbacks job.yaml --rules washington -o setbacks.pdf\n  undersod setbacks job.yaml --json",
		Args:    oneJob,
		RunE:    func(_ *cobra.Command, args []string) error { return p.setbacks(args[0], pack, outputs, asJSON) },
	}
	rulesFlag(c, &pack)
	c.Flags().BoolVar(&asJSON, "json", false, "print the table as JSON")
	c.Flags().StringArrayVarP(&outputs, "output", "o", nil, "draw the sheet into this file (.pdf, .svg, .png, .dxf); may be given more than once")
	return c
}

func (p *Program) setbacks(job, pack string, outputs []string, asJSON bool) error {
	if err := drawable(outputs); err != nil {
		return err
	}
	o, err := p.open(job)
	if err != nil {
		return err
	}
	chosen, err := packFor(o, pack)
	if err != nil {
		return err
	}
	table := setback.Judge(&o.result.Job, o.plan, chosen)
	if !table.Settled() || o.plan.Verdict.Unused > 0 {
		p.exit = ExitFound
	}
	if len(outputs) > 0 {
		if err := p.drawAll(o, drawing{outputs: outputs, clear: overlay.OfTable(&o.result.Job, table)}); err != nil {
			return err
		}
	}
	words, err := p.setbacksText(o, chosen, table, asJSON, p.Colour)
	if err != nil {
		return err
	}
	return p.write(words)
}

// setbacksText is what setbacks prints, in words or as JSON.
func (p *Program) setbacksText(o *opened, pack *rules.Pack, table *setback.Table, asJSON, colour bool) ([]byte, error) {
	checks := setback.Checks(&o.result.Job, o.plan, pack)
	if asJSON {
		return encode(clearfile.MakeSetbacks(jobHead(o), o.plan, table, checks))
	}
	var out bytes.Buffer
	text.Setbacks(&out, o.of(colour), table, checks)
	return out.Bytes(), nil
}
