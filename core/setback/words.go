package setback

import "undersod/core/unit"

// rowWords tells a row: what lies where, what is required, and what holds.
func (y *yard) rowWords(row *Row, r *rule) string {
	var room [256]byte
	b := append(room[:0], row.Part.Name...)
	switch {
	case row.Measured < 0:
		b = append(b, " lies "...)
		b = append(b, y.say.Format(-row.Measured)...)
		b = append(b, " outside "...)
	case row.Measured == 0:
		b = append(b, " touches or crosses "...)
	default:
		b = append(b, " lies "...)
		b = append(b, y.say.Format(row.Measured)...)
		b = append(b, " from "...)
	}
	b = append(b, row.From.Name...)
	b = append(b, " ("...)
	b = append(b, row.From.Kind...)
	b = append(b, "); "...)
	b = append(b, r.words...)
	b = append(b, " required: "...)
	b = append(b, y.margin(row.Verdict, row.Margin, row.Within)...)
	b = append(b, '.')
	return string(b)
}

// margin words a verdict with its numbers: "clear by 3' 2" ± 1 1/2"".
func (y *yard) margin(v Verdict, margin, within unit.Length) string {
	var s string
	switch v {
	case Clear:
		s = "clear by " + y.say.Format(margin)
	case Short:
		s = "short by " + y.say.Format(-margin)
	default:
		s = "too close to call, " + y.say.Format(margin)
		if margin >= 0 {
			s = "too close to call, +" + y.say.Format(margin)
		}
	}
	if within > 0 {
		s += " ± " + y.say.Format(within)
	}
	return s
}

// lostWords tells a row of which a side is not located.
func lostWords(p, b *body, r *rule) string {
	why := p.lost
	if why == "" {
		why = b.lost
	}
	return string(p.Name) + " from " + string(b.Name) + " (" + b.Kind + "): " + r.words + " required; it cannot be told, as " + why + "."
}
