// Package sketch draws a small plan of one part and the marks that its tapes
// start from, for a tie card.
package sketch

import (
	"math"

	"undersod/core/adjust"
	"undersod/core/card"
	"undersod/core/planar"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/internal/report/flow"
)

// Sketch is a small plan of one part and the marks that its tapes start from.
type Sketch struct {
	part  planar.Vec
	name  string
	marks []markedAt
	walls [][]planar.Vec // buildings that one of the marks belongs to
	north bool           // up is north
}

type markedAt struct {
	name string
	at   planar.Vec
}

// New finds what a card speaks of on the plan; nil where the part or a mark is
// not there, and where there is no plan.
func New(job *site.Job, plan *adjust.Plan, c card.Card) *Sketch {
	if plan == nil || len(c.Ties) == 0 {
		return nil
	}
	at := map[site.Name]planar.Vec{}
	for _, p := range plan.Points {
		if p.Placed && finite(p.At) {
			at[p.Name] = p.At
		}
	}
	for _, o := range plan.Outlines {
		if _, known := at[o.Part]; !known && o.Fitted && finite(o.Centre) {
			at[o.Part] = o.Centre
		}
	}
	k := &Sketch{name: flow.Tidy(string(c.Part)), north: plan.Frame.North != adjust.NorthUnknown}
	part, ok := at[c.Part]
	if !ok {
		return nil
	}
	k.part = part
	used := map[site.Name]bool{}
	for _, t := range c.Ties {
		p, ok := at[t.From]
		if !ok {
			return nil
		}
		used[t.From] = true
		k.marks = append(k.marks, markedAt{flow.Tidy(string(t.From)), p})
	}
	k.walls = walls(job, at, used)
	return k
}

func finite(v planar.Vec) bool {
	return !math.IsNaN(float64(v.East+v.North)) && !math.IsInf(float64(v.East+v.North), 0)
}

// walls are the outlines of the buildings that a mark belongs to.
func walls(job *site.Job, at map[site.Name]planar.Vec, used map[site.Name]bool) [][]planar.Vec {
	var out [][]planar.Vec
	for _, b := range job.Site.Buildings {
		var outline []planar.Vec
		touched := false
		for _, c := range b.Corners {
			touched = touched || used[c]
			if p, ok := at[c]; ok {
				outline = append(outline, p)
			}
		}
		if touched && len(outline) == len(b.Corners) && len(outline) > 2 {
			out = append(out, outline)
		}
	}
	return out
}

// mapping fits everything into a frame with room for labels at its edges.
func (k *Sketch) mapping(at sheet.Pos, width, height, edge sheet.MM) func(planar.Vec) sheet.Pos {
	lo, hi := k.part, k.part
	grow := func(v planar.Vec) {
		lo = planar.Vec{East: min(lo.East, v.East), North: min(lo.North, v.North)}
		hi = planar.Vec{East: max(hi.East, v.East), North: max(hi.North, v.North)}
	}
	for _, m := range k.marks {
		grow(m.at)
	}
	for _, w := range k.walls {
		for _, v := range w {
			grow(v)
		}
	}
	wide, tall := max(float64(hi.East-lo.East), 0.5), max(float64(hi.North-lo.North), 0.5)
	scale := min(float64(width-2*edge)/wide, float64(height-2*edge)/tall)
	mid := planar.Vec{East: (lo.East + hi.East) / 2, North: (lo.North + hi.North) / 2}
	return func(v planar.Vec) sheet.Pos {
		return sheet.Pos{X: at.X + width/2 + sheet.MM(float64(v.East-mid.East)*scale), Y: at.Y + height/2 - sheet.MM(float64(v.North-mid.North)*scale)}
	}
}

// Draw draws the sketch into a frame, its names enlarged by scale and measured
// by m.
func (k *Sketch) Draw(l *flow.Page, at sheet.Pos, width, height, scale sheet.MM, m *flow.Measure) {
	l.Box(at, width, height, &flow.Sand, nil)
	to := k.mapping(at, width, height, 8*scale+2)
	k.drawWalls(l, to)
	part := to(k.part)
	lb := &labels{m: m, at: at, width: width, height: height}
	for _, w := range k.walls {
		for i := range w {
			lb.lines = append(lb.lines, [2]sheet.Pos{to(w[i]), to(w[(i+1)%len(w)])})
		}
	}
	for _, mark := range k.marks {
		p := to(mark.at)
		l.Put(sheet.Path{Runs: []sheet.Run{{Start: p, Pieces: []sheet.Piece{{To: part}}}}, Stroke: &sheet.Stroke{Width: 0.35, Colour: flow.Ink, Dash: []sheet.MM{2, 1.2}}})
		lb.lines = append(lb.lines, [2]sheet.Pos{p, part})
		lb.boxes = append(lb.boxes, span{p.X - 1.2, p.Y - 1.2, p.X + 1.2, p.Y + 1.2})
	}
	for _, mark := range k.marks {
		p := to(mark.at)
		l.Box(sheet.Pos{X: p.X - 1, Y: p.Y - 1}, 2, 2, &flow.Ink, nil)
	}
	l.Put(sheet.Path{Runs: []sheet.Run{flow.Disc(part, 1.7)}, Fill: &flow.Clay, Stroke: &sheet.Stroke{Width: 0.4, Colour: flow.Ink}})
	lb.boxes = append(lb.boxes, span{part.X - 2, part.Y - 2, part.X + 2, part.Y + 2})
	if k.north {
		k.arrow(l, lb)
	}
	lb.put(l, part, k.name, flow.Type(3.2*scale, sheet.Bold, flow.Clay))
	for _, mark := range k.marks {
		lb.put(l, to(mark.at), mark.name, flow.Type(3.2*scale, sheet.Bold, flow.Ink))
	}
}

func (k *Sketch) drawWalls(l *flow.Page, to func(planar.Vec) sheet.Pos) {
	ground := sheet.Colour{R: 226, G: 220, B: 210}
	for _, w := range k.walls {
		run := sheet.Run{Start: to(w[0]), Closed: true}
		for _, v := range w[1:] {
			run.Pieces = append(run.Pieces, sheet.Piece{To: to(v)})
		}
		l.Put(sheet.Path{Runs: []sheet.Run{run}, Fill: &ground, Stroke: &sheet.Stroke{Width: 0.4, Colour: flow.Ink}, Name: "building"})
	}
}

// arrow draws north in a corner that nothing else stands in.
func (k *Sketch) arrow(l *flow.Page, lb *labels) {
	const high, wide sheet.MM = 9, 5
	for _, p := range []sheet.Pos{
		{X: lb.at.X + lb.width - wide - 1, Y: lb.at.Y + 1}, {X: lb.at.X + 1, Y: lb.at.Y + 1},
		{X: lb.at.X + lb.width - wide - 1, Y: lb.at.Y + lb.height - high - 1}, {X: lb.at.X + 1, Y: lb.at.Y + lb.height - high - 1},
	} {
		s := span{p.X, p.Y, p.X + wide, p.Y + high}
		if lb.crossed(s) > 0 {
			continue
		}
		mid := p.X + wide/2
		l.Put(sheet.Path{Fill: &flow.Ink, Runs: []sheet.Run{{Start: sheet.Pos{X: mid, Y: p.Y}, Closed: true, Pieces: []sheet.Piece{{To: sheet.Pos{X: mid + 1.3, Y: p.Y + 5}}, {To: sheet.Pos{X: mid - 1.3, Y: p.Y + 5}}}}}})
		l.Write(sheet.Pos{X: mid, Y: p.Y + high - 0.8}, "N", flow.Type(2.8, sheet.Bold, flow.Ink), sheet.AlignMiddle)
		lb.boxes = append(lb.boxes, s)
		return
	}
}

// span is an upright rectangle on the paper.
type span struct{ x0, y0, x1, y1 sheet.MM }

func (s span) meets(o span) bool { return s.x0 < o.x1 && o.x0 < s.x1 && s.y0 < o.y1 && o.y0 < s.y1 }

// labels finds room for names.
type labels struct {
	m             *flow.Measure
	at            sheet.Pos
	width, height sheet.MM
	boxes         []span
	lines         [][2]sheet.Pos
}

// put writes a name near a place where it covers nothing else; a name that
// finds no such room is left out, the list of ties has it.
func (lb *labels) put(l *flow.Page, p sheet.Pos, name string, f flow.Face) {
	name = lb.m.Fit(name, f, 0.42*lb.width)
	w, up, down := lb.m.Wide(name, f), lb.m.Ascent(f.Weight, f.Size), lb.m.Descent(f.Weight, f.Size)
	best, least := span{}, math.Inf(1)
	for ring := range 3 {
		away := 2.6 + 2*sheet.MM(ring)
		for _, d := range [][2]sheet.MM{{1, 0}, {-1, 0}, {0, -1}, {0, 1}, {1, -1}, {-1, -1}, {1, 1}, {-1, 1}} {
			cx, cy := p.X+d[0]*(away+w/2), p.Y+d[1]*(away+(up+down)/2)
			s := span{cx - w/2, cy - (up+down)/2, cx + w/2, cy + (up+down)/2}
			if bad := lb.crossed(s) + 0.1*float64(ring); bad < least {
				best, least = s, bad
			}
		}
	}
	if least >= 100 || name == "" {
		return
	}
	lb.boxes = append(lb.boxes, best)
	l.Write(sheet.Pos{X: best.x0, Y: best.y0 + up}, name, f, sheet.AlignLeft)
}

// crossed tells how badly a rectangle lies: 100 and more for a place that will
// not do, 1 for each line through it.
func (lb *labels) crossed(s span) float64 {
	bad := 0.0
	if s.x0 < lb.at.X || s.x1 > lb.at.X+lb.width || s.y0 < lb.at.Y || s.y1 > lb.at.Y+lb.height {
		bad += 100
	}
	for _, b := range lb.boxes {
		if s.meets(b) {
			bad += 100
		}
	}
	for _, line := range lb.lines {
		if through(line, s) {
			bad++
		}
	}
	return bad
}

// through tells whether a line passes through a rectangle, looked at closely
// enough for letters.
func through(line [2]sheet.Pos, s span) bool {
	long := math.Hypot(float64(line[1].X-line[0].X), float64(line[1].Y-line[0].Y))
	steps := min(max(int(long), 1), 1000)
	for i := range steps + 1 {
		t := sheet.MM(i) / sheet.MM(steps)
		x, y := line[0].X+t*(line[1].X-line[0].X), line[0].Y+t*(line[1].Y-line[0].Y)
		if x > s.x0 && x < s.x1 && y > s.y0 && y < s.y1 {
			return true
		}
	}
	return false
}
