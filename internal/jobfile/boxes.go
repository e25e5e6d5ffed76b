package jobfile

import (
	"fmt"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tree"
)

// readBoxes reads what was measured in opened boxes, by part.
func (r *reader) readBoxes(n *node) {
	for _, e := range r.Entries(n, "boxes") {
		subject := "box " + string(e.Name)
		known := r.mustBePart(e.Key, e.Name, subject)
		b := site.Box{Part: e.Name, Place: r.At(e.Key)}
		if f, ok := r.Fields(e.Value, subject, inBox); ok {
			r.box(f, subject, &b)
			if known {
				r.job.Visit.Boxes = append(r.job.Visit.Boxes, b)
			}
		}
	}
}

// mustBePart tells a name that no part of the job has.
func (r *reader) mustBePart(n *node, name site.Name, subject string) bool {
	if r.partOf[name] {
		return true
	}
	return r.unknown(n, name, subject, "the name of a part of the job", r.knownParts, remedy{})
}

func (r *reader) box(f fields, subject string, b *site.Box) {
	b.Length, b.Width = r.LengthOf(f, "length", subject), r.LengthOf(f, "width", subject)
	b.Floor, b.Lid = r.LengthOf(f, "floor", subject), r.LengthOf(f, "lid", subject)
	b.Water = r.LengthOf(f, "water", subject)
	b.Rim = r.rim(f, subject)
	usual := site.Opening{Bore: r.SizeOf(f, "bore", subject)}
	usual.SD, _ = r.SDOf(f, "sd", subject)
	if k := f.Get("inlet"); k != nil {
		o := usual
		if r.opening(k, "inlet of "+subject, inInlet, &o) {
			b.Inlet = &o
		}
	}
	k := f.Get("outlets")
	if k == nil {
		return
	}
	for _, e := range r.Entries(k, "outlets of "+subject) {
		o := usual
		o.Line = e.Name
		what := fmt.Sprintf("outlet of %s to %s", subject, e.Name)
		known := r.mustBeLine(e.Key, e.Name, what)
		if r.opening(e.Value, what, inOutlet, &o) && known {
			b.Outlets = append(b.Outlets, o)
		}
	}
}

// opening reads one opening: its depth below the level line alone, or a group.
func (r *reader) opening(n *node, subject, group string, o *site.Opening) bool {
	o.Place = r.At(n)
	if n.Form == tree.Scalar && !n.Null {
		w, ok := r.Length(n, subject)
		o.Down = &w
		return ok
	}
	f, ok := r.Fields(n, subject, group)
	if !ok {
		return false
	}
	if k := f.Get("line"); k != nil {
		if name, ok := r.Name(k, "line of "+subject); ok && r.mustBeLine(k, name, "line of "+subject) {
			o.Line = name
		}
	}
	if bore := r.SizeOf(f, "bore", subject); bore > 0 {
		o.Bore = bore
	}
	if sd, ok := r.SDOf(f, "sd", subject); ok && sd != nil {
		o.SD = sd
	}
	o.Down, o.FromLeft = r.LengthOf(f, "down", subject), r.LengthOf(f, "from left", subject)
	if k := f.Get("rod"); k != nil {
		o.Rod, _ = r.Name(k, "rod of "+subject)
	}
	if k := f.Get("wall"); k != nil {
		word, _ := r.Choice(k, "wall of "+subject, walls())
		o.Wall = edgeOf(word)
	}
	r.YesOf(f, "closed", subject, &o.Closed)
	r.ShareOf(f, "narrowed", subject, "20%", &o.Narrowed)
	r.Words(f, "note", subject, &o.Note)
	return true
}

func (r *reader) rim(f fields, subject string) map[site.Edge]unit.Written {
	k := f.Get("rim")
	if k == nil {
		return nil
	}
	subject = "rim of " + subject
	sides, ok := r.Fields(k, subject, inRim)
	if !ok {
		return nil
	}
	out := map[site.Edge]unit.Written{}
	for _, wall := range walls() {
		if w := r.LengthOf(sides, wall, subject); w != nil {
			out[edgeOf(wall)] = *w
		}
	}
	return out
}

// gatherLevelPoints makes level points of those that the job declares and of
// those that an opening names as read by the rod, unless a point has the name.
// What is wrong in them is told where they are read.
func (r *reader) gatherLevelPoints(declared, boxes *node) {
	for _, e := range pairs(declared) {
		r.level(site.LevelPoint{Name: e.Name, Place: r.At(e.Key)})
	}
	for _, box := range pairs(boxes) {
		openings := pairs(box.Value.Key("outlets"))
		if in := box.Value.Key("inlet"); in != nil {
			openings = append(openings, entry{Key: in, Name: "", Value: in})
		}
		for _, o := range openings {
			words := fmt.Sprintf("invert of the outlet of %s to %s", box.Name, o.Name)
			if o.Name == "" {
				words = fmt.Sprintf("invert of the inlet of %s", box.Name)
			}
			for _, rod := range quietNames(o.Value.Key("rod")) {
				if _, isPoint := r.points[rod.Name]; !isPoint {
					r.level(site.LevelPoint{Name: rod.Name, Words: words, Place: r.At(rod.Key)})
				}
			}
		}
	}
}

// level adds a level point once.
func (r *reader) level(p site.LevelPoint) {
	if _, known := r.levels[p.Name]; known {
		return
	}
	if len(r.levels) >= maxPoints {
		r.tellFull(p.Place, fmt.Sprintf("at most %d level points", maxPoints))
		return
	}
	r.levels[p.Name] = len(r.job.Site.LevelPoints)
	r.job.Site.LevelPoints = append(r.job.Site.LevelPoints, p)
}

// readLevelPoints reads what the declared level points are.
func (r *reader) readLevelPoints(n *node) {
	for _, e := range r.Entries(n, "level points") {
		i, ok := r.levels[e.Name]
		if !ok || e.Value.Form == tree.Scalar && e.Value.Null {
			continue
		}
		if words, ok := r.Text(e.Value, "level point "+string(e.Name)); ok {
			r.job.Site.LevelPoints[i].Words = words
		}
	}
}

// mustStand tells a name that neither a point nor a level point has.
func (r *reader) mustStand(n *node, name site.Name, subject string) bool {
	if _, level := r.levels[name]; level || r.exists(name) || r.full {
		return level || r.exists(name)
	}
	known := func() []string {
		return append(r.known(), named(r.job.Site.LevelPoints, func(l site.LevelPoint) site.Name { return l.Name })...)
	}
	return r.unknown(n, name, subject, "the name of a point or of a level point that the job declares", known, remedy{
		"Declare a turning point or a bench mark under level points.",
		" If it is a new turning point or bench mark, declare it under level points."})
}
