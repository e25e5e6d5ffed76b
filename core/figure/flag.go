package figure

import (
	"cmp"
	"slices"

	"undersod/core/sheet"
)

// flag is a label that hangs on a thin pole: its lines stand to the right of
// the pole, as far off the base as its neighbours make needful.
type flag struct {
	x      mm // of the pole
	foot   mm // where the pole ends
	lines  []string
	script script
	w, h   mm
	off    mm // from the base to the near side of the lines
}

// poleGap is the room between a pole and its lines.
const poleGap mm = 0.8

// newFlag measures a flag; its lines are no wider than width.
func (p *pen) newFlag(x, foot mm, text string, s script, width mm) flag {
	f := flag{x: x, foot: foot, script: s, lines: p.wrap(clean(text), s, width)}
	if len(f.lines) > 3 {
		f.lines = f.lines[:3]
		f.lines[2] = p.shorten(f.lines[2]+" and more and more", s, width)
	}
	for _, l := range f.lines {
		f.w = max(f.w, p.advance(l, s.weight, s.size))
	}
	f.w += poleGap + 1.2
	f.h = mm(len(f.lines)) * p.lead(s.size)
	return f
}

// stack finds how far each flag stands off the base, so that no lines meet and
// no pole crosses the lines of another: from the right to the left, each beyond
// all that it would cover. It returns how far the farthest reaches.
func stack(flags []flag) (reach mm) {
	slices.SortStableFunc(flags, func(a, b flag) int { return cmp.Compare(b.x, a.x) })
	for i := range flags {
		f := &flags[i]
		for _, o := range flags[:i] {
			if o.x < f.x+f.w {
				f.off = max(f.off, o.off+o.h+0.4)
			}
		}
		reach = max(reach, f.off+f.h)
	}
	return reach
}

// raise draws stacked flags above a base.
func (p *pen) raise(flags []flag, base mm) {
	for _, f := range flags {
		top := base - f.off - f.h
		p.pole(pos{X: f.x, Y: top + 0.5}, pos{X: f.x, Y: f.foot})
		p.lines(f, top)
	}
}

// hang draws stacked flags below a base.
func (p *pen) hang(flags []flag, base mm) {
	for _, f := range flags {
		p.pole(pos{X: f.x, Y: f.foot}, pos{X: f.x, Y: base + f.off + f.h - 0.7})
		p.lines(f, base+f.off)
	}
}

func (p *pen) pole(a, b pos) {
	p.draw(sheet.Path{Runs: []sheet.Run{run(false, a, b)}, Stroke: &sheet.Stroke{Width: 0.18, Colour: stone}})
}

func (p *pen) lines(f flag, top mm) {
	for i, l := range f.lines {
		p.write(f.x+poleGap, top+mm(i)*p.lead(f.script.size), l, f.script)
	}
}
