package setback

import (
	"cmp"
	"slices"

	"undersod/core/adjust"
	"undersod/core/bounds"
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
	t.Kept = y.kept()
	t.Proposed, t.Clashes, t.Lotless = y.stands, y.clashes(), y.lotless()
	t.Missing = y.asks.Words
	return t
}

// kept is what each located part keeps free of buildings.
func (y *yard) kept() []Kept {
	var out []Kept
	set := y.rules(wordBuilding, "")
	for _, p := range y.parts {
		if r := &set[place(p.column)]; p.lost == "" && r.Known && r.Distance > 0 {
			out = append(out, Kept{p.Thing, p.shape, r.Distance})
		}
	}
	return out
}

// pairing is one part against one thing, before it is put into words.
type pairing struct {
	part, thing *body
	rule        *rule
	known       bool
	gap         clearance.Gap
	measured    unit.Length
	margin      unit.Length
	within      unit.Length
	verdict     Verdict
	advice      string
}

// rows is every part against every thing, and which combinations have no rule.
func (y *yard) rows() ([]Row, []string) {
	sets := make([]*ruleSet, len(y.things))
	for k, b := range y.things {
		if sets[k] = y.rules(b.from, b.Class); b.proposed {
			sets[k] = y.rulesBy(y.pack.ForNew(), b.from, b.Class)
		}
	}
	var none noRules
	pairs := make([]pairing, 0, len(y.parts)*(len(y.things)+2))
	for _, p := range y.parts {
		c := place(p.column)
		for k, b := range y.things {
			if r := &sets[k][c]; r.Known {
				pairs = append(pairs, pairing{part: p, thing: b, rule: r})
			} else {
				none.add(y, b.from, b.Class, p.column, r.Asked)
			}
		}
		pairs = y.amongParts(pairs, p)
	}
	for i := range pairs {
		y.weigh(&pairs[i])
	}
	out := make([]Row, len(pairs))
	for k, i := range ordered(pairs) {
		y.row(&out[k], &pairs[i])
	}
	return out, none.sentences()
}

// amongParts adds a part against the parts of its own system, where a rule
// speaks of them: a tank from the field. A rule of the field from a field, or of
// a tank from a tank, speaks of other systems.
func (y *yard) amongParts(pairs []pairing, p *body) []pairing {
	if p.from == "" {
		return pairs
	}
	for _, b := range y.parts {
		if b.from == "" || b.from == p.from {
			continue
		}
		r := &y.rules(b.from, "")[place(p.column)]
		switch {
		case !r.Known:
		case joined(p, b) || joined(b, p):
			y.asks.Add("where the trench of " + lineOf(p, b) + " begins: its path starts at the part, so the distance between the two cannot be judged")
		default:
			pairs = append(pairs, pairing{part: p, thing: b, rule: r})
		}
	}
	return pairs
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

// weigh measures a pairing against its rule.
func (y *yard) weigh(p *pairing) {
	if p.part.lost != "" || p.thing.lost != "" {
		p.verdict = TooClose
		return
	}
	p.known = true
	p.gap, p.measured = apart(p.part, p.thing)
	p.margin = p.measured - p.rule.Distance
	known := y.measured(p.part, p.thing, p.gap)
	p.within = known.within()
	if p.verdict = bounds.Weigh(p.margin, p.within); p.verdict == TooClose {
		p.advice = y.advice(p.part, p.thing, p.gap, known)
	}
}

// row puts a pairing into words.
func (y *yard) row(row *Row, p *pairing) {
	row.Part, row.Column, row.From = p.part.Thing, p.part.column, p.thing.Thing
	row.Required, row.Source, row.Permit = p.rule.Distance, p.rule.Source, p.rule.permit
	row.Assumed, row.Note, row.Proposed = p.rule.took, p.rule.Row.Note, p.thing.proposed
	row.Verdict, row.Advice = p.verdict, p.advice
	if !p.known {
		row.Words = lostWords(p.part, p.thing, p.rule)
		return
	}
	row.Known, row.Gap = true, p.gap
	row.Measured, row.Margin, row.Within = p.measured, p.margin, p.within
	row.Words = y.rowWords(row, p.rule)
}

// apart returns the gap between a part and a thing, and the distance that
// counts: negative outside the lot.
func apart(p, b *body) (clearance.Gap, unit.Length) {
	if b.lot != nil {
		if gap, out := beyond(p.shape, b); out > 0 {
			return gap, -out
		}
	}
	gap := p.ready.Distance(b.ready)
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

// ordered is the order of rows: short, too close to call, clear; then by rising
// margin, what is not located last of its kind; then as in the job.
func ordered(pairs []pairing) []int {
	order := make([]int, len(pairs))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		a, b := &pairs[i], &pairs[j]
		if c := rank(a.verdict) - rank(b.verdict); c != 0 {
			return c
		}
		if a.known != b.known {
			if a.known {
				return -1
			}
			return 1
		}
		if c := cmp.Compare(a.margin, b.margin); c != 0 {
			return c
		}
		return i - j
	})
	return order
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

// lotless tells whether a rule speaks of the property line for a part that is
// there, and none is located.
func (y *yard) lotless() bool {
	for _, b := range y.things {
		if b.Kind == string(site.PropertyLine) && b.lost == "" {
			return false
		}
	}
	set := y.rules(string(site.PropertyLine), "")
	return slices.ContainsFunc(y.parts, func(b *body) bool { return set[place(b.column)].Known })
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
		y.asks.Add("the outline of the lot: " + edge + " is an open line, which is no lot; to have what lies outside told, write area: [Pin 1, Pin 2, Pin 3, Pin 4] with all its corners")
		return
	}
	y.asks.Add("the property line: write features: {Lot: {kind: property line, area: [Pin 1, Pin 2, Pin 3, Pin 4]}}")
}
