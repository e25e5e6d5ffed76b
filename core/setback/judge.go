package setback

import (
	"cmp"
	"slices"

	"undersod/core/adjust"
	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// Judge holds every part of a site against everything that a rule names. The
// permit's own distances win over the pack's. Nothing is left out in silence: a
// combination without a rule stands under NoRule, what is not located under
// Missing. Nil arguments are empty ones.
func Judge(job *site.Job, plan *adjust.Plan, pack *rules.Pack) *Table {
	y := newYard(job, plan, pack)
	t := &Table{}
	if pack != nil {
		t.Pack, t.Place = pack.Name, pack.Place
	}
	y.gatherProposed()
	t.Rows, t.NoRule = y.rows()
	y.askForLot()
	t.Limits = y.limits()
	t.Missing = y.asks.words
	return t
}

// rows is every part against every thing, and which combinations have no rule.
func (y *yard) rows() ([]Row, []string) {
	sets := make([]*ruleSet, len(y.things))
	for k, b := range y.things {
		sets[k] = y.rules(b.from, b.Class)
	}
	var none noRules
	out := make([]Row, 0, len(y.parts)*(len(y.things)+2))
	for _, p := range y.parts {
		c := place(p.column)
		for k, b := range y.things {
			r := &sets[k][c]
			if !r.Known {
				none.add(y, b.from, b.Class, p.column, r.Asked)
				continue
			}
			out = append(out, Row{})
			y.row(&out[len(out)-1], p, b, r)
		}
		out = y.amongParts(out, p)
	}
	return ordered(out), none.sentences()
}

// amongParts adds a part against the parts of its own system, where a rule
// speaks of them: a tank from the field. A rule of the field from a field, or of
// a tank from a tank, speaks of other systems.
func (y *yard) amongParts(out []Row, p *body) []Row {
	if p.from == "" {
		return out
	}
	for _, b := range y.parts {
		if b.from == "" || b.from == p.from {
			continue
		}
		r := &y.rules(b.from, "")[place(p.column)]
		switch {
		case !r.Known:
		case joined(p, b) || joined(b, p):
			y.asks.add("where the trench of " + lineOf(p, b) + " begins: its path starts at the part, so the distance between the two cannot be judged")
		default:
			out = append(out, Row{})
			y.row(&out[len(out)-1], p, b, r)
		}
	}
	return out
}

// joined tells whether a line's path runs through a part's own point.
func joined(l, p *body) bool {
	return l.line != nil && p.line == nil && slices.Contains(l.line.Path, p.Name)
}

func lineOf(a, b *body) string {
	if a.line == nil {
		a, b = b, a
	}
	return string(a.Name) + " beside " + string(b.Name)
}

// row fills one row in place.
func (y *yard) row(row *Row, p, b *body, r *rule) {
	row.Part, row.Column, row.From = p.Thing, p.column, b.Thing
	row.Required, row.Source, row.Permit = r.Distance, r.Source, r.permit
	row.Assumed, row.Note, row.Proposed = r.took, r.Row.Note, b.proposed
	if p.lost != "" || b.lost != "" {
		row.Verdict = TooClose
		row.Words = lostWords(p, b, r)
		return
	}
	row.Known = true
	row.Gap, row.Measured = apart(p, b)
	row.Margin = row.Measured - row.Required
	row.Within = y.measured(p, b, row.Gap).within()
	row.Verdict = verdict(row.Margin, row.Within)
	row.Words = y.rowWords(row, r)
}

// apart returns the gap between a part and a thing, and the distance that
// counts: negative outside the lot.
func apart(p, b *body) (clearance.Gap, unit.Length) {
	if b.lot != nil {
		if gap, out := beyond(p.shape, b); out > 0 {
			return gap, -out
		}
	}
	gap := clearance.Distance(p.shape, b.shape)
	return gap, gap.Distance
}

// beyond returns how far a shape reaches out of a lot, 0 where no corner of it
// lies outside, and the gap from its outermost place to the edge. A disc counts
// with its radius, a trench by its middle line.
func beyond(s clearance.Shape, b *body) (clearance.Gap, unit.Length) {
	var out unit.Length
	var gap clearance.Gap
	for i, v := range s.Points {
		d := planar.Path(b.shape.Points).Distance(v)
		if b.lot.Contains(v) {
			d = -d
		}
		if len(s.Points) == 1 {
			d += s.Radius
		}
		if d > out {
			out = d
			gap = clearance.Distance(clearance.Shape{Points: []planar.Vec{v}}, b.shape)
			gap.From.From, gap.From.To, gap.From.Along = i, i, 0
		}
	}
	return gap, out
}

// ordered sorts rows: short, too close to call, clear; then by rising margin,
// what is not located last of its kind; then as in the job.
func ordered(rows []Row) []Row {
	order := make([]int, len(rows))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		a, b := &rows[i], &rows[j]
		if c := rank(a.Verdict) - rank(b.Verdict); c != 0 {
			return c
		}
		if a.Known != b.Known {
			if a.Known {
				return -1
			}
			return 1
		}
		return cmp.Or(cmp.Compare(a.Margin, b.Margin), i-j)
	})
	out := make([]Row, len(rows))
	for k, i := range order {
		out[k] = rows[i]
	}
	return out
}

// rank is the order in which verdicts are told.
func rank(v Verdict) int {
	switch v {
	case Short:
		return 0
	case TooClose:
		return 1
	}
	return 2
}

// askForLot asks for the property's outline where there is none.
func (y *yard) askForLot() {
	if y.lot != nil {
		return
	}
	edge := ""
	for _, b := range y.things {
		switch {
		case b.Kind != string(site.PropertyLine):
		case b.lost != "":
			return // told already
		default:
			edge = string(b.Name)
		}
	}
	if edge != "" {
		y.asks.add("the outline of the lot: " + edge + " is an open line, which is no lot; to have what lies outside told, write area: [Pin 1, Pin 2, Pin 3, Pin 4] with all its corners")
		return
	}
	y.asks.add("the property line: write features: {Lot: {kind: property line, area: [Pin 1, Pin 2, Pin 3, Pin 4]}}")
}
