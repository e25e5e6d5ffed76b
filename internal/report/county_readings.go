package report

import (
	"fmt"
	"slices"
	"strings"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/report/flow"
)

// tied is one tie of a part.
type tied struct {
	part, mark site.Name
	tie        site.Tie
}

// tiesOf lists the ties from a mark to a part, by part.
func (r *report) tiesOf() []tied {
	marks := map[site.Name]bool{}
	for _, p := range r.in.Job.Site.Points {
		marks[p.Name] = p.IsMark()
	}
	place := map[site.Name]int{}
	for i, p := range r.parts() {
		place[p.Name] = i + 1
	}
	var out []tied
	for _, reading := range r.in.Job.Visit.Readings {
		t, is := reading.(site.Tie)
		switch {
		case !is:
		case marks[t.From] && place[t.To] > 0:
			out = append(out, tied{t.To, t.From, t})
		case marks[t.To] && place[t.From] > 0:
			out = append(out, tied{t.From, t.To, t})
		}
	}
	slices.SortStableFunc(out, func(a, b tied) int { return place[a.part] - place[b.part] })
	return out
}

// byID finds the readings of the plan.
func (r *report) byID() map[site.ReadingID]*adjust.Reading {
	out := map[site.ReadingID]*adjust.Reading{}
	if r.in.Plan != nil {
		for i := range r.in.Plan.Readings {
			if p := &r.in.Plan.Readings[i]; p.Source == adjust.FromReading {
				out[p.ID] = p
			}
		}
	}
	return out
}

// tieTable lists the tape distances that find the parts again.
func (r *report) tieTable() {
	ties := r.tiesOf()
	if len(ties) == 0 {
		return
	}
	r.Heading("Ties: how to find the parts again")
	t := flow.Table{Columns: []flow.Column{{Title: "Part", Bold: true}, {Title: "From"}, {Title: "Read", Right: true}, {Title: "On the plan", Right: true},
		{Title: "Plan minus read", Right: true}, {Title: "Checked", Right: true}, {Title: "Remark"}}}
	plan := r.byID()
	before := site.Name("")
	for i, d := range ties {
		name := tidy(string(d.part))
		if i > 0 && d.part == before {
			name = ""
		}
		before = d.part
		cells := []string{name, tidy(string(d.mark)), tidy(d.tie.Read.Text), "", "", "", ""}
		if p := plan[d.tie.ID]; p != nil {
			if len(p.Components) > 0 {
				c := p.Components[0]
				cells[3], cells[4], cells[5] = r.say.Format(unit.Length(c.Adjusted)), r.off(unit.Length(c.Residual)), percent(c.Redundancy)
			}
			cells[6] = remark(p)
		}
		t.Row(cells...)
	}
	r.Table(t)
	r.Note("Checked is the share of a slip in the reading that the other readings would show.")
}

// remark says what the adjustment did with a reading.
func remark(p *adjust.Reading) string {
	var all []string
	if p.Flagged {
		all = append(all, "disagrees")
	}
	switch p.Use {
	case adjust.SetAside:
		all = append(all, "set aside")
	case adjust.Unusable:
		all = append(all, "cannot be right")
	}
	if c := tidy(p.Corrected); c != "" {
		all = append(all, "corrected to "+c)
	}
	if w := tidy(p.Why); w != "" && p.Use != adjust.Used && p.Use != adjust.Idle {
		all = append(all, w)
	}
	return strings.Join(all, "; ")
}

// otherReadings lists every reading that is not a tie of a part.
func (r *report) otherReadings() {
	if r.in.Plan == nil {
		return
	}
	told := map[site.ReadingID]bool{}
	for _, d := range r.tiesOf() {
		told[d.tie.ID] = true
	}
	t := flow.Table{Columns: []flow.Column{{Title: "Reading"}, {Title: "As written", Right: true}, {Title: "Misfit", Right: true}, {Title: "Reading"}, {Title: "As written", Right: true}, {Title: "Misfit", Right: true}}}
	var cells []string
	for i := range r.in.Plan.Readings {
		p := &r.in.Plan.Readings[i]
		if p.Source == adjust.FromReading && told[p.ID] || p.Source == adjust.FromSquare {
			continue
		}
		cells = append(cells, joinedWords(tidy(p.Words), remark(p)), p.Written, r.misfits(p))
	}
	for len(cells) > 0 { // two readings to a row
		n := min(len(cells), 6)
		t.Row(cells[:n]...)
		cells = cells[n:]
	}
	if len(t.Rows) > 0 {
		r.Heading("Further readings")
		r.Table(t)
		r.Note("The misfit is what the plan says minus what was read.")
	}
}

// misfits prints the misfits of a reading's numbers.
func (r *report) misfits(p *adjust.Reading) string {
	var all []string
	for _, c := range p.Components {
		text := r.off(unit.Length(c.Residual))
		if c.Angular {
			text = fmt.Sprintf("%+.1f°", unit.Angle(c.Residual).Degrees())
		}
		if len(p.Components) > 1 {
			text = c.What + " " + text
		}
		all = append(all, text)
	}
	return strings.Join(all, ", ")
}

// disagreements tells which readings do not agree, and what was set aside.
func (r *report) disagreements() {
	r.Heading("Readings that disagree or are set aside")
	first := len(r.Items)
	if p := r.in.Plan; p != nil {
		for _, a := range p.Search.Accused {
			r.Bullet("", "", sentence(a.Words), clay)
			for i, h := range a.Hypotheses {
				if i < 3 && h.Words != "" {
					r.Lines("It may be: "+tidy(h.Words)+".", r.Cell, 1.25*r.Text.Size, 0)
				}
			}
		}
		for i := range p.Readings {
			if d := &p.Readings[i]; d.Use == adjust.SetAside || d.Use == adjust.Unusable || d.Corrected != "" {
				r.Bullet("", "", sentence(tidy(d.Words)+", written "+tidy(d.Written)+": "+remark(d)), clay)
			}
		}
		if p.Search.Unexplained {
			r.Bullet("", "", "The readings disagree even with the accused ones set aside.", clay)
		}
	}
	for _, p := range r.in.Judgement.Problems {
		r.Bullet("", "", sentence(problemWords(p)), clay)
	}
	if len(r.Items) == first {
		r.Para("None.")
	}
	r.unchecked()
}

func problemWords(p site.Problem) string {
	words := tidy(p.Subject)
	if f := tidy(p.Found); f != "" {
		words += ": found " + f
	}
	if e := tidy(p.Expected); e != "" {
		words += "; expected " + e
	}
	if a := tidy(p.Advice); a != "" {
		words = joined(words, a)
	}
	return words
}

// unchecked names the readings that nothing checks.
func (r *report) unchecked() {
	if r.in.Plan == nil || len(r.in.Plan.Search.Unchecked) == 0 {
		return
	}
	var all []string
	plan := r.byID()
	for _, id := range r.in.Plan.Search.Unchecked {
		words := string(id)
		if p := plan[id]; p != nil && p.Words != "" {
			words = p.Words
		}
		all = append(all, tidy(words))
	}
	r.Para("Checked by nothing: " + english.And(all) + ".")
}

// globalWords tells the test of the whole adjustment.
func globalWords(p *adjust.Plan) string {
	g := p.Global
	if g.Freedom <= 0 {
		return "No reading is spare, so nothing tests the adjustment as a whole."
	}
	words := fmt.Sprintf("Test of the whole: weighted squares of misfits %.1f with %d spare readings, limit %.1f at significance %g: %s.",
		g.Statistic, g.Freedom, g.Upper, g.Significance, either(g.Passed, "passed", "not passed"))
	if g.TooGood {
		words += " The readings agree better than their stated deviations, which may be too large."
	}
	return words
}
