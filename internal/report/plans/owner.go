package plans

import (
	"strings"

	"undersod/core/absorb"
	"undersod/core/clearance"
	"undersod/core/english"
	"undersod/core/setback"
	"undersod/core/unit"
	"undersod/internal/report/flow"
)

// Owner sets one short part in plain words for whoever plans to build: whether
// it fits, what limits it, and what it asks of the system. Plain takes out of a
// sentence what the owner has no use for.
func (b *Book) Owner(fits []*setback.Fit, unfitted []string, c *setback.Capacity, plain func(string) string) {
	if len(fits)+len(unfitted) == 0 {
		return
	}
	b.Heading("What you plan")
	for _, f := range fits {
		if f != nil {
			_, bar := colours(grade(f))
			words := b.why(f)
			if f.Ruleless() {
				words += " " + ruleless
			}
			b.Bullet(f.Question.Named(), answer(f), words, bar)
		}
	}
	for _, w := range unfitted {
		b.Bullet("", "Not judged", plain(w), flow.Stone)
	}
	if c != nil {
		b.Bullet("What it asks of the system", "With "+english.Count(c.Rooms, "more bedroom"), b.asks(c), flow.Stone)
	}
	b.end()
}

// answer is how a fit came out, for the owner.
func answer(f *setback.Fit) string {
	switch f.Outcome() {
	case setback.FitsNowhere:
		return "It does not fit"
	case setback.FitsElsewhere:
		return "It does not fit where you want it, but elsewhere"
	case setback.FitsWhereStated:
		return "It fits where you want it"
	case setback.FitsFreely, setback.FitsNearWish:
		return "It fits"
	case setback.FitsByNoRule:
		return "It cannot be judged"
	case setback.FitsByLocated:
		return "Not answered yet"
	}
	return "Too close to call"
}

// why tells the owner what limits it.
func (b *Book) why(f *setback.Fit) string {
	limits := f.Limits
	if f.Question.Stated != nil {
		limits = f.Stated
	}
	if len(limits) == 0 && !f.Best.Fits {
		return ""
	}
	if len(limits) == 0 {
		return "Nothing is known that it must keep away from."
	}
	least := limits[0]
	switch f.Outcome() {
	case setback.FitsNowhere:
		return english.Sentence("At its best place it is still too near to " + named(limits, setback.Short) + ", by up to " + b.Say.Format(-least.Margin))
	case setback.FitsSomewhere:
		return "No property line was measured, so how much room there is cannot be told."
	case setback.FitsElsewhere:
		words := "It would stand too near to " + named(limits, setback.Short) + ", by up to " + b.Say.Format(-least.Margin)
		if f.Cure != nil {
			moved := func(to *clearance.Found) string { return b.Say.Format(to.At.Minus(f.Question.Stated.At).Length()) }
			words += "; moving it " + moved(f.Cure) + " would cure that"
			if f.Sure != nil {
				words += ", and " + moved(f.Sure) + " makes it sure"
			}
		}
		return english.Sentence(words)
	case setback.FitsNearWish:
		words := english.Sentence("The allowed place nearest to " + f.Question.NearWords + " keeps just what is asked; " + flow.Tidy(string(least.Thing.Name)) + " limits it")
		if more := surer(limits); more > 0 {
			words += " Stay " + b.Say.Format(more) + " farther off to be sure."
		}
		return words
	case setback.FitsByNoRule:
		return "On the ground alone there is room for it."
	case setback.FitsByLocated:
		return english.Sentence("It fits by what is located, but not located is " + english.And(f.LeftOut))
	case setback.FitsTooClose:
		return english.Sentence("The measuring cannot tell whether it keeps its distance from " + named(limits, setback.TooClose))
	}
	words := "It keeps " + b.Say.Format(least.Margin) + " more than asked from everything; "
	if f.Question.Stated == nil {
		words = "At its freest place it keeps " + b.Say.Format(least.Margin) + " more than asked from everything; "
	}
	return english.Sentence(words + nearest(limits))
}

// alike is how near the smallest margin another must be to limit a place as well.
const alike = unit.Inch

// nearest tells what comes nearest to what is asked.
func nearest(limits []setback.Limiting) string {
	var names []string
	for _, l := range limits {
		if l.Margin <= limits[0].Margin+alike && len(names) < mostNamed {
			names = addOnce(names, flow.Tidy(string(l.Thing.Name)))
		}
	}
	if len(names) == 1 {
		return names[0] + " comes nearest"
	}
	return english.And(names) + " come nearest"
}

// asks tells in plain words what planned bedrooms ask of field, tank and reserve
// area.
func (b *Book) asks(c *setback.Capacity) string {
	field, tank, reserve := "whether the field is large enough cannot be told", "whether the tank is large enough cannot be told", ""
	switch c.Then.Field {
	case absorb.Enough:
		field = "the field is large enough"
	case absorb.Short:
		field = "the field would be too small by " + b.Say.FormatArea(c.Then.Required.Area-c.Then.Present)
	case absorb.TooCloseToCall:
		field = "whether the field is large enough is too close to call"
	}
	switch c.Then.Tank.Verdict {
	case absorb.Enough:
		tank = "the tank is large enough"
	case absorb.Short:
		tank = "the tank would be too small: " + b.Say.FormatVolume(c.Then.Tank.Required) + " are asked for, and it holds " + b.Say.FormatVolume(c.Then.Tank.Present)
	}
	switch {
	case c.Reserve == absorb.Enough:
		reserve = "the ground kept for a new field is large enough"
	case c.Reserve == absorb.Short:
		reserve = "the ground kept for a new field is too small by " + b.Say.FormatArea(c.ReserveNeeded-c.ReserveArea)
	case c.Reserve == absorb.TooCloseToCall:
		reserve = "whether the ground kept for a new field is large enough is too close to call"
	case c.ReserveNeeded > 0:
		reserve = "no ground is kept for a new field, which would take about " + b.Say.FormatArea(c.ReserveNeeded)
	}
	return strings.TrimSpace(english.Sentence(field+", and "+tank) + " " + english.Sentence(reserve))
}

// surer is how much farther off a place is sure of what is now too close to call.
func surer(limits []setback.Limiting) unit.Length {
	more := unit.Length(0)
	for _, l := range limits {
		if l.Verdict == setback.TooClose {
			more = max(more, l.Within-l.Margin)
		}
	}
	return more
}

// mostNamed is how many things one sentence names.
const mostNamed = 3

// named names the things of one verdict, the worst first.
func named(limits []setback.Limiting, v setback.Verdict) string {
	var names []string
	for _, l := range limits {
		if l.Verdict == v && len(names) < mostNamed {
			names = addOnce(names, flow.Tidy(string(l.Thing.Name)))
		}
	}
	if len(names) == 0 {
		return flow.Tidy(string(limits[0].Thing.Name))
	}
	return english.And(names)
}
