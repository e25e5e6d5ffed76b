package report

import (
	"undersod/core/look"
	"undersod/internal/report/flow"
)

// camera lists what was seen in lines and at parts.
func (r *report) camera() {
	j := r.in.Judgement
	if len(j.Runs)+len(j.Parts) == 0 {
		return
	}
	r.Heading("What was seen")
	r.strips()
	t := flow.Table{Columns: []flow.Column{{Title: "Counter", Right: true}, {Title: "Along the line", Right: true}, {Title: "What", Bold: true}, {Title: "Weight"}, {Title: "East, " + r.groundUnit(), Right: true},
		{Title: "North, " + r.groundUnit(), Right: true}, {Title: "95 % within", Right: true}, {Title: "In words, and what stands near"}}}
	for _, run := range j.Runs {
		t.Row(joinedComma(string(run.Line), run.Words))
		for _, f := range run.Findings {
			r.seen(&t, f)
		}
	}
	if len(j.Parts) > 0 {
		t.Row("At parts")
	}
	for _, f := range j.Parts {
		r.seen(&t, f)
	}
	r.Table(t)
}

// seen sets one finding.
func (r *report) seen(t *flow.Table, f look.Finding) {
	counter, along, east, north, radius := "", "", "", "", ""
	if f.At != nil {
		counter = tidy(f.At.Text)
		if to := f.Finding.To; to != nil {
			counter += " to " + tidy(to.Text)
		}
		along = station(r.say, f.From.Station)
		if f.To != nil {
			along += " to " + station(r.say, f.To.Station)
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
	t.Row(counter, along, what, f.Grade.String(), east, north, radius, joined(words...))
}
