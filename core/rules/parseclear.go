package rules

import (
	"slices"

	"undersod/core/english"
	"undersod/core/unit"
)

const (
	exampleRow       = `{"from": "well", "class": "private", "tank": "50 ft", "field": "100 ft"}`
	exampleSetbacks  = `{"rows": [` + exampleRow + `], "source": ` + exampleSource + `}`
	exampleLimit     = `{"on": "trench width", "least": "1 ft", "most": "3 ft", "source": ` + exampleSource + `}`
	exampleItem      = `{"what": "tank place", "words": "every tank by two measured distances"}`
	exampleChecklist = `{"items": [` + exampleItem + `], "source": ` + exampleSource + `}`
)

// open is written in place of a distance that a person has yet to fill in.
const open = "?"

// farthest bounds a distance of a rule; a larger one is a slip of the pen.
const farthest = 10000 * unit.Foot

// orOpen reads a length, or a place where one is yet to be filled in.
func (r *reader) orOpen(into *unit.Length, example string) func(*node, string) {
	return func(n *node, key string) {
		if n.kind == isText && n.text == open {
			return
		}
		quantity(r, into, length, example)(n, key)
		if *into > farthest {
			r.wrong(n.at, key, "found "+quoted(n.text), "a distance of up to "+short(farthest), `"`+example+`"`)
		}
	}
}

// setbacks reads how far parts must lie from things.
func (r *reader) setbacks(n *node, key string) *Setbacks {
	s := &Setbacks{}
	seen := map[string]string{}
	r.object(n, key, exampleSetbacks,
		field{"rows", true, func(n *node, key string) {
			r.list(n, key, "["+exampleRow+"]", func(n *node, key string) { s.Rows = append(s.Rows, r.setbackRow(n, key, seen)) })
		}},
		field{"source", true, r.source(&s.Source)},
	)
	return s
}

// setbackRow reads one row; seen holds the keys of those before by what they are
// for.
func (r *reader) setbackRow(n *node, key string, seen map[string]string) SetbackRow {
	var row SetbackRow
	at := n.at
	found := map[Column]*unit.Length{} // with those yet to be filled in
	fields := []field{
		{"from", true, func(n *node, key string) {
			at = n.at
			choice(r, &row.From, Things()...)(n, key)
		}},
		{"class", false, r.text(&row.Class, "which of the things the row is for, in a word or two", `"private"`)},
	}
	for _, c := range Columns() {
		fields = append(fields, field{string(c), false, func(n *node, key string) {
			found[c] = new(unit.Length)
			r.orOpen(found[c], "50 ft")(n, key)
		}})
	}
	ok := r.object(n, key, exampleRow, append(fields,
		field{"note", false, r.text(&row.Note, "what the distances depend on", `"of a well with a shallow casing 100 ft"`)},
		field{"source", false, r.ownSource(&row.Source)},
	)...)
	if ok && len(found) == 0 {
		r.wrong(n.at, key, "no distance is written", "a distance for "+english.Or(Columns())+", or ? for one to be filled in", exampleRow)
	}
	for c, l := range found {
		if *l > 0 {
			row.set(c, *l)
		}
	}
	if !ok {
		return row
	}
	what := thing(row.From) + "/" + english.Plain(row.Class)
	if before, twice := seen[what]; twice {
		r.wrong(at, key, "the thing stands in "+before+" too, with the same class", "one row for each thing and class", exampleRow)
	}
	seen[what] = key
	return row
}

// set notes a distance of a row.
func (r *SetbackRow) set(c Column, l unit.Length) {
	if r.Distances == nil {
		r.Distances = map[Column]unit.Length{}
	}
	r.Distances[c] = l
}

// limits reads bounds on how a system is built or recorded.
func (r *reader) limits(n *node, key string) []Limit {
	var out []Limit
	r.list(n, key, "["+exampleLimit+"]", func(n *node, key string) {
		var l Limit
		written := false
		bound := func(into *unit.Length, example string) func(*node, string) {
			return func(n *node, key string) {
				written = true
				r.orOpen(into, example)(n, key)
			}
		}
		ok := r.object(n, key, exampleLimit,
			field{"on", true, choice(r, &l.On, LimitsOn()...)},
			field{"least", false, bound(&l.Least, "1 ft")},
			field{"most", false, bound(&l.Most, "3 ft")},
			field{"note", false, r.text(&l.Note, "what the limit depends on", `"wider is a bed"`)},
			field{"source", true, r.source(&l.Source)},
		)
		switch {
		case !ok:
		case !written:
			r.wrong(n.at, key, "no bound is written", "least, most or both, or ? for one to be filled in", exampleLimit)
		case l.Most > 0 && l.Most < l.Least:
			r.wrong(n.at, key, "most is below least", "the larger length as most", exampleLimit)
		case slices.ContainsFunc(out, func(o Limit) bool { return o.On == l.On }):
			r.wrong(n.at, key, "a limit on the "+string(l.On)+" stands here twice", "one for each", exampleLimit)
		}
		out = append(out, l)
	})
	return out
}

// checklist reads what an authority wants on a record drawing.
func (r *reader) checklist(n *node, key string) *Checklist {
	c := &Checklist{}
	seen := map[Item]bool{}
	r.object(n, key, exampleChecklist,
		field{"items", true, func(n *node, key string) {
			r.list(n, key, "["+exampleItem+"]", func(n *node, key string) { c.Items = append(c.Items, r.item(n, key, seen)) })
			if n.kind == isList && len(n.items) == 0 {
				r.wrong(n.at, key, "no item is written", "what is wanted; without a checklist the common one holds", "["+exampleItem+"]")
			}
		}},
		field{"source", true, r.source(&c.Source)},
	)
	return c
}

func (r *reader) item(n *node, key string, seen map[Item]bool) Item {
	var i Item
	ok := r.object(n, key, exampleItem,
		field{"what", true, choice(r, &i.What, AllWanted()...)},
		field{"words", false, r.text(&i.Words, "what is wanted, in words", `"every tank by two measured distances"`)},
		field{"source", false, r.ownSource(&i.Source)},
	)
	switch {
	case !ok:
	case i.What == WantOther && i.Words == "":
		r.wrong(n.at, key, "what else is wanted is not told", "words beside it", `{"what": "something else", "words": "the cleanouts"}`)
	case seen[Item{What: i.What, Words: i.Words}]:
		r.wrong(n.at, key, quoted(string(i.What))+" stands here twice", "each item once", exampleItem)
	}
	seen[Item{What: i.What, Words: i.Words}] = true
	return i
}
