package text

import (
	"fmt"
	"io"

	"undersod/core/absorb"
	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/internal/clearfile"
)

// Checklist prints what the authority wants on the drawing.
func Checklist(w io.Writer, of Of, pack *rules.Pack, checks []setback.Check) {
	t := of.teller(w)
	t.head()
	t.unsettled(of.Name)
	t.problems(of.Read)
	t.checks(pack, checks)
	t.print("\n%s\n", absorb.Decides)
}

// checks tells every item, what is missing first.
func (t *teller) checks(pack *rules.Pack, checks []setback.Check) {
	var notes sources
	title := "What the authority wants on the drawing"
	if len(checks) > 0 && !pack.OwnChecklist() {
		title = "What agencies commonly want on the drawing"
	}
	t.title(title)
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
	words := string(c.What)
	switch {
	case c.Words == "" || c.Words == words:
	case c.What == rules.WantOther || words == "":
		words = c.Words
	default:
		words += " (" + c.Words + ")"
	}
	if c.Why == "" {
		return english.Sentence(words)
	}
	return english.Capital(words) + ": " + c.Why
}

// checkCount tells the count of the answers, where there is a checklist.
func (t *teller) checkCount(checks []setback.Check) {
	t.title("What is wanted on the drawing")
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
