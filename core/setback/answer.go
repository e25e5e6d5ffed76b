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
	head := f.Question.Named()
	var out []string
	if len(f.LeftOut) > 0 {
		out = append(out, phrase.Tell(english.And(f.LeftOut)+" "+phrase.IsAre(len(f.LeftOut))+" not located and left out, so that this is no answer yet"))
	}
	if g.bare != "" {
		out = append(out, phrase.Tell(g.bare))
	}
	out = append(append(out, g.statedWords(f, head)...), g.bestWords(f, head)...)
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
	required := "no rule, but it must not be built over"
	if l.Ruled {
		required = say.Format(l.Required) + " required"
	}
	if l.Margin < 0 {
		return fmt.Sprintf("%s by %s ± %s (%s)", l.name(), size(say, -l.Margin), size(say, l.Within), required)
	}
	return fmt.Sprintf("%s, %s more than asked ± %s (%s)", l.name(), size(say, l.Margin), size(say, l.Within), required)
}

// name names the thing, and tells what is proposed from what is there.
func (l *Limiting) name() string {
	if l.Proposed {
		return string(l.Thing.Name) + " (also proposed)"
	}
	return string(l.Thing.Name)
}

// cureWords tells the smallest move that cures the stated place.
func (g *ground) cureWords(f *Fit) []string {
	if len(f.Stated) == 0 || worst(f.Stated, true) == Clear {
		return nil
	}
	short := f.Stated[0].Margin < 0
	switch {
	case short && f.Cure == nil:
		return []string{"No move without turning it cures this."}
	case short && f.Sure != nil:
		return []string{phrase.Tell("Move it "+g.moved(f, *f.Cure)+", and it keeps just what is asked",
			g.moved(f, *f.Sure)+" is the smallest move that makes it sure, whatever the measuring leaves open: peg that")}
	case short:
		return []string{phrase.Tell("Move it "+g.moved(f, *f.Cure)+", and it keeps just what is asked", "No move without turning it makes it sure")}
	case f.Sure != nil:
		return []string{phrase.Tell("Move it " + g.moved(f, *f.Sure) + ", and it is sure, whatever the measuring leaves open")}
	}
	return []string{"No move without turning it makes it sure."}
}

// moved words the way from the stated place to another: how far, toward where,
// and off what breaks the most.
func (g *ground) moved(f *Fit, to clearance.Found) string {
	step, l := to.At.Minus(f.Question.Stated.At), &f.Stated[0]
	s := size(g.y.say, step.Length()) + " toward " + phrase.Azimuth(step.Azimuth())
	away := step.Dot(l.Gap.From.At.Minus(l.Gap.To.At)) > 0
	switch {
	case l.Lot && l.Measured < 0:
		return s + ", into " + l.name()
	case l.Measured < 0:
		return s + ", off " + l.name()
	case away:
		return s + ", away from " + l.name()
	}
	return s
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
	case len(f.Ground.Lot) == 0 && q.Near == nil:
		return nil // it lies as far off as the search went
	case len(f.Limits) == 0:
		return []string{phrase.Tell(head + ": it fits: nothing is known that it must keep away from")}
	}
	turned, fits := g.turned(q, f.Best.Turn), ": it fits. "
	if f.Ruleless() {
		fits = ": by no rule, but on the ground, it fits. "
	}
	if q.Near != nil {
		s := head + fits + "The allowed place nearest to " + cmp.Or(q.NearWords, "the wish") + turned + " has its middle " + g.y.say.Format(f.Best.Moved) + " from it" + limits
		return append([]string{phrase.Tell(s)}, g.closeWords(f)...)
	}
	asked := " more than asked from everything"
	if !f.Limits[0].Ruled {
		asked = " from everything"
	}
	s := head + fits + "The freest place" + turned + " keeps " + g.y.say.Format(m) + asked + limits
	return append([]string{phrase.Tell(s)}, g.closeWords(f)...)
}

// closeWords says where the uncertainty leaves the best place open.
func (g *ground) closeWords(f *Fit) []string {
	var names []string
	var more unit.Length
	for _, l := range f.Limits {
		if l.Verdict != Clear {
			names = append(names, l.name())
			more = max(more, l.Within-l.Margin)
		}
	}
	if len(names) == 0 {
		return nil
	}
	s := phrase.Tell("There " + english.And(names) + " " + phrase.IsAre(len(names)) + " too close to call within the 95 % uncertainty: stay " + size(g.y.say, more) + " farther off to be sure")
	if f.Sure != nil {
		s = phrase.Tell(s, "The nearest place that is sure has its middle "+g.y.say.Format(f.Sure.Moved)+" from "+cmp.Or(f.Question.NearWords, "the wish")+": peg that")
	}
	return []string{s}
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
			names = append(names, l.name())
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
	if !(f.Region.Area > 0) || len(f.Ground.Lot) == 0 { // without a lot the ground has no end
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
