package text

import (
	"fmt"
	"slices"
	"strings"

	"undersod/core/absorb"
	"undersod/core/english"
	"undersod/core/hydraulic"
	"undersod/core/judge"
	"undersod/core/look"
	"undersod/core/site"
	"undersod/core/unit"
)

// judgements prints what was looked at and judged.
func (t *teller) judgements(j *judge.Judgement) {
	if j == nil {
		return
	}
	t.camera(j)
	t.levels(j)
	for _, b := range j.Boxes {
		t.box(b)
	}
	t.field(j)
	t.stored(j.Storage)
	t.permit(j)
	t.ages(j)
	t.actions(j)
	t.missing(j)
}

// grade paints a grade so that it is read without colour as well.
func (t *teller) grade(g site.Grade) painted {
	word := fmt.Sprintf("%-5s", g)
	switch g {
	case site.Act:
		return t.paint(red, word)
	case site.Watch:
		return t.paint(yellow, word)
	}
	return painted(word)
}

func (t *teller) camera(j *judge.Judgement) {
	if len(j.Runs)+len(j.Parts) == 0 {
		return
	}
	t.title("What was seen")
	for _, r := range j.Runs {
		t.wrapped("- ", r.Words)
		for _, f := range r.Findings {
			t.finding(f)
		}
		for _, p := range r.Problems {
			t.wrapped("    ! ", p.Error())
		}
	}
	for _, f := range j.Parts {
		t.finding(f)
	}
}

func (t *teller) finding(f look.Finding) {
	t.print("    %s ", t.grade(f.Grade))
	text := f.Words
	if f.Note != "" {
		text += " (" + f.Note + ")"
	}
	t.hung("          ", text)
	for i, n := range f.Near {
		if i == 2 {
			break
		}
		t.wrapped("          near: ", n.Words)
	}
}

func (t *teller) levels(j *judge.Judgement) {
	if len(j.Levels.Falls)+len(j.Levels.Closures) == 0 {
		return
	}
	t.title("Falls and levels")
	if j.Levels.Words != "" {
		t.wrapped("- ", j.Levels.Words)
	}
	for _, c := range j.Levels.Closures {
		t.wrapped("- ", c.Words)
	}
	for _, f := range j.Levels.Falls {
		t.wrapped("- ", fmt.Sprintf("%s, %s to %s: %s.", f.Line, f.From, f.To, strings.TrimSuffix(f.Words, ".")))
	}
	for _, c := range j.Levels.Carries {
		t.wrapped("- ", c)
	}
}

func (t *teller) box(b judge.Box) {
	t.title(fmt.Sprintf("%s and its flow", b.Part))
	if b.SpreadWords != "" {
		t.wrapped("- ", b.SpreadWords)
	}
	if b.Tilt.Known {
		t.wrapped("- ", b.Tilt.Words)
	}
	for _, w := range b.Words {
		t.wrapped("- ", w)
	}
	for _, w := range []string{b.FloodedWords, b.InletWords} {
		if w != "" {
			t.wrapped("- ", w)
		}
	}
	t.splits(b.Splits)
	for _, s := range b.Splits {
		if above := b.Above(s.Split); above != "" {
			t.wrapped("- ", fmt.Sprintf("At %s (%s) %s.", t.style().FormatPumpFlow(s.Split.Inflow), s.Name, above))
		}
	}
	t.correction(b)
	for _, m := range b.Missing {
		t.wrapped("- ", m)
	}
}

// splits prints a table of shares, one row an inflow.
func (t *teller) splits(list []judge.NamedSplit) {
	for i, s := range list {
		if i == 0 {
			t.print("  %-16s %10s %10s", "", "inflow", "water")
			for _, h := range s.Split.Shares {
				t.print(" %10s", short(h.Name, 10))
			}
			t.print("\n")
		}
		t.print("  %-16s %10s %10s", s.Name, t.style().FormatPumpFlow(s.Split.Inflow), t.small(s.Split.Water))
		for _, h := range s.Split.Shares {
			t.print(" %8.0f %%", 100*h.Share)
		}
		t.print("\n")
	}
	for i, s := range list {
		if i == 0 {
			t.print("  %-16s %10s %10s", "wanted", "", "")
			for _, h := range s.Split.Shares {
				t.print(" %8.0f %%", 100*h.Wanted)
			}
			t.print("\n  The water is measured from the lowest outlet's invert.\n")
		}
	}
}

// small prints a short length finely.
func (t *teller) small(l unit.Length) string { return t.style().Small().Format(l) }

func (t *teller) correction(b judge.Box) {
	if b.Level != nil && b.Correction != nil {
		t.setting("for equal shares, as published rules ask", b.Level)
		if !sameTurns(b.Level.Turns, b.Correction.Turns) {
			t.setting("for shares by the area of each line (ask the authority before outlets are set unequal)", b.Correction)
		}
	}
	if len(b.Sensitivity) > 0 {
		most := b.Sensitivity[0]
		for _, s := range b.Sensitivity {
			if s.Change < most.Change {
				most = s
			}
		}
		t.wrapped("- ", fmt.Sprintf("How much levels matter: raising the outlet of %s by %s takes %.0f points of its share.",
			most.Name, t.small(most.By), -100*most.Change))
	}
}

// setting tells one correction, whatever it comes to.
func (t *teller) setting(what string, c *hydraulic.Correction) {
	switch {
	case c.Worst <= c.Tolerance:
		t.wrapped("- ", fmt.Sprintf("To set %s: nothing needs to be moved; every share is within %.0f points.", what, 100*c.Tolerance))
	case len(c.Turns) == 0:
		t.wrapped("- ", fmt.Sprintf("To set %s: no outlet moved by whole steps of %s makes it better; the worst share is %.0f points off.",
			what, t.small(c.Step), 100*c.Worst))
	default:
		var all []string
		for _, turn := range c.Turns {
			way := "raise"
			if turn.By < 0 {
				way = "lower"
			}
			all = append(all, fmt.Sprintf("%s %s by %s", way, turn.Name, t.small(turn.By.Abs())))
		}
		t.wrapped("- ", fmt.Sprintf("To set %s: %s. The worst share is then %.0f points off, before %.0f.",
			what, english.Join(all, "and"), 100*c.After, 100*c.Worst))
	}
}

func sameTurns(a, b []hydraulic.Turn) bool { return slices.Equal(a, b) }

func (t *teller) field(j *judge.Judgement) {
	c := j.Capacity
	if c.FieldWords == "" && c.Tank.Words == "" && c.Flow.Words == "" {
		return
	}
	t.title("The field and the tank against the house (rule pack: " + j.Pack + ")")
	t.capacity(c)
	if j.AddedWords != "" {
		t.wrapped("- ", j.AddedWords)
	}
}

func (t *teller) capacity(c absorb.Capacity) {
	if c.Flow.Known {
		t.wrapped("- ", fmt.Sprintf("Daily flow. %s.", c.Flow.Words))
	}
	for _, words := range []string{c.FieldWords, c.Tank.Words, c.Pumping.Words} {
		if words != "" {
			t.wrapped("- ", words)
		}
	}
}

func (t *teller) stored(s *judge.Storage) {
	if s == nil {
		return
	}
	t.title(fmt.Sprintf("How the field fills and drains, followed for %d days", s.Run.Days))
	for _, w := range s.Words {
		t.wrapped("- ", w)
	}
	for _, a := range s.Assumptions {
		t.wrapped("    assumed: ", a)
	}
}

func (t *teller) permit(j *judge.Judgement) {
	if len(j.Permit) > 0 {
		t.title("The record against what was measured")
		t.print("  %-32s %14s %14s %12s  %s\n", "", "record", "measured", "off", "")
		for _, c := range j.Permit {
			colour := map[judge.Agreement]string{judge.Agrees: green, judge.Differs: red, judge.CannotTell: yellow}[c.Answer]
			t.print("  %-32s %14s %14s %12s  %s\n", short(c.What, 32), c.Claimed, c.Measured, c.Off, t.paint(colour, string(c.Answer)))
		}
	}
	if o := j.Old; o != nil {
		t.title("The old drawing over the plan")
		t.wrapped("- ", o.Words)
		for _, p := range o.Points {
			if !p.Control {
				t.wrapped("- ", p.Words)
			}
		}
	}
}

func (t *teller) ages(j *judge.Judgement) {
	for i, l := range j.Lives {
		if i == 0 {
			t.title("Ages")
		}
		t.wrapped("- ", l.Words)
	}
}

func (t *teller) actions(j *judge.Judgement) {
	heads := map[judge.Urgency]string{judge.Now: "Before the hole is filled", judge.Soon: "What matters", judge.CanWait: "What can wait"}
	for _, u := range []judge.Urgency{judge.Now, judge.Soon, judge.CanWait} {
		first := true
		for _, a := range j.Actions {
			if a.Urgency != u {
				continue
			}
			if first {
				t.title(heads[u])
				first = false
			}
			by := ""
			if u != judge.Now && !a.By.IsZero() {
				by = " By " + a.By.String() + "."
			}
			t.wrapped("- ", strings.TrimSpace(a.What+by))
			t.wrapped("    ", a.Why)
		}
	}
	for i, f := range j.Fine {
		if i == 0 {
			t.title("What is fine")
		}
		t.wrapped("- ", f)
	}
	for i, r := range j.Reminders {
		if i == 0 {
			t.title("Dates")
		}
		t.wrapped("- ", strings.TrimSpace(fmt.Sprintf("%s: %s. %s", r.On, strings.TrimSuffix(r.Words, "."), r.Why)))
	}
}

func (t *teller) missing(j *judge.Judgement) {
	for i, m := range j.Missing {
		if i == 0 {
			t.title("Could not be judged")
		}
		t.wrapped("- ", m)
	}
}
