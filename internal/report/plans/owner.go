package plans

import (
	"strings"

	"undersod/core/english"
	"undersod/core/setback"
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
			_, bar := colours(grade(f.Outcome()))
			b.Bullet(Named(&f.Question), answer(f), b.why(f), bar)
		}
	}
	for _, w := range unfitted {
		b.Bullet("", "Not judged", plain(w), flow.Stone)
	}
	if c != nil {
		var words []string
		for _, w := range undecided(c.Words) {
			words = append(words, plain(w))
		}
		b.Bullet("What it asks of the system", "With "+english.Count(c.Rooms, "more bedroom"), strings.Join(words, " "), flow.Stone)
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
	}
	return "Too close to call"
}

// why tells the owner what limits it.
func (b *Book) why(f *setback.Fit) string {
	limits := f.Limits
	if f.Question.Stated != nil {
		limits = f.Stated
	}
	if len(limits) == 0 {
		return "Nothing is known that it must keep away from."
	}
	least := limits[0]
	switch f.Outcome() {
	case setback.FitsNowhere:
		return english.Sentence(named(limits, setback.Short) + " leave too little room: at its best place " + b.Say.Format(-least.Margin) + " is missing")
	case setback.FitsSomewhere:
		return "No property line was measured, so how much room there is cannot be told."
	case setback.FitsElsewhere:
		words := "It would stand too near to " + named(limits, setback.Short) + ", by up to " + b.Say.Format(-least.Margin)
		if f.Cure != nil {
			words += "; moving it " + b.Say.Format(f.Cure.At.Minus(f.Question.Stated.At).Length()) + " would cure that, and a little more makes it sure"
		}
		return english.Sentence(words)
	case setback.FitsNearWish:
		return english.Sentence("The allowed place nearest to " + f.Question.NearWords + " keeps just what is asked; " + string(least.Thing.Name) + " limits it")
	case setback.FitsTooClose:
		return english.Sentence("The measuring cannot tell whether it keeps its distance from " + named(limits, setback.TooClose))
	}
	return english.Sentence("It keeps " + b.Say.Format(least.Margin) + " more than asked from everything; " + string(least.Thing.Name) + " comes nearest")
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
