package bounds

import (
	"slices"

	"undersod/core/adjust"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// siteOf is a job and its plan with how it prints lengths.
type siteOf struct {
	job  *site.Job
	plan *adjust.Plan
	say  unit.Style
}

// Of weighs everything of a site that a limit bounds and that needs no distance
// between shapes: sizes of trenches, depths of lids, 95 % radii; nothing for
// another limit. Job and plan are not nil.
func Of(l rules.Limit, job *site.Job, plan *adjust.Plan) []Row {
	s := &siteOf{job, plan, job.Show.Style()}
	switch l.On {
	case rules.OnTrenchWidth, rules.OnTrenchLength, rules.OnTrenchDepth, rules.OnStoneBelow, rules.OnStoneAbove:
		return s.trenchLimits(l)
	case rules.OnBoxLid:
		return s.lidLimits(l)
	case rules.OnAccuracy:
		return s.accuracyLimits(l)
	}
	return nil
}

// trenchLimits weighs what belongs to each trench alone. Sizes that were entered
// count as they are written; the length has its uncertainty from the plan.
func (s *siteOf) trenchLimits(l rules.Limit) []Row {
	var out []Row
	for i := range s.job.Site.Lines {
		b := &s.job.Site.Lines[i]
		if b.Kind != site.DrainLine || b.OutOfUse {
			continue
		}
		var size unit.Length
		switch l.On {
		case rules.OnTrenchWidth:
			size = b.TrenchWidth
		case rules.OnTrenchDepth:
			size = written(b.TrenchDepth)
		case rules.OnStoneBelow:
			size = written(b.StoneBelow)
		case rules.OnStoneAbove:
			size = written(b.StoneAbove)
		case rules.OnTrenchLength:
			out = append(out, s.lengthLimit(l, b))
			continue
		}
		lost := ""
		if Sane(size) == 0 {
			lost = "it is not entered: add " + keyOf(l.On) + " to " + string(b.Name) + " under lines"
			size = 0
		}
		out = append(out, Limited(l, s.say, string(l.On)+" of "+string(b.Name), size, 0, lost))
	}
	return out
}

// keyOf is the job's key for what a limit bounds, with an example.
func keyOf(on rules.LimitOn) string {
	switch on {
	case rules.OnTrenchWidth:
		return "trench width: 3 ft"
	case rules.OnTrenchDepth:
		return `trench depth: 30"`
	case rules.OnStoneBelow:
		return `stone below: 12"`
	}
	return `stone above: 2"`
}

func written(w *unit.Written) unit.Length {
	if w == nil {
		return 0
	}
	return w.Length
}

func (s *siteOf) lengthLimit(l rules.Limit, line *site.Line) Row {
	what := string(l.On) + " of " + string(line.Name)
	for _, f := range s.plan.Footages {
		if f.Line == line.Name && f.Known && Sane(f.Length) > 0 {
			return Limited(l, s.say, what, f.Length, Sane(f.SD)*Normal95, "")
		}
	}
	return Limited(l, s.say, what, 0, 0, "not every point of the line is located")
}

// lidLimits weighs how deep the lids of boxes lie.
func (s *siteOf) lidLimits(l rules.Limit) []Row {
	var out []Row
	for _, b := range s.job.Site.Parts {
		if b.Kind != site.DistributionBox && b.Kind != site.DropBox {
			continue
		}
		depth, within, ok := s.depth(b.Name)
		lost := ""
		if !ok {
			lost = "no depth is read: add depths: {" + string(b.Name) + `: 14"}`
		}
		out = append(out, Limited(l, s.say, string(l.On)+" of "+string(b.Name), depth, within, lost))
	}
	return out
}

// depth is how far a part lies below the ground, by the first reading of it.
func (s *siteOf) depth(name site.Name) (depth, within unit.Length, ok bool) {
	for _, r := range s.job.Visit.Readings {
		d, is := r.(site.Depth)
		if p, pointer := r.(*site.Depth); pointer && p != nil {
			d, is = *p, true
		}
		if !is || d.Point != name || d.SetAside != "" || !(d.Read.Length >= 0 && d.Read.Length <= Farthest) {
			continue
		}
		if d.SD != nil {
			within = Sane(*d.SD) * Normal95
		}
		return d.Read.Length, within, true
	}
	return 0, 0, false
}

// accuracyLimits weighs the 95 % radius of every part that has one place: of
// those found by an outline, of its middle.
func (s *siteOf) accuracyLimits(l rules.Limit) []Row {
	var out []Row
	for _, p := range s.job.Site.Parts {
		r, ok := s.radius95(p.Name)
		lost := ""
		if !ok {
			lost = string(p.Name) + " is not located"
		}
		out = append(out, Limited(l, s.say, "95 % radius of "+string(p.Name), r, 0, lost))
	}
	for _, q := range s.plan.Points {
		if q.Role == site.RoleBend && q.State == adjust.Determined && q.Placed && s.onLine(q.Name) {
			out = append(out, Limited(l, s.say, "95 % radius of "+string(q.Name), adjust.Radius95(q.Sigma.Spread()), 0, ""))
		}
	}
	return out
}

// onLine tells whether a point that is no part of its own lies on a line.
func (s *siteOf) onLine(name site.Name) bool {
	for _, p := range s.job.Site.Parts {
		if p.Name == name {
			return false
		}
	}
	for _, l := range s.job.Site.Lines {
		if slices.Contains(l.Path, name) {
			return true
		}
	}
	return false
}

// radius95 is the radius of the circle that holds a part with 95 %; false where
// it is not located.
func (s *siteOf) radius95(name site.Name) (unit.Length, bool) {
	if i := slices.IndexFunc(s.plan.Points, func(p adjust.Point) bool { return p.Name == name }); i >= 0 && s.plan.Points[i].State == adjust.Determined && s.plan.Points[i].Placed {
		return adjust.Radius95(s.plan.Points[i].Sigma.Spread()), true
	}
	for i := range s.plan.Outlines {
		if o := &s.plan.Outlines[i]; o.Part == name && o.Fitted {
			return adjust.Radius95(o.Sigma.Spread()), true
		}
	}
	return 0, false
}
