package jobfile

import (
	"fmt"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tree"
)

// readOffsets reads offsets as a list of groups, or by baseline and point.
func (r *reader) readOffsets(n *node) {
	if n.Form == tree.List {
		for _, item := range n.Items {
			r.listedOffset(item)
		}
		return
	}
	for _, base := range r.Entries(n, "offsets") {
		subject := "offsets from " + string(base.Name)
		from, to, known := r.split(base.Key, string(base.Name), subject)
		for _, point := range r.Entries(base.Value, subject) {
			what := fmt.Sprintf("offset of %s from %s", point.Name, base.Name)
			there := r.mustExist(point.Key, point.Name, what)
			for _, value := range tree.Elements(point.Value) {
				o := site.Offset{From: from, To: to, Point: point.Name}
				if r.offset(value, what, &o) && known && there {
					r.keep(value, o)
				}
			}
		}
	}
}

// listedOffset reads one offset that names its baseline and its point.
func (r *reader) listedOffset(n *node) {
	base, point := n.Key("baseline"), n.Key("point")
	if n.Form != tree.Dict || base == nil || point == nil {
		r.Wrong(n, "an offset", "baseline, point, station, and right or left",
			`{baseline: A-B, point: L1 end, station: 12' 6", right: 4' 3"}`)
		return
	}
	var o site.Offset
	var known, there bool
	o.From, o.To, known = r.baseline(base, "baseline of an offset")
	what := "offset from " + base.Shown()
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
	if n.Form == tree.Scalar {
		o.Station, o.Right, ok = r.along(n, string(tidy(n.Text)), subject)
		return ok
	}
	f, ok := r.Fields(n, subject, inOffset)
	if !ok {
		return false
	}
	station, right, left := f.Get("station"), f.Get("right"), f.Get("left")
	if station == nil || (right == nil) == (left == nil) {
		r.Wrong(n, subject, "a station, and one of right and left", `station: 12' 6", right: 4' 3"`)
		return false
	}
	across := right
	if across == nil {
		across = left
	}
	var first, second, sd bool
	o.Station, first = r.Length(station, "station of "+subject)
	o.Right, second = r.Length(across, "distance of "+subject)
	if left != nil {
		o.Right.Length = -o.Right.Length
	}
	o.SD, sd = r.SDOf(f, "sd", subject)
	return r.about(f, subject, &o.Taken) && first && second && sd
}

func (r *reader) readFixes(n *node) {
	for _, e := range r.Entries(n, "fixes") {
		subject := "fix of " + string(e.Name)
		known := r.mustExist(e.Key, e.Name, subject)
		for _, value := range tree.Elements(e.Value) {
			r.oneFix(e.Name, value, known)
		}
	}
}

func (r *reader) oneFix(point site.Name, value *node, known bool) {
	subject := "fix of " + string(point)
	x := site.Fix{Taken: r.taken(value, "fix "+string(point)), Point: point}
	f, ok := r.Fields(value, subject, inFix)
	if ok && r.fix(f, subject, &x) && known {
		r.keep(value, x)
	}
}

// fix reads latitude and longitude, or east and north.
func (r *reader) fix(f fields, subject string, x *site.Fix) bool {
	lat, lon := f.Get("latitude"), f.Get("longitude")
	east, north := f.Get("east"), f.Get("north")
	angular, grid := lat != nil && lon != nil, east != nil && north != nil
	if angular == grid || (angular && (east != nil || north != nil)) || (grid && (lat != nil || lon != nil)) {
		r.Wrong(f.Self, subject, "latitude and longitude, or east and north", "latitude: 47.05312 N, longitude: 122.71104 W")
		return false
	}
	sd, ok := r.SDOf(f, "sd", subject)
	x.SD = sd
	ok = r.about(f, subject, &x.Taken) && ok
	if grid {
		x.Grid, x.Text = true, east.Text+", "+north.Text
		return r.lengthTo(f, "east", subject, &x.East) && r.lengthTo(f, "north", subject, &x.North) && ok
	}
	x.Text = lat.Text + ", " + lon.Text
	a, b := r.latitude(f, subject), r.longitude(f, subject)
	if a == nil || b == nil {
		return false
	}
	x.Latitude, x.Longitude = *a, *b
	return ok
}

func (r *reader) lengthTo(f fields, key, subject string, to *unit.Length) bool {
	w := r.LengthOf(f, key, subject)
	if w != nil {
		*to = w.Length
	}
	return w != nil
}
