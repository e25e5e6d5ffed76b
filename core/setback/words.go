package setback

import (
	"strings"

	"undersod/core/unit"
)

// hair is what no tape tells from nothing.
const hair = unit.Millimetre / 2

// size prints a length above zero, and never as zero.
func size(say unit.Style, l unit.Length) string {
	if s := say.Format(l); strings.ContainsAny(s, "123456789") {
		return s
	}
	return strings.TrimPrefix(say.FormatDeviation(l), "±")
}

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
	case margin > 0:
		b = append(b, "too close to call, +"...)
	case margin < 0:
		b, margin = append(b, "too close to call, -"...), -margin
	default:
		b = append(b, "too close to call, just what is asked"...)
	}
	if margin != 0 || v != TooClose {
		b = append(b, size(y.say, margin)...)
	}
	if within > 0 {
		b = append(b, " ± "...)
		b = append(b, size(y.say, within)...)
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
