package plans

import (
	"fmt"

	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/internal/report/flow"
)

// Checklist sets what the authority wants on the drawing, each item with its
// answer. The pack and its place are of the table, which may be nil.
func (b *Book) Checklist(checks []setback.Check, of *setback.Table) {
	if len(checks) == 0 {
		return
	}
	notes := &refs{book: b}
	b.Heading("What the authority wants on the drawing")
	n := map[setback.Answer]int{}
	sources := map[string]bool{}
	for _, c := range checks {
		n[c.Answer]++
		sources[notes.of(c.Source, false)] = true
	}
	b.Para(fmt.Sprintf("Of %s %s on the sheet, %d missing and %d not applicable.", english.Count(len(checks), "item"),
		english.Several(n[setback.OnSheet], "is", "are"), n[setback.Missing], n[setback.NotApplicable]))
	t := flow.Table{Columns: []flow.Column{{Title: "Item", Bold: true}, {Title: "As the list has it"}, {Title: "Answer", Alarm: string(setback.Missing)}, {Title: "In words"}, {Title: "Source"}}}
	if len(sources) < 2 { // told below
		t.Columns = t.Columns[:4]
	}
	for _, c := range checks {
		item, words := item(c)
		row := []string{item, words, string(c.Answer), c.Why, notes.of(c.Source, false)}
		t.Row(row[:len(t.Columns)]...)
	}
	b.Table(t)
	if of != nil {
		b.Note(packWords(of.Pack, of.Place))
	}
	notes.list()
	b.end()
}

// item names an item, and how the list words it where that tells more.
func item(c setback.Check) (name, words string) {
	if c.What == rules.WantOther && c.Words != "" {
		return english.Capital(c.Words), ""
	}
	if c.Words == string(c.What) {
		return english.Capital(c.Words), ""
	}
	return english.Capital(string(c.What)), c.Words
}
