package cli

import (
	"bytes"

	"github.com/spf13/cobra"

	"undersod/core/setback"
	"undersod/internal/clearfile"
	"undersod/internal/text"
)

func (p *Program) checklistCommand() *cobra.Command {
	var pack string
	var asJSON bool
	c := &cobra.Command{
		Use:   "checklist JOB",
		Short: "What the authority wants on the record drawing, and what is missing",
		Long: `checklist holds the sheet against what the authority of the rule pack wants on a
record drawing. Each item is on the sheet, missing, with what to enter in the
job, or not applicable, with why.

Exit status: 0 nothing is missing, 1 something is, or the pack has no checklist,
2 bad usage or input.`,
		Example: "  undersod checklist job.yaml\n  undersod checklist job.yaml --rules washington --json",
		Args:    oneJob,
		RunE:    func(_ *cobra.Command, args []string) error { return p.checklist(args[0], pack, asJSON) },
	}
	rulesFlag(c, &pack)
	c.Flags().BoolVar(&asJSON, "json", false, "print the checklist as JSON")
	return c
}

func (p *Program) checklist(job, pack string, asJSON bool) error {
	o, err := p.open(job)
	if err != nil {
		return err
	}
	chosen, err := packFor(o, pack)
	if err != nil {
		return err
	}
	checks := setback.Checks(&o.result.Job, o.plan, chosen)
	if clearfile.Counted(checks).Missing > 0 || len(checks) == 0 {
		p.exit = ExitFound
	}
	if asJSON {
		return p.writeJSON(clearfile.MakeChecklist(jobHead(o), o.plan, chosen, checks))
	}
	var out bytes.Buffer
	text.Checklist(&out, o.of(p.Colour), chosen, checks)
	return p.write(out.Bytes())
}
