package report

import (
	"undersod/core/adjust"
	"undersod/core/caution"
	"undersod/core/overlay"
	"undersod/core/setback"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/internal/report/flow"
)

// County sets the packet for the authority: what is claimed and by whom, what
// the drawing shows and lacks, the drawing itself at its full size, the tables
// with their uncertainties, the findings, and how the numbers were made. It
// fails only where Metrics is nil.
func County(in Input) ([]sheet.Scene, error) {
	r, err := begin(in)
	if err != nil {
		return nil, err
	}
	r.sizes(3.1, 2.5, 2.6)
	r.title = "Record packet: " + r.siteName()
	r.countyHead()
	r.countyVerdict()
	r.checklist()
	r.signature()
	r.drawing(sheet.PaperAuto)
	r.countyTables()
	r.countyPhotos()
	r.cautions()
	r.method()
	return r.bound(), nil
}

// countyTables sets everything that was measured, seen and judged.
func (r *report) countyTables() {
	r.partTable()
	r.outlineTable()
	r.lineTable()
	r.book.Setbacks(r.in.Table)
	r.tieTable()
	r.otherReadings()
	r.disagreements()
	r.permitTable()
	r.oldDrawing()
	r.levelTables()
	r.boxes()
	r.capacity()
	r.storage()
	r.camera()
	r.actions()
	r.book.Proposals(r.in.Fits, r.in.Unfitted, r.in.Capacity, r.proposed)
}

// proposed sets the drawing of one thing that the job proposes.
func (r *report) proposed(f *setback.Fit) {
	r.drawingOf(overlay.OfFit(r.in.Job, f), sheet.PaperAuto)
}

func (r *report) countyHead() {
	s, v := &r.in.Job.Site, &r.in.Job.Visit
	title := tidy(r.in.Job.Show.Title)
	if title == "" {
		title = "Record of an onsite sewage system"
	}
	r.Flow.Title(title)
	r.Lines(r.place(), r.Text.InBold(), 0, 0)
	r.KeepLast()
	t := flow.Table{Columns: []flow.Column{{Bold: true}, {}, {Bold: true}, {}}}
	pairs := [][2]string{
		{"Address", s.Address}, {"Permit", s.Permit}, {"County", s.County}, {"Authority", s.Authority}, {"Parcel", s.Parcel}, {"Owner", s.Owner},
		{"Measured on", visitDay(r.in.Job)}, {"Measured by", v.By}, {"Company", v.Company}, {"Licence", v.Licence},
	}
	for i := 0; i < len(pairs); i += 2 {
		a, b := pairs[i], pairs[i+1]
		t.Row(a[0], stated(a[1]), b[0], stated(b[1]))
	}
	r.Flow.Bare(t)
}

func stated(s string) string {
	if s = tidy(s); s == "" {
		return "not stated"
	}
	return s
}

// countyVerdict says first whether the drawing is final.
func (r *report) countyVerdict() {
	ground, bar, words := leaf, grass, "The record is complete: the readings agree, and every drawn part is checked."
	switch {
	case r.in.Plan == nil:
		ground, bar, words = pale, clay, "Not final: no plan was made from the readings."
	case r.in.Plan.Verdict.Fill == adjust.FillNo:
		ground, bar, words = pale, clay, "Not final: readings disagree, or a part is not located."
	case r.in.Plan.Verdict.Fill == adjust.FillUnsure:
		ground, bar, words = straw, ochre, "Not final: some drawn part rests on readings that nothing checks."
	}
	all := []flow.Said{flow.Say(words, flow.Type(1.15*r.Text.Size, sheet.Bold, ink))}
	if r.in.Plan != nil {
		all = append(all, flow.Say(sentence(r.in.Plan.Verdict.Words), r.Text))
		for i, why := range r.in.Plan.Verdict.Reasons {
			if i == 4 {
				all = append(all, flow.Say("Further reasons are among the readings that disagree, below.", r.Small.In(ink)))
				break
			}
			all = append(all, flow.Say(sentence(why), r.Small.In(ink)))
		}
	}
	if n := r.in.Mistakes; n > 0 {
		all = append(all, flow.Say(sentence(count(n, "entry of the job file could not be read and is", "entries of the job file could not be read and are")+" not part of this record"), r.Text))
	}
	if !r.judged {
		all = append(all, flow.Say("Nothing was judged: condition, capacity and the permit are not part of this record.", r.Text))
	}
	r.Callout(ground, bar, all...)
}

// signature leaves room for a hand.
func (r *report) signature() {
	r.Heading("Signed")
	r.Para("The entries above and on the following pages are what was measured and seen on the day named. " + caution.Decides)
	r.KeepLast()
	f := r.Small
	for i, label := range []string{"Measured by (signature, licence number, date)", "Received by the authority (name, signature, date)"} {
		h := sheet.MM(13)
		r.Add(flow.Item{Height: h + r.M.Lead(f), Keep: i == 0, Draw: func(l *flow.Page, at sheet.Pos) {
			l.Rule(sheet.Pos{X: at.X, Y: at.Y + h}, sheet.Pos{X: at.X + r.width(), Y: at.Y + h}, 0.25, ink)
			l.Write(sheet.Pos{X: at.X, Y: at.Y + h + 0.5 + r.M.Rise(f)}, label, f, sheet.AlignLeft)
		}})
	}
}

func (r *report) width() sheet.MM { return r.Flow.Width }

// countyPhotos sets the photos, three in a row.
func (r *report) countyPhotos() {
	if all := album(r.in); len(all) > 0 {
		r.Heading("Photos")
		r.pictures(all, 3)
	}
}

// parts are the located points of the system: its parts, and the bends and ends
// of its lines, in the order of the site.
func (r *report) parts() []adjust.Point {
	if r.in.Plan == nil {
		return nil
	}
	on := map[site.Name]bool{}
	for _, l := range r.in.Job.Site.Lines {
		for _, n := range l.Path {
			on[n] = true
		}
	}
	var out []adjust.Point
	for _, p := range r.in.Plan.Points {
		if p.Role == site.RolePart || on[p.Name] && p.Role != site.RoleCorner && p.Role != site.RoleMark {
			out = append(out, p)
		}
	}
	return out
}

// method says how the numbers were made.
func (r *report) method() {
	r.Heading("How the numbers were made")
	r.Para("Readings are kept exactly as written. All of them together were adjusted by least squares, each weighted by the standard deviation of its instrument, with the right angles and sides of buildings as further readings. The adjusted place of a point is the one that leaves the weighted squares of all misfits least.")
	r.Para("Coordinates are on the ground plane at the site, east and north of the point that holds the plan. The 95 % radius of a part is that of the circle about its drawn place that holds it with a probability of 95 % if the stated deviations are right; it counts from the point and direction that hold the plan. It does not speak of errors common to all readings, as a tape that is long, nor of a mark that was moved since.")
	if p := r.in.Plan; p != nil {
		if w := sentence(p.Frame.Why); w != "" {
			r.Para("Held: " + w)
		}
		r.Para(globalWords(p))
	}
	r.Para("A reading is called in question where its misfit is larger than chance allows among so many readings. Such a reading stays in the record as written; it is set aside or corrected only where the person who measured says so. A part that only as many readings reach as are needed to place it is called not checked: a slip there would go unnoticed.")
	r.Para("A measured length, level or area agrees with the permit where the difference is within its own 95 % uncertainty and half of the last place that the record writes: one that says 60 ft may mean anything from 59.5 ft to 60.5 ft. Shares of flow, areas and intervals are reckoned by the method and from the source printed beside each; where a source is marked as not read, as from memory or as common practice, it is not law. " + caution.Decides)
	if pack := tidy(r.in.Judgement.Pack); pack != "" {
		r.Note("Rule pack: " + pack + ".")
	}
	for _, n := range r.in.Job.Visit.Notes {
		r.Note("Note of the visit: " + sentence(n))
	}
}
