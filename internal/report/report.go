// Package report sets the owner's report, the county packet and the tie cards
// as pages, and writes reminders as a calendar file.
//
// Pages are scenes of the sheet package, in the fonts whose metrics are given,
// so that any format that draws a sheet draws them. The same input gives the
// same pages: there is no clock, and no order of a map shows. Whatever is
// missing is told on the page and leaves the rest standing.
package report

import (
	"errors"
	"fmt"
	"strings"

	"undersod/core/adjust"
	"undersod/core/judge"
	"undersod/core/setback"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/photo"
	"undersod/internal/report/flow"
	"undersod/internal/report/plans"
)

// Input is what a report is made of. A nil Job, Plan or Judgement stands for
// one that holds nothing; Metrics must be given for pages.
type Input struct {
	Job       *site.Job
	Plan      *adjust.Plan
	Judgement *judge.Judgement
	Metrics   sheet.Metrics
	// Photos holds the prepared pictures by file name. One that could not be
	// read is absent, and Unreadable says why, by file name.
	Photos     map[string]photo.Prepared
	Unreadable map[string]string
	Mistakes   int // in the job file, told on the report
	// Table is every distance against its rule, Checks how the drawing stands
	// against the authority's list, Fits where each thing that is proposed may
	// stand, Unfitted what could not be asked and why, and Capacity what planned
	// bedrooms ask for. What is missing leaves its part out.
	Table    *setback.Table
	Checks   []setback.Check
	Fits     []*setback.Fit
	Unfitted []string
	Capacity *setback.Capacity
}

// report is one report being set.
type report struct {
	in     Input
	judged bool // a judgement was given
	say    unit.Style
	flow.Flow
	flow.Format
	title string // for the file's own title
	book  *plans.Book
}

// begin checks what is needed and chooses the paper.
func begin(in Input) (*report, error) {
	if in.Metrics == nil {
		return nil, errors.New("a report needs the metrics of the fonts that it will be drawn in; give those of the format that draws it")
	}
	r := &report{in: in, judged: in.Judgement != nil}
	if in.Job == nil {
		r.in.Job = &site.Job{}
	}
	if in.Judgement == nil {
		r.in.Judgement = &judge.Judgement{}
	}
	r.say = style(r.in.Job.Show)
	w, h, _ := paperOf(r.in.Job.Show).Size()
	r.Format = flow.Format{Width: w, Height: h, Side: 19, Top: 16, Bottom: 19, Foot: 10}
	r.Flow = flow.Flow{M: flow.NewMeasure(in.Metrics), Width: r.Inner(), Room: r.Format.Room()}
	r.book = &plans.Book{Flow: &r.Flow, Say: r.in.Job.Show.Style(), Unsettled: in.Plan != nil && len(in.Plan.Search.Accused) > 0}
	return r, nil
}

// paperOf is the paper of the written pages: the small one of the job's own
// family, and without one letter, or A4 for a metric job.
func paperOf(show site.Show) sheet.Paper {
	switch sheet.Paper(show.Paper) {
	case sheet.Letter, sheet.Tabloid:
		return sheet.Letter
	case sheet.A4, sheet.A3:
		return sheet.A4
	}
	if metric(style(show)) {
		return sheet.A4
	}
	return sheet.Letter
}

// sizes chooses the sizes of type.
func (r *report) sizes(text, small, cell sheet.MM) {
	r.Text, r.Small, r.Cell = flow.Type(text, sheet.Regular, ink), flow.Type(small, sheet.Regular, stone), flow.Type(cell, sheet.Regular, ink)
}

// siteName names the property.
func (r *report) siteName() string {
	s := &r.in.Job.Site
	for _, n := range []string{s.Name, s.Address, s.Parcel} {
		if n = tidy(n); n != "" {
			return n
		}
	}
	return "a property without a name"
}

// place names the property and where it is, each once.
func (r *report) place() string {
	name, a := r.siteName(), tidy(r.in.Job.Site.Address)
	switch {
	case a == "" || a == name || strings.HasPrefix(name, a):
		return name
	case strings.HasPrefix(a, name):
		return a
	}
	return name + ", " + a
}

// bound sets the gathered items on pages, each with its footer.
func (r *report) bound() []sheet.Scene {
	pages := flow.Paginate(r.Format, r.Items)
	out := make([]sheet.Scene, len(pages))
	for i, l := range pages {
		s := sheet.Scene{Width: r.Format.Width, Height: r.Height}
		if w := l.Whole; w != nil {
			s = *w
			s.Layers = append([]sheet.Layer(nil), w.Layers...)
		} else {
			s.Layers = []sheet.Layer{{Name: "page", Shapes: l.Shapes}}
		}
		s.Title, s.Date = r.title, r.in.Job.Visit.Date
		s.Layers = append(s.Layers, r.footer(s, i+1, len(pages), l.Whole != nil))
		out[i] = s
	}
	return out
}

// footer tells the site, the date and the page. On a finished sheet it stands
// in the margin outside the frame.
func (r *report) footer(s sheet.Scene, n, of int, whole bool) sheet.Layer {
	side, foot := r.Side, r.Foot
	if whole {
		side, foot = 9, 4
	}
	t := flow.Type(2.5, sheet.Regular, stone)
	l := &flow.Page{}
	y := s.Height - foot
	number := fmt.Sprintf("page %d of %d", n, of)
	if !whole {
		l.Rule(sheet.Pos{X: side, Y: y - 4}, sheet.Pos{X: s.Width - side, Y: y - 4}, 0.15, hair)
	}
	words := r.siteName()
	if d := visitDay(r.in.Job); d != "" {
		words += ", measured " + d
	}
	l.Write(sheet.Pos{X: s.Width - side, Y: y}, number, t, sheet.AlignRight)
	l.Write(sheet.Pos{X: side, Y: y}, r.M.Fit(words, t, s.Width-2*side-r.M.Wide(number, t)-4), t, sheet.AlignLeft)
	return sheet.Layer{Name: "page footer", Shapes: l.Shapes}
}

// drawing sets the sheet of the plan as a page of its own, or says why there is
// none.
func (r *report) drawing(papers ...sheet.Paper) { r.drawingOf(nil, papers...) }

// drawingOf sets the sheet with what is proposed on it, nil for nothing.
func (r *report) drawingOf(clear *sheet.Clear, papers ...sheet.Paper) {
	if r.in.Plan == nil {
		r.Para("There is no drawing: no plan was made from the readings.")
		return
	}
	var last error
	for _, p := range papers {
		s, err := sheet.Draw(*r.in.Job, *r.in.Plan, r.in.Metrics, sheet.Options{Paper: p, Findings: Marks(r.in.Job, r.in.Judgement.Runs), Clear: clear})
		if err == nil {
			r.SheetPage(s)
			return
		}
		last = err
	}
	r.Para("There is no drawing: " + sentence(last.Error()))
}
