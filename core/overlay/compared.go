package overlay

import (
	"undersod/core/compare"
	"undersod/core/planar"
	"undersod/core/sheet"
	"undersod/core/site"
)

// OfComparison returns what the sheet of the later visit shows of two visits
// compared: everything that moved, by an arrow from where it lay, with its
// outline or run before. Nothing where the plans are not laid over each other.
func OfComparison(before *site.Job, c *compare.Comparison) *sheet.Clear {
	out := &sheet.Clear{}
	if c == nil || !c.Overlay.Known {
		return out
	}
	outlined := map[site.Name]bool{}
	for _, o := range c.Outlines {
		if o.Verdict != compare.Moved {
			continue
		}
		outlined[o.Part] = true
		s := sheet.Shift{From: c.Overlay.ToLater(o.Was), To: c.Overlay.ToLater(o.Is), Closed: true, Words: o.Short}
		var corners planar.Path
		for _, v := range o.WasCorner {
			corners = append(corners, c.Overlay.ToLater(v))
		}
		s.Before = []planar.Path{corners}
		out.Shifts = append(out.Shifts, s)
	}
	at, lines := runsBefore(before, c)
	for _, p := range c.Places {
		if p.Verdict != compare.Moved || outlined[p.Name] {
			continue
		}
		out.Shifts = append(out.Shifts, sheet.Shift{From: c.Overlay.ToLater(p.Was), To: c.Overlay.ToLater(p.Is), Words: p.Short, Before: legs(at, lines, earlier(p))})
	}
	return out
}

// runsBefore is where everything lay, on the later plan, and the paths that each
// point was on.
func runsBefore(before *site.Job, c *compare.Comparison) (at map[site.Name]planar.Vec, on map[site.Name][][]site.Name) {
	at, on = map[site.Name]planar.Vec{}, map[site.Name][][]site.Name{}
	for _, q := range c.Places {
		if q.Verdict == compare.Moved || q.Verdict == compare.Unchanged || q.Verdict == compare.TooClose {
			at[earlier(q)] = c.Overlay.ToLater(q.Was)
		}
	}
	if before == nil {
		return at, on
	}
	for _, l := range before.Site.Lines {
		for i, n := range l.Path {
			on[n] = append(on[n], l.Path[max(i-1, 0):min(i+2, len(l.Path))])
		}
	}
	return at, on
}

// legs is how the pieces of line beside a point ran before: from the point
// before it on each line that has it, to the one behind.
func legs(at map[site.Name]planar.Vec, on map[site.Name][][]site.Name, name site.Name) []planar.Path {
	var all []planar.Path
	for _, path := range on[name] {
		var out planar.Path
		for _, n := range path {
			if v, ok := at[n]; ok {
				out = append(out, v)
			}
		}
		all = append(all, out)
	}
	return all
}

func earlier(p compare.Place) site.Name {
	if p.Earlier != "" {
		return p.Earlier
	}
	return p.Name
}
