package cli

import (
	"bytes"

	"github.com/spf13/cobra"

	"undersod/core/card"
	"undersod/core/site"
	"undersod/internal/judgefile"
	"undersod/internal/render"
	"undersod/internal/report"
	"undersod/internal/text"
)

func (p *Program) cardCommand() *cobra.Command {
	var output string
	var asJSON bool
	c := &cobra.Command{
		Use:   "card JOB PART",
		Short: "A tie card: how to find one lid again in five minutes",
		Long: `card chooses the two or three visible marks whose tape distances find a buried
part best, says how far off one will be, and with -o draws a card to keep, with
a QR code that holds the same words.

Exit status: 0 done, 1 the readings disagree about the part, 2 bad usage or
input.`,
		Example: "  undersod card job.yaml \"Tank outlet lid\"\n  undersod card job.yaml D-box -o d-box-card.pdf",
		Args:    cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return usagef("name a job file and a part, as in: undersod card job.yaml D-box")
			}
			return p.card(args[0], args[1], output, asJSON)
		},
	}
	c.Flags().StringVarP(&output, "output", "o", "", "draw the card into this file (.pdf, .svg, .png, .dxf)")
	c.Flags().BoolVar(&asJSON, "json", false, "print the card as JSON")
	return c
}

func (p *Program) card(job, part, output string, asJSON bool) error {
	if _, ok := render.ByName(output); output != "" && !ok {
		return usagef("%s: the name must end in .pdf, .svg, .png or .dxf", output)
	}
	o, err := p.open(job)
	if err != nil {
		return err
	}
	made, err := card.Make(&o.result.Job, o.plan, site.Name(part))
	if err != nil {
		return usagef("%v", err)
	}
	if made.InDoubt {
		p.exit = ExitFound
	}
	if output != "" {
		if err := p.drawCard(o, made, output); err != nil {
			return err
		}
	}
	if asJSON {
		return p.writeJSON(judgefile.MakeCard(made))
	}
	var out bytes.Buffer
	text.Card(&out, o.of(p.Colour), made)
	return p.write(out.Bytes())
}

func (p *Program) drawCard(o *opened, made card.Card, name string) error {
	scene, err := report.Card(report.Input{Job: &o.result.Job, Plan: o.plan, Metrics: render.Metrics()}, made)
	if err != nil {
		return usagef("%s cannot be made: %v", name, err)
	}
	return p.drawInto(name, o, scene)
}
