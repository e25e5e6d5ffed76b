package jobfile

import (
	"fmt"
	"strings"

	"undersod/core/site"
	"undersod/internal/jobfile/tell"
	"undersod/internal/jobfile/tree"
	"undersod/internal/jobfile/values"
)

// gather finds every point the file names before anything is read that speaks
// of points: what is declared first, in file order within each section, then
// what paths, outlines and features bring into being.
func (r *reader) gather(top fields) {
	r.gatherBuildings(top.Get("buildings"))
	r.gatherKeys(top.Get("marks"), site.RoleMark)
	r.gatherParts(top.Get("parts"))
	r.gatherHits(top.Get("parts"))
	r.gatherLines(top.Get("lines"))
	r.gatherFeatures(top.Get("features"))
	r.gatherPoints(top.Get("points"))
}

// pairs lists the keys and values of a group without telling anything; the
// reading of the section does that.
func pairs(n *node) []entry {
	if n == nil || n.Form != tree.Dict {
		return nil
	}
	quiet := &values.Reader{}
	return quiet.Entries(n, "")
}

// quietNames lists the names in a list without telling anything.
func quietNames(n *node) []entry {
	if n == nil {
		return nil
	}
	quiet := &values.Reader{}
	var out []entry
	for _, item := range tree.Elements(n) {
		if name, ok := quiet.Name(item, ""); ok {
			out = append(out, entry{Key: item, Name: name})
		}
	}
	return out
}

func (r *reader) add(p site.Point) {
	if len(r.job.Site.Points) >= maxPoints {
		r.tellFull(p.Place, fmt.Sprintf("at most %d points", maxPoints))
		return
	}
	r.points[p.Name] = len(r.job.Site.Points)
	r.job.Site.Points = append(r.job.Site.Points, p)
}

// tellFull says once that a limit was passed.
func (r *reader) tellFull(at site.Place, expected string) {
	if !r.full {
		r.full = true
		r.Tell(site.Problem{Place: at, Subject: "the job is too large", Expected: expected,
			Advice: "Everything from here on is left out. A job holds one property and one visit."})
	}
}

// declare adds a point that the file names in a section of its own, and tells
// a name that is taken.
func (r *reader) declare(e entry, role site.Role, kind string) {
	i, taken := r.points[e.Name]
	if !taken {
		r.add(site.Point{Name: e.Name, Role: role, Kind: kind, Place: r.At(e.Key)})
		return
	}
	before := r.job.Site.Points[i]
	if role == site.RoleCorner && before.Role == site.RoleCorner {
		return // two buildings may share a corner
	}
	r.Tell(site.Problem{
		Place: r.At(e.Key), Subject: "a name used twice", Found: string(e.Name),
		Expected: fmt.Sprintf("another name: line %d names the %s so", before.Place.Line, roleWords(before)),
		Advice:   "To say more about a point that exists, put it under points.",
	})
}

func roleWords(p site.Point) string {
	switch p.Role {
	case site.RoleCorner:
		return "building corner"
	case site.RoleMark:
		return "mark"
	case site.RolePart:
		return "part"
	case site.RoleHit:
		return "probe hit"
	case site.RoleFeature:
		return "feature's point"
	}
	return "bend"
}

func (r *reader) gatherBuildings(n *node) {
	for _, b := range pairs(n) {
		seen := map[site.Name]bool{}
		for _, c := range quietNames(b.Value.Key("corners")) {
			if !seen[c.Name] { // a corner named twice is told with the building
				r.declare(c, site.RoleCorner, "building corner")
			}
			seen[c.Name] = true
		}
	}
}

func (r *reader) gatherKeys(n *node, role site.Role) {
	for _, e := range pairs(n) {
		r.declare(e, role, "")
	}
}

// gatherParts makes a point of every part, but keeps back those with an
// outline and no hint: they become points where something names them.
func (r *reader) gatherParts(n *node) {
	for _, e := range pairs(n) {
		kind := partKindOf(e.Value)
		hinted := e.Value.Key("side") != nil || e.Value.Key("rough") != nil
		if _, taken := r.points[e.Name]; !taken && e.Value.Key("outline") != nil && !hinted {
			r.outlined[e.Name] = site.Part{Name: e.Name, Kind: kind, Place: r.At(e.Key)}
			continue
		}
		r.declare(e, site.RolePart, string(kind))
	}
}

func partKindOf(n *node) site.PartKind {
	k := n
	if n.Form != tree.Scalar {
		k = n.Key("kind")
	}
	if k == nil {
		return ""
	}
	return site.PartKind(strings.ToLower(k.Text))
}

// surface makes a point of an outlined part that something names.
func (r *reader) surface(name site.Name) bool {
	p, ok := r.outlined[name]
	if !ok {
		return false
	}
	delete(r.outlined, name)
	r.add(site.Point{Name: name, Role: site.RolePart, Kind: string(p.Kind), Place: p.Place})
	return true
}

func (r *reader) gatherHits(n *node) {
	for _, part := range pairs(n) {
		hits := part.Value.Key("outline").Key("hits")
		list := pairs(hits)
		if list == nil {
			list = quietNames(hits)
		}
		for _, h := range list {
			r.imply(h, site.RoleHit, "probe hit")
		}
	}
}

// imply adds a point that a path, an outline or a feature names, unless it is
// there already.
func (r *reader) imply(e entry, role site.Role, kind string) {
	if _, known := r.points[e.Name]; known || r.surface(e.Name) {
		return
	}
	r.add(site.Point{Name: e.Name, Role: role, Kind: kind, Place: r.At(e.Key)})
}

func (r *reader) gatherLines(n *node) {
	for _, line := range pairs(n) {
		path := quietNames(line.Value.Key("path"))
		for i, p := range path {
			kind := "bend"
			if i == len(path)-1 {
				kind = "line end"
			}
			r.imply(p, site.RoleBend, kind)
		}
	}
}

func (r *reader) gatherFeatures(n *node) {
	for _, e := range pairs(n) {
		kind := e.Value.Text
		if k := e.Value.Key("kind"); k != nil {
			kind = k.Text
		}
		corners := append(quietNames(e.Value.Key("path")), quietNames(e.Value.Key("area"))...)
		for _, p := range corners {
			r.imply(p, site.RoleFeature, kind+" corner")
		}
		if at := quietNames(e.Value.Key("at")); len(at) > 0 {
			r.imply(at[0], site.RoleFeature, kind)
		} else if len(corners) == 0 {
			r.imply(e, site.RoleFeature, kind)
		}
	}
}

// gatherPoints adds the points of the section points that nothing else names.
func (r *reader) gatherPoints(n *node) {
	for _, e := range pairs(n) {
		kind := e.Value.Text
		if k := e.Value.Key("kind"); k != nil {
			kind = k.Text
		}
		role := site.RoleBend
		if kind == "probe hit" {
			role = site.RoleHit
		}
		r.imply(e, role, kind)
	}
}

// known lists every point's name, for a guess at what was meant.
func (r *reader) known() []string {
	return named(r.job.Site.Points, func(p site.Point) site.Name { return p.Name })
}

// exists tells whether a point has the name, making a point of an outlined
// part.
func (r *reader) exists(name site.Name) bool {
	_, ok := r.points[name]
	return ok || r.surface(name)
}

// point reads the name of a point that must exist.
func (r *reader) point(n *node, subject string) (site.Name, bool) {
	name, ok := r.Name(n, subject)
	if !ok {
		return "", false
	}
	return name, r.mustExist(n, name, subject)
}

// mustExist tells a name that no point has.
func (r *reader) mustExist(n *node, name site.Name, subject string) bool {
	if r.exists(name) {
		return true
	}
	if r.full {
		return false // it may have been left out for want of room, which was told
	}
	return r.unknown(n, name, subject, "the name of a point that the job declares", r.known, remedy{
		"Declare it under marks, parts or points, or in a line's path.",
		" If it is a new point, declare it under marks, parts or points, or in a line's path."})
}

// stands tells a name that neither a point nor a part with an outline has.
// Unlike mustExist it makes no point of the part: what only speaks of a tank
// found by its outline, as a record does, locates nothing.
func (r *reader) stands(n *node, name site.Name, subject string) bool {
	if _, outlined := r.outlined[name]; outlined {
		return true
	}
	return r.mustExist(n, name, subject)
}

// remedy is what to do about an unknown name: alone, and after a name was
// offered that may have been meant.
type remedy struct{ alone, offered string }

// unknown tells a name that nothing has, with the nearest of the known ones. It
// is always false.
func (r *reader) unknown(n *node, name site.Name, subject, expected string, known func() []string, do remedy) bool {
	p := site.Problem{Place: r.At(n), Subject: subject, Found: tell.Clip(string(name)), Expected: expected, Advice: do.alone}
	if near, ok := r.Guess(string(name), known); ok {
		p.Example, p.Advice = near, fmt.Sprintf("Did you mean %q?", near)+do.offered
	}
	r.Tell(p)
	return false
}

// named lists the names of things.
func named[T any](things []T, name func(T) site.Name) []string {
	out := make([]string, 0, len(things))
	for _, t := range things {
		out = append(out, string(name(t)))
	}
	return out
}

func (r *reader) knownParts() []string {
	return named(r.job.Site.Parts, func(p site.Part) site.Name { return p.Name })
}

func (r *reader) knownLines() []string {
	return named(r.job.Site.Lines, func(l site.Line) site.Name { return l.Name })
}
