package report

import (
	"undersod/core/figure"
	"undersod/core/judge"
	"undersod/core/look"
	"undersod/core/site"
)

// figureSay is how the figures of this report are printed.
func (r *report) figureSay() figure.Say {
	return figure.Say{Style: r.say, Metrics: r.M, Width: r.Flow.Width}
}

// strips sets each line that a camera went down as a strip of footages.
func (r *report) strips() {
	runs := map[site.Name][]look.Run{}
	var order []site.Name
	for _, run := range r.in.Judgement.Runs {
		if len(runs[run.Line]) == 0 {
			order = append(order, run.Line)
		}
		runs[run.Line] = append(runs[run.Line], run)
	}
	for _, line := range order {
		say := r.figureSay()
		for _, l := range r.in.Job.Site.Lines {
			if l.Name == line {
				say.Bore = l.Bore
			}
		}
		r.Figure(figure.Strip(line, runs[line], r.in.Judgement.Levels.Falls, say), "")
	}
}

// boxFigure sets an opened box in section, with the water of the inflow that
// corrections are reckoned at.
func (r *report) boxFigure(b judge.Box, measured site.Box) {
	if len(b.Outlets) == 0 {
		return
	}
	at, _ := b.Reference()
	r.Figure(figure.Section(b, measured, at.Split, r.figureSay()), "")
}

// dayFigure sets the water in the trenches as curves.
func (r *report) dayFigure(s *judge.Storage) {
	r.Figure(figure.Day(s.Run, s.Now, r.figureSay()), "")
}
