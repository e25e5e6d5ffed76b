package jobfile

import (
	"slices"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tree"
)

// readProposed reads what the owner wants to build. What says no kind, or a
// size that cannot be read, is left out; any other slip leaves the rest.
func (r *reader) readProposed(n *node) {
	for _, e := range r.Entries(n, "proposed") {
		subject := "proposed " + string(e.Name)
		p := site.Proposed{Name: e.Name, Place: r.At(e.Key)}
		sized := true
		word, ok := r.kindOf(e.Value, subject, kinded{inProposed, proposedKinds(), "structure"}, func(f fields) {
			r.Words(f, "class", subject, &p.Class)
			sized = r.footprint(f, subject, &p)
			r.turned(f, subject, &p)
			r.wishes(f, subject, &p)
			p.FromLot = r.LengthOf(f, "from property line", subject)
			r.CountOf(f, "bedrooms", subject, &p.Bedrooms)
		})
		if p.Kind = site.FeatureKind(word); ok && (sized || p.Kind == site.Well) && r.roomFor(e.Key) {
			r.job.Site.Proposed = append(r.job.Site.Proposed, p)
		}
	}
}

// footprint reads the size or the outline; false where one is there but cannot
// be read, which was told.
func (r *reader) footprint(f fields, subject string, p *site.Proposed) bool {
	ok := true
	if k := f.Get("size"); k != nil {
		sides := r.size(k, "size of "+subject)
		if ok = sides != nil; ok {
			p.Length, p.Width = &sides[0], &sides[1]
		}
	}
	if k := f.Get("outline"); k != nil {
		p.Outline, ok = r.stakes(k, "outline of "+subject)
	}
	return ok
}

// stakes reads corners by steps along and to the right. One that cannot be read
// makes another shape of the rest, so none is kept then.
func (r *reader) stakes(n *node, subject string) ([]site.Stake, bool) {
	const expected, example = "a list of corners, each a step along and a step to the right", "[[0', 0'], [24', 0'], [24', 16'], [0', 16']]"
	if n.Form != tree.List {
		r.Wrong(n, subject, expected, example)
		return nil, false
	}
	out, all := make([]site.Stake, 0, len(n.Items)), true
	for _, item := range n.Items {
		if item.Form != tree.List || len(item.Items) != 2 {
			r.Wrong(item, "a corner of the "+subject, "a step along and a step to the right", "[24', 16']")
			all = false
			continue
		}
		along, ok1 := r.Length(item.Items[0], "a corner of the "+subject)
		right, ok2 := r.Length(item.Items[1], "a corner of the "+subject)
		if all = all && ok1 && ok2 && r.roomFor(item); all {
			out = append(out, site.Stake{Along: along.Length, Right: right.Length})
		}
	}
	return out, all
}

// turned reads the direction of the length.
func (r *reader) turned(f fields, subject string, p *site.Proposed) {
	if k := f.Get("along"); k != nil {
		if from, to, ok := r.baselineOf(k, "along of "+subject, r.standing()); ok {
			p.Along = &[2]site.Name{from, to}
		}
	}
	if k := f.Get("turn"); k != nil {
		if a, ok := r.bearing(k, "turn of "+subject); ok {
			p.Turn = &a.Angle
		}
	}
}

// wishes reads where it shall stand and what it shall stand near. Neither makes
// a point of what it names.
func (r *reader) wishes(f fields, subject string, p *site.Proposed) {
	if k := f.Get("at"); k != nil {
		p.At = r.stand(k, "at of "+subject)
	}
	if k := f.Get("near"); k != nil {
		if name, ok := r.Name(k, "near of "+subject); ok && r.wished(k, name, "near of "+subject) {
			p.Near = name
		}
	}
}

// stand reads a point, or a baseline with a station and a distance right or
// left; nil where it cannot be read.
func (r *reader) stand(n *node, subject string) *site.Stand {
	if n.Form == tree.Scalar {
		if name, ok := r.nameBy(n, subject, r.standing()); ok {
			return &site.Stand{Point: name}
		}
		return nil
	}
	f, ok := r.Fields(n, subject, inStand)
	if !ok {
		return nil
	}
	base, station, right, left := f.Get("baseline"), f.Get("station"), f.Get("right"), f.Get("left")
	if base == nil || station == nil || (right == nil) == (left == nil) {
		r.Wrong(n, subject, "a point, or a baseline, a station, and one of right and left", "at: {baseline: F-E, station: 30', right: 60'}")
		return nil
	}
	across := right
	if across == nil {
		across = left
	}
	var s site.Stand
	var known, first, second bool
	s.From, s.To, known = r.baselineOf(base, "baseline of the "+subject, r.standing())
	s.Station, first = r.Length(station, "station of the "+subject)
	s.Right, second = r.Length(across, "distance of the "+subject)
	if left != nil {
		s.Right.Length = -s.Right.Length
	}
	if !known || !first || !second {
		return nil
	}
	return &s
}

// wished tells a name of nothing that something could stand near.
func (r *reader) wished(n *node, name site.Name, subject string) bool {
	_, point := r.points[name]
	if point || r.partOf[name] || r.featured[name] || r.built[name] {
		return true
	}
	known := func() []string {
		return slices.Concat(r.known(), r.knownParts(),
			named(r.job.Site.Features, func(f site.Feature) site.Name { return f.Name }),
			named(r.job.Site.Buildings, func(b site.Building) site.Name { return b.Name }))
	}
	return r.unknown(n, name, subject, "the name of a point, a part, a building or a feature of the job", known, remedy{})
}

// readSetbacks reads the permit's own distances.
func (r *reader) readSetbacks(n *node) {
	const subject = "the setbacks"
	f, ok := r.Fields(n, subject, inSetbacks)
	if !ok {
		return
	}
	s := &site.Setbacks{Place: r.At(n)}
	r.Words(f, "source", subject, &s.Source)
	rows := f.Get("rows")
	if rows == nil {
		r.Wrong(n, subject, "rows, a list of distances", "rows: [{from: well, field: 100'}]")
	} else {
		for _, item := range tree.Elements(rows) {
			if row, ok := r.setback(item); ok && r.roomFor(item) {
				s.Rows = append(s.Rows, row)
			}
		}
	}
	r.job.Site.Setbacks = s
}

// setback reads one row; false where it does not say from what, or where none
// of its distances can be read.
func (r *reader) setback(n *node) (site.SetbackRow, bool) {
	const subject = "a row of the setbacks"
	row := site.SetbackRow{Place: r.At(n), Distances: map[string]unit.Written{}}
	f, ok := r.Fields(n, subject, inSetback)
	if !ok {
		return row, false
	}
	r.Words(f, "class", subject, &row.Class)
	r.Words(f, "note", subject, &row.Note)
	wrong := false
	for _, column := range site.SetbackColumns() {
		w := r.LengthOf(f, column, subject)
		if w != nil {
			row.Distances[column] = *w
		}
		wrong = wrong || w == nil && f.Get(column) != nil
	}
	from := f.Get("from")
	if from == nil {
		r.Wrong(n, subject, "from, what the distances are kept from", "from: well")
		return row, false
	}
	row.From, ok = r.Choice(from, "from of "+subject, site.SetbackThings())
	return row, ok && !(wrong && len(row.Distances) == 0)
}
