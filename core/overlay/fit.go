package overlay

import (
	"cmp"
	"math"
	"slices"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/setback"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

// OfFit returns what a sheet shows of a fit: the ground that the parts of the
// system keep free of it, where its middle may lie, its outline where it is to
// stand or fits best, what else is proposed, and the dimensions to the two nearest
// sides of the lot, to whatever it breaks or comes too close to, to what has the
// smallest margins, and to the parts that limit it. A band that falls apart is
// told as several bands of the same words.
func OfFit(job *site.Job, f *setback.Fit) *sheet.Clear {
	out := &sheet.Clear{}
	if f == nil {
		return out
	}
	if job == nil {
		job = &site.Job{}
	}
	say := style(job)
	out.Bands = append(bands(kept(job, f), say), inside(f, say)...)
	for _, p := range f.Region.Pieces {
		out.Allowed = append(out.Allowed, sheet.Patch(p))
	}
	if len(out.Allowed) > 0 {
		out.AllowedAs = "where the middle of " + f.Question.Name + " may lie"
		if len(f.Question.Footprint.Corners) == 1 {
			out.AllowedAs = "where " + f.Question.Name + " may lie"
		}
	}
	at, limits := f.Best.Placement, f.Limits
	if f.Question.Stated != nil {
		at, limits = *f.Question.Stated, f.Stated
	}
	if len(f.Question.Footprint.Corners) == 0 {
		return out
	}
	foot := f.Question.Footprint.Placed(at)
	words := []string{f.Question.Name}
	if f.Question.Size != "" && len(foot.Points) > 1 {
		words = append(words, f.Question.Size)
	}
	out.Title = Title(f)
	out.Proposed = []sheet.Proposal{{Name: site.Name(f.Question.Name), Outline: planar.Ring(foot.Points), Words: words}}
	out.Proposed = append(out.Proposed, proposals(f.Others)...)
	out.Distances = append(sides(f, foot, limits, say), limiting(job, limits, say)...)
	for _, l := range limits {
		if l.Required > 0 {
			out.Sources = named(out.Sources, l.Source)
		}
	}
	return out
}

// proposals is what stands at its stated place as a sheet draws it.
func proposals(list []setback.Stands) []sheet.Proposal {
	var out []sheet.Proposal
	for _, s := range list {
		p := sheet.Proposal{Name: s.Thing.Name, Outline: planar.Ring(s.Outline), Words: []string{string(s.Thing.Name)}}
		if s.Size != "" {
			p.Words = append(p.Words, s.Size)
		}
		out = append(out, p)
	}
	return out
}

// inside is how far the setback from the property line reaches into the lot.
func inside(f *setback.Fit, say unit.Style) []sheet.Band {
	if len(f.Ground.Lot) == 0 || !(f.Ground.Setback > 0) {
		return nil
	}
	r, err := clearance.Allowed(clearance.Ground{Lot: f.Ground.Lot, Setback: f.Ground.Setback}, clearance.Point(), 0, BandTolerance)
	if err != nil {
		return nil // a lot that cannot be drawn has no band
	}
	what := "the property line"
	if l, ok := ofLot(f, append(slices.Clone(f.Limits), f.Stated...)); ok {
		what = string(l.Thing.Name)
	}
	var out []sheet.Band
	for _, p := range r.Pieces {
		out = append(out, sheet.Band{Area: sheet.Patch(p), Words: say.Format(f.Ground.Setback) + " inside " + what})
	}
	return out
}

// Title is the title of the drawing of something proposed.
func Title(f *setback.Fit) string { return "Planned: " + f.Question.Named() }

// kept is the parts that keep free.
func kept(job *site.Job, f *setback.Fit) []setback.Kept {
	kinds := kindsOf(job)
	var out []setback.Kept
	for _, o := range f.Ground.Obstacles {
		if kind, ok := kinds[site.Name(o.Name)]; ok && o.Setback > 0 {
			out = append(out, setback.Kept{Part: setback.Thing{Name: site.Name(o.Name), Kind: kind}, Shape: o.Shape, By: o.Setback})
		}
	}
	return out
}

// kindsOf is the kinds of the parts of the system that keep distances, by name.
func kindsOf(job *site.Job) map[site.Name]string {
	out := map[site.Name]string{}
	for _, f := range job.Site.Features {
		if f.Kind == site.ReserveArea {
			out[f.Name] = string(f.Kind)
		}
	}
	for _, l := range job.Site.Lines {
		out[l.Name] = string(l.Kind)
	}
	for _, p := range job.Site.Parts {
		out[p.Name] = string(p.Kind)
	}
	return out
}

// side is one side of the lot as seen from a footprint.
type side struct {
	gap  clearance.Gap
	step planar.Vec
}

// sides is the dimensions to the two nearest sides of the lot that do not run
// the same way: two marks on one straight side make no second.
func sides(f *setback.Fit, foot clearance.Shape, limits []setback.Limiting, say unit.Style) []sheet.Distance {
	lot := f.Ground.Lot
	var all []side
	for i, a := range lot {
		b := lot[(i+1)%len(lot)]
		all = append(all, side{clearance.Distance(foot, clearance.Shape{Points: []planar.Vec{a, b}}), b.Minus(a)})
	}
	slices.SortStableFunc(all, func(a, b side) int { return cmp.Compare(a.gap.Distance, b.gap.Distance) })
	var out []sheet.Distance
	for i, s := range all {
		if i > 0 && sameWay(s.step, all[0].step) {
			continue
		}
		v, measured := setback.Clear, s.gap.Distance
		if measured < f.Ground.Setback {
			v = setback.Short
		}
		if l, ok := ofLot(f, limits); ok && (i == 0 || l.Verdict == setback.TooClose && l.Margin >= s.gap.Distance-f.Ground.Setback) {
			v = l.Verdict
			if i == 0 && l.Measured < 0 {
				measured = l.Measured
			}
		}
		if out = append(out, dimension(s.gap, measured, f.Ground.Setback, v, say)); len(out) == 2 {
			break
		}
	}
	return out
}

// sameWay tells whether two sides run within 15 degrees of the same line.
func sameWay(a, b planar.Vec) bool {
	u, ok := a.Unit()
	v, good := b.Unit()
	return ok && good && math.Abs(float64(u.Cross(v))) < math.Sin(15*math.Pi/180)
}

// ofLot is what limits a footprint by the lot's edge.
func ofLot(f *setback.Fit, limits []setback.Limiting) (setback.Limiting, bool) {
	if len(f.Ground.Lot) == 0 {
		return setback.Limiting{}, false
	}
	for _, l := range limits {
		if l.Lot {
			return l, true
		}
	}
	return setback.Limiting{}, false
}

// limiting is the dimensions to what is broken or too close, to what has the
// smallest margins, whatever it is, and to the parts that come nearest.
func limiting(job *site.Job, limits []setback.Limiting, say unit.Style) []sheet.Distance {
	kinds, left := kindsOf(job), NearestParts
	var out []sheet.Distance
	for i, l := range limits {
		_, part := kinds[l.Thing.Name]
		switch {
		case l.Lot:
			continue
		case l.Verdict != setback.Clear:
		case i < SmallestMargins:
		case !part || left == 0:
			continue
		}
		d := dimension(l.Gap, l.Measured, l.Required, l.Verdict, say)
		if l.Verdict == setback.Clear && drawn(out, d) {
			continue
		}
		if part {
			left = max(left-1, 0)
		}
		out = append(out, d)
	}
	return out
}
