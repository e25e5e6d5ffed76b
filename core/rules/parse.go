package rules

import (
	"errors"
	"sort"
	"strconv"

	"undersod/core/unit"
)

// The largest that mean anything; a larger one is a slip of the pen.
const (
	manyBedrooms = 99
	manyYears    = 500
	manyMonths   = 1200
)

// Parse reads a pack from JSON as docs/schema/rules.schema.json describes it.
// name is the file's, for errors. A pack without service lives, intervals or a
// checklist of its own takes the common ones. The error is Problems: every one of them tells
// the line, the key, what was read, what was expected, and an example.
func Parse(name string, data []byte) (*Pack, error) {
	p, err := parse(name, data)
	if err != nil {
		return nil, err
	}
	shared := common()
	if len(p.Lives) == 0 {
		p.Lives = shared.Lives
	}
	if len(p.Looks) == 0 {
		p.Looks = shared.Looks
	}
	if p.Checklist == nil {
		p.Checklist, p.borrowed = shared.Checklist, true
	}
	return p, nil
}

// parse reads a pack as it stands.
func parse(name string, data []byte) (*Pack, error) {
	r := &reader{file: name, data: data}
	root, err := tree(data)
	if err != nil {
		var s *syntax
		errors.As(err, &s)
		r.wrong(s.at, "", s.words, "a rule pack in JSON", `{"name": "our county", "place": "Our County"}`)
		return nil, r.problems
	}
	p := &Pack{}
	r.pack(root, p)
	if len(r.problems) > 0 {
		sort.SliceStable(r.problems, func(i, j int) bool {
			a, b := r.problems[i], r.problems[j]
			return a.Line < b.Line || a.Line == b.Line && a.Column < b.Column
		})
		return nil, r.problems
	}
	return p, nil
}

func (r *reader) pack(n *node, p *Pack) {
	r.object(n, "", `{"name": "our county", "place": "Our County"}`,
		field{"name", true, r.text(&p.Name, "a short name", `"our county"`)},
		field{"place", true, r.text(&p.Place, "where the rules hold", `"Our County"`)},
		field{"words", false, r.text(&p.Words, "what the pack covers and what it leaves out", `"fields alone"`)},
		field{"flow", false, func(n *node, key string) { p.Flow = r.flow(n, key) }},
		field{"field", false, func(n *node, key string) { p.Field = r.fieldRule(n, key) }},
		field{"tank", false, func(n *node, key string) { p.Tank = r.tank(n, key) }},
		field{"lives", false, func(n *node, key string) { p.Lives = r.lives(n, key) }},
		field{"looks", false, func(n *node, key string) { p.Looks = r.looks(n, key) }},
		field{"setbacks", false, func(n *node, key string) { p.Setbacks = r.setbacks(n, key) }},
		field{"limits", false, func(n *node, key string) { p.Limits = r.limits(n, key) }},
		field{"checklist", false, func(n *node, key string) { p.Checklist = r.checklist(n, key) }},
	)
}

const exampleSource = `{"title": "County sewage code", "section": "Table 2", "year": "2019", "status": "read"}`

// source reads where a number comes from.
func (r *reader) source(into *Source) func(*node, string) {
	return func(n *node, key string) {
		r.object(n, key, exampleSource,
			field{"title", true, r.text(&into.Title, "the name of the rule or the book", `"County sewage code"`)},
			field{"section", false, r.text(&into.Section, "the section or the table", `"Table 2"`)},
			field{"year", false, r.text(&into.Year, "the year as a text", `"2019"`)},
			field{"status", true, choice(r, &into.Status, Read, FromMemory, CommonPractice, TheUser)},
			field{"note", false, r.text(&into.Note, "what the number depends on", `"single houses only"`)},
		)
	}
}

// ownSource reads the source of one row, where it differs from the rule's.
func (r *reader) ownSource(into **Source) func(*node, string) {
	return func(n *node, key string) {
		*into = &Source{}
		r.source(*into)(n, key)
	}
}

const exampleFlow = `{"per bedroom": "150 gal/day", "source": ` + exampleSource + `}`

func (r *reader) flow(n *node, key string) *FlowRule {
	f := &FlowRule{}
	ok := r.object(n, key, exampleFlow,
		field{"per bedroom", false, quantity(r, &f.PerBedroom, unit.ParseFlow, "150 gal/day")},
		field{"per person", false, quantity(r, &f.PerPerson, unit.ParseFlow, "75 gal/day")},
		field{"by bedrooms", false, r.byBedrooms(&f.ByBedrooms)},
		field{"each more", false, quantity(r, &f.EachMore, unit.ParseFlow, "100 gal/day")},
		field{"least", false, quantity(r, &f.Least, unit.ParseFlow, "240 gal/day")},
		field{"source", true, r.source(&f.Source)},
	)
	if ok && f.PerBedroom == 0 && f.PerPerson == 0 && len(f.ByBedrooms) == 0 {
		r.wrong(n.at, key, "no flow is written", "per bedroom, per person or by bedrooms", exampleFlow)
	}
	if ok && f.EachMore > 0 && len(f.ByBedrooms) == 0 {
		r.wrong(n.at, key, "each more has no table to go on from", "by bedrooms beside it", `{"by bedrooms": {"3": "400 gal/day"}}`)
	}
	return f
}

// byBedrooms reads a table of flows by the number of bedrooms.
func (r *reader) byBedrooms(into *map[int]unit.Flow) func(*node, string) {
	return func(n *node, key string) {
		const example = `{"2": "260 gal/day", "3": "390 gal/day"}`
		if n.kind != isObject || len(n.members) == 0 {
			r.wrong(n.at, key, "found "+shown(n), "flows by the number of bedrooms", example)
			return
		}
		*into = map[int]unit.Flow{}
		for _, m := range n.members {
			rooms, err := strconv.Atoi(m.key)
			if err != nil || rooms < 1 || rooms > manyBedrooms || strconv.Itoa(rooms) != m.key {
				r.wrong(m.at, key, "found "+quoted(m.key), "a number of bedrooms", example)
				continue
			}
			if _, twice := (*into)[rooms]; twice {
				r.wrong(m.at, join(key, m.key), "the key stands twice", "each key once", "")
				continue
			}
			var flow unit.Flow
			quantity(r, &flow, unit.ParseFlow, "390 gal/day")(m.value, join(key, m.key))
			(*into)[rooms] = flow
		}
	}
}

const exampleTank = `{"steps": [{"up to bedrooms": 3, "capacity": "1,000 gal"}], "source": ` + exampleSource + `}`

func (r *reader) tank(n *node, key string) *TankRule {
	t := &TankRule{}
	ok := r.object(n, key, exampleTank,
		field{"steps", false, func(n *node, key string) {
			r.list(n, key, `[{"up to bedrooms": 3, "capacity": "1,000 gal"}]`, func(n *node, key string) { r.tankStep(n, key, t) })
		}},
		field{"each more", false, quantity(r, &t.EachMore, unit.ParseVolume, "250 gal")},
		field{"least", false, quantity(r, &t.Least, unit.ParseVolume, "900 gal")},
		field{"source", true, r.source(&t.Source)},
	)
	if ok && len(t.Steps) == 0 && t.Least == 0 {
		r.wrong(n.at, key, "no capacity is written", "steps or least", exampleTank)
	}
	if ok && t.EachMore > 0 && len(t.Steps) == 0 {
		r.wrong(n.at, key, "each more has no steps to go on from", "steps beside it", exampleTank)
	}
	return t
}

func (r *reader) tankStep(n *node, key string, t *TankRule) {
	var s TankStep
	const example = `{"up to bedrooms": 3, "capacity": "1,000 gal"}`
	r.object(n, key, example,
		field{"up to bedrooms", true, r.count(&s.UpToBedrooms, manyBedrooms, "a number of bedrooms", "3")},
		field{"capacity", true, quantity(r, &s.Capacity, unit.ParseVolume, "1,000 gal")},
	)
	if last := len(t.Steps) - 1; last >= 0 && s.UpToBedrooms <= t.Steps[last].UpToBedrooms {
		r.wrong(n.at, key, "the bedrooms do not rise", "steps by rising bedrooms", example)
	}
	t.Steps = append(t.Steps, s)
}

func (r *reader) lives(n *node, key string) []ServiceLife {
	var out []ServiceLife
	const example = `{"what": "concrete tank", "least years": 30, "most years": 50, "source": {"title": "common practice, no source", "status": "common practice"}}`
	r.list(n, key, "["+example+"]", func(n *node, key string) {
		var l ServiceLife
		ok := r.object(n, key, example,
			field{"what", true, r.text(&l.What, "what lasts so long", `"concrete tank"`)},
			field{"least years", true, r.number(&l.LeastYears, 0, manyYears, "a number of years", "30")},
			field{"most years", true, r.number(&l.MostYears, 0, manyYears, "a number of years", "50")},
			field{"source", true, r.source(&l.Source)},
		)
		if ok && l.MostYears < l.LeastYears {
			r.wrong(n.at, key, "most years is below least years", "the longer life as most years", example)
		}
		out = append(out, l)
	})
	return out
}

func (r *reader) looks(n *node, key string) []Interval {
	var out []Interval
	const example = `{"what": "look at the tank", "months": 36, "source": {"title": "common practice, no source", "status": "common practice"}}`
	r.list(n, key, "["+example+"]", func(n *node, key string) {
		var i Interval
		r.object(n, key, example,
			field{"what", true, r.text(&i.What, "what is to be done", `"look at the tank"`)},
			field{"months", true, r.count(&i.Months, manyMonths, "a number of months", "36")},
			field{"source", true, r.source(&i.Source)},
		)
		out = append(out, i)
	})
	return out
}
