package jobfile

import (
	"fmt"

	"undersod/core/site"
	"undersod/core/unit"
)

// readOffsets reads offsets as a list of groups, or by baseline and point.
func (r *reader) readOffsets(n *node) {
	if n.form == list {
		for _, item := range n.items {
			r.listedOffset(item)
		}
		return
	}
	for _, base := range r.entries(n, "offsets") {
		subject := "offsets from " + string(base.name)
		from, to, known := r.split(base.key, string(base.name), subject)
		for _, point := range r.entries(base.value, subject) {
			what := fmt.Sprintf("offset of %s from %s", point.name, base.name)
			there := r.mustExist(point.key, point.name, what)
			for _, value := range elements(point.value) {
				o := site.Offset{From: from, To: to, Point: point.name}
				if r.offset(value, what, &o) && known && there {
					r.keep(value, o)
				}
			}
		}
	}
}

// listedOffset reads one offset that names its baseline and its point.
func (r *reader) listedOffset(n *node) {
	base, point := n.key("baseline"), n.key("point")
	if n.form != dict || base == nil || point == nil {
		r.wrong(n, "an offset", "baseline, point, station, and right or left",
			`{baseline: A-B, point: L1 end, station: 12' 6", right: 4' 3"}`)
		return
	}
	var o site.Offset
	var known, there bool
	o.From, o.To, known = r.baseline(base, "baseline of an offset")
	what := "offset from " + base.shown()
	if o.Point, there = r.point(point, "point of an "+what); there {
		what = fmt.Sprintf("offset of %s from %s-%s", o.Point, o.From, o.To)
	}
	if r.offset(n, what, &o) && known && there {
		r.keep(n, o)
	}
}

// offset reads the station and the distance of an offset.
func (r *reader) offset(n *node, subject string, o *site.Offset) (ok bool) {
	o.Taken = r.taken(n, fmt.Sprintf("offset %s-%s > %s", o.From, o.To, o.Point))
	if n.form == scalar {
		o.Station, o.Right, ok = r.along(n, string(tidy(n.text)), subject)
		return ok
	}
	f, ok := r.fields(n, subject, inOffset)
	if !ok {
		return false
	}
	station, right, left := f.get("station"), f.get("right"), f.get("left")
	if station == nil || (right == nil) == (left == nil) {
		r.wrong(n, subject, "a station, and one of right and left", `station: 12' 6", right: 4' 3"`)
		return false
	}
	across := right
	if across == nil {
		across = left
	}
	var first, second, sd bool
	o.Station, first = r.length(station, "station of "+subject)
	o.Right, second = r.length(across, "distance of "+subject)
	if left != nil {
		o.Right.Length = -o.Right.Length
	}
	o.SD, sd = r.sdOf(f, "sd", subject)
	return r.about(f, subject, &o.Taken) && first && second && sd
}

func (r *reader) readFixes(n *node) {
	for _, e := range r.entries(n, "fixes") {
		subject := "fix of " + string(e.name)
		known := r.mustExist(e.key, e.name, subject)
		for _, value := range elements(e.value) {
			r.oneFix(e.name, value, known)
		}
	}
}

func (r *reader) oneFix(point site.Name, value *node, known bool) {
	subject := "fix of " + string(point)
	x := site.Fix{Taken: r.taken(value, "fix "+string(point)), Point: point}
	f, ok := r.fields(value, subject, inFix)
	if ok && r.fix(f, subject, &x) && known {
		r.keep(value, x)
	}
}

// fix reads latitude and longitude, or east and north.
func (r *reader) fix(f fields, subject string, x *site.Fix) bool {
	lat, lon := f.get("latitude"), f.get("longitude")
	east, north := f.get("east"), f.get("north")
	angular, grid := lat != nil && lon != nil, east != nil && north != nil
	if angular == grid || (angular && (east != nil || north != nil)) || (grid && (lat != nil || lon != nil)) {
		r.wrong(f.self, subject, "latitude and longitude, or east and north", "latitude: 47.05312 N, longitude: 122.71104 W")
		return false
	}
	sd, ok := r.sdOf(f, "sd", subject)
	x.SD = sd
	ok = r.about(f, subject, &x.Taken) && ok
	if grid {
		x.Grid, x.Text = true, east.text+", "+north.text
		return r.lengthTo(f, "east", subject, &x.East) && r.lengthTo(f, "north", subject, &x.North) && ok
	}
	x.Text = lat.text + ", " + lon.text
	a, b := r.latitude(f, subject), r.longitude(f, subject)
	if a == nil || b == nil {
		return false
	}
	x.Latitude, x.Longitude = *a, *b
	return ok
}

func (r *reader) lengthTo(f fields, key, subject string, to *unit.Length) bool {
	w := r.lengthOf(f, key, subject)
	if w != nil {
		*to = w.Length
	}
	return w != nil
}
