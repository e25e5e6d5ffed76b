package cli

import (
	"bytes"

	"github.com/spf13/cobra"

	"undersod/core/compare"
	"undersod/core/overlay"
	"undersod/internal/comparefile"
	"undersod/internal/text"
)

// comparing is what the compare command was asked for.
type comparing struct {
	pack    string
	asJSON  bool
	outputs []string
	renamed []string
}

func (p *Program) compareCommand() *cobra.Command {
	var a comparing
	c := &cobra.Command{
		Use:   "compare BEFORE AFTER",
		Short: "Two visits of one site: what moved, what grew, what was done since",
		Long: `compare lays the plan of the later visit over that of the earlier one by the marks
that both have located, whatever each counts its coordinates from, and says of
every point, line, level, box and finding what became of it: moved by how much
and which way, grown, new, gone, unchanged, or too close to call. A mark that moved
is found and does not hold the overlay. Nothing is called moved that the
uncertainty of both visits together could explain. With fewer than two marks in
common the places are not compared, and the rest is.

Nothing counts as renamed unless you say so with --renamed.

With -o the sheet of the later visit is drawn, with an arrow from where each thing
lay that moved.

Exit status: 0 nothing changed, 1 something did or the plans cannot be laid over
each other, 2 bad usage or input.`,
		Example: "  undersod compare 2026.yaml 2028.yaml\n  undersod compare 2026.yaml 2028.yaml --renamed \"D-box=Box\" -o moved.pdf\n  undersod compare 2026.yaml 2028.yaml --json",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return usagef("name two job files, the earlier one first, as in: undersod compare 2026.yaml 2028.yaml")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return p.compare(args[0], args[1], a) },
	}
	rulesFlag(c, &a.pack)
	c.Flags().BoolVar(&a.asJSON, "json", false, "print the comparison as JSON")
	c.Flags().StringArrayVarP(&a.outputs, "output", "o", nil, "draw the later visit's sheet with what moved into this file (.pdf, .svg, .png, .dxf); may be given more than once")
	c.Flags().StringArrayVar(&a.renamed, "renamed", nil, "what something was called before and is called now, as OLD=NEW; may be given more than once")
	return c
}

func (p *Program) compare(before, after string, a comparing) error {
	if err := drawable(a.outputs); err != nil {
		return err
	}
	if before == "-" && after == "-" {
		return usagef("only one of the two jobs can come from standard input")
	}
	renamed, err := compare.Renames(a.renamed, badRename)
	if err != nil {
		return err
	}
	earlier, one, err := p.side(before, a.pack)
	if err != nil {
		return err
	}
	later, two, err := p.side(after, a.pack)
	if err != nil {
		return err
	}
	two.Renamed = renamed
	c := compare.Visits(one, two)
	if c.Differs() {
		p.exit = ExitFound
	}
	if len(a.outputs) > 0 {
		if err := p.drawAll(later, drawing{outputs: a.outputs, clear: overlay.OfComparison(one.Job, c)}); err != nil {
			return err
		}
	}
	if a.asJSON {
		return p.writeJSON(comparefile.Make(jobHead(earlier), jobHead(later), c))
	}
	var out bytes.Buffer
	text.Compare(&out, earlier.of(p.Colour), later.of(p.Colour), c)
	return p.write(out.Bytes())
}

// side opens one of the two visits and judges it.
func (p *Program) side(name, pack string) (*opened, compare.Side, error) {
	o, err := p.open(name)
	if err != nil {
		return nil, compare.Side{}, err
	}
	judgement, err := p.judged(o, pack)
	if err != nil {
		return nil, compare.Side{}, err
	}
	return o, compare.Side{Job: &o.result.Job, Plan: o.plan, Judgement: judgement}, nil
}

// badRename tells what is wrong with something named as renamed.
func badRename(one string, twice bool) error {
	if twice {
		return usagef("--renamed %q: that name was renamed already", one)
	}
	return usagef("--renamed %q: expected what it was called, an equals sign and what it is called now, as in \"D-box=Box\"", one)
}
