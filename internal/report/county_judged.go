package report

import (
	"fmt"
	"math"
	"strings"

	"undersod/core/absorb"
	"undersod/core/english"
	"undersod/core/hydraulic"
	"undersod/core/judge"
	"undersod/core/level"
	"undersod/core/rules"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/storage"
	"undersod/internal/report/flow"
)

// levelTables lists heights, closures and falls.
func (r *report) levelTables() {
	l := &r.in.Judgement.Levels
	if len(l.Heights)+len(l.Closures)+len(l.Falls) == 0 {
		return
	}
	r.Heading("Levels and falls")
	falls := flow.Table{Columns: []flow.Column{{Title: "Pipe", Bold: true}, {Title: "From"}, {Title: "To"}, {Title: "Drop", Right: true}, {Title: "95 % ±", Right: true}, {Title: "Run", Right: true}, {Title: "Way"}, {Title: "In words"}}}
	for _, f := range l.Falls {
		run := ""
		if f.RunKnown {
			run = r.say.Format(f.Run)
		}
		falls.Row(tidy(string(f.Line)), tidy(string(f.From)), tidy(string(f.To)), r.height(f.Drop), r.height95(f.DropSD), run, string(f.Way), f.Words)
	}
	r.Table(falls)
	for _, w := range l.Carries {
		r.Note(sentence(w))
	}
	r.heightTable(l.Heights)
	if l.Words != "" {
		r.Para(sentence(l.Words))
	}
	for _, c := range l.Closures {
		r.Bullet("", "", sentence(c.Words), closing(c.Closes))
	}
	for _, x := range l.Readings {
		if x.Flagged {
			r.Bullet("", "", sentence("Disagrees: "+tidy(x.Words)+", off by "+r.off(x.Residual)), clay)
		}
	}
}

func (r *report) heightTable(all []level.Height) {
	t := flow.Table{Columns: []flow.Column{{Title: "Point", Bold: true}, {Title: "The rod stood on"}, {Title: "Height", Right: true}, {Title: "95 % ±", Right: true}, {Title: "Group", Right: true}}}
	for _, h := range all {
		t.Row(tidy(string(h.Point)), string(h.On), r.height(h.At), r.height95(h.SD), fmt.Sprint(h.Group))
	}
	if len(t.Rows) > 0 {
		r.Table(t)
		r.Note("Heights are over the first of their group; heights of different groups cannot be compared.")
	}
}

// boxes sets each opened box: its openings, how it divides, what would mend it.
func (r *report) boxes() {
	measured := map[site.Name]site.Box{}
	for _, b := range r.in.Job.Visit.Boxes {
		measured[b.Part] = b
	}
	for _, b := range r.in.Judgement.Boxes {
		r.Heading("Opened box: " + tidy(string(b.Part)))
		r.openings(b, measured[b.Part])
		r.splits(b)
		r.boxFigure(b, measured[b.Part])
		r.correction(b)
		for _, w := range []string{b.FloodedWords, b.InletWords} {
			if w != "" {
				r.Bullet("", "", sentence(w), clay)
			}
		}
		for _, w := range append(append([]string(nil), b.Words...), b.Missing...) {
			r.Bullet("", "", sentence(w), stone)
		}
	}
}

func (r *report) openings(b judge.Box, measured site.Box) {
	t := flow.Table{Columns: []flow.Column{{Title: "Outlet to", Bold: true}, {Title: "Read down", Right: true}, {Title: "Over the lowest", Right: true}, {Title: "95 % ±", Right: true}, {Title: "Bore", Right: true}, {Title: "Remark"}}}
	for i, o := range b.Outlets {
		at, sure := "not measured", ""
		if o.Known {
			at, sure = r.small(o.At), r.small95(o.SD)
		}
		read, bore, remark := "", "", ""
		if i < len(measured.Outlets) {
			m := measured.Outlets[i]
			if m.Down != nil {
				read = tidy(m.Down.Text)
			}
			if m.Bore > 0 {
				bore = r.small(m.Bore)
			}
			remark = joinedWords(either(m.Closed, "closed", ""), either(m.Narrowed > 0, "narrowed by "+percent(m.Narrowed), ""), tidy(m.Note))
		}
		t.Row(tidy(string(o.Line)), read, at, sure, bore, remark)
	}
	r.Table(t)
	words := []string{b.SpreadWords, b.Tilt.Words}
	if b.Inlet != nil && b.Inlet.Known {
		words = append(words, "The inlet lies "+r.small(b.Inlet.At)+" over the lowest outlet")
	}
	if b.Water != nil {
		words = append(words, "Standing water was at "+r.small(*b.Water)+" against the lowest outlet")
	}
	if w := joined(words...); w != "" {
		r.Para(w)
	}
}

func joinedWords(all ...string) string {
	var out []string
	for _, s := range all {
		if s != "" {
			out = append(out, s)
		}
	}
	return strings.Join(out, "; ")
}

// splits lists the share of each outlet at each inflow.
func (r *report) splits(b judge.Box) {
	if len(b.Splits) == 0 {
		return
	}
	t := flow.Table{Columns: []flow.Column{{Title: "Inflow", Bold: true}, {Title: "Outlet to"}, {Title: "Flow", Right: true}, {Title: "Share", Right: true}, {Title: "Should be", Right: true}, {Title: "Head", Right: true}, {Title: "Way"}}}
	for _, s := range b.Splits {
		for i, o := range s.Split.Shares {
			name := ""
			if i == 0 {
				name = tidy(s.Name) + ", " + r.say.FormatPumpFlow(s.Split.Inflow)
			}
			t.Row(name, o.Name, r.say.FormatPumpFlow(o.Flow), percent(o.Share), percent(o.Wanted), r.small(o.Head), string(o.Regime))
		}
	}
	r.Table(t)
	for _, s := range b.Splits {
		if w := tidy(s.Words); w != "" {
			r.Note(sentence(s.Name + ": " + w))
		}
		if w := b.Above(s.Split); w != "" {
			r.Bullet("", "", sentence(s.Name+": "+w), clay)
		}
	}
}

// correction says which outlets to move.
func (r *report) correction(b judge.Box) {
	if len(b.Openings) > 1 && b.SpreadSD > 0 && b.Spread <= normal95*b.SpreadSD && (b.Level != nil || b.Correction != nil) {
		r.Para("No setting of the outlets is proposed: the readings cannot tell them from level.")
		return
	}
	level, area := r.turns(b.Level), r.turns(b.Correction)
	if level != "" {
		r.Para("To set the outlets level, as published rules ask: " + level + outcome(b.Level))
	}
	if area != "" && area != level {
		r.Para("To share the flow by the area of each line" + either(level != "", " instead, if the authority agrees: ", ": ") + area + outcome(b.Correction))
	}
}

// turns says which outlets to move; empty where none is to be moved.
func (r *report) turns(c *hydraulic.Correction) string {
	if c == nil || len(c.Turns) == 0 {
		return ""
	}
	var all []string
	for _, t := range c.Turns {
		all = append(all, fmt.Sprintf("%s %s by %s", either(t.By < 0, "lower", "raise"), tidy(t.Name), r.turn(t.By)))
	}
	return english.And(all)
}

// outcome says what a setting makes of the shares.
func outcome(c *hydraulic.Correction) string {
	return fmt.Sprintf(". The largest difference of a share from what it should be is then %s instead of %s.", percent(c.After), percent(c.Worst))
}

// sourceWords names a source with how far it can be trusted.
func sourceWords(s rules.Source) string {
	words := joinedComma(s.Title, s.Section, s.Year)
	st := string(s.Status)
	if s.Status == rules.FromMemory {
		st = "not read in its source"
	}
	if st != "" && st != words {
		words = joinedComma(words, "status: "+st)
	}
	return joinedWords(words, tidy(s.Note))
}

func joinedComma(all ...string) string {
	var out []string
	for _, s := range all {
		if s = tidy(s); s != "" {
			out = append(out, s)
		}
	}
	return strings.Join(out, ", ")
}

// capacity sets the field and the tank against the rule pack.
func (r *report) capacity() {
	c := &r.in.Judgement.Capacity
	if c.Pack == "" && len(c.Trenches) == 0 && c.FieldWords == "" && c.Tank.Words == "" {
		return
	}
	r.Heading("Capacity")
	r.trenchTable(c)
	t := flow.Table{Columns: []flow.Column{{Title: "What", Bold: true}, {Title: "Answer"}, {Title: "How it was reckoned"}, {Title: "Source and status"}}}
	r.capacityRows(&t, c, "")
	if a := r.in.Judgement.Added; a != nil {
		r.capacityRows(&t, a, " with "+count(r.in.Judgement.AddedRooms, "more bedroom", "more bedrooms"))
	}
	r.Table(t)
	for _, m := range c.Missing {
		r.Bullet("", "", sentence(m), stone)
	}
}

func (r *report) trenchTable(c *absorb.Capacity) {
	t := flow.Table{Columns: []flow.Column{{Title: "Trench", Bold: true}, {Title: "Bottom", Right: true}, {Title: "Side", Right: true}, {Title: "Counts", Right: true}, {Title: "In words"}}}
	for _, a := range c.Trenches {
		if !a.Known {
			t.Row(a.Name, "", "", "not known", a.Words)
			continue
		}
		t.Row(a.Name, r.say.FormatArea(a.Bottom), r.say.FormatArea(a.Side), r.say.FormatArea(a.Counted), a.Words)
	}
	r.Table(t)
}

func (r *report) capacityRows(t *flow.Table, c *absorb.Capacity, with string) {
	if c.Flow.Known {
		t.Row("Design flow"+with, r.say.FormatFlow(c.Flow.Daily), c.Flow.Words, sourceWords(c.Flow.Source))
	}
	if c.Required.Known {
		t.Row("Area wanted"+with, r.say.FormatArea(c.Required.Area), joinedWords(string(c.Required.Method), c.Required.Words), sourceWords(c.Required.Source))
	}
	if c.Field != "" || c.FieldWords != "" {
		answer := string(c.Field)
		if c.Present > 0 {
			answer = joinedWords(answer, r.say.FormatArea(c.Present)+" ± "+r.say.FormatArea(normal95*c.PresentSD))
		}
		t.Row("Field"+with, answer, c.FieldWords, joinedWords(string(c.Required.Method), sourceWords(c.Required.Source)))
	}
	if c.Tank.Verdict != "" || c.Tank.Words != "" {
		t.Row("Tank"+with, string(c.Tank.Verdict), c.Tank.Words, sourceWords(c.Tank.Source))
	}
	if c.Pumping.Words != "" {
		t.Row("Pumping"+with, either(c.Pumping.Known, fmt.Sprintf("every %.1f years", c.Pumping.Years), "cannot tell"), c.Pumping.Words, sourceWords(c.Pumping.Source))
	}
}

// storage tells how the field fills and drains.
func (r *report) storage() {
	s, idle := r.in.Judgement.Storage, r.idle()
	if s == nil && len(idle) == 0 {
		return
	}
	r.Heading("How the field fills and drains")
	if len(idle) > 0 {
		r.Para(sentence("Out of use: " + names(idle)))
	}
	if s == nil {
		r.Para("It could not be reckoned.")
		for _, w := range r.in.Judgement.Missing {
			if strings.HasPrefix(w, "How the field") {
				r.Bullet("", "", sentence(w), stone)
			}
		}
		return
	}
	for _, w := range s.Words {
		r.Bullet("", "", sentence(w), stone)
	}
	r.dayFigure(s)
	t := flow.Table{Columns: []flow.Column{{Title: "Trench", Bold: true}, {Title: "Inflow", Right: true}, {Title: "Soaked away", Right: true}, {Title: "Left in it", Right: true}, {Title: "Highest", Right: true}, {Title: "When"}, {Title: "Full to the top"}}}
	r.courses(&t, "As it is", s.Run, s.Now)
	for _, w := range s.Without {
		r.courses(&t, "With "+tidy(string(w.Line))+" out of use", s.Run, w.Result)
	}
	r.Table(t)
	if len(s.Assumptions) > 0 {
		r.Sub("Assumed")
		for _, w := range s.Assumptions {
			r.Bullet("", "", sentence(w), stone)
		}
	}
}

func (r *report) courses(t *flow.Table, title string, run storage.Run, all storage.Result) {
	if all.Backed > 0 {
		title += ": " + r.say.FormatVolume(all.Backed) + " found no room, first at " + clock(all.BackAt)
	}
	t.Row(title)
	for i, c := range all.Courses {
		full := ""
		if i < len(run.Trenches) && run.Trenches[i].OutOfUse {
			full = "out of use"
		}
		if c.Full {
			full = "first at " + clock(c.FullAt) + ", for " + hours(c.FullFor)
		}
		t.Row(c.Name, r.say.FormatVolume(c.Inflow), r.say.FormatVolume(c.Soaked), r.say.FormatVolume(c.End), r.say.Format(c.Highest), clock(c.HighestAt), full)
	}
}

// clock prints a time since the first midnight.
func clock(s storage.Seconds) string {
	if !(s >= 0 && s < 1e9) {
		return "unknown"
	}
	minutes := int(math.Round(float64(s) / 60))
	return fmt.Sprintf("day %d, %02d:%02d", minutes/1440+1, minutes/60%24, minutes%60)
}

func hours(s storage.Seconds) string { return fmt.Sprintf("%.1f h", float64(s)/3600) }

// actions lists what is to be done, as the owner was told.
func (r *report) actions() {
	if len(r.in.Judgement.Actions) == 0 {
		return
	}
	r.Heading("What the owner was told")
	t := flow.Table{Columns: []flow.Column{{Title: "When", Bold: true}, {Title: "What"}, {Title: "Why"}}}
	for _, u := range []judge.Urgency{judge.Now, judge.Soon, judge.CanWait} {
		for _, a := range r.of(u) {
			t.Row(joinedComma([]string{"now", "soon", "next visit"}[u], day(a.By)), r.forOwner(a), a.Why)
		}
	}
	r.Table(t)
}

// closing is the colour of a loop that closes, or does not.
func closing(closes bool) sheet.Colour {
	if closes {
		return grass
	}
	return clay
}
