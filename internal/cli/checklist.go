package cli

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"undersod/core/absorb"
	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/internal/clearfile"
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
		document, err := encode(clearfile.MakeChecklist(jobHead(o), chosen, checks))
		if err != nil {
			return err
		}
		return p.write(document)
	}
	var text bytes.Buffer
	t := &teller{w: &text, colour: p.Colour, job: &o.result.Job, plan: o.plan}
	t.head()
	t.problems(o.result)
	t.checks(chosen, checks)
	t.print("\n%s\n", absorb.Decides)
	return p.write(text.Bytes())
}

// checks tells every item, what is missing first.
func (t *teller) checks(pack *rules.Pack, checks []setback.Check) {
	var notes sources
	t.title("What the authority wants on the drawing")
	t.wrapped("", countWords(checks))
	t.wrapped("", packWords(pack.Name, pack.Place))
	for _, answer := range []setback.Answer{setback.Missing, setback.OnSheet, setback.NotApplicable} {
		colour := map[setback.Answer]string{setback.Missing: red, setback.OnSheet: green}[answer]
		first := true
		for _, c := range checks {
			if c.Answer != answer {
				continue
			}
			if first {
				t.print("\n%s\n", t.paint(colour, english.Capital(string(answer))))
				first = false
			}
			t.wrapped("- ", itemWords(c)+notes.of(c.Source, false))
		}
	}
	t.sources("Where the list comes from", &notes)
}

// itemWords tells an item and why it has its answer.
func itemWords(c setback.Check) string {
	words := c.Words
	if words == "" {
		words = string(c.What)
	}
	if c.Why == "" {
		return english.Sentence(words)
	}
	return english.Capital(words) + ": " + c.Why
}

// checkCount tells the count of the answers, where there is a checklist.
func (t *teller) checkCount(checks []setback.Check) {
	t.title("What the authority wants on the drawing")
	words := countWords(checks)
	if len(checks) > 0 {
		words += " undersod checklist lists them."
	}
	t.wrapped("- ", words)
}

func countWords(checks []setback.Check) string {
	if len(checks) == 0 {
		return "No checklist in this rule pack."
	}
	c := clearfile.Counted(checks)
	return fmt.Sprintf("Of %s %d on the sheet, %d missing and %d not applicable.", english.Count(len(checks), "item"), c.OnSheet, c.Missing, c.NotApplicable)
}
