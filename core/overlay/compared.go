package overlay

import (
	"slices"

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
	for _, p := range c.Places {
		if p.Verdict != compare.Moved || outlined[p.Name] {
			continue
		}
		out.Shifts = append(out.Shifts, sheet.Shift{From: c.Overlay.ToLater(p.Was), To: c.Overlay.ToLater(p.Is), Words: p.Short, Before: legs(before, c, p)})
	}
	return out
}

// legs is how the pieces of line beside a moved point ran before: from the point
// before it on each line that has it, to the one behind.
func legs(before *site.Job, c *compare.Comparison, p compare.Place) []planar.Path {
	if before == nil {
		return nil
	}
	at := map[site.Name]planar.Vec{}
	for _, q := range c.Places {
		if q.Verdict == compare.Moved || q.Verdict == compare.Unchanged || q.Verdict == compare.TooClose {
			at[earlier(q)] = q.Was
		}
	}
	var all []planar.Path
	for _, l := range before.Site.Lines {
		i := slices.Index(l.Path, earlier(p))
		if i < 0 {
			continue
		}
		var out planar.Path
		for _, n := range l.Path[max(i-1, 0):min(i+2, len(l.Path))] {
			if v, ok := at[n]; ok {
				out = append(out, c.Overlay.ToLater(v))
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
