package judge

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"undersod/core/absorb"
	"undersod/core/adjust"
	"undersod/core/calendar"
	"undersod/core/english"
	"undersod/core/hydraulic"
	"undersod/core/level"
	"undersod/core/look"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// soonMonths is by when what matters should be done, laterMonths by when what
// can wait is looked at again; common practice, no source.
const (
	soonMonths  = 2
	laterMonths = 12
)

// act turns what was found into what to do, what can wait and what is fine.
func (w *work) act() {
	w.actOnPlan()
	w.actOnFindings()
	w.actOnBoxes()
	w.actOnFalls()
	w.actOnCapacity()
	w.actOnStorage()
	w.actOnPermit()
	w.actOnLives()
	sort.SliceStable(w.out.Actions, func(i, j int) bool { return w.out.Actions[i].Urgency < w.out.Actions[j].Urgency })
	w.remind()
}

func (w *work) do(u Urgency, what, why string, about ...site.Name) {
	a := Action{Urgency: u, What: what, Why: why, About: about}
	if today, err := calendar.Parse(w.job.Visit.Date); err == nil {
		switch u {
		case Now:
			a.By = today
		case Soon:
			a.By = today.AddMonths(soonMonths)
		default:
			a.By = today.AddMonths(laterMonths)
		}
	}
	w.out.Actions = append(w.out.Actions, a)
}

func (w *work) fine(words string) { w.out.Fine = append(w.out.Fine, words) }

func (w *work) actOnPlan() {
	switch w.plan.Verdict.Fill {
	case adjust.FillYes:
		w.fine("The measurements agree with one another, and everything drawn is located.")
	case adjust.FillUnsure:
		w.do(Now, "Take the further readings that the check names, while the hole is open.", w.plan.Verdict.Words)
	default:
		w.do(Now, "Clear up the measurements that disagree before the hole is filled.", w.plan.Verdict.Words)
	}
}

// cures says what is commonly done about a finding.
var cures = map[site.FindingKind]string{
	site.FineRoots:      "Have the roots cut, and look again.",
	site.RootMass:       "Have the roots cut out, or the pipe replaced there.",
	site.StandingWater:  "Look again in dry weather: water that stays means a low place or ground that no longer drains.",
	site.Flattened:      "Have the flattened pipe dug up and replaced, and keep loads off it.",
	site.Cracked:        "Watch the crack, or have the piece of pipe replaced.",
	site.Broken:         "Have the broken pipe replaced.",
	site.JointShifted:   "Look again; have the joint reset where it catches or lets soil in.",
	site.SoilEntering:   "Find where soil enters and have the pipe replaced there.",
	site.Sediment:       "Have the line flushed, and the tank's outlet looked at.",
	site.Blocked:        "Have the line cleared, and find out why it closed.",
	site.Corroded:       "Have a professional judge how sound the part still is.",
	site.Leaking:        "Have the leak closed.",
	site.PieceMissing:   "Have the missing piece put in.",
	site.WaterOverPipe:  "Find out why the water stands so high: a line may be closed or the ground full.",
	site.AnotherFinding: "Have a professional look at it.",
}

func (w *work) actOnFindings() {
	for _, r := range w.out.Runs {
		worst := site.Note
		for _, f := range r.Findings {
			worst = max(worst, f.Grade)
			w.actOnFinding(f)
		}
		if worst <= site.Note && r.Ended == site.ReachedEnd && fromAnEnd(r) {
			w.fine(fmt.Sprintf("%s was looked at from end to end, and nothing was found that needs care.", r.Line))
		}
	}
	for _, f := range w.out.Parts {
		w.actOnFinding(f)
	}
}

// fromAnEnd tells whether a run went in at one end of its line: one that did
// and reached the other saw all of it.
func fromAnEnd(r look.Run) bool {
	const slack = unit.Foot
	if !r.Entry.Counted {
		return false
	}
	return r.Entry.Station < slack || r.Known && r.Entry.Station > r.Length-slack
}

func (w *work) actOnFinding(f look.Finding) {
	cure, about := cures[f.What], f.Line
	if cure == "" {
		cure = cures[site.AnotherFinding]
	}
	if about == "" {
		about = f.Part
	}
	why := english.Sentence(f.Words)
	if f.Note != "" {
		why += " " + english.Sentence(f.Note)
	}
	for _, n := range f.Near {
		if n.Explains {
			why += " " + english.Sentence(n.Words)
		}
	}
	if f.Line != "" && f.From.Beyond > unit.Length(normal95)*f.From.StationSD {
		w.do(CanWait, fmt.Sprintf("%s: check the footage of the %s, which lies past the line's end.", about, f.What), why, about)
		return
	}
	switch f.Grade {
	case site.Act:
		w.do(Soon, fmt.Sprintf("%s: %s", about, cure), why, about)
	case site.Watch:
		w.do(CanWait, fmt.Sprintf("%s: %s", about, cure), why, about)
	}
}

func (w *work) actOnBoxes() {
	for i := range w.out.Boxes {
		b := &w.out.Boxes[i]
		open := slices.ContainsFunc(b.Openings, func(o hydraulic.Opening) bool { return !o.Closed })
		if len(b.Openings) > 0 && !open {
			w.do(Now, fmt.Sprintf("%s: open an outlet; every one is closed, so that the house has nowhere to drain.", b.Part),
				"With all outlets closed the water backs up into the tank and the house.", b.Part)
		}
		if b.Flooded {
			w.do(Soon, fmt.Sprintf("%s: find out why water stands over its outlets; a line or the whole field is not taking it.", b.Part), b.FloodedWords, b.Part)
		}
		if b.InletLow {
			w.do(Soon, fmt.Sprintf("%s: have the box or its inlet reset; the inlet lies too low.", b.Part), b.InletWords, b.Part)
		} else {
			w.actOnSplit(b)
		}
		for _, words := range b.Words {
			w.do(CanWait, fmt.Sprintf("%s: have a professional look at its levels.", b.Part), words, b.Part)
		}
	}
}

// actOnSplit proposes the setting that published rules ask for, equal levels,
// first. A setting for unequal areas comes only where the outlets are level.
func (w *work) actOnSplit(b *Box) {
	level, area := b.Level, b.Correction
	switch {
	case level == nil || area == nil:
	case level.Worst > level.Tolerance && b.Spread <= unit.Length(normal95)*b.SpreadSD:
		w.do(CanWait, fmt.Sprintf("%s: have it filled with water to see whether the outlets are level; the readings cannot tell.", b.Part), b.SpreadWords, b.Part)
	case level.Worst > level.Tolerance && len(level.Turns) > 0 && w.overInlet(b, level.Turns):
		w.do(Soon, fmt.Sprintf("%s: have the box reset; its outlets cannot be set level below its inlet by raising them.", b.Part), b.SpreadWords, b.Part)
	case level.Worst > level.Tolerance && len(level.Turns) > 0:
		w.do(Soon, fmt.Sprintf("%s: set the outlets level (%s).", b.Part, w.turns(level.Turns)), b.SpreadWords, b.Part)
	case area.Worst <= area.Tolerance && b.Flooded: // under water no share is well
	case area.Worst <= area.Tolerance:
		w.fine(fmt.Sprintf("%s shares its flow as it should, within %s.", b.Part, percent(area.Tolerance)))
	case len(area.Turns) == 0:
		w.do(CanWait, fmt.Sprintf("%s: have a professional look at how it shares its flow; no setting of the outlets makes it better.", b.Part), b.SpreadWords, b.Part)
	default:
		w.do(CanWait, fmt.Sprintf("%s: the lines are not alike; ask the authority whether the outlets may be set unequal (%s).", b.Part, w.turns(area.Turns)),
			b.SpreadWords+" That setting would share the flow by the area of each line.", b.Part)
	}
}

// overInlet tells whether turns would bring an outlet up to the inlet or over it.
func (w *work) overInlet(b *Box, turns []hydraulic.Turn) bool {
	if b.Inlet == nil || !b.Inlet.Known {
		return false
	}
	for _, t := range turns {
		for _, o := range b.Openings {
			if o.Name == t.Name && t.By > 0 && o.Invert+t.By >= b.Inlet.At {
				return true
			}
		}
	}
	return false
}

// turns tells which outlets to move, and by how much.
func (w *work) turns(turns []hydraulic.Turn) string {
	var all []string
	for _, t := range turns {
		way := "raise"
		if t.By < 0 {
			way = "lower"
		}
		all = append(all, fmt.Sprintf("%s the outlet of %s by %s", way, t.Name, w.fineLength(t.By.Abs())))
	}
	return english.And(all)
}

func (w *work) actOnFalls() {
	for _, f := range w.out.Levels.Falls {
		line, _ := w.line(f.Line)
		if f.Way == level.Backwards && line.Kind != site.DrainLine {
			w.do(Soon, fmt.Sprintf("%s runs backwards: have its fall put right.", f.Line), english.Sentence(f.Words), f.Line)
		}
	}
	for _, c := range w.out.Levels.Closures {
		if !c.Closes {
			w.do(Now, "Repeat the level readings that do not close.", c.Words)
		}
	}
}

func (w *work) actOnCapacity() {
	c := w.out.Capacity
	switch field := byRule(c.FieldWords, c.Required.Source); c.Field {
	case absorb.Short:
		w.do(Soon, "Ask what the county wants: by this rule the field is small for the house.", field)
	case absorb.Enough:
		w.fine(field)
	}
	switch tank := byRule(c.Tank.Words, c.Tank.Source); c.Tank.Verdict {
	case absorb.Short:
		w.do(CanWait, "The tank is small for the house by this rule: pump it more often, and ask what the county wants.", tank)
	case absorb.Enough:
		w.fine(tank)
	}
	if a := w.out.Added; a != nil && (a.Field == absorb.Short || a.Tank.Verdict == absorb.Short) {
		w.do(Soon, fmt.Sprintf("Before you plan %s: the system would be too small by this rule.", english.Count(w.out.AddedRooms, "more bedroom")), w.out.AddedWords)
		w.out.Actions[len(w.out.Actions)-1].By = calendar.Date{} // it waits for the plan, not for a day
	}
}

// byRule keeps the first sentence of an answer by a rule, and whose it is.
func byRule(words string, source rules.Source) string {
	if i := strings.Index(words, ". "); i >= 0 {
		words = words[:i]
	}
	return fmt.Sprintf("%s. Source: %s. %s", strings.TrimSuffix(words, "."), source.Words(), absorb.Decides)
}

func (w *work) actOnStorage() {
	s := w.out.Storage
	if s == nil {
		return
	}
	if s.Now.Backed > 0 {
		w.do(Soon, "By the reckoning below the field cannot take the water of the house.", "After "+timeWords(s.Now.BackAt)+" every line is full.")
		return
	}
	for i, c := range s.Now.Courses {
		if c.Full && !s.Run.Trenches[i].OutOfUse {
			w.do(Soon, fmt.Sprintf("%s is sent more than it can drain: share the flow better, and look at it again.", c.Name),
				fmt.Sprintf("It takes %s of the flow and ponds to its top after %s, by the reckoning of the field's storage.",
					percent(float64(c.Inflow/max(s.Now.Inflow, 1e-12))), timeWords(c.FullAt)), site.Name(c.Name))
		}
	}
}

func (w *work) actOnPermit() {
	var off []string
	agree := false
	for _, c := range w.out.Permit {
		agree = agree || c.Answer == Agrees
		if c.Answer == Differs {
			off = append(off, c.Words)
		}
	}
	switch {
	case len(off) > 0:
		why := off[0]
		if len(off) > 1 {
			why += fmt.Sprintf(" And %s; the table lists all.", english.Count(len(off)-1, "more item"))
		}
		w.do(CanWait, "Send the county the drawing as measured: the record differs.", why)
	case agree:
		w.fine("What was measured agrees with the record, as far as both speak of it.")
	}
}

func (w *work) actOnLives() {
	for _, l := range w.out.Lives {
		if l.Years > l.Most {
			w.do(CanWait, fmt.Sprintf("%s is older than is usual: plan for its renewal.", l.What), l.Words, l.What)
		}
	}
}

// remind makes reminders of the actions, and keeps them in the order of time.
func (w *work) remind() {
	used := map[string]int{}
	for _, a := range w.out.Actions {
		if a.Urgency != Now && !a.By.IsZero() && a.What != pumpNow && a.What != measureTank {
			w.out.Reminders = append(w.out.Reminders, Reminder{Key: actionKey(a.What, used), On: a.By, Words: a.What})
		}
	}
	sort.SliceStable(w.out.Reminders, func(i, j int) bool { return w.out.Reminders[i].On.Before(w.out.Reminders[j].On) })
}

// actionKey names an action by its words, so that the next visit's calendar
// moves this reminder and no other; by how much an outlet turns is left out.
// Actions of the same words are counted in used.
func actionKey(what string, used map[string]int) string {
	what, _, _ = strings.Cut(what, " (")
	key := "do-" + strings.Trim(slug(what), "-")
	if used[key]++; used[key] > 1 {
		key = fmt.Sprintf("%s-%d", key, used[key])
	}
	return key
}
