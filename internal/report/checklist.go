package report

import (
	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/internal/report/flow"
)

// checklist sets what the authority's own list asks of the drawing and how well
// it is located; without such a list, what a record drawing is commonly asked to
// show, which is common practice, no source.
func (r *report) checklist() {
	if len(r.in.Checks) > 0 {
		r.book.Checklist(r.in.Checks, r.in.Table)
		r.Heading("How well the parts are found again")
		r.checkTable(r.foundChecks())
		return
	}
	r.Heading("What the record shows, and what it lacks")
	r.checkTable(r.checks())
	r.Note("A common list, without a source; the authority's own may ask for more.")
}

func (r *report) checkTable(all []check) {
	t := flow.Table{Columns: []flow.Column{{Title: "Item", Bold: true}, {Title: "Here", Alarm: "missing"}, {Title: "In words"}}}
	for _, c := range all {
		here := "yes"
		if !c.ok {
			here = "missing"
		}
		t.Row(c.item, here, c.words)
	}
	r.Table(t)
}

// check is one line of the checklist.
type check struct {
	item  string
	ok    bool
	words string
}

func (r *report) checks() []check {
	s := &r.in.Job.Site
	var out []check
	out = append(out, r.paperChecks()...)
	out = append(out, r.placeChecks()...)
	out = append(out, r.featureChecks()...)
	depth := 0
	for _, reading := range r.in.Job.Visit.Readings {
		if _, is := reading.(site.Depth); is {
			depth++
		}
	}
	out = append(out,
		check{"Depths of lids and parts", depth > 0, either(depth > 0, count(depth, "depth measured", "depths measured"), "no depth was measured")},
		check{"Levels", len(r.in.Judgement.Levels.Heights) > 0 || len(r.in.Job.Visit.Boxes) > 0, either(len(r.in.Judgement.Levels.Heights) > 0 || len(r.in.Job.Visit.Boxes) > 0, "see levels, falls and boxes", "no level was taken")},
		check{"Soil of the field", s.Soil != (site.Soil{}), either(s.Soil != (site.Soil{}), either(tidy(s.Soil.Source) != "", tidy(s.Soil.Source), "stated in the job, its source is not"), "not stated")},
	)
	return out
}

func either(ok bool, yes, no string) string {
	if ok {
		return yes
	}
	return no
}

func (r *report) paperChecks() []check {
	s, v := &r.in.Job.Site, &r.in.Job.Visit
	north := r.in.Plan != nil && r.in.Plan.Frame.North != adjust.NorthUnknown
	return []check{
		{"Site, owner, parcel", tidy(s.Owner) != "" && tidy(s.Parcel) != "" && (tidy(s.Address) != "" || tidy(s.Name) != ""), either(tidy(s.Parcel) == "", "the parcel number is not stated", either(tidy(s.Owner) == "", "the owner is not stated", ""))},
		{"Permit number", tidy(s.Permit) != "", either(tidy(s.Permit) == "", "not stated", tidy(s.Permit))},
		{"Who measured, licence, date", tidy(v.By) != "" && tidy(v.Licence) != "" && tidy(v.Date) != "", either(tidy(v.Licence) == "", "the licence number is not stated", "")},
		{"Scale and scale bar", r.in.Plan != nil, either(r.in.Plan != nil, "on the drawing", "there is no drawing")},
		{"North", north, either(north, "on the drawing", "north was not measured")},
	}
}

// placeChecks tells whether the parts of the system are there and located.
func (r *report) placeChecks() []check {
	tanks, boxes, drains := 0, 0, 0
	for _, p := range r.in.Job.Site.Parts {
		switch p.Kind {
		case site.SepticTank, site.PumpTank:
			tanks++
		case site.DistributionBox, site.DropBox:
			boxes++
		}
	}
	for _, l := range r.in.Job.Site.Lines {
		if l.Kind == site.DrainLine {
			drains++
		}
	}
	house := len(r.in.Job.Site.Buildings)
	return append([]check{
		{"Buildings", house > 0, either(house > 0, count(house, "building", "buildings"), "none entered")},
		{"Tank", tanks > 0, either(tanks > 0, count(tanks, "tank", "tanks"), "none entered")},
		{"Distribution or drop box", boxes > 0, either(boxes > 0, count(boxes, "box", "boxes"), "none entered")},
		{"Drain lines", drains > 0, either(drains > 0, count(drains, "line", "lines"), "none entered")},
	}, r.foundChecks()...)
}

// foundChecks tells whether the parts can be found again.
func (r *report) foundChecks() []check {
	located, all := 0, r.parts()
	for _, p := range all {
		if p.State == adjust.Determined && p.Placed {
			located++
		}
	}
	return []check{
		{"Every part located", located == len(all) && located > 0, either(located == len(all) && located > 0, "all located", r.notLocated(all))},
		{"Each part tied to two marks", r.untied() == "" && len(all) > 0, either(r.untied() == "", "", "not tied to two marks: "+r.untied())},
		r.limitCheck(all),
	}
}

func (r *report) notLocated(all []adjust.Point) string {
	var lost []site.Name
	for _, p := range all {
		if p.State != adjust.Determined || !p.Placed {
			lost = append(lost, p.Name)
		}
	}
	if len(lost) == 0 {
		return "no part was entered"
	}
	return "not located: " + names(lost)
}

// untied names the parts that fewer than two marks find again, by tape or by an
// offset from the line of two marks.
func (r *report) untied() string {
	marks, ties := map[site.Name]bool{}, map[site.Name]map[site.Name]bool{}
	for _, p := range r.in.Job.Site.Points {
		marks[p.Name] = p.IsMark()
	}
	note := func(part, mark site.Name) {
		if marks[mark] && !marks[part] {
			if ties[part] == nil {
				ties[part] = map[site.Name]bool{}
			}
			ties[part][mark] = true
		}
	}
	for _, reading := range r.in.Job.Visit.Readings {
		switch t := reading.(type) {
		case site.Tie:
			note(t.From, t.To)
			note(t.To, t.From)
		case site.Offset:
			note(t.Point, t.From)
			note(t.Point, t.To)
		}
	}
	var out []site.Name
	for _, p := range r.parts() {
		if len(ties[p.Name]) < 2 {
			out = append(out, p.Name)
		}
	}
	return names(out)
}

// limitCheck holds the located parts against the limit that the job states.
func (r *report) limitCheck(all []adjust.Point) check {
	c := check{item: "Every part within the stated limit"}
	a := r.in.Job.Visit.Accuracy
	if a == nil {
		c.words = "the job states no limit"
		return c
	}
	var over []site.Name
	for _, p := range all {
		if !p.Placed || p.State != adjust.Determined || !(max(p.Ellipse.Radius, p.Doubt) <= a.Limit) {
			over = append(over, p.Name)
		}
	}
	c.ok = len(over) == 0 && len(all) > 0
	c.words = within(r.say, a.Limit) + " with 95 %; " + stated(a.Source)
	if len(over) > 0 {
		c.words += "; not within it: " + names(over)
	}
	return c
}

// featureChecks tells which surroundings were entered. A kind that is not there
// may simply not be on the property.
func (r *report) featureChecks() []check {
	has := map[site.FeatureKind]int{}
	for _, f := range r.in.Job.Site.Features {
		has[f.Kind]++
	}
	var out []check
	for _, k := range []struct {
		item string
		kind site.FeatureKind
	}{
		{"Wells", site.Well}, {"Property lines", site.PropertyLine}, {"Water lines", site.WaterLine},
		{"Driveways", site.Driveway}, {"Surface water", site.SurfaceWater}, {"Reserve area", site.ReserveArea},
	} {
		n := has[k.kind]
		out = append(out, check{k.item, n > 0, either(n > 0, "on the drawing", "none entered; say on the drawing if there is none")})
	}
	return out
}
