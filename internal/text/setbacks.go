package text

import (
	"fmt"
	"io"
	"strings"

	"undersod/core/absorb"
	"undersod/core/adjust"
	"undersod/core/caution"
	"undersod/core/english"
	"undersod/core/setback"
)

// Setbacks prints every distance against its rule, and how many items the
// authority's checklist has.
func Setbacks(w io.Writer, of Of, table *setback.Table, checks []setback.Check) {
	t := of.teller(w)
	t.head()
	t.unsettled(of.Name)
	t.problems(of.Read)
	t.setbackTable(table)
	t.checkCount(checks)
	t.cautions("Before you dig by it", caution.Digging)
	t.print("\n%s\n", absorb.Decides)
}

// unsettled tells at the head what leaves all the rest open: entries of the job
// that were not used, and a check that says no.
func (t *teller) unsettled(name string) {
	v := t.plan.Verdict
	reasons := len(v.Reasons)
	if v.Unused > 0 {
		what := "1 entry of the job was wrong and not used"
		if v.Unused > 1 {
			what = fmt.Sprintf("%d entries of the job were wrong and not used", v.Unused)
		}
		t.alarm(fmt.Sprintf("%s, so that nothing here is sure: run undersod check %s.", what, name))
		reasons--
	}
	switch {
	case len(t.plan.Search.Accused) > 0:
		t.alarm(fmt.Sprintf("Readings disagree, and what is told here may move with them: run undersod check %s first.", name))
	case v.Fill == adjust.FillNo && reasons > 0:
		t.alarm(fmt.Sprintf("The check says: %s What is told here may move: run undersod check %s first.", v.Words, name))
	}
}

// alarm prints a text within the columns in red.
func (t *teller) alarm(text string) {
	if t.colour {
		fmt.Fprint(t.w, red)
		defer fmt.Fprint(t.w, plain)
	}
	t.wrapped("", text)
}

func (t *teller) setbackTable(table *setback.Table) {
	var notes sources
	t.title("Distances")
	t.wrapped("", setbackSummary(table))
	t.wrapped("", packWords(table.Pack, table.Place))
	t.listed("Parts one on the other", sentences(table.Clashes))
	t.standing(table.Proposed)
	for _, v := range verdicts() {
		var rows []distance
		for _, r := range table.Rows {
			if r.Verdict == v {
				rows = append(rows, distanceOfRow(r, &notes))
			}
		}
		t.distances(v, rows)
	}
	for _, r := range table.Rows {
		if r.Proposed {
			t.print("\n *  proposed\n")
			break
		}
	}
	t.limits(table.Limits, &notes)
	t.assumed(table.Rows)
	t.listed("No rule", sentences(table.NoRule))
	t.listed("Could not be judged", sentences(table.Missing))
	t.sources("Where the numbers come from", &notes)
}

// packWords names a rule pack and where it holds.
func packWords(name, place string) string {
	if place == "" {
		return "Rule pack " + name + "."
	}
	return "Rule pack " + name + ": " + place + "."
}

// verdicts lists the verdicts, the worst first.
func verdicts() []setback.Verdict {
	return []setback.Verdict{setback.Short, setback.TooClose, setback.Clear}
}

// standing tells what is proposed at a place that is not clear.
func (t *teller) standing(all []setback.Stands) {
	var words []string
	for _, s := range all {
		if s.Verdict != setback.Clear {
			words = append(words, s.Words+" undersod fit tells where it would be clear.")
		}
	}
	t.listed("Proposed, and not clear at its place", words)
}

func setbackSummary(table *setback.Table) string {
	n := map[setback.Verdict]int{}
	for _, r := range table.Rows {
		n[r.Verdict]++
	}
	if len(table.Rows) == 0 {
		return "No distance was judged."
	}
	return fmt.Sprintf("Of %s %d %s clear, %d short and %d too close to call.", english.Count(len(table.Rows), "distance"),
		n[setback.Clear], map[bool]string{true: "is", false: "are"}[n[setback.Clear] == 1], n[setback.Short], n[setback.TooClose])
}

// assumed tells each thing that was taken for granted, once, and the notes of
// the rules.
func (t *teller) assumed(rows []setback.Row) {
	var taken []string
	for _, r := range rows {
		taken = addOnce(taken, english.Sentence(r.Assumed))
	}
	t.listed("What was assumed", taken)
	t.listed("What the rules add", remarks(rows))
}

// remarks tells the note of each rule, once for all that it speaks of: "Tank and
// field from driveway: no wheels over a trench."
func remarks(rows []setback.Row) []string {
	type about struct{ note, from string }
	var order []about
	columns := map[about][]string{}
	for _, r := range rows {
		if r.Note == "" {
			continue
		}
		a := about{r.Note, r.From.Kind}
		if columns[a] == nil {
			order = append(order, a)
		}
		columns[a] = addOnce(columns[a], string(r.Column))
	}
	var out []string
	for _, a := range order {
		out = append(out, english.Sentence(english.And(columns[a])+" from "+a.from+": "+a.note))
	}
	return out
}

// limits tells each limit that is not kept, and how many of its kind are.
func (t *teller) limits(limits []setback.LimitRow, notes *sources) {
	var lines []string
	clear := map[string]int{} // by what is told of them
	for _, l := range limits {
		if !l.Known || l.Verdict != setback.Clear {
			lines = append(lines, l.Words+notes.of(l.Source, false))
		}
	}
	var kinds []string
	for _, l := range limits {
		if l.Known && l.Verdict == setback.Clear {
			kind := fmt.Sprintf("%s: %s.%s", english.Capital(string(l.On)), t.boundWords(l), notes.of(l.Source, false))
			kinds = addOnce(kinds, kind)
			clear[kind]++
		}
	}
	for _, kind := range kinds {
		lines = append(lines, fmt.Sprintf("%s Kept by %d.", kind, clear[kind]))
	}
	t.listed("Limits", lines)
}

// boundWords tells the bounds of a limit.
func (t *teller) boundWords(l setback.LimitRow) string {
	var all []string
	if l.Least != 0 {
		all = append(all, "at least "+t.length(l.Least))
	}
	if l.Most != 0 {
		all = append(all, "at most "+t.length(l.Most))
	}
	return strings.Join(all, ", ")
}

// addOnce adds a text that is not there yet, and no empty one.
func addOnce(list []string, text string) []string {
	for _, have := range list {
		if have == text {
			return list
		}
	}
	if text == "" {
		return list
	}
	return append(list, text)
}

func sentences(in []string) []string {
	var out []string
	for _, s := range in {
		out = append(out, english.Sentence(s))
	}
	return out
}

// listed prints a titled list, nothing where it is empty.
func (t *teller) listed(title string, list []string) {
	for i, s := range list {
		if i == 0 {
			t.title(title)
		}
		t.wrapped("- ", s)
	}
}
