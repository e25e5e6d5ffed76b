package sheet

import (
	"cmp"
	"slices"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// probed lists the tanks found with a probe: their outline, how sure its
// centre is, and distances to the centre that find it again.
func (f *facts) probed() []tieRow {
	var out []tieRow
	for i := range f.c.plan.Outlines {
		o := &f.c.plan.Outlines[i]
		if !o.Fitted || !f.c.outlined(o.Part) || !drawable(o.Centre) {
			continue
		}
		size := f.say.length(o.Length) + " x " + f.say.length(o.Width)
		r := tieRow{
			name:  clean(string(o.Part)),
			cells: []string{"outline from " + english.Count(len(o.Hits), "probe hit"), size},
			alone: 2,
			sure:  f.sureCentre(o),
		}
		if ties := f.computed(o.Centre); len(ties) > 0 {
			r.cells = append(append(r.cells, "centre, computed:"), ties...) // a cell each, so that no length is torn
			r.alone++
		}
		out = append(out, r)
	}
	return out
}

// sureCentre says how sure the centre of an outline is. What moves its hits
// moves it, and an outline of no more hits than it needs is checked by nothing.
func (f *facts) sureCentre(o *adjust.Outline) string {
	p := adjust.Point{Ellipse: o.Sigma.Ellipse95()}
	for _, h := range o.Hits {
		if hit, ok := f.c.point(h.Point); ok {
			p.Doubt = max(p.Doubt, hit.Doubt)
		}
	}
	if o.Freedom <= 0 {
		p.Hidden = unchecked
	}
	return f.sure(p)
}

// computed returns the distances of a place from the two nearest marks.
func (f *facts) computed(to planar.Vec) []string {
	type tie struct {
		from site.Name
		long unit.Length
	}
	var ties []tie
	for _, p := range f.c.plan.Points {
		if at, ok := f.c.located(p.Name); ok && f.c.isMark(p.Name) && !f.c.doubtful(p.Name) {
			ties = append(ties, tie{p.Name, at.Minus(to).Length()})
		}
	}
	slices.SortStableFunc(ties, func(a, b tie) int { return cmp.Compare(a.long, b.long) })
	var out []string
	for _, t := range ties[:min(len(ties), 2)] {
		out = append(out, clean(string(t.from))+" "+f.say.length(t.long))
	}
	return out
}
