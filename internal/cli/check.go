package cli

import (
	"bytes"

	"github.com/spf13/cobra"

	"undersod/core/adjust"
	"undersod/internal/checkfile"
	"undersod/internal/judgefile"
	"undersod/internal/text"
)

func (p *Program) checkCommand() *cobra.Command {
	var asJSON, everything bool
	var pack string
	c := &cobra.Command{
		Use:   "check JOB",
		Short: "May the hole be filled? What disagrees, why perhaps, what to measure next",
		Long: `check adjusts the readings of a job and says in plain words whether the hole may
be filled: whether everything drawn is located, whether the readings agree, what
may have gone wrong where they do not, and which reading to take next. It also
tells what the camera saw and what stands near, how pipes fall and how the box
shares its flow, whether field and tank are large enough for the house by a rule
pack, what differs from the permit, and what to do by when.

Exit status: 0 the hole may be filled, 1 something was found, 2 the job cannot be
read. --json prints the whole plan; its shape is docs/schema/check.schema.json.`,
		Example: "  undersod check job.yaml\n  undersod check --all job.yaml\n  undersod check --json job.yaml > plan.json",
		Args:    oneJob,
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := p.open(args[0])
			if err != nil {
				return err
			}
			if _, err := p.judged(o, pack); err != nil {
				return err
			}
			return p.check(o, asJSON, everything)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print the plan as JSON")
	c.Flags().BoolVar(&everything, "all", false, "also list every reading with its residual")
	rulesFlag(c, &pack)
	return c
}

// check prints the outcome and sets the exit status.
func (p *Program) check(o *opened, asJSON, everything bool) error {
	if o.plan.Verdict.Fill != adjust.FillYes {
		p.exit = ExitFound
	}
	if asJSON {
		document, err := encode(checkDocument(o, o.name))
		if err != nil {
			return err
		}
		return p.write(document)
	}
	var out bytes.Buffer
	text.Check(&out, o.of(p.Colour), o.judgement, everything)
	return p.write(out.Bytes())
}

// checkDocument is what check --json prints.
func checkDocument(o *opened, name string) judgefile.CheckDocument {
	d := judgefile.CheckDocument{Document: checkfile.Make(name, &o.result.Job, o.plan, o.result.Problems)}
	if o.judgement != nil {
		d.Judgement = judgefile.Make(o.judgement)
	}
	return d
}
