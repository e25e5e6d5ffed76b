package setback

import (
	"undersod/core/bounds"
	"undersod/core/phrase"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// ruled is the columns of the parts that a job can have, in the order in which
// rules are kept.
var ruled = [...]rules.Column{rules.ToTank, rules.ToBox, rules.ToField, rules.ToSewer, rules.ToPipe, rules.ToStructure}

// place is where a column stands among them; -1 for none.
func place(c rules.Column) int {
	for i, r := range ruled {
		if r == c {
			return i
		}
	}
	return -1
}

// rule is one distance that was looked up.
type rule struct {
	rules.Asked
	permit bool
	words  string // the distance as printed
	took   string // what was taken for granted
}

// ruleSet is the distances from one thing, by column.
type ruleSet [len(ruled)]rule

// permitPack turns the permit's own distances into a pack, so that both are
// looked up in one way.
func permitPack(s *site.Setbacks) *rules.Pack {
	if s == nil || len(s.Rows) == 0 {
		return nil
	}
	title := s.Source
	if title == "" {
		title = "the permit"
	}
	out := &rules.Setbacks{Source: rules.Source{Title: title, Status: rules.TheUser}}
	for _, r := range s.Rows {
		row := rules.SetbackRow{From: r.From, Class: r.Class, Note: r.Note, Distances: map[rules.Column]unit.Length{}}
		for c, d := range r.Distances {
			if bounds.Sane(d.Length) > 0 || d.Length == 0 {
				row.Distances[rules.Column(c)] = d.Length
			}
		}
		out.Rows = append(out.Rows, row)
	}
	return &rules.Pack{Name: "permit", Place: title, Setbacks: out}
}

// rules returns the distances from a thing of a class, looked up once.
func (y *yard) rules(from, class string) *ruleSet {
	key := [2]string{from, class}
	if s, ok := y.sets[key]; ok {
		return s
	}
	s := y.rulesBy(y.pack, from, class)
	y.sets[key] = s
	return s
}

// rulesBy looks up the distances from a thing of a class in one pack.
func (y *yard) rulesBy(pack *rules.Pack, from, class string) *ruleSet {
	s := &ruleSet{}
	for i, c := range ruled {
		s[i] = y.lookUp(pack, from, class, c)
	}
	return s
}

// lookUp asks the permit, and where it is silent the pack.
func (y *yard) lookUp(pack *rules.Pack, from, class string, c rules.Column) rule {
	if a := y.permit.Setback(from, class, c); a.Known && usable(a.Distance) {
		return y.known(a, true)
	}
	a := pack.Setback(from, class, c)
	if !a.Known || !usable(a.Distance) {
		a.Known = false
		return rule{Asked: a}
	}
	return y.known(a, false)
}

func (y *yard) known(a rules.Asked, permit bool) rule {
	r := rule{Asked: a, permit: permit, words: y.say.Format(a.Distance)}
	if r.took = a.More; a.Assumed {
		r.took = a.Words
	}
	return r
}

// usable tells whether a distance can be a rule.
func usable(d unit.Length) bool { return d >= 0 && d <= farthest }

// noRules gathers the combinations that have no rule, by the things of a site.
type noRules struct {
	order []noRuleKey
	from  map[noRuleKey][]string // what has no rule
	words []string               // of classes that the pack does not know
	seen  map[string]bool
}

type noRuleKey struct{ from, class string }

// add notes that a column has no rule from a thing.
func (n *noRules) add(y *yard, from, class string, c rules.Column, asked rules.Asked) {
	if n.seen == nil {
		n.seen, n.from = map[string]bool{}, map[noRuleKey][]string{}
	}
	key := noRuleKey{from, class}
	id := from + "\x00" + class + "\x00" + string(c)
	if n.seen[id] {
		return
	}
	n.seen[id] = true
	if class != "" && asked.Words != "" && y.pack.Setback(from, "", c).Known {
		if !n.seen[asked.Words] {
			n.seen[asked.Words] = true
			n.words = append(n.words, asked.Words)
		}
		return
	}
	if len(n.from[key]) == 0 {
		n.order = append(n.order, key)
	}
	n.from[key] = append(n.from[key], string(c))
}

// sentences says what has no rule: one sentence for each thing and class on the
// site, in the order of the job.
func (n *noRules) sentences() []string {
	var out []string
	said := map[string]bool{}
	for _, k := range n.order {
		s := "no rule in this pack for " + phrase.Kinds(n.from[k]) + " from " + phrase.Article(k.from)
		if !said[s] {
			said[s] = true
			out = append(out, s)
		}
	}
	return append(out, n.words...)
}
