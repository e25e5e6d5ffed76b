package rules

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"undersod/core/english"
	"undersod/core/unit"
)

// Setback looks up how far a part must lie from a thing: Setback("well",
// "private", ToField). The row of the stated class holds, and where it has no
// number the row without a class, which is for every class. Where no class is stated and the pack has classed rows alone, the
// strictest of them holds, and the answer says so. Words tell in every case what
// holds, also that there is no rule; a nil pack has none.
func (p *Pack) Setback(from, class string, to Column) Asked {
	switch {
	case p == nil:
		return noRule(from, to, ": no pack is chosen")
	case p.Setbacks == nil || len(p.Setbacks.Rows) == 0:
		return noRule(from, to, ": it has no setbacks")
	}
	class = strings.TrimSpace(class)
	general, classed := p.Setbacks.rowsOf(from, to)
	for _, r := range classed {
		if class != "" && english.Plain(r.Class) == english.Plain(class) {
			return p.Setbacks.answer(r, to)
		}
	}
	switch {
	case general != nil:
		out := p.Setbacks.answer(general, to)
		if class == "" {
			if out.More = stricter(classed, out.Distance, to); out.More != "" {
				out.Words += "; " + out.More
			}
		}
		return out
	case len(classed) == 0:
		return noRule(from, to, "")
	case class != "":
		return noRule(from, to, " of the class "+plainly(class)+": there are rows for "+english.And(classes(classed)))
	}
	return p.Setbacks.strictest(from, classed, to)
}

// outOfUse is the class of what is no longer used.
const outOfUse = "decommissioned"

// ForNew returns the pack for something that is yet to be built: without the rows
// of what is no longer used. A nil pack stays nil.
func (p *Pack) ForNew() *Pack {
	if p == nil || p.Setbacks == nil {
		return p
	}
	out, setbacks := *p, *p.Setbacks
	setbacks.Rows = slices.DeleteFunc(slices.Clone(setbacks.Rows), func(r SetbackRow) bool { return english.Plain(r.Class) == outOfUse })
	out.Setbacks = &setbacks
	return &out
}

// noRule answers that there is none, and why.
func noRule(from string, to Column, why string) Asked {
	return Asked{Words: "no rule in this pack for " + to.one() + " from " + one(from) + why}
}

// rowsOf returns the rows of a thing that have a number in a column, which may be
// 0: the one without a class, nil where there is none, and those with one.
func (s *Setbacks) rowsOf(from string, to Column) (general *SetbackRow, classed []*SetbackRow) {
	from = thing(from)
	for i := range s.Rows {
		r := &s.Rows[i]
		if d, ok := r.Distances[to]; !ok || !(d >= 0) || !r.isOf(from) {
			continue
		}
		switch {
		case r.Class != "":
			classed = append(classed, r)
		case general == nil:
			general = r
		}
	}
	return general, classed
}

func (s *Setbacks) answer(r *SetbackRow, to Column) Asked {
	out := Asked{Known: true, Distance: r.Distances[to], Row: *r, Source: s.Source}
	if r.Source != nil {
		out.Source = *r.Source
	}
	class := ""
	if r.Class != "" {
		class = " (" + plainly(r.Class) + ")"
	}
	out.Words = short(out.Distance) + " between " + to.one() + " and " + one(r.From) + class
	return out
}

// strictest answers where no class is stated and every row has one.
func (s *Setbacks) strictest(from string, classed []*SetbackRow, to Column) Asked {
	most := classed[0]
	choices := make([]string, len(classed))
	for i, r := range classed {
		choices[i] = plainly(r.Class) + " (" + short(r.Distances[to]) + ")"
		if r.Distances[to] > most.Distances[to] {
			most = r
		}
	}
	out := s.answer(most, to)
	out.Assumed = true
	out.Words = "the class of the " + plainly(from) + " is not stated: "
	if len(choices) == 1 {
		out.Words += "for " + to.one() + " taken as " + choices[0] + ", the only class with a distance"
	} else {
		out.Words += "for " + to.one() + " the strictest of " + english.And(choices)
	}
	return out
}

// stricter tells of the classes that ask for more than a distance.
func stricter(classed []*SetbackRow, than unit.Length, to Column) string {
	var more []string
	for _, r := range classed {
		if r.Distances[to] > than {
			more = append(more, plainly(r.Class)+" ("+short(r.Distances[to])+")")
		}
	}
	if len(more) == 0 {
		return ""
	}
	return "more for " + to.one() + " from the class " + english.Or(more) + ", and none is stated"
}

func classes(rows []*SetbackRow) []string {
	out := make([]string, len(rows))
	for i, r := range rows {
		out[i] = plainly(r.Class)
	}
	return out
}

// Limit returns the bound on something, and false where the pack has none; a
// nil pack has none.
func (p *Pack) Limit(on LimitOn) (Limit, bool) {
	if p == nil {
		return Limit{}, false
	}
	for _, l := range p.Limits {
		if l.On == on && (l.Least > 0 || l.Most > 0) {
			return l, true
		}
	}
	return Limit{}, false
}

// Covers names what a pack has numbers or items of, for a list of packs: "flow,
// field, tank, setbacks, limits, checklist". Service lives and intervals are in
// every pack and are not named; a checklist is named where it is the pack's own.
func (p *Pack) Covers() string {
	if p == nil {
		return ""
	}
	var out []string
	for _, c := range []struct {
		what string
		has  bool
	}{
		{"flow", p.Flow != nil}, {"field", p.Field != nil}, {"tank", p.Tank != nil},
		{"setbacks", p.Setbacks.any()}, {"limits", p.anyLimit()},
		{"checklist", p.OwnChecklist()},
	} {
		if c.has {
			out = append(out, c.what)
		}
	}
	return strings.Join(out, ", ")
}

// OwnChecklist tells whether a pack has a checklist of its own; else it has the
// common one, or none.
func (p *Pack) OwnChecklist() bool { return p != nil && p.Checklist != nil && !p.borrowed }

func (s *Setbacks) any() bool {
	if s == nil {
		return false
	}
	for _, r := range s.Rows {
		if len(r.Distances) > 0 {
			return true
		}
	}
	return false
}

func (p *Pack) anyLimit() bool {
	for _, on := range LimitsOn() {
		if _, ok := p.Limit(on); ok {
			return true
		}
	}
	return false
}

// short prints a distance as rules print it: in whole feet, else in whole inches,
// else in metres, where these give it back, and to the hundredth of a foot where
// none does: 100 ft, 18 in, 30 m.
func short(l unit.Length) string {
	for _, u := range []struct {
		one  unit.Length
		name string
		per  float64 // smallest parts of it that are printed
	}{{unit.Foot, " ft", 1}, {unit.Inch, " in", 1}, {1, " m", 100}} {
		n := float64(l / u.one)
		if round := math.Round(n*u.per) / u.per; math.Abs(n-round) <= rounding*math.Abs(n) {
			return strconv.FormatFloat(round, 'f', -1, 64) + u.name
		}
	}
	return strconv.FormatFloat(math.Round(l.Feet()*100)/100, 'f', -1, 64) + " ft"
}
