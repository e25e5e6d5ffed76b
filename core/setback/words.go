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
	b = y.appendMargin(b, row.Verdict, row.Margin, row.Within)
	return string(append(b, '.'))
}

// margin words a verdict with its numbers: "clear by 3' 2" ± 1 1/2"".
func (y *yard) margin(v Verdict, margin, within unit.Length) string {
	return string(y.appendMargin(nil, v, margin, within))
}

func (y *yard) appendMargin(b []byte, v Verdict, margin, within unit.Length) []byte {
	switch {
	case v == Clear:
		b = append(b, "clear by "...)
	case v == Short:
		b, margin = append(b, "short by "...), -margin
	case margin >= 0:
		b = append(b, "too close to call, +"...)
	default:
		b = append(b, "too close to call, "...)
	}
	b = append(b, y.say.Format(margin)...)
	if within > 0 {
		b = append(b, " ± "...)
		b = append(b, y.say.Format(within)...)
	}
	return b
}

// lostWords tells a row of which a side is not located.
func lostWords(p, b *body, r *rule) string {
	why := p.lost
	if why == "" {
		why = b.lost
	}
	return string(p.Name) + " from " + string(b.Name) + " (" + b.Kind + "): " + r.words + " required; it cannot be told, as " + why + "."
}
