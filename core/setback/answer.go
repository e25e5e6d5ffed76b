package setback

import (
	"cmp"
	"fmt"

	"undersod/core/absorb"
	"undersod/core/clearance"
	"undersod/core/english"
	"undersod/core/phrase"
	"undersod/core/rules"
	"undersod/core/unit"
)

// alike is how near the smallest margin another must be to limit a place as
// well, and mostNamed how many are named.
const (
	alike     = 1 * unit.Inch
	mostNamed = 3
)

// answer words a fit.
func (g *ground) answer(f *Fit) []string {
	head := f.Question.Name
	if f.Question.Size != "" {
		head += ", " + f.Question.Size
	}
	out := append(g.statedWords(f, head), g.bestWords(f, head)...)
	if s := g.regionWords(f); s != "" {
		out = append(out, s)
	}
	if s := g.sources(f); s != "" {
		out = append(out, s)
	}
	return append(out, absorb.Decides)
}

// statedWords judges the stated place.
func (g *ground) statedWords(f *Fit, head string) []string {
	if f.Question.Stated == nil {
		return nil
	}
	turned := g.turned(f.Question, f.Question.Stated.Turn)
	if len(f.Stated) == 0 {
		return []string{phrase.Tell(head + ": where it is to stand nothing is known that it must keep away from")}
	}
	var broken, close []string
	for _, l := range f.Stated {
		switch {
		case l.Verdict == Short:
			broken = append(broken, l.told(g.y.say))
		case l.Verdict == TooClose:
			close = append(close, l.told(g.y.say))
		}
	}
	out := []string{}
	switch {
	case len(broken) > 0:
		out = append(out, phrase.Tell(head+": where it is to stand"+turned+" it breaks "+english.Count(len(broken), "distance")+": "+english.And(broken)))
	case len(close) == 0:
		out = append(out, phrase.Tell(head+": where it is to stand"+turned+" it is clear of everything. "+english.Capital(string(f.Stated[0].Thing.Name))+" comes nearest: it keeps "+
			g.y.say.Format(f.Stated[0].Margin)+" more than asked, give or take "+g.y.say.Format(f.Stated[0].Within)))
	default:
		out = append(out, phrase.Tell(head+": where it is to stand"+turned+" it is too close to call"))
	}
	if len(close) > 0 {
		out = append(out, phrase.Tell("Too close to call within the 95 % uncertainty: "+english.And(close)))
	}
	return append(out, g.cureWords(f)...)
}

// told is one distance inside a sentence.
func (l *Limiting) told(say unit.Style) string {
	if l.Margin < 0 {
		return fmt.Sprintf("%s by %s ± %s (%s required)", l.Thing.Name, say.Format(-l.Margin), say.Format(l.Within), say.Format(l.Required))
	}
	return fmt.Sprintf("%s, %s more than the %s required, ± %s", l.Thing.Name, say.Format(l.Margin), say.Format(l.Required), say.Format(l.Within))
}

// cureWords tells the smallest move that cures the stated place.
func (g *ground) cureWords(f *Fit) []string {
	if len(f.Stated) == 0 || f.Stated[0].Margin >= 0 {
		return nil
	}
	if f.Cure == nil {
		return []string{"No move without turning it cures this."}
	}
	step := f.Cure.At.Minus(f.Question.Stated.At)
	return []string{phrase.Tell("Move it " + g.y.say.Format(step.Length()) + " toward " + phrase.Azimuth(step.Azimuth()) + " and it keeps just what is asked; the uncertainty wants more")}
}

// bestWords tells the freest or the nearest place.
func (g *ground) bestWords(f *Fit, head string) []string {
	q, m := f.Question, smallestOf(f.Limits)
	if q.Stated != nil {
		head = "Elsewhere"
	}
	limits := limitedBy(f.Limits, m)
	switch {
	case !f.Best.Fits && len(f.Limits) == 0:
		return []string{phrase.Tell(head + ": it fits nowhere")}
	case !f.Best.Fits:
		return []string{phrase.Tell(head + ": it fits nowhere: the least it breaks is " + g.y.say.Format(-m) + limits)}
	case len(f.Limits) == 0:
		return []string{phrase.Tell(head + ": it fits: nothing is known that it must keep away from")}
	}
	turned := g.turned(q, f.Best.Turn)
	if q.Near != nil {
		s := head + ": it fits. The allowed place nearest to " + cmp.Or(q.NearWords, "the wish") + turned + " has its middle " + g.y.say.Format(f.Best.Moved) + " from it" + limits
		return append([]string{phrase.Tell(s)}, g.closeWords(f)...)
	}
	s := head + ": it fits. The freest place" + turned + " keeps " + g.y.say.Format(m) + " more than asked from everything" + limits
	return append([]string{phrase.Tell(s)}, g.closeWords(f)...)
}

// closeWords says where the uncertainty leaves the best place open.
func (g *ground) closeWords(f *Fit) []string {
	var names []string
	var more unit.Length
	for _, l := range f.Limits {
		if l.Verdict != Clear {
			names = append(names, string(l.Thing.Name))
			more = max(more, l.Within-l.Margin)
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []string{phrase.Tell("There " + english.And(names) + " " + phrase.IsAre(len(names)) + " too close to call within the 95 % uncertainty: stay " + g.y.say.Format(more) + " farther off to be sure")}
}

func smallestOf(list []Limiting) unit.Length {
	if len(list) == 0 {
		return 0
	}
	return list[0].Margin
}

// limitedBy names what has about the smallest margin.
func limitedBy(list []Limiting, least unit.Length) string {
	var names []string
	for _, l := range list {
		if l.Margin <= least+alike && len(names) < mostNamed {
			names = append(names, string(l.Thing.Name))
		}
	}
	switch len(names) {
	case 0:
		return ""
	case 1:
		return "; " + names[0] + " limits it"
	}
	return "; " + english.And(names) + " limit it"
}

// turned words a turn: along two points as the job says, else by its azimuth.
func (g *ground) turned(q Question, turn unit.Angle) string {
	switch {
	case len(q.Footprint.Corners) == 1:
		return ""
	case q.TurnWords != "":
		return ", its length " + q.TurnWords + ","
	}
	if turn = turn.Turn(); q.alike() && turn > 90.25*unit.Degree && turn <= 270.25*unit.Degree {
		turn += 180 * unit.Degree // either end of it may be the front
	}
	return ", its length toward " + phrase.Azimuth(turn) + ","
}

// regionWords tells the size of the region, and how it changes with the turn.
func (g *ground) regionWords(f *Fit) string {
	if !(f.Region.Area > 0) {
		return ""
	}
	ground := g.y.say.FormatArea(f.Region.Area) + " of ground"
	s := "Its middle may lie on " + ground + " at this turn"
	if len(f.Question.Footprint.Corners) == 1 {
		s = "It may lie on " + ground
	}
	if n := len(f.Region.Pieces); n > 1 {
		s += fmt.Sprintf(", in %d pieces", n)
	}
	if least, most := span(f.ByTurn, f.Region.Area); len(f.ByTurn) > 1 {
		s += "; over all turns on " + g.y.say.FormatArea(least) + " to " + g.y.say.FormatArea(most)
	}
	return phrase.Tell(s)
}

// span is the smallest and the largest area of a list and one more.
func span(list []clearance.TurnArea, one unit.Area) (least, most unit.Area) {
	least, most = one, one
	for _, t := range list {
		least, most = min(least, t.Area), max(most, t.Area)
	}
	return least, most
}

// sources names where the distances come from, each source once.
func (g *ground) sources(f *Fit) string {
	var names phrase.Once
	add := func(r rule) {
		if r.Known && r.Source != (rules.Source{}) {
			names.Add(r.Source.Words())
		}
	}
	for _, k := range g.from {
		add(k.rule)
	}
	add(g.lot.rule)
	if len(names.Words) == 0 {
		return ""
	}
	return "Distances by " + english.And(names.Words) + "."
}
