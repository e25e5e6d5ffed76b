package jobfile

import (
	"strings"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tree"
)

// readMarks reads the hints of marks; their names are known by now.
func (r *reader) readMarks(n *node) { r.readHints(n, "mark", "marks") }

// readPoints reads hints of points that may be declared elsewhere.
func (r *reader) readPoints(n *node) { r.readHints(n, "point", "points") }

func (r *reader) readHints(n *node, what, section string) {
	for _, e := range r.Entries(n, section) {
		subject := what + " " + string(e.Name)
		i, ok := r.points[e.Name]
		if !ok {
			continue // past the limit of points, which was told
		}
		p := &r.job.Site.Points[i]
		if e.Value.Form == tree.Scalar {
			if kind, ok := r.Text(e.Value, "kind of "+subject); ok && kind != "" {
				p.Kind = kind
			}
			continue
		}
		f, ok := r.Fields(e.Value, subject, inMark)
		if !ok {
			continue
		}
		r.Words(f, "kind", subject, &p.Kind)
		r.hints(f, subject, p)
	}
}

// hints reads the side and the rough position of a point.
func (r *reader) hints(f fields, subject string, p *site.Point) {
	if k := f.Get("side"); k != nil {
		p.Sides = append(p.Sides, r.sides(k, subject)...)
	}
	if k := f.Get("rough"); k != nil {
		if rough, ok := r.rough(k, subject); ok {
			p.Rough = rough
		}
	}
}

// readParts reads the parts. A part whose kind is wrong is left out, its point
// stays for the readings that name it.
func (r *reader) readParts(n *node) {
	for _, e := range r.Entries(n, "parts") {
		r.partOf[e.Name] = true
		subject := "part " + string(e.Name)
		part := site.Part{Name: e.Name, Place: r.At(e.Key)}
		word, ok := r.kindOf(e.Value, subject, kinded{inPart, partKinds(), "lid"},
			func(f fields) { r.partFields(f, subject, &part) })
		if ok {
			part.Kind = site.PartKind(word)
			r.job.Site.Parts = append(r.job.Site.Parts, part)
		}
	}
}

func (r *reader) partFields(f fields, subject string, part *site.Part) {
	r.Words(f, "detail", subject, &part.Detail)
	part.Length = r.SizeOf(f, "length", subject)
	part.Width = r.SizeOf(f, "width", subject)
	r.VolumeOf(f, "capacity", subject, &part.Capacity)
	r.Words(f, "material", subject, &part.Material)
	r.WhenOf(f, "installed", subject, &part.Installed)
	if k := f.Get("findings"); k != nil {
		part.Findings = r.findings(k, subject, false)
	}
	if i, ok := r.points[part.Name]; ok {
		r.hints(f, subject, &r.job.Site.Points[i])
	}
	if k := f.Get("outline"); k != nil {
		part.Outline = r.outline(k, "outline of "+subject)
	}
}

func (r *reader) outline(n *node, subject string) *site.Outline {
	f, ok := r.Fields(n, subject, inOutline)
	if !ok {
		return nil
	}
	o := &site.Outline{Length: r.LengthOf(f, "length", subject), Width: r.LengthOf(f, "width", subject)}
	o.SizeSD, _ = r.SDOf(f, "size sd", subject)
	o.ProbeSD, _ = r.SDOf(f, "probe sd", subject)
	hits := f.Get("hits")
	switch {
	case hits == nil:
		r.Wrong(n, subject, "the hits found with the probe", "hits: {h1: near, h2: near, h3: right}")
		return nil
	case hits.Form == tree.Dict:
		for _, e := range r.Entries(hits, "hits of "+subject) {
			if edge, ok := r.Choice(e.Value, "edge of hit "+string(e.Name), edges()); ok {
				o.Hits = append(o.Hits, site.Hit{Point: e.Name, Edge: edgeOf(edge)})
			}
		}
	default:
		for _, name := range r.Names(hits, "hits of "+subject) {
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
	for _, e := range r.Entries(n, "lines") {
		r.lineOf[e.Name] = true
		subject := "line " + string(e.Name)
		f, ok := r.Fields(e.Value, subject, inLine)
		if !ok {
			continue
		}
		l := site.Line{Name: e.Name, Place: r.At(e.Key), TrenchWidth: r.SizeOf(f, "trench width", subject),
			Permitted: r.LengthOf(f, "permitted", subject)}
		r.trench(f, subject, &l)
		kind, path := f.Get("kind"), f.Get("path")
		if path == nil {
			r.Wrong(e.Value, subject, "a path of two points or more", "path: [D-box, L1 end]")
			continue
		}
		l.Path = r.Names(path, "path of "+subject)
		if kind == nil {
			r.Wrong(e.Value, subject, "a kind: "+english.Or(lineKinds()), "kind: drain line")
			continue
		}
		if word, ok := r.Choice(kind, "kind of "+subject, lineKinds()); ok {
			l.Kind = site.LineKind(word)
			r.job.Site.Lines = append(r.job.Site.Lines, l)
		}
	}
}

// trench reads the pipe of a line and what surrounds it.
func (r *reader) trench(f fields, subject string, l *site.Line) {
	l.Bore = r.SizeOf(f, "bore", subject)
	l.TrenchDepth = r.LengthOf(f, "trench depth", subject)
	l.StoneBelow, l.StoneAbove = r.LengthOf(f, "stone below", subject), r.LengthOf(f, "stone above", subject)
	r.ShareOf(f, "porosity", subject, "40%", &l.Porosity)
	r.WhenOf(f, "installed", subject, &l.Installed)
	r.YesOf(f, "out of use", subject, &l.OutOfUse)
}

func (r *reader) readFeatures(n *node) {
	for _, e := range r.Entries(n, "features") {
		r.featured[e.Name] = true
		subject := "feature " + string(e.Name)
		ft := site.Feature{Name: e.Name, Place: r.At(e.Key), Points: []site.Name{e.Name}}
		word, ok := r.kindOf(e.Value, subject, kinded{inFeature, featureKinds(), "tree"}, func(f fields) {
			r.Words(f, "detail", subject, &ft.Detail)
			r.Words(f, "class", subject, &ft.Class)
			ft.Radius = r.SizeOf(f, "radius", subject)
			ft.Trunk = r.SizeOf(f, "trunk", subject)
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
		n := f.Get(key)
		if n == nil {
			continue
		}
		if given++; given > 1 {
			r.Tell(site.Problem{Place: r.At(n), Subject: subject, Found: key,
				Expected: "only one of at, path and area", Advice: "Only the first of them is used."})
			return
		}
		ft.Points = r.Names(n, key+" of "+subject)
		ft.Closed = key == "area"
		if key == "at" && len(ft.Points) > 1 {
			r.Wrong(n, "at of "+subject, "one point", "at: Maple trunk")
			ft.Points = ft.Points[:1]
		}
	}
}

func (r *reader) readBuildings(n *node) {
	for _, e := range r.Entries(n, "buildings") {
		r.built[e.Name] = true
		subject := "building " + string(e.Name)
		f, ok := r.Fields(e.Value, subject, inBuilding)
		if !ok {
			continue
		}
		b := site.Building{Name: e.Name, Place: r.At(e.Key)}
		corners := f.Get("corners")
		if corners == nil {
			r.Wrong(e.Value, subject, "the corners in order", "corners: [A, B, C, D]")
			continue
		}
		b.Corners = r.Names(corners, "corners of "+subject)
		b.Sides = r.walls(f, subject)
		r.Words(f, "class", subject, &b.Class)
		turned := false
		b.Turns, turned = r.turns(f, subject, len(b.Corners))
		b.SideSD, _ = r.SDOf(f, "side sd", subject)
		b.Square, _ = r.AngleSD(f, "square sd", subject)
		if turned {
			r.job.Site.Buildings = append(r.job.Site.Buildings, b)
		}
	}
}

// walls reads the lengths of the sides, from size or from sides. A side in
// error counts as not measured.
func (r *reader) walls(f fields, subject string) []unit.Written {
	size, sides := f.Get("size"), f.Get("sides")
	if size != nil && sides != nil {
		r.Tell(site.Problem{Place: r.At(size), Subject: subject, Found: "size and sides",
			Expected: "one of them", Advice: "The sides are used."})
	}
	switch {
	case sides != nil:
		var out []unit.Written
		for _, item := range tree.Elements(sides) {
			var w unit.Written
			if !unmeasured(item) {
				w, _ = r.Length(item, "sides of "+subject)
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
	return n.Form == tree.Scalar && (n.Null || n.Text == "?" || strings.EqualFold(n.Text, "none"))
}

// size reads "44' x 28'".
func (r *reader) size(n *node, subject string) []unit.Written {
	cut := strings.FieldsFunc(n.Text, func(c rune) bool { return c == 'x' || c == 'X' || c == '×' })
	if n.Form != tree.Scalar || len(cut) != 2 {
		r.Wrong(n, subject, "two lengths with an x between", "44' x 28'")
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
	if k := f.Get("order"); k != nil {
		if word, ok := r.Choice(k, "order of "+subject, []string{"clockwise", "counterclockwise"}); ok {
			order = word
		}
	}
	var out []site.BuildingTurn
	if k := f.Get("turns"); k != nil {
		all := true
		for _, item := range tree.Elements(k) {
			word, ok := r.Choice(item, "turns of "+subject, []string{"right", "left"})
			all = all && ok
			out = append(out, turnOf(word == "right"))
		}
		return out, all
	}
	if corners > 4 {
		r.Tell(site.Problem{Place: r.At(f.Self), Subject: subject, Found: "no turns",
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
