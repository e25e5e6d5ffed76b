package cli

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"undersod/core/english"
	"undersod/core/overlay"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/clearfile"
	"undersod/internal/planned"
	"undersod/internal/text"
	"undersod/internal/wish"
)

// fitting is what the fit command was asked for.
type fitting struct {
	flags   wish.Flags
	pack    string
	asJSON  bool
	outputs []string
}

func (p *Program) fitCommand() *cobra.Command {
	var f fitting
	c := &cobra.Command{
		Use:   "fit JOB [NAME]",
		Short: "Does a shed, a pool, a dwelling or a well fit, and where?",
		Long: `fit says where something new may stand: the ground within the property line that
keeps every setback of the permit and the rule pack, the place with the largest
smallest margin or nearest to where it is wished, tape distances to peg it by,
and what limits it. A stated place is judged, with the smallest move that would
cure it.

Without a size it answers for everything under proposed in the job, or for NAME
among it; flags then change what the job says. With --size, --outline or --kind
it answers for something of your own, and NAME names it. Numbers without a unit
are feet, or metres in a metric job. The flags mean what the keys of proposed in
the job file mean.

The place nearest to a wish keeps just what is asked; where the measuring leaves
it open, the pegs are for the nearest place that is sure, and the text tells both.

Exit status: 0 it fits, and a stated place keeps every setback; 1 it fits
nowhere, a distance of the stated or the freest place is short or too close to
call, no rule asks for a distance from any part, neither a property line nor a
place is known, something that it must keep away from is not located, or an entry
of the job was not used; 2 bad usage or input. With -o one thing is drawn: name
it where the job proposes several.`,
		Example: `  undersod fit job.yaml
  undersod fit job.yaml Workshop --turn 85 -o fit.pdf
  undersod fit job.yaml --size 24x16 --near House
  undersod fit job.yaml --size "24' x 16'" --along A-B --at "A-B 30' right 60'"
  undersod fit job.yaml --kind well --class private --json`,
		Args: cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) > 2 {
				return usagef("name one job file, and at most one thing that it proposes, as in: undersod fit job.yaml Workshop")
			}
			return p.fit(args[0], args[1:], f)
		},
	}
	f.declare(c)
	return c
}

// declare adds the flags.
func (f *fitting) declare(c *cobra.Command) {
	s := c.Flags()
	s.SortFlags = false
	s.StringVar(&f.flags.Size, "size", "", "length and width, such as 24x16 or \"24' x 16'\"")
	s.StringVar(&f.flags.Outline, "outline", "", "a convex outline instead: corners as steps along its length and to the right, such as \"0,0; 24',0; 24',16'; 0,16'\"")
	s.StringVar(&f.flags.Kind, "kind", "", "structure (if not said), pool, well or driveway")
	s.StringVar(&f.flags.Class, "class", "", "what tells rules more, such as basement, occupied or private")
	s.StringVar(&f.flags.Turn, "turn", "", "any, or the direction of its length, clockwise from the plan's north, such as 85")
	s.StringVar(&f.flags.Step, "step", "", "degrees between the turns that are tried, 1 if not said")
	s.StringVar(&f.flags.Along, "along", "", "its length runs along the line through two points, such as F-E")
	s.StringVar(&f.flags.Near, "near", "", "the point, part, building or feature to stand near; the freest place without it")
	s.StringVar(&f.flags.At, "at", "", "where its middle shall stand: a point, or such as \"F-E 30' right 60'\"")
	s.StringVar(&f.flags.FromLot, "from-property-line", "", "how far from the property line; what the setbacks say without it")
	s.IntVar(&f.flags.Bedrooms, "bedrooms", wish.NotTyped, "bedrooms that it adds")
	c.Flags().Lookup("bedrooms").DefValue = "0" // what a reader of the help needs to know
	rulesFlag(c, &f.pack)
	s.BoolVar(&f.asJSON, "json", false, "print the answer as JSON, with GeoJSON geometry in plan metres")
	s.StringArrayVarP(&f.outputs, "output", "o", nil, "draw the sheet into this file (.pdf, .svg, .png, .dxf); may be given more than once")
}

func (p *Program) fit(job string, names []string, f fitting) error {
	if err := drawable(f.outputs); err != nil {
		return err
	}
	o, err := p.open(job)
	if err != nil {
		return err
	}
	pack, err := packFor(o, f.pack)
	if err != nil {
		return err
	}
	asked, err := proposals(o, names, f.flags)
	if err != nil {
		return err
	}
	if len(f.outputs) > 0 && len(asked) > 1 {
		return usagef("-o draws one at a time: name one of %s", english.And(namesOf(asked)))
	}
	found, wrong, err := find(o, pack, asked, f.flags.Step)
	switch {
	case err != nil:
		return err
	case len(found) == 0:
		return usagef("%s", strings.Join(wrong, "\n"))
	case len(wrong) > 0: // the others are answered
		p.exit = ExitFound
		p.complain("%s", strings.Join(wrong, "\n"))
	}
	for _, a := range found {
		if !a.Fit.Settled() || o.plan.Verdict.Unused > 0 {
			p.exit = ExitFound
		}
	}
	if len(f.outputs) > 0 {
		if err := p.drawAll(o, drawing{outputs: f.outputs, clear: overlay.OfFit(&o.result.Job, found[0].Fit)}); err != nil {
			return err
		}
	}
	words, err := p.fitText(o, pack, found, wrong, f.asJSON, p.Colour)
	if err != nil {
		return err
	}
	return p.write(words)
}

// proposals lists what is to be fitted: what the job proposes, one of it, or
// something of the flags' own.
func proposals(o *opened, names []string, flags wish.Flags) ([]site.Proposed, error) {
	job := &o.result.Job
	all := job.Site.Proposed
	if len(names) == 0 && !flags.Sized() {
		if len(all) == 0 {
			return nil, usagef("%s proposes nothing: say what is to fit, as in: undersod fit %s %s; or enter it under proposed in the job", o.name, o.name, wish.Example(job))
		}
		if flags.Any() && len(all) > 1 && flags != onlyStep(flags) {
			return nil, usagef("the flags change one thing at a time: name one of %s", english.And(namesOf(all)))
		}
		out := slices.Clone(all)
		return out, applied(flags, job, &out[0])
	}
	one, err := base(o, names, flags)
	if err != nil {
		return nil, err
	}
	err = applied(flags, job, &one)
	return []site.Proposed{one}, err
}

// onlyStep is the flags with all but the step, which holds for everything, left
// out.
func onlyStep(flags wish.Flags) wish.Flags {
	return wish.Flags{Step: flags.Step, Bedrooms: wish.NotTyped}
}

// base is what the flags change: what the job proposes by that name, or a thing
// of their own.
func base(o *opened, names []string, flags wish.Flags) (site.Proposed, error) {
	all := o.result.Job.Site.Proposed
	own := site.Proposed{Kind: site.Structure}
	if flags.Kind != "" {
		own.Kind = site.FeatureKind(flags.Kind)
	}
	own.Name = "New " + site.Name(own.Kind)
	if len(names) == 0 {
		return own, sized(o, own.Kind, flags)
	}
	own.Name = site.Name(names[0])
	for _, p := range all {
		if p.Name == own.Name {
			return p, nil
		}
	}
	if flags.Sized() {
		return own, sized(o, own.Kind, flags)
	}
	words := fmt.Sprintf("%s proposes no %q", o.name, names[0])
	if near, ok := english.Nearest(names[0], texts(namesOf(all))); ok {
		words += fmt.Sprintf("; did you mean %q?", near)
	} else if len(all) > 0 {
		words += "; it proposes " + english.And(namesOf(all))
	}
	return own, usagef("%s; give --size for one that is not in the job", words)
}

// sized asks for the size of what is no well.
func sized(o *opened, kind site.FeatureKind, flags wish.Flags) error {
	if kind != site.Well && flags.Size == "" && flags.Outline == "" {
		return usagef("a %s needs its size: %s, or an --outline", kind, wish.Example(&o.result.Job))
	}
	return nil
}

func applied(flags wish.Flags, job *site.Job, p *site.Proposed) error {
	if err := wish.Apply(flags, job, p); err != nil {
		return usagef("%v", err)
	}
	return nil
}

func namesOf(list []site.Proposed) []site.Name {
	var out []site.Name
	for _, p := range list {
		out = append(out, p.Name)
	}
	return out
}

func texts(names []site.Name) []string {
	var out []string
	for _, n := range names {
		out = append(out, string(n))
	}
	return out
}

// find fits each; wrong tells in the words of the core what cannot be asked.
func find(o *opened, pack *rules.Pack, asked []site.Proposed, step string) (found []clearfile.Answered, wrong []string, err error) {
	var each unit.Angle
	if step != "" {
		if each, err = wish.Step(step); err != nil {
			return nil, nil, usagef("%v", err)
		}
	}
	for _, p := range asked {
		answer, err := planned.One(&o.result.Job, o.plan, pack, p, each)
		if err != nil {
			wrong = append(wrong, err.Error())
			continue
		}
		found = append(found, answer)
	}
	return found, wrong, nil
}

// fitText is what fit prints, in words or as JSON.
func (p *Program) fitText(o *opened, pack *rules.Pack, found []clearfile.Answered, wrong []string, asJSON, colour bool) ([]byte, error) {
	if asJSON {
		return encode(clearfile.MakeFits(jobHead(o), &o.result.Job, o.plan, pack, found, wrong))
	}
	var out bytes.Buffer
	text.Fits(&out, o.of(colour), pack, found)
	return out.Bytes(), nil
}
