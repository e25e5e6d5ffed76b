package cli

import (
	"bytes"
	"strings"

	"github.com/spf13/cobra"

	"undersod/core/adjust"
	"undersod/core/card"
	"undersod/core/site"
	"undersod/internal/judgefile"
	"undersod/internal/render"
	"undersod/internal/report"
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
		document, err := encode(judgefile.MakeCard(made))
		if err != nil {
			return err
		}
		return p.write(document)
	}
	return p.tellCard(o, made)
}

func (p *Program) drawCard(o *opened, made card.Card, name string) error {
	scene, err := report.Card(report.Input{Job: &o.result.Job, Plan: o.plan, Metrics: render.Metrics()}, made)
	if err != nil {
		return usagef("%s cannot be made: %v", name, err)
	}
	return p.drawInto(name, o, scene)
}

func (p *Program) tellCard(o *opened, c card.Card) error {
	var text bytes.Buffer
	t := &teller{w: &text, colour: p.Colour, job: &o.result.Job, plan: o.plan}
	t.head()
	t.title(string(c.Part))
	for _, words := range c.Words {
		t.wrapped("- ", words)
	}
	if c.InDoubt {
		t.print("%s\n", t.paint(red, strings.TrimSpace("Readings disagree about this part: run check, and clear them up before you trust the card.")))
	}
	if o.plan.Verdict.Fill == adjust.FillNo && !c.InDoubt {
		t.wrapped("", "Something else in the job is not settled; run check.")
	}
	return p.write(text.Bytes())
}
