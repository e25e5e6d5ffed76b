package ties

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
func (f *finder) probed() []Row {
	var out []Row
	for i := range f.x.plan.Outlines {
		o := &f.x.plan.Outlines[i]
		if !o.Fitted || !f.x.Outlined(o.Part) || !Drawable(o.Centre) {
			continue
		}
		size := f.say.Length(o.Length) + " x " + f.say.Length(o.Width)
		r := Row{
			Name:  Clean(string(o.Part)),
			Cells: []string{"outline from " + english.Count(len(o.Hits), "probe hit"), size},
			Alone: 2,
			Sure:  f.sureCentre(o),
		}
		if ties := f.computed(o.Centre); len(ties) > 0 {
			r.Cells = append(append(r.Cells, "centre, computed:"), ties...) // a cell each, so that no length is torn
			r.Alone++
		}
		f.rise(&r, o.Part)
		out = append(out, r)
	}
	return out
}

// sureCentre says how sure the centre of an outline is. What moves its hits
// moves it, and an outline of no more hits than it needs is checked by nothing.
func (f *finder) sureCentre(o *adjust.Outline) string {
	p := adjust.Point{Ellipse: o.Sigma.Ellipse95()}
	for _, h := range o.Hits {
		if hit, ok := f.x.Point(h.Point); ok {
			p.Doubt = max(p.Doubt, hit.Doubt)
		}
	}
	if o.Freedom <= 0 {
		p.Hidden = unchecked
	}
	return f.sure(p)
}

// computed returns the distances of a place from the two nearest marks.
func (f *finder) computed(to planar.Vec) []string {
	type tie struct {
		from site.Name
		long unit.Length
	}
	var ties []tie
	for _, p := range f.x.plan.Points {
		if at, ok := f.x.Located(p.Name); ok && f.x.IsMark(p.Name) && !f.x.Doubtful(p.Name) {
			ties = append(ties, tie{p.Name, at.Minus(to).Length()})
		}
	}
	slices.SortStableFunc(ties, func(a, b tie) int { return cmp.Compare(a.long, b.long) })
	var out []string
	for _, t := range ties[:min(len(ties), 2)] {
		out = append(out, Clean(string(t.from))+" "+f.say.Length(t.long))
	}
	return out
}
