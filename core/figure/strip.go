package figure

import (
	"math"
	"slices"

	"undersod/core/level"
	"undersod/core/look"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

// Strip draws one line from its start to its end as the camera saw it: the pipe
// from the side with its fall where the rod knows it, what was found at its
// distances, what was not seen, and each run of the camera with its direction
// and why it ended. Heights are drawn larger than distances by the factor that
// the figure states. Runs and falls of other lines are left out.
func Strip(line site.Name, runs []look.Run, falls []level.Fall, say Say) sheet.Scene {
	s := newStrip(line, runs, falls, say)
	p := s.pen
	title := clean(line)
	if title == "" {
		title = "Line"
	}
	p.head(title + s.lengthWords())
	if !s.known && len(s.runs) == 0 && len(s.falls) == 0 {
		p.note("Nothing of this line can be drawn: it has no length on the plan, no camera run and no level readings.")
		return p.scene(title + ": what the camera saw")
	}
	s.labels()
	top := p.y
	s.pipe()
	s.names(top)
	_, name := say.farUnit()
	p.ground(s.x, name+" from the line's start")
	p.y += 0.8
	s.fallWords()
	s.tracks()
	s.notes()
	return p.scene(title + ": what the camera saw")
}

// strip is the strip of one line as it is laid out.
type strip struct {
	*pen
	runs      []look.Run
	found     []look.Finding // in the order of their stations
	falls     []level.Fall
	profile   []station   // points whose inverts are known, in order
	length    unit.Length // of the pipe as drawn
	known     bool        // the length is that of the plan
	x         axis        // of distances in metres
	factor    float64     // by which heights are drawn larger than distances
	perMetre  mm          // of height
	bore      unit.Length
	left      int // findings that are marked without words
	undrawn   int // findings that are not even marked
	uncounted int // findings without a footage
}

// station is a point of the line's path with its height over the lowest one.
type station struct {
	name     site.Name
	at       unit.Length
	invert   unit.Length
	levelled bool // the invert is known
}

// The room at the sides of a strip: flags hang to the right of what they tell.
const (
	stripLeft  mm = 6
	stripRight mm = 36
)

func newStrip(line site.Name, runs []look.Run, falls []level.Fall, say Say) *strip {
	s := &strip{pen: newPen(say), bore: say.Bore}
	if !(s.bore > 0) || s.bore > 2*unit.Metre {
		s.bore = 4 * unit.Inch
		if say.metric() {
			s.bore = 100 * unit.Millimetre
		}
	}
	for _, r := range runs {
		if r.Line != line {
			continue
		}
		s.runs = append(s.runs, r)
		if r.Known && finite(r.Length) && r.Length > s.length {
			s.length, s.known = r.Length, true
		}
		for _, f := range r.Findings {
			if counted(&f.From) {
				s.found = append(s.found, f)
				continue
			}
			s.uncounted++
		}
	}
	for _, f := range falls {
		if f.Line == line && finite(f.Drop) {
			s.falls = append(s.falls, f)
		}
	}
	s.profile = profileOf(s.falls)
	s.anchor()
	s.keepHeaviest()
	s.scales()
	return s
}

// profileOf lays the falls of a line one behind the other, as far as their
// distances are known.
func profileOf(falls []level.Fall) []station {
	var out []station
	for _, f := range falls {
		if !f.RunKnown || !finite(f.Run) || f.Run <= 0 {
			break
		}
		if len(out) == 0 {
			out = append(out, station{name: f.From, levelled: true})
		}
		last := out[len(out)-1]
		if f.From != last.name {
			break
		}
		out = append(out, station{name: f.To, at: last.at + f.Run, invert: last.invert - f.Drop, levelled: true})
	}
	return out
}

// counted tells whether a spot has a place along the line.
func counted(s *look.Spot) bool { return s != nil && s.Counted && finite(s.Station) }

// anchor shifts the profile to where a run of the camera puts one of its points;
// without one it begins where the line does.
func (s *strip) anchor() {
	for _, r := range s.runs {
		if !counted(&r.Entry) {
			continue
		}
		for _, q := range s.profile {
			if q.name == r.Run.Entry && q.name != "" {
				by := r.Entry.Station - q.at
				for i := range s.profile {
					s.profile[i].at += by
				}
				return
			}
		}
	}
}

// mostMarks is how many findings are marked on one strip.
const mostMarks = 300

// keepHeaviest orders the findings by station, and leaves the lightest out
// where there are too many to draw.
func (s *strip) keepHeaviest() {
	if n := len(s.found) - mostMarks; n > 0 {
		slices.SortStableFunc(s.found, func(a, b look.Finding) int { return int(b.Grade) - int(a.Grade) })
		s.found, s.undrawn = s.found[:mostMarks], n
	}
	slices.SortStableFunc(s.found, func(a, b look.Finding) int {
		switch {
		case a.From.Station < b.From.Station:
			return -1
		case a.From.Station > b.From.Station:
			return 1
		}
		return 0
	})
}

// reach is how far the stations of the line reach, from the plan, the falls, the
// findings and the runs.
func (s *strip) reach() (lo, hi unit.Length) {
	take := func(l unit.Length) {
		if finite(l) {
			lo, hi = min(lo, l), max(hi, l)
		}
	}
	take(s.length)
	for _, q := range s.profile {
		take(q.at)
	}
	for _, f := range s.found {
		take(f.From.Station)
		if counted(f.To) {
			take(f.To.Station)
		}
	}
	for _, r := range s.runs {
		take(r.Seen[0])
		take(r.Seen[1])
		for _, q := range [...]*look.Spot{&r.Entry, r.End} {
			if counted(q) {
				take(q.Station)
			}
		}
	}
	return lo, hi
}

// scales chooses the axis of distances and how much larger heights are drawn.
func (s *strip) scales() {
	lo, hi := s.reach()
	if s.known { // a footage far off the line stands at the edge, with its own number
		lo, hi = max(lo, -s.length/5), min(hi, 2*s.length)
	}
	if hi-lo < unit.Foot {
		hi = lo + 10*unit.Foot
	}
	if !s.known {
		s.length = hi
	}
	s.x = axis{float64(lo), float64(hi), stripLeft, s.width - stripRight}
	high := float64(s.bore)
	if n := len(s.profile); n > 0 {
		low, top := s.profile[0].invert, s.profile[0].invert
		for _, q := range s.profile {
			low, top = min(low, q.invert), max(top, q.invert)
		}
		high += float64(top - low)
	}
	const room mm = 32
	across := float64(s.x.b-s.x.a) / float64(hi-lo) // mm of paper per metre of line
	s.factor = roundFactor(min(float64(room)/high, 9/float64(s.bore)) / across)
	s.perMetre = mm(s.factor * across)
}

// roundFactor returns the largest round number that is no larger than f.
func roundFactor(f float64) float64 {
	if !(f > 1e-6) || f > 1e9 {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(f)))
	for _, k := range [...]float64{8, 6, 5, 4, 3, 2.5, 2, 1.5} {
		if k*p <= f*(1+1e-9) {
			return k * p
		}
	}
	return p
}

func (s *strip) lengthWords() string {
	if !s.known {
		return ", length not known"
	}
	return ", " + s.say.far(s.length) + " long on the plan"
}

// places returns the paper's place of a station at a height over the invert
// there.
func (s *strip) place(at, over unit.Length, top mm) pos {
	return pos{X: s.x.at(float64(at)), Y: top + mm(s.highest()+s.bore-s.invert(at)-over)*s.perMetre}
}

// highest is the height of the highest known invert over that of the start.
func (s *strip) highest() (h unit.Length) {
	for i, q := range s.profile {
		if i == 0 || q.invert > h {
			h = q.invert
		}
	}
	return h
}

// lowest is the height of the lowest known invert over that of the start.
func (s *strip) lowest() (h unit.Length) {
	for i, q := range s.profile {
		if i == 0 || q.invert < h {
			h = q.invert
		}
	}
	return h
}

// invert is the height of the pipe's bottom at a station: straight between the
// known ones, level beyond them.
func (s *strip) invert(at unit.Length) unit.Length {
	for i := 1; i < len(s.profile); i++ {
		a, b := s.profile[i-1], s.profile[i]
		if at <= b.at {
			return a.invert + (b.invert-a.invert)*max(at-a.at, 0)/(b.at-a.at)
		}
	}
	if n := len(s.profile); n > 0 {
		return s.profile[n-1].invert
	}
	return 0
}

// height is how high the pipe is on paper, from its highest top to its lowest
// bottom.
func (s *strip) height() mm { return mm(s.highest()-s.lowest()+s.bore) * s.perMetre }
