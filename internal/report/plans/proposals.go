package plans

import (
	"fmt"
	"strings"

	"undersod/core/absorb"
	"undersod/core/english"
	"undersod/core/overlay"
	"undersod/core/setback"
	"undersod/internal/report/flow"
)

// mostLimits is how many distances of a proposal are listed that are clear.
const mostLimits = 8

// Proposals sets one section for each thing that the job proposes, with its
// drawing by draw, then what could not be fitted and why, and what planned
// bedrooms ask for. Any of them may be missing.
func (b *Book) Proposals(fits []*setback.Fit, unfitted []string, c *setback.Capacity, draw func(*setback.Fit)) {
	for _, f := range fits {
		if f != nil {
			b.proposal(f)
			draw(f)
		}
	}
	if len(unfitted) > 0 {
		b.Heading("Planned, and not judged")
		b.bullets("", unfitted, flow.Clay)
		b.end()
	}
	b.Bedrooms(c)
}

// proposal sets the answer first, then its words, and what limits it.
func (b *Book) proposal(f *setback.Fit) {
	notes := &refs{book: b}
	b.Heading(overlay.Title(f))
	ground, bar := colours(grade(f))
	said := []flow.Said{flow.Say(outcome(f), b.Text.InBold())}
	if f.Ruleless() {
		said = append(said, flow.Say(ruleless, b.Text))
	}
	b.Callout(ground, bar, said...)
	b.moving()
	for _, w := range f.Words {
		if w = strings.TrimSpace(strings.TrimSuffix(w, absorb.Decides)); w != "" { // it ends the section
			b.Bullet("", "", english.Sentence(w), flow.Stone)
		}
	}
	if f.Outcome() != setback.FitsSomewhere { // the freest place then lies anywhere
		limits, title := f.Limits, "What limits it at that place"
		if f.Question.Stated != nil {
			limits, title = f.Stated, "What limits it at the stated place"
		}
		b.limiting(title, limits, notes)
	}
	var taken []string
	for _, l := range f.Limits {
		taken = addOnce(taken, l.Assumed)
	}
	for _, w := range f.Caution {
		taken = addOnce(taken, w)
	}
	b.bullets("What was assumed", taken, flow.Stone)
	b.bullets("What is not known", f.Missing, flow.Stone)
	if len(notes.used) > 0 {
		b.Sub("Sources")
	}
	notes.list()
	b.end()
}

// limiting sets what a place is kept from: all that is not clear, and the nearest
// of the rest.
func (b *Book) limiting(title string, all []setback.Limiting, notes *refs) {
	var rows []distance
	more := 0
	for _, v := range []setback.Verdict{setback.Short, setback.TooClose, setback.Clear} {
		for i := range all {
			switch {
			case all[i].Verdict != v:
			case v == setback.Clear && len(rows) >= mostLimits:
				more++
			default:
				rows = append(rows, ofLimiting(&all[i]))
			}
		}
	}
	if len(rows) == 0 {
		return
	}
	b.Sub(title)
	b.distances(rows, notes)
	if more > 0 {
		b.Note(fmt.Sprintf("And %d more, all clear by more than these.", more))
	}
}

// outcome is how a fit came out, as a sentence.
func outcome(f *setback.Fit) string {
	words := string(f.Outcome())
	if f.Question.NearWords != "" {
		words = strings.ReplaceAll(words, "the wish", f.Question.NearWords)
	}
	return english.Sentence(words)
}

// ruleless is said where a fit says little.
const ruleless = "But no rule here asks for a distance from any part of the system."

// grade is how good an answer is, as a verdict.
func grade(f *setback.Fit) setback.Verdict {
	switch o := f.Outcome(); {
	case o == setback.FitsNowhere || o == setback.FitsElsewhere:
		return setback.Short
	case f.Settled() && o != setback.FitsNearWish:
		return setback.Clear
	}
	return setback.TooClose
}

// Bedrooms sets what planned bedrooms ask for.
func (b *Book) Bedrooms(c *setback.Capacity) {
	if c == nil {
		return
	}
	b.Heading("Field, tank and reserve area with the bedrooms that are planned")
	t := flow.Table{Columns: []flow.Column{{Title: "What", Bold: true}, {Title: "Now", Right: true}, {Title: "With " + english.Count(c.Rooms, "more bedroom"), Right: true}}}
	add := func(what string, known bool, now, then string) {
		if known {
			t.Row(what, now, then)
		}
	}
	add("Design flow", c.Now.Flow.Known && c.Then.Flow.Known, b.Say.FormatFlow(c.Now.Flow.Daily), b.Say.FormatFlow(c.Then.Flow.Daily))
	add("Area required", c.Now.Required.Known && c.Then.Required.Known, b.Say.FormatArea(c.Now.Required.Area), b.Say.FormatArea(c.Then.Required.Area))
	add("Area that counts", c.Now.Present > 0 && c.Then.Present > 0, b.Say.FormatArea(c.Now.Present), b.Say.FormatArea(c.Then.Present))
	add("Field", c.Now.Field != "" && c.Then.Field != "", string(c.Now.Field), string(c.Then.Field))
	add("Tank required", c.Now.Tank.Required > 0 && c.Then.Tank.Required > 0, b.Say.FormatVolume(c.Now.Tank.Required), b.Say.FormatVolume(c.Then.Tank.Required))
	add("Tank", c.Now.Tank.Verdict != "" && c.Then.Tank.Verdict != "", string(c.Now.Tank.Verdict), string(c.Then.Tank.Verdict))
	add("Ground for a whole replacement field", c.ReserveNeeded > 0, "", "about "+b.Say.FormatArea(c.ReserveNeeded))
	add("Ground of the reserve area", c.ReserveArea > 0, b.Say.FormatArea(c.ReserveArea), b.Say.FormatArea(c.ReserveArea))
	add("Reserve area", c.Reserve != "", "", string(c.Reserve))
	b.Table(t)
	b.bullets("", undecided(c.Words), flow.Stone)
	b.Note("The numbers and sources of the rule pack are under Capacity.")
	b.end()
}

// undecided leaves out who decides, which ends the section.
func undecided(words []string) []string {
	var out []string
	for _, w := range words {
		out = append(out, strings.TrimSpace(strings.TrimSuffix(w, absorb.Decides)))
	}
	return out
}
