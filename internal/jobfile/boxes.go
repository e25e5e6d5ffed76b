package jobfile

import (
	"fmt"

	"undersod/core/site"
	"undersod/core/unit"
)

// readBoxes reads what was measured in opened boxes, by part.
func (r *reader) readBoxes(n *node) {
	for _, e := range r.entries(n, "boxes") {
		subject := "box " + string(e.name)
		known := r.mustBePart(e.key, e.name, subject)
		b := site.Box{Part: e.name, Place: r.at(e.key)}
		if f, ok := r.fields(e.value, subject, inBox); ok {
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
	p := site.Problem{Place: r.at(n), Subject: subject, Found: clip(string(name)), Expected: "the name of a part of the job"}
	near, ok := r.guess(string(name), func() []string {
		var out []string
		for _, part := range r.job.Site.Parts {
			out = append(out, string(part.Name))
		}
		return out
	})
	if ok {
		p.Example, p.Advice = near, fmt.Sprintf("Did you mean %q?", near)
	}
	r.tell(p)
	return false
}

func (r *reader) box(f fields, subject string, b *site.Box) {
	b.Length, b.Width = r.lengthOf(f, "length", subject), r.lengthOf(f, "width", subject)
	b.Floor, b.Lid = r.lengthOf(f, "floor", subject), r.lengthOf(f, "lid", subject)
	b.Water = r.lengthOf(f, "water", subject)
	b.Rim = r.rim(f, subject)
	usual := site.Opening{Bore: r.sizeOf(f, "bore", subject)}
	usual.SD, _ = r.sdOf(f, "sd", subject)
	if k := f.get("inlet"); k != nil {
		o := usual
		if r.opening(k, "inlet of "+subject, inInlet, &o) {
			b.Inlet = &o
		}
	}
	k := f.get("outlets")
	if k == nil {
		return
	}
	for _, e := range r.entries(k, "outlets of "+subject) {
		o := usual
		o.Line = e.name
		what := fmt.Sprintf("outlet of %s to %s", subject, e.name)
		known := r.mustBeLine(e.key, e.name, what)
		if r.opening(e.value, what, inOutlet, &o) && known {
			b.Outlets = append(b.Outlets, o)
		}
	}
}

// opening reads one opening: its depth below the level line alone, or a group.
func (r *reader) opening(n *node, subject, group string, o *site.Opening) bool {
	o.Place = r.at(n)
	if n.form == scalar && !n.null {
		w, ok := r.length(n, subject)
		o.Down = &w
		return ok
	}
	f, ok := r.fields(n, subject, group)
	if !ok {
		return false
	}
	if k := f.get("line"); k != nil {
		if name, ok := r.name(k, "line of "+subject); ok && r.mustBeLine(k, name, "line of "+subject) {
			o.Line = name
		}
	}
	if bore := r.sizeOf(f, "bore", subject); bore > 0 {
		o.Bore = bore
	}
	if sd, ok := r.sdOf(f, "sd", subject); ok && sd != nil {
		o.SD = sd
	}
	o.Down, o.FromLeft = r.lengthOf(f, "down", subject), r.lengthOf(f, "from left", subject)
	if k := f.get("rod"); k != nil {
		o.Rod, _ = r.name(k, "rod of "+subject)
	}
	if k := f.get("wall"); k != nil {
		word, _ := r.choice(k, "wall of "+subject, walls())
		o.Wall = edgeOf(word)
	}
	r.yesOf(f, "closed", subject, &o.Closed)
	r.shareOf(f, "narrowed", subject, "20%", &o.Narrowed)
	r.words(f, "note", subject, &o.Note)
	return true
}

func (r *reader) rim(f fields, subject string) map[site.Edge]unit.Written {
	k := f.get("rim")
	if k == nil {
		return nil
	}
	subject = "rim of " + subject
	sides, ok := r.fields(k, subject, inRim)
	if !ok {
		return nil
	}
	out := map[site.Edge]unit.Written{}
	for _, wall := range walls() {
		if w := r.lengthOf(sides, wall, subject); w != nil {
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
		r.level(site.LevelPoint{Name: e.name, Place: r.at(e.key)})
	}
	for _, box := range pairs(boxes) {
		openings := pairs(box.value.key("outlets"))
		if in := box.value.key("inlet"); in != nil {
			openings = append(openings, entry{key: in, name: "", value: in})
		}
		for _, o := range openings {
			words := fmt.Sprintf("invert of the outlet of %s to %s", box.name, o.name)
			if o.name == "" {
				words = fmt.Sprintf("invert of the inlet of %s", box.name)
			}
			for _, rod := range quietNames(o.value.key("rod")) {
				if _, isPoint := r.points[rod.name]; !isPoint {
					r.level(site.LevelPoint{Name: rod.name, Words: words, Place: r.at(rod.key)})
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
	for _, e := range r.entries(n, "level points") {
		i, ok := r.levels[e.name]
		if !ok || e.value.form == scalar && e.value.null {
			continue
		}
		if words, ok := r.text(e.value, "level point "+string(e.name)); ok {
			r.job.Site.LevelPoints[i].Words = words
		}
	}
}

// mustStand tells a name that neither a point nor a level point has.
func (r *reader) mustStand(n *node, name site.Name, subject string) bool {
	if _, level := r.levels[name]; level || r.exists(name) || r.full {
		return level || r.exists(name)
	}
	p := site.Problem{Place: r.at(n), Subject: subject, Found: clip(string(name)),
		Expected: "the name of a point or of a level point that the job declares",
		Advice:   "Declare a turning point or a bench mark under level points."}
	near, ok := r.guess(string(name), func() []string {
		out := r.known()
		for _, l := range r.job.Site.LevelPoints {
			out = append(out, string(l.Name))
		}
		return out
	})
	if ok {
		p.Example, p.Advice = near, fmt.Sprintf("Did you mean %q? If it is a new turning point or bench mark, declare it under level points.", near)
	}
	r.tell(p)
	return false
}
