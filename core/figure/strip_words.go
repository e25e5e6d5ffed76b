package figure

import (
	"fmt"

	"undersod/core/english"
	"undersod/core/level"
	"undersod/core/look"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/typeset"
	"undersod/core/unit"
)

// names tells the points of the path whose place along the line is known.
func (s *strip) names(top mm) {
	var flags []flag
	wide := min(stripRight-2, 0.4*s.width)
	for i, q := range s.profile {
		if i < 12 && clean(q.name) != "" {
			flags = append(flags, s.newFlag(s.x.at(float64(q.at)), s.place(q.at, 0, top).Y, string(q.name), script{size: fine, colour: ink}, wide))
		}
	}
	if len(flags) > 0 {
		high := stack(flags)
		s.hang(flags, s.y+0.6)
		s.y += high + 0.6
	}
	s.y += 1.4
}

// fallWords tells how each piece of the pipe falls, under the piece where it is
// wide enough for its words, in rows otherwise.
func (s *strip) fallWords() {
	for i, f := range s.falls {
		if i == 8 {
			s.note(fmt.Sprintf("and %s more", english.Count(len(s.falls)-i, "fall")))
			break
		}
		words := clean(f.Words)
		if words == "" {
			words = string(f.Way)
		}
		w := script{size: fine, colour: ink}
		if f.Way == level.Backwards {
			w.weight = sheet.Bold
		}
		s.fall(i, typeset.Clean(clean(f.From)+" to "+clean(f.To)+": "+words, mostOfText), w)
	}
	if len(s.falls) > 0 {
		s.y += 0.8
	}
}

// fall draws the bracket of one fall with its words below it.
func (s *strip) fall(i int, words string, w script) {
	first, last := i, i+1
	if s.falls[i].Whole {
		first, last = 0, len(s.profile)-1
	}
	x := edge
	if first < last && last < len(s.profile) {
		x = s.x.at(float64(s.profile[first].at))
		b := s.x.at(float64(s.profile[last].at))
		s.line(pos{X: x, Y: s.y + 0.5}, pos{X: b, Y: s.y + 0.5}, 0.25, clay)
		for _, x := range [...]mm{x, b} {
			s.line(pos{X: x, Y: s.y}, pos{X: x, Y: s.y + 1}, 0.25, clay)
		}
		s.y += 1.1
	}
	if wide := s.advance(words, w.weight, w.size); x+wide <= s.width-edge {
		s.write(x, s.y, words, w)
		s.y += s.lead(w.size)
	} else {
		s.paragraph(words, w)
	}
	s.y += 0.4
}

// mostTracks is how many runs of the camera are drawn.
const mostTracks = 6

// tracks draws each run of the camera: where it went in, which way it was
// pushed, how far it came and why it ended.
func (s *strip) tracks() {
	for i, r := range s.runs {
		if i == mostTracks {
			s.note(fmt.Sprintf("and %s more", english.Count(len(s.runs)-i, "camera run")))
			break
		}
		s.track(r)
	}
}

func (s *strip) track(r look.Run) {
	if counted(&r.Entry) {
		y := s.y + 1.4
		a := s.x.at(float64(r.Entry.Station))
		s.draw(sheet.Path{Runs: []sheet.Run{disc(pos{X: a, Y: y}, 0.9)}, Fill: &slate})
		if counted(r.End) {
			b := s.x.at(float64(r.End.Station))
			s.arrow(a, b, y)
			if r.Ended != site.ReachedEnd { // stopped short: a bar across
				s.line(pos{X: b, Y: y - 1.2}, pos{X: b, Y: y + 1.2}, 0.7, ink)
			}
		}
		s.y = y + 1.6
	}
	s.paragraph(trackWords(r), script{size: fine, colour: ink})
	s.y += 0.8
}

// arrow draws the way of a camera.
func (s *strip) arrow(a, b, y mm) {
	s.line(pos{X: a, Y: y}, pos{X: b, Y: y}, 0.4, slate)
	d := mm(1)
	if b < a {
		d = -1
	}
	if (b-a)*d < 2 {
		return
	}
	s.area(slate, pos{X: b, Y: y}, pos{X: b - 2*d, Y: y - 0.9}, pos{X: b - 2*d, Y: y + 0.9})
}

// trackWords tells a run of the camera.
func trackWords(r look.Run) string {
	entry := "the start of the line"
	if n := clean(r.Run.Entry); n != "" {
		entry = n
	}
	words := clean(r.ID)
	if words == "" {
		words = "camera"
	}
	words += ": in at " + entry
	if n := clean(r.Toward); n != "" {
		words += ", pushed toward " + n
	}
	if r.Against {
		words += ", against the flow"
	}
	switch {
	case clean(r.Words) != "":
		words += "; " + clean(r.Words)
	case r.Ended != site.RunEndUnstated:
		words += "; ended: " + clean(r.Ended)
	}
	return words
}

// notes tells how the drawing is to be read.
func (s *strip) notes() {
	words := "Heights are drawn " + numberText(s.factor) + " times as large as distances."
	if !(s.say.Bore > 0) {
		words += " The pipe's bore is not known; it is drawn as " + s.say.small(s.bore) + "."
	}
	if len(s.profile) == 0 {
		words += " The fall was not measured; the pipe is drawn level."
	} else if s.length > s.profile[len(s.profile)-1].at+unit.Millimetre {
		words += " Broken outline: the fall was not measured there."
	}
	if len(s.gaps()) > 0 {
		words += " Slanting lines: not seen by the camera."
	}
	if len(s.found) > 0 {
		words += " Marks: empty or thin to note, half to watch, full or thick to act."
	}
	s.note(words)
	if n := s.uncounted; n > 0 {
		s.note(english.Count(n, "finding") + " without a footage not drawn.")
	}
	if n := s.left; n > 0 {
		s.note(english.Count(n, "lighter finding") + " marked without words.")
	}
	if n := s.undrawn; n > 0 {
		s.note(english.Count(n, "more finding") + " not drawn.")
	}
}
