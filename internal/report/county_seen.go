package report

import (
	"undersod/core/judge"
	"undersod/core/look"
	"undersod/core/site"
)

// camera lists what was seen in lines and at parts.
func (r *report) camera() {
	j := r.in.Judgement
	if len(j.Runs)+len(j.Parts) == 0 {
		return
	}
	r.heading("What was seen")
	r.strips()
	t := table{columns: []column{{title: "Counter", right: true}, {title: "Along the line", right: true}, {title: "What", bold: true}, {title: "Weight"}, {title: "East, " + r.groundUnit(), right: true},
		{title: "North, " + r.groundUnit(), right: true}, {title: "95 % within", right: true}, {title: "In words, and what stands near"}}}
	for _, run := range j.Runs {
		t.row(joinedComma(string(run.Line), run.Words))
		for _, f := range run.Findings {
			r.seen(&t, f)
		}
	}
	if len(j.Parts) > 0 {
		t.row("At parts")
	}
	for _, f := range j.Parts {
		r.seen(&t, f)
	}
	r.table(t)
}

// seen sets one finding.
func (r *report) seen(t *table, f look.Finding) {
	counter, along, east, north, radius := "", "", "", "", ""
	if f.At != nil {
		counter = tidy(f.At.Text)
		if to := f.Finding.To; to != nil {
			counter += " to " + tidy(to.Text)
		}
		along = r.station(f.From.Station)
		if f.To != nil {
			along += " to " + r.station(f.To.Station)
		}
	}
	if f.From.Known {
		east, north, radius = r.ground(f.From.At.East), r.ground(f.From.At.North), within(r.say, f.From.Radius)
	}
	what := string(f.What)
	if f.Line == "" && f.Part != "" {
		what = tidy(string(f.Part)) + ": " + what
	}
	words := []string{f.Words, f.Why, f.Note}
	for _, n := range f.Near {
		words = append(words, n.Words)
	}
	t.row(counter, along, what, f.Grade.String(), east, north, radius, joined(words...))
}

// strips sets each line as a strip of footages.
func (r *report) strips() {}

// boxFigure sets an opened box in section.
func (r *report) boxFigure(b judge.Box, measured site.Box) {}

// dayFigure sets the routed days as curves.
func (r *report) dayFigure(s *judge.Storage) {}
