// Package ties tells how each part of a plan is found again: the readings that
// lead to it as they were written, and how sure its place is. Names are looked up
// in an Index of the job and its plan.
package ties

import (
	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Index finds what a job and its plan know under a name.
type Index struct {
	job    *site.Job
	plan   *adjust.Plan
	at     map[site.Name]int  // index of a point in the plan
	site   map[site.Name]bool // the points of the site
	part   map[site.Name]int  // index of a part by its name
	onRun  map[site.Name]bool // points on a line
	ending map[site.Name]bool // points where a line ends
	read   map[site.Name]bool // points that a tie, a bearing or an offset finds
	fitted map[site.Name]int  // index of an outline of the plan
	runs   map[site.Name]int  // index of a line's length in the plan
}

// NewIndex reads a job and the plan made of it. Both must not change afterwards.
func NewIndex(job *site.Job, plan *adjust.Plan) *Index {
	x := &Index{job: job, plan: plan}
	x.index()
	return x
}

// Given tells whether a point is one of the site's own, not one that the
// adjustment made up.
func (x *Index) Given(n site.Name) bool { return x.site[n] }

// OnLine tells whether a line passes through a point.
func (x *Index) OnLine(n site.Name) bool { return x.onRun[n] }

// EndsLine tells whether a line ends at a point.
func (x *Index) EndsLine(n site.Name) bool { return x.ending[n] }

// Read tells whether a tie, a bearing or an offset finds a point.
func (x *Index) Read(n site.Name) bool { return x.read[n] }

// Part returns a part of the site.
func (x *Index) Part(n site.Name) (site.Part, bool) {
	i, ok := x.part[n]
	if !ok {
		return site.Part{}, false
	}
	return x.job.Site.Parts[i], true
}

// Outline returns the outline of a part, where its probe hits give one.
func (x *Index) Outline(n site.Name) (adjust.Outline, bool) {
	i, ok := x.fitted[n]
	if !ok {
		return adjust.Outline{}, false
	}
	return x.plan.Outlines[i], true
}

// Run returns the length of a line, where it is known.
func (x *Index) Run(n site.Name) (unit.Length, bool) {
	i, ok := x.runs[n]
	if !ok {
		return 0, false
	}
	return x.plan.Footages[i].Length, true
}

// index finds points, parts and lines by name.
func (x *Index) index() {
	x.at = make(map[site.Name]int, len(x.plan.Points))
	for i, p := range x.plan.Points {
		x.at[p.Name] = i
	}
	x.site = make(map[site.Name]bool, len(x.job.Site.Points))
	for _, p := range x.job.Site.Points {
		x.site[p.Name] = true
	}
	x.part = make(map[site.Name]int, len(x.job.Site.Parts))
	for i, p := range x.job.Site.Parts {
		x.part[p.Name] = i
	}
	x.indexRuns()
}

// indexRuns finds what the lines pass and which points were read.
func (x *Index) indexRuns() {
	x.onRun, x.ending = map[site.Name]bool{}, map[site.Name]bool{}
	for _, l := range x.job.Site.Lines {
		for i, n := range l.Path {
			x.onRun[n] = true
			if i == len(l.Path)-1 {
				x.ending[n] = true
			}
		}
	}
	x.read = map[site.Name]bool{}
	for _, r := range x.job.Visit.Readings {
		switch r := r.(type) {
		case site.Tie:
			x.read[r.From], x.read[r.To] = true, true
		case site.Bearing:
			x.read[r.From], x.read[r.To] = true, true
		case site.Offset:
			x.read[r.Point] = true
		}
	}
	x.indexPlan()
}

// indexPlan finds what the plan says of tanks and lines.
func (x *Index) indexPlan() {
	x.fitted, x.runs = map[site.Name]int{}, map[site.Name]int{}
	for i, o := range x.plan.Outlines {
		if o.Fitted {
			x.fitted[o.Part] = i
		}
	}
	for i, f := range x.plan.Footages {
		if f.Known {
			x.runs[f.Line] = i
		}
	}
}

// Farthest bounds the coordinates that are drawn, from the datum.
const Farthest = 100_000 * unit.Metre

// Drawable tells whether a place is fit to be drawn: a number on both axes, and
// not farther off than Farthest.
func Drawable(v planar.Vec) bool {
	return v.East.Abs() < Farthest && v.North.Abs() < Farthest // false for what is no number
}

// Point returns a point of the plan.
func (x *Index) Point(n site.Name) (adjust.Point, bool) {
	i, ok := x.at[n]
	if !ok {
		return adjust.Point{}, false
	}
	return x.plan.Points[i], true
}

// Located tells whether the point may be drawn as located, and where.
func (x *Index) Located(n site.Name) (planar.Vec, bool) {
	p, ok := x.Point(n)
	if !ok || !p.Placed || !Drawable(p.At) || p.State > adjust.TwoAnswers {
		return planar.Vec{}, false
	}
	return p.At, true
}

// IsMark tells whether ties are taken from the point.
func (x *Index) IsMark(n site.Name) bool {
	p, ok := x.Point(n)
	return ok && (p.Role == site.RoleMark || p.Role == site.RoleCorner)
}

// Doubtful tells whether the point has two answers.
func (x *Index) Doubtful(n site.Name) bool {
	p, ok := x.Point(n)
	return ok && p.State == adjust.TwoAnswers && p.Other != nil && Drawable(*p.Other)
}

// All returns where the named points lie, and whether every one is located.
func (x *Index) All(names []site.Name) ([]planar.Vec, bool) {
	out := make([]planar.Vec, 0, len(names))
	for _, n := range names {
		v, ok := x.Located(n)
		if !ok {
			return nil, false
		}
		out = append(out, v)
	}
	return out, len(out) > 0
}

// Judged tells whether an accuracy limit is for the point: a located part or
// the end or bend of a line.
func (x *Index) Judged(p adjust.Point) bool {
	return p.Role == site.RolePart || p.Role == site.RoleBend && x.onRun[p.Name] && x.read[p.Name]
}

// Outlined tells whether the name is a tank drawn by its outline without a
// Point of its own in the plan.
func (x *Index) Outlined(n site.Name) bool {
	_, ok := x.fitted[n]
	p, has := x.Point(n)
	return ok && (!has || !p.Placed)
}

// Moved tells whether accused readings move a point so far that its 95 %
// radius must not be told: beyond that radius, and by more than half an inch.
func (x *Index) Moved(p adjust.Point) bool {
	return p.Doubt > p.Ellipse.Radius && p.Doubt > unit.Inch/2
}
