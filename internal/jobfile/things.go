package jobfile

import (
	"strings"

	"undersod/core/site"
	"undersod/core/unit"
)

// readMarks reads the hints of marks; their names are known by now.
func (r *reader) readMarks(n *node) { r.readHints(n, "mark", "marks") }

// readPoints reads hints of points that may be declared elsewhere.
func (r *reader) readPoints(n *node) { r.readHints(n, "point", "points") }

func (r *reader) readHints(n *node, what, section string) {
	for _, e := range r.entries(n, section) {
		subject := what + " " + string(e.name)
		i, ok := r.points[e.name]
		if !ok {
			continue // past the limit of points, which was told
		}
		p := &r.job.Site.Points[i]
		if e.value.form == scalar {
			if kind, ok := r.text(e.value, "kind of "+subject); ok && kind != "" {
				p.Kind = kind
			}
			continue
		}
		f, ok := r.fields(e.value, subject, inMark)
		if !ok {
			continue
		}
		r.words(f, "kind", subject, &p.Kind)
		r.hints(f, subject, p)
	}
}

// hints reads the side and the rough position of a point.
func (r *reader) hints(f fields, subject string, p *site.Point) {
	if k := f.get("side"); k != nil {
		p.Sides = append(p.Sides, r.sides(k, subject)...)
	}
	if k := f.get("rough"); k != nil {
		if rough, ok := r.rough(k, subject); ok {
			p.Rough = rough
		}
	}
}

// readParts reads the parts. A part whose kind is wrong is left out, its point
// stays for the readings that name it.
func (r *reader) readParts(n *node) {
	for _, e := range r.entries(n, "parts") {
		r.partOf[e.name] = true
		subject := "part " + string(e.name)
		part := site.Part{Name: e.name, Place: r.at(e.key)}
		word, ok := r.kindOf(e.value, subject, kinded{inPart, partKinds(), "lid"},
			func(f fields) { r.partFields(f, subject, &part) })
		if ok {
			part.Kind = site.PartKind(word)
			r.job.Site.Parts = append(r.job.Site.Parts, part)
		}
	}
}

func (r *reader) partFields(f fields, subject string, part *site.Part) {
	r.words(f, "detail", subject, &part.Detail)
	part.Length = r.sizeOf(f, "length", subject)
	part.Width = r.sizeOf(f, "width", subject)
	r.volumeOf(f, "capacity", subject, &part.Capacity)
	r.words(f, "material", subject, &part.Material)
	r.whenOf(f, "installed", subject, &part.Installed)
	if k := f.get("findings"); k != nil {
		part.Findings = r.findings(k, subject, false)
	}
	if i, ok := r.points[part.Name]; ok {
		r.hints(f, subject, &r.job.Site.Points[i])
	}
	if k := f.get("outline"); k != nil {
		part.Outline = r.outline(k, "outline of "+subject)
	}
}

func (r *reader) outline(n *node, subject string) *site.Outline {
	f, ok := r.fields(n, subject, inOutline)
	if !ok {
		return nil
	}
	o := &site.Outline{Length: r.lengthOf(f, "length", subject), Width: r.lengthOf(f, "width", subject)}
	o.SizeSD, _ = r.sdOf(f, "size sd", subject)
	o.ProbeSD, _ = r.sdOf(f, "probe sd", subject)
	hits := f.get("hits")
	switch {
	case hits == nil:
		r.wrong(n, subject, "the hits found with the probe", "hits: {h1: near, h2: near, h3: right}")
		return nil
	case hits.form == dict:
		for _, e := range r.entries(hits, "hits of "+subject) {
			if edge, ok := r.choice(e.value, "edge of hit "+string(e.name), edges()); ok {
				o.Hits = append(o.Hits, site.Hit{Point: e.name, Edge: edgeOf(edge)})
			}
		}
	default:
		for _, name := range r.names(hits, "hits of "+subject) {
			o.Hits = append(o.Hits, site.Hit{Point: name})
		}
	}
	return o
}

func edgeOf(word string) site.Edge {
	return map[string]site.Edge{"near": site.EdgeNear, "right": site.EdgeRight,
		"far": site.EdgeFar, "left": site.EdgeLeft}[word]
}

func (r *reader) readLines(n *node) {
	for _, e := range r.entries(n, "lines") {
		r.lineOf[e.name] = true
		subject := "line " + string(e.name)
		f, ok := r.fields(e.value, subject, inLine)
		if !ok {
			continue
		}
		l := site.Line{Name: e.name, Place: r.at(e.key), TrenchWidth: r.sizeOf(f, "trench width", subject),
			Permitted: r.lengthOf(f, "permitted", subject)}
		r.trench(f, subject, &l)
		kind, path := f.get("kind"), f.get("path")
		if path == nil {
			r.wrong(e.value, subject, "a path of two points or more", "path: [D-box, L1 end]")
			continue
		}
		l.Path = r.names(path, "path of "+subject)
		if kind == nil {
			r.wrong(e.value, subject, "a kind: "+orList(lineKinds()), "kind: drain line")
			continue
		}
		if word, ok := r.choice(kind, "kind of "+subject, lineKinds()); ok {
			l.Kind = site.LineKind(word)
			r.job.Site.Lines = append(r.job.Site.Lines, l)
		}
	}
}

// trench reads the pipe of a line and what surrounds it.
func (r *reader) trench(f fields, subject string, l *site.Line) {
	l.Bore = r.sizeOf(f, "bore", subject)
	l.TrenchDepth = r.lengthOf(f, "trench depth", subject)
	l.StoneBelow, l.StoneAbove = r.lengthOf(f, "stone below", subject), r.lengthOf(f, "stone above", subject)
	r.shareOf(f, "porosity", subject, "40%", &l.Porosity)
	r.whenOf(f, "installed", subject, &l.Installed)
	r.yesOf(f, "out of use", subject, &l.OutOfUse)
}

func (r *reader) readFeatures(n *node) {
	for _, e := range r.entries(n, "features") {
		r.featured[e.name] = true
		subject := "feature " + string(e.name)
		ft := site.Feature{Name: e.name, Place: r.at(e.key), Points: []site.Name{e.name}}
		word, ok := r.kindOf(e.value, subject, kinded{inFeature, featureKinds(), "tree"}, func(f fields) {
			r.words(f, "detail", subject, &ft.Detail)
			ft.Radius = r.sizeOf(f, "radius", subject)
			ft.Trunk = r.sizeOf(f, "trunk", subject)
			r.shape(f, subject, &ft)
		})
		if ok {
			ft.Kind = site.FeatureKind(word)
			r.job.Site.Features = append(r.job.Site.Features, ft)
		}
	}
}

// shape reads where a feature lies: at one point, along a path or around an
// area; without any it stands at the point of its own name.
func (r *reader) shape(f fields, subject string, ft *site.Feature) {
	given := 0
	for _, key := range []string{"at", "path", "area"} {
		n := f.get(key)
		if n == nil {
			continue
		}
		if given++; given > 1 {
			r.tell(site.Problem{Place: r.at(n), Subject: subject, Found: key,
				Expected: "only one of at, path and area", Advice: "Only the first of them is used."})
			return
		}
		ft.Points = r.names(n, key+" of "+subject)
		ft.Closed = key == "area"
		if key == "at" && len(ft.Points) > 1 {
			r.wrong(n, "at of "+subject, "one point", "at: Maple trunk")
			ft.Points = ft.Points[:1]
		}
	}
}

func (r *reader) readBuildings(n *node) {
	for _, e := range r.entries(n, "buildings") {
		subject := "building " + string(e.name)
		f, ok := r.fields(e.value, subject, inBuilding)
		if !ok {
			continue
		}
		b := site.Building{Name: e.name, Place: r.at(e.key)}
		corners := f.get("corners")
		if corners == nil {
			r.wrong(e.value, subject, "the corners in order", "corners: [A, B, C, D]")
			continue
		}
		b.Corners = r.names(corners, "corners of "+subject)
		b.Sides = r.walls(f, subject)
		turned := false
		b.Turns, turned = r.turns(f, subject, len(b.Corners))
		b.SideSD, _ = r.sdOf(f, "side sd", subject)
		b.Square, _ = r.angleSD(f, "square sd", subject)
		if turned {
			r.job.Site.Buildings = append(r.job.Site.Buildings, b)
		}
	}
}

// walls reads the lengths of the sides, from size or from sides. A side in
// error counts as not measured.
func (r *reader) walls(f fields, subject string) []unit.Written {
	size, sides := f.get("size"), f.get("sides")
	if size != nil && sides != nil {
		r.tell(site.Problem{Place: r.at(size), Subject: subject, Found: "size and sides",
			Expected: "one of them", Advice: "The sides are used."})
	}
	switch {
	case sides != nil:
		var out []unit.Written
		for _, item := range elements(sides) {
			var w unit.Written
			if !unmeasured(item) {
				w, _ = r.length(item, "sides of "+subject)
			}
			out = append(out, w)
		}
		return out
	case size != nil:
		return r.size(size, "size of "+subject)
	}
	return nil
}

// unmeasured tells a side that was not measured. YAML refuses a bare ? in a
// list, hence the word.
func unmeasured(n *node) bool {
	return n.form == scalar && (n.null || n.text == "?" || strings.EqualFold(n.text, "none"))
}

// size reads "44' x 28'".
func (r *reader) size(n *node, subject string) []unit.Written {
	cut := strings.FieldsFunc(n.text, func(c rune) bool { return c == 'x' || c == 'X' || c == '×' })
	if n.form != scalar || len(cut) != 2 {
		r.wrong(n, subject, "two lengths with an x between", "44' x 28'")
		return nil
	}
	first, ok1 := r.lengthText(n, cut[0], subject)
	second, ok2 := r.lengthText(n, cut[1], subject)
	if !ok1 || !ok2 {
		return nil
	}
	return []unit.Written{first, second}
}

// turns reads the turn at every corner; a building of four corners may leave
// them out and say the order of its corners only. It is false when they are
// wrong, which is told.
func (r *reader) turns(f fields, subject string, corners int) ([]site.BuildingTurn, bool) {
	order := "clockwise"
	if k := f.get("order"); k != nil {
		if word, ok := r.choice(k, "order of "+subject, []string{"clockwise", "counterclockwise"}); ok {
			order = word
		}
	}
	var out []site.BuildingTurn
	if k := f.get("turns"); k != nil {
		all := true
		for _, item := range elements(k) {
			word, ok := r.choice(item, "turns of "+subject, []string{"right", "left"})
			all = all && ok
			out = append(out, turnOf(word == "right"))
		}
		return out, all
	}
	if corners > 4 {
		r.tell(site.Problem{Place: r.at(f.self), Subject: subject, Found: "no turns",
			Expected: "right or left for each corner, as a building of more than four corners needs",
			Example:  "turns: [right, right, right, right, left, right]"})
		return nil, false
	}
	for range corners {
		out = append(out, turnOf(order == "clockwise"))
	}
	return out, true
}

func turnOf(right bool) site.BuildingTurn {
	if right {
		return site.TurnRight
	}
	return site.TurnLeft
}
