package sheet

import "math"

// class is how an obstacle weighs.
type class uint8

const (
	classSign class = iota // a symbol: nothing crosses it
	classLine              // a line: no label lies on it, a leader may cross it
	classTie               // a tie line: it gives way and is cut under a label
)

// obstacle is something that labels keep clear of.
type obstacle struct {
	box   box
	owner int32
	class class
}

// clearance is kept between a label and everything drawn.
const clearance MM = 0.25

// obstacles collects what the figures put in the way.
func obstacles(figures []figure) []obstacle {
	var out []obstacle
	for i := range figures {
		if f := &figures[i]; f.drawn() {
			out = f.block(out)
		}
	}
	return out
}

func (f *figure) block(out []obstacle) []obstacle {
	m := &manners[f.look]
	if f.isPoint() {
		r := m.symbol.reach()
		out = append(out, obstacle{upright(segRect(f.at[0], f.at[0])).grown(r), f.owner, classSign})
		if f.r > r {
			out = append(out, roundObstacles(f.at[0], f.r, f.owner)...)
		}
		return out
	}
	half := m.stroke.Width / 2
	if m.tick != tickNone {
		half = tickReach
	}
	c := classLine
	switch {
	case f.look == lookTie:
		c = classTie
	case f.look == lookBand || f.look == lookAllowed:
		return out // cut under labels wherever they stand
	case f.dimension():
		for _, at := range [...]Pos{f.at[0], f.at[len(f.at)-1]} {
			out = append(out, obstacle{upright(segRect(at, at)).grown(m.symbol.reach()), f.owner, c})
		}
	}
	f.segments(func(_ int, a, b Pos) {
		out = append(out, obstacle{along(a, b, max(half, f.half+edgeWidth/2)).longer(m.stroke.Width / 2), f.owner, c})
	})
	if (f.look == lookTank || f.look == lookPump) && len(f.at) == 4 {
		b := along(middle(f.at[0], f.at[1]), middle(f.at[2], f.at[3]), distance(f.at[0], f.at[1])/2)
		out = append(out, obstacle{b, f.owner, classLine})
	}
	return out
}

// longer returns the box reaching d further at both ends.
func (b box) longer(d MM) box {
	b.HW += d
	return b
}

// roundObstacles stands for the outline of a circle.
func roundObstacles(c Pos, r MM, owner int32) []obstacle {
	const n = 32
	out := make([]obstacle, n)
	p := Pos{c.X + r, c.Y}
	for i := range out {
		s, k := math.Sincos(2 * math.Pi * float64(i+1) / n)
		q := Pos{c.X + r*MM(k), c.Y + r*MM(s)}
		out[i] = obstacle{along(p, q, 0.15+r*(1-MM(math.Cos(math.Pi/n)))), owner, classLine}
		p = q
	}
	return out
}
