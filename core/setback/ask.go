package setback

import (
	"strings"

	"undersod/core/adjust"
	"undersod/core/bounds"
	"undersod/core/clearance"
	"undersod/core/english"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Ask turns what the owner wants to build into a question, with what keeps it
// from being asked as problems: the question is then to be asked only where none
// is a mistake. A turn that is left open is free.
func Ask(job *site.Job, plan *adjust.Plan, p site.Proposed) (Question, []site.Problem) {
	return newYard(job, plan, nil).ask(p)
}

// asking builds a question and gathers its problems.
type asking struct {
	y        *yard
	p        site.Proposed
	q        Question
	problems []site.Problem
}

func (y *yard) ask(p site.Proposed) (Question, []site.Problem) {
	a := &asking{y: y, p: p, q: Question{Name: string(p.Name), Kind: p.Kind, Class: p.Class, Bedrooms: max(p.Bedrooms, 0)}}
	if a.q.Name == "" {
		a.q.Name = "what is proposed"
	}
	a.kind()
	a.footprint()
	a.turn()
	a.place()
	a.near()
	if p.FromLot != nil {
		if l := p.FromLot.Length; l >= 0 && l <= farthest {
			a.q.FromLot = &l
		} else {
			a.wrong(p.FromLot.Text, "a distance from the property line of 0 or more", "from property line: 10'")
		}
	}
	return a.q, a.problems
}

// wrong notes one problem.
func (a *asking) wrong(found, expected, example string) {
	a.problems = append(a.problems, site.Problem{Place: a.p.Place, Subject: "proposed " + a.q.Name, Found: found, Expected: expected, Example: example})
}

func (a *asking) kind() {
	switch a.p.Kind {
	case site.Structure, site.Pool, site.Well, site.Driveway:
	default:
		a.wrong(string(a.p.Kind), "structure, pool, well or driveway", "kind: structure")
	}
}

// footprint takes the outline, or the length and width; a well is a point.
func (a *asking) footprint() {
	p, say := a.p, a.y.say
	switch {
	case p.Kind == site.Well:
		a.q.Footprint = clearance.Point()
	case len(p.Outline) > 0:
		f, err := clearance.Convex(aboutCentre(p.Outline))
		if err != nil {
			a.wrong(outlineWords(p.Outline, say), "an outline that bulges everywhere: at least 3 corners in their order round it, none twice and none on a straight side", "outline: [[0', 0'], [20', 0'], [20', 12'], [0', 12']]")
			return
		}
		a.q.Footprint, a.q.Size = f, english.Count(len(p.Outline), "corner")
	case p.Length == nil || p.Width == nil:
		a.wrong("", "its length and width", "size: 24' x 16'")
	default:
		f, err := clearance.Rectangle(p.Length.Length, p.Width.Length)
		if err != nil || bounds.Sane(p.Length.Length) == 0 || bounds.Sane(p.Width.Length) == 0 {
			a.wrong(p.Length.Text+" x "+p.Width.Text, "a length and a width above zero", "size: 24' x 16'")
			return
		}
		a.q.Footprint, a.q.Size = f, asWritten(*p.Length, say)+" x "+asWritten(*p.Width, say)
	}
}

// outlineWords tells an outline as it was read.
func outlineWords(corners []site.Stake, say unit.Style) string {
	var out []string
	for i, c := range corners {
		if i == 8 {
			out = append(out, "...")
			break
		}
		out = append(out, "["+say.Format(c.Along)+", "+say.Format(c.Right)+"]")
	}
	return "the outline " + strings.Join(out, ", ")
}

func asWritten(w unit.Written, say unit.Style) string {
	if w.Text != "" {
		return w.Text
	}
	return say.Format(w.Length)
}

// aboutCentre turns an outline by stakes into corners about the centre of its
// area, its length to the north.
func aboutCentre(stakes []site.Stake) []planar.Vec {
	out := make([]planar.Vec, len(stakes))
	for i, s := range stakes {
		out[i] = planar.Vec{East: s.Right, North: s.Along}
	}
	c := planar.Ring(out).Centroid()
	for i := range out {
		out[i] = out[i].Minus(c)
	}
	return out
}

// turn takes the direction of the length.
func (a *asking) turn() {
	switch p := a.p; {
	case p.Kind == site.Well:
		a.q.Turning = Turning{}
	case p.Along != nil:
		from, _, lost := a.y.locate(p.Along[0])
		to, _, more := a.y.locate(p.Along[1])
		step := to.Minus(from)
		if lost != "" || more != "" || step.Length() == 0 {
			a.wrong(string(p.Along[0])+"-"+string(p.Along[1]), "two different located points for its length to run along", "along: A-B")
			return
		}
		a.q.Turning.Fixed = step.Azimuth()
		a.q.TurnWords = "along " + string(p.Along[0]) + "-" + string(p.Along[1])
	case p.Turn != nil:
		a.q.Turning.Fixed = p.Turn.Turn()
	default:
		a.q.Turning.Free = true
	}
}

// stood is what a stated place hangs on; at is where that is.
type stood struct {
	stand
	at    planar.Vec
	known bool
}

// place finds where it shall stand.
func (a *asking) place() {
	at := a.p.At
	if at == nil {
		return
	}
	first, second := at.From, at.To
	if at.Point != "" {
		first, second = at.Point, at.Point
	}
	from, i, lost := a.y.locate(first)
	to, k, more := a.y.locate(second)
	if o := a.y.outlineOf(at.Point); o != nil && lost != "" {
		a.q.stood = stood{stand: stand{from: -1, to: -1, outline: o}, at: o.Centre, known: true}
		a.q.Stated = &clearance.Placement{At: o.Centre, Turn: a.q.Turning.Fixed}
		return
	}
	if lost != "" || more != "" {
		a.wrong(string(first), "a located point to stand at; "+english.Join(some(lost, more), "and"), "at: {baseline: A-B, station: 30', right: 12'}")
		return
	}
	s := stood{stand: stand{from: i, to: k, station: at.Station.Length, right: at.Right.Length}, at: from, known: true}
	if at.Point == "" {
		e, ok := to.Minus(from).Unit()
		if !ok || !(s.station.Abs() <= farthest && s.right.Abs() <= farthest) {
			a.wrong(string(first)+"-"+string(second), "a line between two different points, and distances along it and to its right", "at: {baseline: A-B, station: 30', right: 12'}")
			return
		}
		s.at = from.Plus(e.Times(float64(s.station))).Plus(e.Right().Times(float64(s.right)))
	}
	a.q.stood = s
	a.q.Stated = &clearance.Placement{At: s.at, Turn: a.q.Turning.Fixed}
}

// outlineOf is the fitted outline of a part; nil without one.
func (y *yard) outlineOf(name site.Name) *adjust.Outline {
	for i := range y.plan.Outlines {
		if o := &y.plan.Outlines[i]; o.Part == name && o.Fitted && finite(o.Centre) {
			return o
		}
	}
	return nil
}

// some returns the words that are not empty, each once.
func some(words ...string) []string {
	var out []string
	for _, w := range words {
		if w != "" && (len(out) == 0 || out[len(out)-1] != w) {
			out = append(out, w)
		}
	}
	return out
}

// near finds what it should stand near: a point, or the middle of a part, a
// building or a feature.
func (a *asking) near() {
	name := a.p.Near
	if name == "" {
		return
	}
	v, lost := a.y.middle(name)
	if lost != "" {
		a.wrong(string(name), "a located point, part, building or feature to stand near; "+lost, "near: Maple")
		return
	}
	a.q.Near, a.q.NearWords = &v, string(name)
}

// middle is the place of a point, or the middle of what has several.
func (y *yard) middle(name site.Name) (planar.Vec, string) {
	for _, list := range [][]*body{y.parts, y.things} {
		for _, b := range list {
			if b.Name != name {
				continue
			}
			if b.lost != "" {
				return planar.Vec{}, b.lost
			}
			if b.shape.Closed || b.lot != nil {
				return planar.Ring(b.shape.Points).Centroid(), ""
			}
			path := planar.Path(b.shape.Points)
			v, _ := path.At(path.Length() / 2)
			return v, ""
		}
	}
	at, _, lost := y.locate(name)
	return at, lost
}
