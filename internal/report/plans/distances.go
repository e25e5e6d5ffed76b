package plans

import (
	"fmt"
	"strings"

	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/report/flow"
)

// distance is one row of a table of distances.
type distance struct {
	part, from                         string // part is empty where all rows are of one
	required, measured, margin, within unit.Length
	known                              bool
	verdict                            setback.Verdict
	source                             rules.Source
	permit                             bool
	lot                                bool // from is the edge of the lot
}

func ofRow(r *setback.Row) distance {
	return distance{part: string(r.Part.Name), from: thing(r.From, r.Proposed), required: r.Required, measured: r.Measured, margin: r.Margin,
		within: r.Within, known: r.Known, verdict: r.Verdict, source: r.Source, permit: r.Permit, lot: r.From.Kind == string(site.PropertyLine)}
}

func ofLimiting(l *setback.Limiting) distance {
	return distance{from: thing(l.Thing, l.Proposed), required: l.Required, measured: l.Measured, margin: l.Margin, within: l.Within,
		known: true, verdict: l.Verdict, source: l.Source, permit: l.Permit, lot: l.Lot}
}

// thing names a thing with what it is: "Well (private well)".
func thing(t setback.Thing, proposed bool) string {
	name := flow.Tidy(string(t.Name))
	kind := t.Kind
	if t.Class != "" && !strings.Contains(kind, t.Class) {
		kind = t.Class + " " + kind
	}
	if proposed {
		kind = "proposed"
	}
	if kind == "" || strings.EqualFold(name, kind) {
		return name
	}
	return name + " (" + flow.Tidy(kind) + ")"
}

// distances sets the rows of a table; the column of parts is left out where none
// is named.
func (b *Book) distances(all []distance, notes *refs) {
	t := flow.Table{Columns: []flow.Column{{Title: "Part", Bold: true}, {Title: "From"}, {Title: "Required", Right: true}, {Title: "Measured", Right: true},
		{Title: "Margin", Right: true}, {Title: "95 % ±", Right: true}, {Title: "Verdict", Alarm: string(setback.Short), Warn: string(setback.TooClose)}, {Title: "Source"}}}
	parts := false
	for _, d := range all {
		parts = parts || d.part != ""
		measured, margin, within := "not located", "", ""
		if d.known {
			measured, margin, within = b.measured(&d), b.signed(d.margin), strings.TrimPrefix(b.Say.FormatDeviation(d.within), "±")
		}
		required := b.Say.Format(d.required)
		if d.required == 0 {
			required = "no overlap"
		}
		t.Row(d.part, d.from, required, measured, margin, within, string(d.verdict), notes.of(d.source, d.permit))
	}
	if !parts {
		t.Columns = t.Columns[1:]
		t.Columns[0].Bold = true
		for i := range t.Rows {
			t.Rows[i] = t.Rows[i][1:]
		}
	}
	b.Table(t)
}

// measured prints a distance, and how far one thing lies within another or
// outside the lot.
func (b *Book) measured(d *distance) string {
	switch l := d.measured; {
	case l < 0 && d.lot:
		return b.Say.Format(-l) + " outside"
	case l < 0:
		return b.Say.Format(-l) + " overlap"
	case l == 0:
		return "touches"
	default:
		return b.Say.Format(l)
	}
}

// signed prints a margin with its sign.
func (b *Book) signed(l unit.Length) string {
	text := b.Say.Format(l)
	if l > 0 && text != b.Say.Format(0) {
		return "+" + text
	}
	return text
}

// Setbacks sets every distance against its rule, those that are short first,
// then those too close to call, with the limits and what no rule speaks of.
func (b *Book) Setbacks(t *setback.Table) {
	if t == nil {
		return
	}
	notes := &refs{book: b}
	b.Heading("Setbacks")
	b.summary(t)
	b.moving()
	var rows []distance
	for i := range t.Rows {
		rows = append(rows, ofRow(&t.Rows[i]))
	}
	b.distances(rows, notes)
	for _, r := range t.Rows {
		if _, bar := colours(r.Verdict); r.Verdict != setback.Clear {
			b.Bullet("", "", english.Sentence(r.Words), bar)
		}
	}
	b.limits(t.Limits, notes)
	b.bullets("What was assumed", assumed(t.Rows), flow.Stone)
	b.bullets("What the rules add", remarks(t.Rows), flow.Stone)
	b.bullets("No rule", t.NoRule, flow.Stone)
	b.bullets("Could not be judged", t.Missing, flow.Stone)
	b.Sub("Sources")
	b.Note(packWords(t.Pack, t.Place))
	notes.list()
	if len(t.Rows) > 0 {
		b.Note("Distances are between the nearest places of the shapes, trenches with their width. A margin is what is measured less what is required; its 95 % ± follows from the adjustment of the readings. Too close to call is a margin within it.")
	}
	b.end()
}

// summary says first how many are kept.
func (b *Book) summary(t *setback.Table) {
	n := map[setback.Verdict]int{}
	for _, r := range t.Rows {
		n[r.Verdict]++
	}
	if len(t.Rows) == 0 {
		b.Para("No distance was judged.")
		return
	}
	worst := setback.Clear
	words := "Every distance is kept."
	switch {
	case n[setback.Short] > 0:
		worst, words = setback.Short, english.Several(n[setback.Short], "distance is short.", "distances are short.")
	case n[setback.TooClose] > 0:
		worst, words = setback.TooClose, english.Several(n[setback.TooClose], "distance is too close to call.", "distances are too close to call.")
	}
	ground, bar := colours(worst)
	if worst == setback.Clear {
		b.Callout(ground, bar, flow.Say(words, b.Text.InBold()), flow.Say(english.Several(len(t.Rows), "distance is clear.", "distances are clear."), b.Text))
		return
	}
	b.Callout(ground, bar, flow.Say(words, b.Text.InBold()), flow.Say("Of "+english.Count(len(t.Rows), "distance")+" "+
		english.Several(n[setback.Clear], "is", "are")+fmt.Sprintf(" clear, %d short and %d too close to call.", n[setback.Short], n[setback.TooClose]), b.Text))
}

// limits sets what is measured against a limit of the pack: what is not kept,
// and how many of each kind are.
func (b *Book) limits(all []setback.LimitRow, notes *refs) {
	t := flow.Table{Columns: []flow.Column{{Title: "Limit", Bold: true}, {Title: "Asked"}, {Title: "Measured", Right: true}, {Title: "95 % ±", Right: true},
		{Title: "Verdict", Alarm: notWithin, Warn: string(setback.TooClose)}, {Title: "Source"}}}
	var lost []string
	type kind struct{ on, asked, mark string }
	var order []kind
	kept := map[kind]int{}
	for i := range all {
		l := &all[i]
		mark := notes.of(l.Source, false)
		switch {
		case !l.Known:
			lost = append(lost, l.Words)
		case l.Verdict == setback.Clear:
			k := kind{string(l.On), b.bounds(l), mark}
			if kept[k]++; kept[k] == 1 {
				order = append(order, k)
			}
		default:
			within := ""
			if l.Within > 0 {
				within = strings.TrimPrefix(b.Say.FormatDeviation(l.Within), "±")
			}
			verdict := string(l.Verdict)
			if l.Verdict == setback.Short {
				verdict = notWithin
			}
			t.Row(english.Capital(l.What), b.bounds(l), b.Say.Format(l.Measured), within, verdict, mark)
		}
	}
	for _, k := range order {
		t.Row(english.Capital(k.on), k.asked, fmt.Sprintf("kept by %d", kept[k]), "", "within", k.mark)
	}
	if len(t.Rows)+len(lost) > 0 {
		b.Sub("Limits")
	}
	b.Table(t)
	b.bullets("", lost, flow.Stone)
}

const notWithin = "not within"

// bounds tells the bounds of a limit.
func (b *Book) bounds(l *setback.LimitRow) string {
	var all []string
	if l.Least != 0 {
		all = append(all, "at least "+b.Say.Format(l.Least))
	}
	if l.Most != 0 {
		all = append(all, "at most "+b.Say.Format(l.Most))
	}
	return strings.Join(all, ", ")
}

// assumed tells each thing that was taken for granted, once.
func assumed(rows []setback.Row) []string {
	var out []string
	for _, r := range rows {
		out = addOnce(out, english.Sentence(r.Assumed))
	}
	return out
}

// remarks tells the note of each rule, once for all columns that it is of.
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
		out = append(out, english.And(columns[a])+" from "+a.from+": "+a.note)
	}
	return out
}
