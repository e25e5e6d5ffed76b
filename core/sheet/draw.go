package sheet

import (
	"errors"
	"fmt"
	"math"

	"undersod/core/adjust"
	"undersod/core/site"
)

// Draw lays out the sheet of a plan: it chooses paper and scale, draws what is
// located, labels it without overlap, and sets the tables and the title block
// beside it. Positions on paper are exactly those of the scene's Mapping.
//
// It fails where no point is located, where a paper or a scale is not known,
// and where a fixed scale does not fit the paper; the error says what would.
func Draw(job site.Job, plan adjust.Plan, m Metrics, o Options) (Scene, error) {
	o, err := o.merge(job.Show)
	if err != nil {
		return Scene{}, err
	}
	c := gather(&job, &plan, o)
	e, ok := extentOf(c.things)
	if !ok {
		return Scene{}, errors.New("nothing can be drawn: no point of the plan is located; add ties until the check shows located parts")
	}
	mm := newMeasure(m)
	best, found := attempt{}, false
	base := newFacts(c, mm)
	for _, p := range base.promising(o, e) {
		f := *base // what is laid out for one paper serves the next as long as nothing changes
		a, ok := f.try(p, o, e)
		if !ok {
			continue
		}
		if !found || a.faults() < best.faults()-serious {
			best, found = a, true
		}
		if best.faults() < serious {
			break
		}
	}
	if !found {
		return Scene{}, base.noFit(o, e)
	}
	return best.scene(), nil
}

// serious is by how many faults a larger paper must be better to be chosen.
const serious = 2.5

// promising lists the papers worth labelling: those whose drawing is not far
// smaller than another paper allows.
func (f *facts) promising(o Options, e extent) []Paper {
	papers := o.papers(f.say.Form)
	if len(papers) == 1 {
		return papers
	}
	faults, least := make([]float64, len(papers)), math.Inf(1)
	for i, p := range papers {
		faults[i] = math.Inf(1)
		if a, ok := f.paper(p, o, e); ok {
			faults[i] = a.faults()
		}
		least = min(least, faults[i])
		if faults[i] < serious {
			break // good enough, so far as is known before the labels are placed
		}
	}
	var out []Paper
	for i, p := range papers {
		if faults[i] < least+serious || faults[i] == 0 {
			out = append(out, p)
		}
	}
	return out
}

// noFit tells which scale would have fitted.
func (f *facts) noFit(o Options, e extent) error {
	say, fixed := f.say, o.Scale
	o.Scale = 0
	papers := o.papers(say.Form)
	p := papers[len(papers)-1]
	a, ok := f.try(p, o, e)
	if !ok {
		return fmt.Errorf("the tables of this job leave no room for the drawing on %s paper; choose larger paper, for example tabloid or a3", p)
	}
	return fmt.Errorf("at %s the site does not fit on %s paper; expected %s or smaller, or larger paper", say.scale(fixed), p, say.scale(a.page.scale))
}

// paper divides one paper, cutting what lies far from the system where that
// would set the scale.
func (f *facts) paper(p Paper, o Options, all extent) (attempt, bool) {
	a := attempt{facts: f, extent: all, things: f.c.things}
	var ok bool
	if a.page, ok = f.either(p, o, all); !ok || a.page.scale > f.say.farScale() {
		if near, some := core(f.c.things); some {
			if pg, fits := f.either(p, o, near); fits && (!ok || pg.scale < a.page.scale) {
				a.page, a.extent, a.far, ok = pg, near, true, true
				if o.Scale == 0 { // not larger than fine, so that more of the property shows
					a.page.scale = max(pg.scale, f.say.good())
				}
			}
		}
	}
	if !ok {
		return a, false
	}
	a.mapping = Mapping{Centre: a.extent.Centre(), Origin: a.page.area.centre(), MMPerMetre: 1000 / float64(a.page.scale)}
	if a.far || f.c.loose {
		a.things, a.beyond = f.c.cut(shown(a.mapping, a.page.area.grown(-1)))
	}
	return a, true
}

// either divides a paper, leaving rows out only where nothing else fits.
func (f *facts) either(p Paper, o Options, e extent) (page, bool) {
	if pg, ok := f.best(p, o, e, false); ok {
		return pg, true
	}
	return f.best(p, o, e, true)
}

// attempt is a sheet laid out on one paper.
type attempt struct {
	facts *facts
	page  page
	mapping
	extent  extent
	far     bool // features far off are cut at the edge of the drawing
	things  []thing
	beyond  []string
	figures []figure
	placed  placement
}

type mapping = Mapping

// faults counts what speaks against a sheet: labels that became numbers, a
// drawing smaller than fine, and rows that found no room.
func (a *attempt) faults() float64 {
	n := float64(len(a.placed.keys)) * 1.5
	for _, k := range a.placed.keys {
		if !k.shown {
			n += 10
		}
	}
	if good := a.facts.say.good(); a.page.scale > good {
		n += 4 * (float64(a.page.scale)/float64(good) - 1)
	}
	if a.far {
		n += 3
	}
	return n + 2*float64(a.page.lost)
}

// try lays the sheet out on one paper. Labels that become numbers need room in
// the panel, which changes the drawing's own room: it is laid out again until
// the list holds every number.
func (f *facts) try(p Paper, o Options, e extent) (attempt, bool) {
	var last attempt // with labels
	for round := 0; ; round++ {
		if round == 6 {
			f.holdAll()
		}
		a, ok := f.paper(p, o, e)
		if !ok {
			return attempt{}, false
		}
		if round < 8 && f.shows(a.things, a.beyond) {
			continue
		}
		a.figures = lay(a.things, a.mapping)
		if f.rings(a.figures) {
			continue
		}
		if last.figures == nil || a.page.area != last.page.area || a.mapping != last.mapping {
			a.placed = placeLabels(a.page.area.grown(-0.8), a.figures, f.m)
		} else { // only the panel changed
			a.figures, a.placed = last.figures, last.placed
		}
		last = a
		if f.holds(a.placed.keys) {
			f.tighten(&a, p, o)
			return a, true
		}
	}
}

// holdAll makes room for every label of the drawing: the list of numbers then
// holds whatever turns out to need it.
func (f *facts) holdAll() {
	f.room = f.room[:0]
	for i := range f.c.things {
		if w := f.c.things[i].label; w != nil {
			f.room = append(f.room, w.list())
		}
	}
	f.blocks = map[MM][]block{}
}

// tighten takes room out of the list of numbers that was kept in vain, where
// that leaves the drawing as it is.
func (f *facts) tighten(a *attempt, p Paper, o Options) {
	if len(f.room) == len(a.placed.keys) {
		return
	}
	room := f.room
	f.room = nil
	for _, k := range a.placed.keys {
		f.room = append(f.room, k.words)
	}
	f.blocks = map[MM][]block{}
	if pg, ok := f.best(p, o, a.extent, a.page.cut); ok && pg.area == a.page.area {
		pg.scale, pg.unusual = a.page.scale, a.page.unusual
		a.page = pg
		return
	}
	f.room = room
}

// rings tells whether the legend has yet to learn that rings are drawn.
func (f *facts) rings(figures []figure) bool {
	if f.used[lookEllipse] {
		return false
	}
	for i := range figures {
		if figures[i].look == lookEllipse && figures[i].drawn() {
			f.used[lookEllipse] = true
			f.blocks = map[MM][]block{}
			return true
		}
	}
	return false
}

// holds tells whether the list of numbers has room for all keys; if not it
// makes room, which only ever grows.
func (f *facts) holds(keys []keyed) bool {
	room := map[string]int{}
	for _, w := range f.room {
		room[w]++
	}
	good := true
	for _, k := range keys {
		if room[k.words]--; room[k.words] < 0 {
			f.room = append(f.room, k.words)
			good = false
		}
	}
	if !good {
		f.blocks = map[MM][]block{}
	}
	return good
}

// scene draws the attempt.
func (a *attempt) scene() Scene {
	f, pg := a.facts, a.page
	f.scale, f.unusual, f.keys = pg.scale, pg.unusual, a.placed.keys
	s := Scene{
		Title: sceneTitle(f), Date: clean(f.c.job.Visit.Date),
		Width: pg.width, Height: pg.height, Mapping: a.mapping,
	}
	s.Layers = paint(a.figures, a.placed, f.m)
	k := &furniture{m: f.m, facts: f}
	k.frame(pg.frame, 0.45, ink)
	if pg.area.X1 < pg.frame.X1 {
		k.line(Pos{pg.area.X1, pg.frame.Y0}, Pos{pg.area.X1, pg.frame.Y1}, 0.25, ink)
	} else {
		k.line(Pos{pg.frame.X0, pg.area.Y1}, Pos{pg.frame.X1, pg.area.Y1}, 0.25, ink)
	}
	for _, r := range pg.set {
		r.draw(k, r.in)
	}
	s.Layers = append(s.Layers, Layer{Name: "sheet", Shapes: k.shapes})
	return s
}

func sceneTitle(f *facts) string {
	if n := clean(f.c.job.Site.Name); n != "" {
		return f.title() + ": " + n
	}
	return f.title()
}
