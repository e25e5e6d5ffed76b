package cli

import (
	"bytes"

	"github.com/spf13/cobra"

	"undersod/core/figure"
	"undersod/core/judge"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/judgefile"
	"undersod/internal/render"
	"undersod/internal/text"
)

// splitting is what the split command was asked for.
type splitting struct {
	inflow, pack, output string
	asJSON               bool
}

func (p *Program) splitCommand() *cobra.Command {
	var s splitting
	c := &cobra.Command{
		Use:   "split JOB",
		Short: "How the distribution box shares its flow, and which outlet to move",
		Long: `split reckons how each opened box divides an inflow among its outlets, from their
levels and inside diameters, and which outlet to raise or lower, in sixteenths
of an inch or in millimetres, for equal shares first, and for shares by the
absorption area of each line where that differs. It then follows the field
through a week.

The head at an outlet is the specific energy of critical flow at the brink over
its own invert, until the pipe runs full at its mouth. Published rules ask for
equal levels and give no tolerance in inches, so none is applied.

Exit status: 0 every box is reckoned, 1 something is missing, 2 the job cannot
be read.`,
		Example: "  undersod split job.yaml\n  undersod split job.yaml --inflow \"12 gpm\"\n  undersod split job.yaml -o box.pdf",
		Args:    oneJob,
		RunE:    func(_ *cobra.Command, args []string) error { return p.split(args[0], s) },
	}
	c.Flags().StringVar(&s.inflow, "inflow", "", "an inflow of your own as well, such as \"12 gpm\"")
	c.Flags().StringVarP(&s.output, "output", "o", "", "draw the box in section into this file (.pdf, .svg, .png, .dxf)")
	c.Flags().BoolVar(&s.asJSON, "json", false, "print the split as JSON")
	rulesFlag(c, &s.pack)
	return c
}

func (p *Program) split(job string, s splitting) error {
	var own unit.Flow
	if s.inflow != "" {
		f, err := unit.ParseFlow(s.inflow)
		if err != nil || f <= 0 {
			return usagef("--inflow %s is not understood; write a flow above zero, as \"12 gpm\"", s.inflow)
		}
		own = f
	}
	if _, ok := render.ByName(s.output); s.output != "" && !ok {
		return usagef("%s: the name must end in .pdf, .svg, .png or .dxf", s.output)
	}
	o, err := p.open(job)
	if err != nil {
		return err
	}
	j, err := p.judged(o, s.pack)
	if err != nil {
		return err
	}
	j = j.WithInflow(own)
	if len(j.Boxes) == 0 {
		p.exit = ExitFound
	}
	for _, b := range j.Boxes {
		if len(b.Missing) > 0 {
			p.exit = ExitFound
		}
	}
	if s.output != "" {
		if err := p.drawSection(o, j, s.output); err != nil {
			return err
		}
	}
	return p.tellSplit(o, j, s.asJSON)
}

func (p *Program) tellSplit(o *opened, j *judge.Judgement, asJSON bool) error {
	if asJSON {
		whole := judgefile.Make(j)
		return p.writeJSON(judgefile.SplitDocument{
			Undersod: 1, Kind: "split", Job: jobHead(o),
			Boxes: whole.Boxes, Storage: whole.Storage, Missing: whole.Missing,
		})
	}
	var out bytes.Buffer
	text.Split(&out, o.of(p.Colour), j)
	return p.write(out.Bytes())
}

// drawSection draws the first box whose split is known.
func (p *Program) drawSection(o *opened, j *judge.Judgement, name string) error {
	for i, b := range j.Boxes {
		at, ok := b.Reference()
		if !ok {
			continue
		}
		if b.Splits[0].Name == judge.AskedFor {
			at = b.Splits[0]
		}
		scene := figure.Section(b, measuredBox(o, i), at.Split, figure.Say{
			Style: o.result.Job.Show.Style(), Metrics: render.Metrics(), Width: figureWidth})
		return p.drawInto(name, o, scene)
	}
	return usagef("%s is not drawn: no box has a split that is known", name)
}

// figureWidth is how wide a figure is that stands alone in a file.
const figureWidth sheet.MM = 190

func measuredBox(o *opened, i int) site.Box {
	if i < len(o.result.Job.Visit.Boxes) {
		return o.result.Job.Visit.Boxes[i]
	}
	return site.Box{}
}
