package figure

import (
	"slices"

	"undersod/core/look"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

// pipe draws the pipe from the side with what stands and hangs in it.
func (s *strip) pipe() {
	top := s.y
	bottom := top + s.height()
	stations := s.stations(0, s.length)
	s.fill(sand, stations, 0, s.bore, top)
	for _, f := range s.found {
		s.inside(f, top)
	}
	s.unseen(top)
	s.walls(stations, top)
	for _, f := range s.found {
		if f.What == site.Flattened {
			s.dent(f, top)
		}
	}
	s.ends(top)
	s.y = bottom
}

// stations returns the ends of a stretch and the bends of the profile between
// them.
func (s *strip) stations(from, to unit.Length) []unit.Length {
	out := []unit.Length{from}
	for _, q := range s.profile {
		if q.at > from && q.at < to {
			out = append(out, q.at)
		}
	}
	return append(out, to)
}

// fill colours the pipe between two heights over its bottom.
func (s *strip) fill(c sheet.Colour, stations []unit.Length, lo, hi unit.Length, top mm) {
	var corners []pos
	for _, at := range stations {
		corners = append(corners, s.place(at, hi, top))
	}
	for i := len(stations) - 1; i >= 0; i-- {
		corners = append(corners, s.place(stations[i], lo, top))
	}
	s.area(c, corners...)
}

// walls draws the pipe's top and bottom: full where its fall is known, broken
// where it is not.
func (s *strip) walls(stations []unit.Length, top mm) {
	for i := 1; i < len(stations); i++ {
		a, b := stations[i-1], stations[i]
		var dash []mm
		if n := len(s.profile); n == 0 || b > s.profile[n-1].at+unit.Millimetre {
			dash = []mm{1.6, 0.9}
		}
		for _, over := range [...]unit.Length{0, s.bore} {
			s.line(s.place(a, over, top), s.place(b, over, top), 0.35, ink, dash...)
		}
	}
}

// ends closes the pipe at its start and, where the plan knows it, at its end.
func (s *strip) ends(top mm) {
	s.line(s.place(0, 0, top), s.place(0, s.bore, top), 0.5, ink)
	if s.known {
		s.line(s.place(s.length, 0, top), s.place(s.length, s.bore, top), 0.5, ink)
	}
}

// span returns the stretch of a finding inside the pipe, widened to what can be
// seen on paper.
func (s *strip) span(f look.Finding, least mm) (from, to unit.Length) {
	from, to = f.From.Station, f.From.Station
	if counted(f.To) {
		from, to = min(from, f.To.Station), max(to, f.To.Station)
	}
	across := unit.Length(float64(least) * (s.x.hi - s.x.lo) / float64(s.x.b-s.x.a))
	if to-from < across {
		mid := (from + to) / 2
		from, to = mid-across/2, mid+across/2
	}
	return max(from, 0), min(to, s.length)
}

// inside draws what a finding does to the pipe.
func (s *strip) inside(f look.Finding, top mm) {
	from, to := s.span(f, 1.6)
	if !(to > from) {
		return
	}
	switch f.What {
	case site.StandingWater, site.WaterOverPipe:
		s.fill(water, s.stations(from, to), 0, s.depth(f, s.bore/2), top)
		s.surface(from, to, s.depth(f, s.bore/2), top)
	case site.Sediment, site.SoilEntering:
		s.fill(loam, s.stations(from, to), 0, s.depth(f, s.bore/4), top)
	case site.Blocked:
		s.fill(earth, s.stations(from, to), 0, s.bore, top)
	case site.FineRoots, site.RootMass:
		s.roots(f, top)
	case site.Cracked, site.Broken:
		s.gash(f, top)
	case site.JointShifted:
		s.shift(f, top)
	}
}

// share returns a part of the bore between nothing and all, or what is drawn
// where it was not measured.
func share(p *float64, unstated float64) float64 {
	if p == nil || !(*p > 0) {
		return unstated
	}
	return min(*p/100, 1)
}

// depth returns what stands in the pipe, at most its bore.
func (s *strip) depth(f look.Finding, unstated unit.Length) unit.Length {
	if f.Depth == nil || !finite(f.Depth.Length) || f.Depth.Length <= 0 {
		return unstated
	}
	return min(f.Depth.Length, s.bore)
}

// surface draws the top of standing water.
func (s *strip) surface(from, to, depth unit.Length, top mm) {
	st := s.stations(from, to)
	for i := 1; i < len(st); i++ {
		s.line(s.place(st[i-1], depth, top), s.place(st[i], depth, top), 0.3, slate)
	}
}

// dent draws the pressed top of a flattened pipe over its own.
func (s *strip) dent(f look.Finding, top mm) {
	from, to := s.span(f, 3)
	if !(to > from) {
		return
	}
	lost := s.bore * unit.Length(share(f.Percent, 0.25))
	slope := (to - from) / 5
	points := []pos{s.place(from, s.bore, top)}
	for _, st := range s.stations(from+slope, to-slope) {
		points = append(points, s.place(st, s.bore-lost, top))
	}
	points = append(points, s.place(to, s.bore, top))
	up := s.bore / 20 // as far as the wall's own line reaches
	over := []pos{s.place(from, s.bore+up, top), s.place(to, s.bore+up, top)}
	s.area(paper, append([]pos{points[len(points)-1], over[1], over[0]}, points[:len(points)-1]...)...)
	s.draw(sheet.Path{Runs: []sheet.Run{run(false, points...)}, Stroke: &sheet.Stroke{Width: 0.35, Colour: ink}})
}

// roots hang from the top of the pipe as far as they close it.
func (s *strip) roots(f look.Finding, top mm) {
	unstated, pen := 0.35, mm(0.18)
	if f.What == site.RootMass {
		unstated, pen = 0.8, 0.45
	}
	from, to := s.span(f, 3.2)
	if !(to > from) {
		return
	}
	n := int(between(float64(s.x.at(float64(to))-s.x.at(float64(from)))/0.7, 3, 60))
	path := sheet.Path{Stroke: &sheet.Stroke{Width: pen, Colour: grass}}
	deep := s.bore * unit.Length(share(f.Percent, unstated))
	for i := range n + 1 {
		at := from + (to-from)*unit.Length(i)/unit.Length(n)
		end := deep * unit.Length([...]float64{1, 0.7, 0.9, 0.6}[i%4])
		sway := (to - from) / unit.Length(4*n) * unit.Length(1-2*(i%2))
		path.Runs = append(path.Runs, run(false, s.place(at, s.bore, top), s.place(at+sway, s.bore-end/2, top), s.place(at, s.bore-end, top)))
	}
	s.draw(path)
}

// gash is a jagged line through the pipe.
func (s *strip) gash(f look.Finding, top mm) {
	from, to := s.span(f, 1.8)
	if !(to > from) {
		return
	}
	mid := (from + to) / 2
	var points []pos
	for i := range 6 {
		at := mid + (to-from)/4*unit.Length(1-2*(i%2))
		points = append(points, s.place(at, s.bore*unit.Length(i)/5, top))
	}
	s.draw(sheet.Path{Runs: []sheet.Run{run(false, points...)}, Stroke: &sheet.Stroke{Width: 0.3, Colour: clay}})
}

// shift is a step in a line across the pipe.
func (s *strip) shift(f look.Finding, top mm) {
	from, to := s.span(f, 1)
	if !(to > from) {
		return
	}
	points := []pos{s.place(from, 0, top), s.place(from, s.bore/2, top), s.place(to, s.bore/2, top), s.place(to, s.bore, top)}
	s.draw(sheet.Path{Runs: []sheet.Run{run(false, points...)}, Stroke: &sheet.Stroke{Width: 0.4, Colour: clay}})
}

// unseen hatches what no run of the camera saw.
func (s *strip) unseen(top mm) {
	for _, gap := range s.gaps() {
		for _, st := range pairs(s.stations(gap[0], gap[1])) {
			a, b := s.place(st[0], 0, top), s.place(st[1], 0, top)
			h := mm(s.bore) * s.perMetre
			s.slant(a, b, h)
		}
	}
}

func pairs(st []unit.Length) (out [][2]unit.Length) {
	for i := 1; i < len(st); i++ {
		out = append(out, [2]unit.Length{st[i-1], st[i]})
	}
	return out
}

// slant hatches a piece of the pipe whose bottom runs from a to b.
func (s *strip) slant(a, b pos, h mm) {
	path := sheet.Path{Stroke: &sheet.Stroke{Width: 0.15, Colour: stone}}
	w := b.X - a.X
	lean := min(h, w)
	for x := mm(0.8); x < w+lean; x += 1.6 {
		lo, hi := x-lean, x // the line leans from the bottom at lo to the top at hi
		t0, t1 := max(-lo/lean, 0), min((w-lo)/lean, 1)
		if !(t1 > t0) {
			continue
		}
		at := func(t mm) pos {
			x := lo + t*(hi-lo)
			return pos{X: a.X + x, Y: a.Y + (b.Y-a.Y)*x/w - t*h}
		}
		path.Runs = append(path.Runs, run(false, at(t0), at(t1)))
	}
	if len(path.Runs) > 0 {
		s.draw(path)
	}
}

// gaps returns the stretches of the line that no run saw.
func (s *strip) gaps() [][2]unit.Length {
	var seen [][2]unit.Length
	for _, r := range s.runs {
		if a, b := min(r.Seen[0], r.Seen[1]), max(r.Seen[0], r.Seen[1]); finite(a) && finite(b) && b > a {
			seen = append(seen, [2]unit.Length{a, b})
		}
	}
	slices.SortFunc(seen, func(a, b [2]unit.Length) int {
		if a[0] < b[0] {
			return -1
		}
		return 1
	})
	var out [][2]unit.Length
	at := unit.Length(0)
	for _, r := range append(seen, [2]unit.Length{s.length, s.length}) {
		if to := min(r[0], s.length); to > at+unit.Inch {
			out = append(out, [2]unit.Length{at, to})
		}
		at = max(at, r[1])
	}
	return out
}
