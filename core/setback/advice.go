package setback

import (
	"undersod/core/adjust"
	"undersod/core/bounds"
	"undersod/core/clearance"
	"undersod/core/site"
	"undersod/core/unit"
)

// advice says what would narrow a distance most: what makes more than half of
// its uncertainty, else a tape straight from end to end, else one more to an end.
func (y *yard) advice(a, b *body, gap clearance.Gap, known sure) string {
	half := known.within() / 2
	for _, x := range [2]*body{a, b} {
		if x.sizeSD*bounds.Normal95 > half {
			return "the turn of " + string(x.Name) + " is not known, which makes most of the uncertainty: probe its edges and enter them as its outline"
		}
	}
	if known.doubt > half {
		return "readings that disagree make most of the uncertainty: run the check and mend them first"
	}
	from, across := y.end(a, gap.From)
	to, line := y.end(b, gap.To)
	switch {
	case from == "" && to == "" || from == to:
		return ""
	case from != "" && line != "":
		return "read " + string(from) + " by station and offset along " + line + " to narrow it"
	case to != "" && across != "":
		return "read " + string(to) + " by station and offset along " + across + " to narrow it"
	case from != "" && to != "":
		return "a tape straight from " + string(from) + " to " + string(to) + " narrows it most"
	case to == "":
		to = from
	}
	for _, c := range y.plan.Next {
		if c.Point == to && c.Words != "" {
			return "to narrow it, " + c.Words
		}
	}
	return "tie " + string(to) + " from one more mark to narrow it"
}

// end is the point of the plan that carries a spot of a body, and the line of
// two between which it lies; both empty where none does.
func (y *yard) end(b *body, s clearance.Spot) (at site.Name, line string) {
	name := func(i int) site.Name {
		if i >= 0 && i < len(y.plan.Points) {
			return y.plan.Points[i].Name
		}
		return ""
	}
	switch {
	case b.stand != nil:
		return name(b.stand.from), ""
	case s.From < 0 || s.To < 0 || s.From >= len(b.carriers) || s.To >= len(b.carriers):
		return "", ""
	case s.From == s.To || !(s.Along > 0):
		return name(b.carriers[s.From]), ""
	case s.Along >= 1:
		return name(b.carriers[s.To]), ""
	}
	from, to := name(b.carriers[s.From]), name(b.carriers[s.To])
	if s.Along > 0.5 {
		return to, string(from) + "-" + string(to)
	}
	return from, string(from) + "-" + string(to)
}

// standAt makes a body hang on what its stated place does; nil for nothing.
func (b *body) standAt(s *stand) {
	switch {
	case s == nil:
	case s.outline != nil: // its centre carries the place, its sizes do not
		b.outline = &adjust.Outline{Sigma: s.outline.Sigma}
	default:
		b.stand = s
	}
}

// clashes tells which buried parts lie one on the other by their places and
// sizes: boxes among each other, and a tank and a trench that does not begin at
// it. A part whose turn is not known counts with its smaller size.
func (y *yard) clashes() []string {
	var out []string
	for i, a := range y.parts {
		for _, b := range y.parts[i+1:] {
			if a.lost != "" || b.lost != "" || !canClash(a, b) || !clearance.Distance(a.least(), b.least()).Overlap {
				continue
			}
			out = append(out, string(a.Name)+" and "+string(b.Name)+" occupy the same ground by their places and sizes: look at where each was read, and at length and width under parts")
		}
	}
	return out
}

func canClash(a, b *body) bool {
	if a.line != nil {
		a, b = b, a
	}
	box := func(x *body) bool { return x.column == ruled[0] || x.column == ruled[1] }
	return box(a) && (box(b) || b.line != nil && a.column == ruled[0] && b.column == ruled[2] && !joined(b, a))
}

// least is the shape that a body takes up for certain.
func (b *body) least() clearance.Shape {
	s := b.shape
	if b.inner > 0 && b.outline == nil {
		s.Radius = unit.Length(b.inner)
	}
	return s
}
