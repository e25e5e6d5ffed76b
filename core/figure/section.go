package figure

import (
	"fmt"
	"strings"

	"undersod/core/english"
	"undersod/core/hydraulic"
	"undersod/core/judge"
	"undersod/core/level"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

// Section draws an opened box from its inlet looking along the flow: floor,
// walls, lid and inlet, and the outlets side by side at their levels with the
// water of one split in them; below it the share of each outlet as a bar. What
// was not measured is drawn broken and said to be so.
func Section(b judge.Box, measured site.Box, split hydraulic.Split, say Say) sheet.Scene {
	s := newSection(b, measured, split, say)
	title := clean(b.Part)
	if title == "" {
		title = clean(measured.Part)
	}
	if title == "" {
		title = "Box"
	}
	s.head(title + ", opened")
	if len(s.outlets) == 0 {
		s.note("Nothing of this box can be drawn: no outlet is known.")
		return s.scene(title + ": section")
	}
	s.section()
	s.columns()
	s.shares()
	s.notes()
	return s.scene(title + ": section")
}

// mostOutlets is how many outlets are drawn.
const mostOutlets = 12

// outlet is one opening as it is drawn.
type outlet struct {
	name   string
	level  unit.Length // invert over the lowest known one
	sd     unit.Length
	known  bool
	bore   unit.Length
	guess  bool // the bore is not known
	closed bool
	share  *hydraulic.Share
}

// section is the section of one box as it is laid out.
type section struct {
	*pen
	box      judge.Box
	split    hydraulic.Split
	outlets  []outlet
	more     int // outlets that are not drawn
	water    *unit.Length
	mouth    unit.Length // bore of the inlet
	blind    bool        // the bore of the inlet is not known
	lo, hi   unit.Length // heights over the lowest outlet that are drawn
	cutLid   bool        // the lid lies higher than is drawn
	cutFloor bool
	perMetre mm      // of height
	factor   float64 // by which heights are drawn larger than widths
	left     mm      // of the inside
	right    mm
	top      mm
}

// The room at the sides of a section.
const (
	wall         mm = 2.2
	sectionLeft  mm = 40
	sectionRight mm = 15
)

func newSection(b judge.Box, measured site.Box, split hydraulic.Split, say Say) *section {
	s := &section{pen: newPen(say), box: b, split: split}
	s.gather(measured)
	s.left, s.right = edge+min(sectionLeft, 0.3*s.width), s.width-edge-sectionRight
	s.fit()
	return s
}

// gather brings together what is known of each outlet.
func (s *section) gather(measured site.Box) {
	for _, o := range s.box.Outlets {
		s.outlets = append(s.outlets, outlet{name: clean(o.Line), level: o.At, sd: o.SD, known: o.Known && finite(o.At)})
	}
	if len(s.outlets) == 0 {
		for _, o := range measured.Outlets {
			s.outlets = append(s.outlets, outlet{name: clean(o.Line)})
		}
	}
	if n := len(s.outlets) - mostOutlets; n > 0 {
		s.outlets, s.more = s.outlets[:mostOutlets], n
	}
	for i := range s.outlets {
		s.describe(&s.outlets[i], i, measured)
	}
	s.mouth = s.usualBore()
	if s.blind = true; measured.Inlet != nil && plausible(measured.Inlet.Bore) {
		s.mouth, s.blind = measured.Inlet.Bore, false
	}
	s.levelWater()
}

// plausible tells whether a bore can be that of a pipe of a box.
func plausible(bore unit.Length) bool { return bore > 0 && bore <= unit.Metre }

// describe adds the bore of an outlet, whether it is closed, and its share.
func (s *section) describe(o *outlet, i int, measured site.Box) {
	for _, m := range measured.Outlets {
		if clean(m.Line) == o.name {
			o.bore, o.closed = m.Bore, m.Closed
			break
		}
	}
	if i < len(s.box.Openings) && clean(s.box.Openings[i].Name) == o.name {
		o.closed = o.closed || s.box.Openings[i].Closed
		if o.bore <= 0 {
			o.bore = s.box.Openings[i].Bore
		}
	}
	if !plausible(o.bore) {
		o.bore, o.guess = s.usualBore(), true
	}
	for k := range s.split.Shares {
		if h := &s.split.Shares[k]; clean(h.Name) == o.name {
			o.share = h
			break
		}
	}
}

// usualBore is drawn where none was measured.
func (s *section) usualBore() unit.Length {
	if s.say.metric() {
		return 100 * unit.Millimetre
	}
	return 4 * unit.Inch
}

// levelWater puts the water of the split over the lowest outlet of the box: it
// counts from the lowest open one.
func (s *section) levelWater() {
	if len(s.split.Shares) == 0 || !(s.split.Water > 0) || !finite(s.split.Water) {
		return
	}
	low, found := unit.Length(0), false
	for _, o := range s.outlets {
		if o.known && !o.closed && (!found || o.level < low) {
			low, found = o.level, true
		}
	}
	if found {
		w := low + s.split.Water
		s.water = &w
	}
}

// fit chooses which heights are drawn, and how large: a quarter of an inch
// shows as a millimetre at least, so that a lid or a floor far off is cut.
func (s *section) fit() {
	const room, farthest = 60, 0.38
	hi, lo := unit.Length(0), -unit.Inch
	bore := unit.Length(0)
	for _, o := range s.outlets {
		at := unit.Length(0)
		if o.known {
			at = min(o.level, 2*unit.Metre)
		}
		hi, lo, bore = max(hi, at+o.bore), min(lo, max(at, -2*unit.Metre)-unit.Inch), max(bore, o.bore)
	}
	if in := s.box.Inlet; in != nil && in.Known && finite(in.At) {
		hi, lo = max(hi, min(in.At, unit.Metre)+s.mouth), min(lo, max(in.At, -unit.Metre))
	}
	if s.water != nil {
		hi = max(hi, min(*s.water, 2*unit.Metre))
	}
	hi += unit.Inch / 2
	s.hi, s.lo = hi, lo
	if f := s.box.Floor; f != nil && finite(*f) {
		s.lo = min(max(*f, lo-5*unit.Inch), lo)
		s.cutFloor = *f < s.lo
	}
	if l := s.box.Lid; l != nil && finite(*l) {
		s.hi = max(min(*l, s.lo+farthest), hi)
		s.cutLid = *l > s.hi
	}
	s.perMetre = mm(room / float64(s.hi-s.lo))
	most := 0.78 * float64(s.column()) / float64(bore) // mm of paper per metre of width
	s.factor = 1
	for _, f := range [...]float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 15, 20, 30, 50, 100} {
		if s.factor = f; float64(s.perMetre)/f <= most {
			break
		}
	}
}

// column is the width of the paper that one outlet has.
func (s *section) column() mm { return (s.right - s.left) / mm(max(len(s.outlets), 1)) }

// middle is the middle of an outlet's column.
func (s *section) middle(i int) mm { return s.left + (mm(i)+0.5)*s.column() }

// at is the place of a height over the lowest outlet; at the edge for what lies
// beyond it.
func (s *section) at(h unit.Length) mm {
	return s.top + mm(float64(s.hi)-between(float64(h), float64(s.lo), float64(s.hi)))*s.perMetre
}

// columns writes the name and the level of each outlet under it.
func (s *section) columns() {
	wide := s.column() - 1
	rows := 2
	for i, o := range s.outlets {
		name := script{size: label, weight: sheet.Bold, colour: ink, align: sheet.AlignMiddle}
		s.write(s.middle(i), s.y, s.shorten(o.name, name, wide), name)
		w := script{size: label, colour: ink, align: sheet.AlignMiddle}
		s.write(s.middle(i), s.y+s.lead(label), s.levelWords(&o, w, wide), w)
		if o.closed {
			rows = 3
			s.write(s.middle(i), s.y+2*s.lead(label), s.shorten("closed", w, wide), w)
		}
	}
	s.y += mm(rows)*s.lead(label) + 2
}

// levelWords tells the level of an outlet in a width: without its unit where
// that is too narrow, since a number cut short would be another number.
func (s *section) levelWords(o *outlet, w script, wide mm) string {
	if !o.known {
		if t := "not measured"; s.advance(t, w.weight, w.size) <= wide {
			return t
		}
		return "?"
	}
	t := s.say.over(o.level)
	if bare, _, cut := strings.Cut(t, " mm"); cut && s.advance(t, w.weight, w.size) > wide {
		t = bare
	}
	if s.advance(t, w.weight, w.size) > wide {
		return "…"
	}
	return t
}

// notes tells how the drawing is to be read, and what is missing.
func (s *section) notes() {
	words := "Outlets are drawn side by side, not at their true distances; levels are over the lowest outlet. "
	if s.factor == 1 {
		words += "Heights and widths of the openings are at one scale."
	} else {
		words += "Heights are drawn " + numberText(s.factor) + " times as large as widths."
	}
	guessed, unknown, unsure := false, false, unit.Length(0)
	for _, o := range s.outlets {
		guessed, unknown = guessed || o.guess, unknown || !o.known
		if o.known && finite(o.sd) {
			unsure = max(unsure, o.sd)
		}
	}
	if unsure > 0 {
		words += " The levels are known to " + s.say.small(1.96*unsure) + " against each other (95 %)."
	}
	if _, drawn := s.inlet(); guessed || drawn && s.blind {
		words += " An opening of unknown bore is drawn as " + s.say.small(s.usualBore()) + "."
	}
	if unknown {
		words += " Broken outline: the level was not measured."
	}
	s.note(words)
	if s.more > 0 {
		s.note("and " + english.Count(s.more, "more outlet") + ", not drawn")
	}
}

// missing tells why there is no split.
func (s *section) missing() string {
	if len(s.box.Missing) == 0 {
		return "How the flow divides is not known."
	}
	return fmt.Sprintf("How the flow divides is not known: %s.", strings.TrimSuffix(strings.Join(s.box.Missing, "; "), "."))
}

// inlet returns the level of the inlet where it is known.
func (s *section) inlet() (level.Outlet, bool) {
	if in := s.box.Inlet; in != nil && in.Known && finite(in.At) {
		return *in, true
	}
	return level.Outlet{}, false
}
