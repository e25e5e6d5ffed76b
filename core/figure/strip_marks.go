package figure

import (
	"fmt"
	"slices"

	"undersod/core/look"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

// mostWords is how many findings of a strip are told in words.
const mostWords = 24

// rowHeight is the distance between the rows of marks above a pipe.
const rowHeight mm = 2.9

// mark is a finding in its row above the pipe.
type mark struct {
	look.Finding
	x0, x1 mm
	row    int
	told   bool
}

// marks gives every finding a row in which it covers no other.
func (s *strip) marks() (out []mark, rows int) {
	const most = 12
	var ends [most]mm
	for _, f := range s.found {
		m := mark{Finding: f, x0: s.x.at(float64(f.From.Station))}
		m.x1 = m.x0
		if counted(f.To) {
			m.x1 = s.x.at(float64(f.To.Station))
		}
		m.x0, m.x1 = min(m.x0, m.x1), max(m.x0, m.x1)
		m.row = most - 1
		for r := range ends {
			if ends[r] <= m.x0-1.2 {
				m.row = r
				break
			}
		}
		ends[m.row] = max(ends[m.row], m.x1+1.2)
		rows = max(rows, m.row+1)
		out = append(out, m)
	}
	s.choose(out)
	return out, rows
}

// choose picks the findings that are told in words: the heaviest.
func (s *strip) choose(marks []mark) {
	order := make([]int, len(marks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(marks[b].Grade) - int(marks[a].Grade) })
	for n, i := range order {
		marks[i].told = n < mostWords
	}
	s.left = max(len(marks)-mostWords, 0)
}

// labels draws the marks of the findings above the pipe, with their words.
func (s *strip) labels() {
	marks, rows := s.marks()
	var flags []flag
	for _, m := range marks {
		wide := min(56, s.width-edge-m.x0-2) // at least what the room at the right leaves
		if m.told {
			w := script{size: label, colour: ink}
			if m.Grade >= site.Act {
				w.weight = sheet.Bold
			}
			flags = append(flags, s.newFlag(m.x0, 0, s.says(m.Finding), w, wide))
		}
	}
	if len(marks) > 0 {
		p := s.pen
		high := stack(flags)
		base := p.y + high + 0.8
		foot := base + mm(rows)*rowHeight
		top := foot + 0.6
		for i := range flags {
			flags[i].foot = s.crownAt(flags[i].x, top)
		}
		p.raise(flags, base)
		for _, m := range marks {
			s.mark(m, foot-(mm(m.row)+0.5)*rowHeight, top)
		}
		p.y = foot
	}
	s.y += 0.6
}

// crownAt is where the pipe's top lies at a place of the paper.
func (s *strip) crownAt(x, top mm) mm {
	at := s.x.lo + (s.x.hi-s.x.lo)*float64((x-s.x.a)/(s.x.b-s.x.a))
	return s.place(unit.Length(at), s.bore, top).Y
}

// mark draws one finding's sign: a disc at a place, a bar along a stretch; the
// heavier, the more of it is inked.
func (s *strip) mark(m mark, y, top mm) {
	if !m.told {
		s.pole(pos{X: m.x0, Y: y}, pos{X: m.x0, Y: s.crownAt(m.x0, top)})
	}
	if m.x1-m.x0 > 2.4 {
		s.line(pos{X: m.x0, Y: y}, pos{X: m.x1, Y: y}, [...]mm{0.5, 0.5, 1, 1.6}[min(m.Grade, site.Act)], ink)
		s.pole(pos{X: m.x1, Y: y}, pos{X: m.x1, Y: s.crownAt(m.x1, top)})
		return
	}
	c := pos{X: m.x0, Y: y}
	const r = 1.1
	path := sheet.Path{Runs: []sheet.Run{disc(c, r)}, Stroke: &sheet.Stroke{Width: 0.3, Colour: ink}, Fill: &paper, Name: string(m.What)}
	if m.Grade >= site.Act {
		path.Fill = &ink
	}
	s.draw(path)
	if m.Grade == site.Watch {
		a, b := pos{X: c.X + r, Y: c.Y}, pos{X: c.X - r, Y: c.Y}
		s.draw(sheet.Path{Fill: &ink, Runs: []sheet.Run{{Start: a, Closed: true, Pieces: []sheet.Piece{{To: b, Arc: true, Centre: c, Clockwise: true}}}}})
	}
}

// says tells a finding: where, what, how much.
func (s *strip) says(f look.Finding) string {
	t := s.say.far(f.From.Station)
	if counted(f.To) {
		t += " to " + s.say.far(f.To.Station)
	}
	what := clean(f.What)
	if f.What == site.AnotherFinding || what == "" {
		what = "something else"
		if n := clean(f.Note); n != "" {
			what = n
		}
	}
	t += " " + what
	if f.Depth != nil && finite(f.Depth.Length) {
		t += ", " + s.say.small(f.Depth.Length) + " deep"
	}
	if f.Percent != nil {
		t += map[site.FindingKind]string{site.Flattened: " by", site.FineRoots: ", closing", site.RootMass: ", closing"}[f.What]
		t += " " + percent(*f.Percent/100)
	}
	if f.At != nil && finite(f.At.Length) && (f.At.Length-f.From.Station).Abs() > unit.Foot/2 {
		t += fmt.Sprintf(" (counter %s)", clean(f.At.Text))
	}
	return t
}
