package jobfile

import (
	"fmt"

	"undersod/core/site"
	"undersod/core/unit"
)

// readRecord reads what the permit or an older drawing claims.
func (r *reader) readRecord(n *node) {
	const subject = "the record"
	f, ok := r.fields(n, subject, inRecord)
	if !ok {
		return
	}
	rec := &site.Record{Place: r.at(n)}
	r.words(f, "source", subject, &rec.Source)
	r.whenOf(f, "date", subject, &rec.Date)
	r.countOf(f, "lines", subject, &rec.Lines)
	r.countOf(f, "outlets", subject, &rec.Outlets)
	r.countOf(f, "bedrooms", subject, &rec.Bedrooms)
	r.volumeOf(f, "tank", subject, &rec.Tank)
	r.flowOf(f, "daily flow", subject, &rec.DailyFlow)
	quantityTo(r, f, "area", subject, "an area", "540 sq ft", unit.ParseArea, &rec.Area)
	rec.TrenchWidth = r.lengthOf(f, "trench width", subject)
	rec.TrenchDepth = r.lengthOf(f, "trench depth", subject)
	rec.StoneBelow = r.lengthOf(f, "stone below", subject)
	rec.TrenchLength = r.lengthOf(f, "trench length", subject)
	rec.Spacing = r.lengthOf(f, "spacing", subject)
	if k := f.get("distances"); k != nil {
		rec.Distances = r.claims(k)
	}
	if k := f.get("drawing"); k != nil {
		rec.Drawing = r.drawing(k)
	}
	r.job.Site.Record = rec
}

// claims reads the distances that the record states: point, then point, then
// the distance.
func (r *reader) claims(n *node) []site.Claim {
	var out []site.Claim
	r.each(n, "distances of the record", func(outer, inner entry, value *node) {
		subject := fmt.Sprintf("distance from %s to %s in the record", inner.name, outer.name)
		c := site.Claim{From: inner.name, To: outer.name, Place: r.at(value)}
		known := r.ends(outer, inner, subject)
		s, ok := r.spelled(value, subject, inClaim)
		if !ok {
			return
		}
		c.Read, ok = r.length(s.read, subject)
		c.SD, _ = r.sdOf(s.fields, "sd", subject)
		if ok && known && r.roomFor(value) {
			out = append(out, c)
		}
	})
	return out
}

// drawing reads points of an old drawing in its own units.
func (r *reader) drawing(n *node) *site.Drawing {
	const subject = "the drawing of the record"
	f, ok := r.fields(n, subject, inDrawing)
	if !ok {
		return nil
	}
	d := &site.Drawing{Place: r.at(n)}
	if k := f.get("file"); k != nil {
		d.File, _ = r.fileName(k, "file of "+subject, "photos/old-sketch.jpg")
	}
	r.yesOf(f, "down", subject, &d.Down)
	if k := f.get("sd"); k != nil {
		if v, ok := r.number(k, "sd of "+subject, "a number in the drawing's own units", "sd: 2"); ok {
			d.SD = v
		}
	}
	if k := f.get("points"); k != nil {
		for _, e := range r.entries(k, "points of "+subject) {
			if p, ok := r.drawn(e); ok && r.roomFor(e.key) {
				d.Points = append(d.Points, p)
			}
		}
	}
	return d
}

// drawn reads "A: [120, 340]".
func (r *reader) drawn(e entry) (site.DrawnPoint, bool) {
	subject := "point " + string(e.name) + " of the drawing"
	p := site.DrawnPoint{Name: e.name, Place: r.at(e.key)}
	known := r.mustExist(e.key, e.name, subject)
	if e.value.form != list || len(e.value.items) != 2 {
		r.wrong(e.value, subject, "two numbers in the drawing's own units, to the right and then up or down", "[120, 340]")
		return p, false
	}
	x, ok1 := r.number(e.value.items[0], subject, "a number", "[120, 340]")
	y, ok2 := r.number(e.value.items[1], subject, "a number", "[120, 340]")
	p.X, p.Y = x, y
	return p, known && ok1 && ok2
}

func (r *reader) readHousehold(n *node) {
	const subject = "the household"
	f, ok := r.fields(n, subject, inHousehold)
	if !ok {
		return
	}
	h := site.Household{Place: r.at(n)}
	r.countOf(f, "bedrooms", subject, &h.Bedrooms)
	r.countOf(f, "added bedrooms", subject, &h.AddedBedrooms)
	r.countOf(f, "persons", subject, &h.Persons)
	r.yesOf(f, "grinder", subject, &h.Grinder)
	r.flowOf(f, "daily flow", subject, &h.DailyFlow)
	r.flowOf(f, "surge", subject, &h.Surge)
	if k := f.get("hours"); k != nil {
		h.Hours = r.hours(k, "hours of "+subject)
	}
	r.job.Site.Household = h
}

// hours reads how the day's flow spreads; it is left at the default where one
// hour cannot be read.
func (r *reader) hours(n *node, subject string) []float64 {
	const expected = "24 numbers, one for each hour from midnight on"
	if n.form != list || len(n.items) != 24 {
		r.wrong(n, subject, expected, "")
		return nil
	}
	out := make([]float64, 0, len(n.items))
	for _, item := range n.items {
		v, ok := r.number(item, subject, "a number, zero or more", "1.5")
		if !ok {
			return nil
		}
		out = append(out, v)
	}
	return out
}

func (r *reader) readSoil(n *node) {
	const subject = "the soil"
	f, ok := r.fields(n, subject, inSoil)
	if !ok {
		return
	}
	s := site.Soil{Place: r.at(n)}
	quantityTo(r, f, "percolation", subject, "a time for each depth of fall", "18 min/in", unit.ParsePercolation, &s.Percolation)
	r.words(f, "texture", subject, &s.Texture)
	r.words(f, "structure", subject, &s.Structure)
	r.words(f, "strength", subject, &s.StructureBy)
	quantityTo(r, f, "loading", subject, "a flow for each area", "0.6 gal/ft2/day", unit.ParseLoading, &s.Loading)
	r.words(f, "source", subject, &s.Source)
	r.job.Site.Soil = s
}

// readCare reads what was done to the system before.
func (r *reader) readCare(n *node) {
	for _, item := range elements(n) {
		const subject = "care"
		f, ok := r.fields(item, subject, inCare)
		if !ok {
			continue
		}
		c := site.Care{Place: r.at(item)}
		r.whenOf(f, "date", subject, &c.Date)
		r.words(f, "what", subject, &c.What)
		r.words(f, "by", subject, &c.By)
		r.words(f, "note", subject, &c.Note)
		if f.get("what") == nil {
			r.wrong(item, subject, "what was done", "what: pumped")
			continue
		}
		if r.roomFor(item) {
			r.job.Site.Care = append(r.job.Site.Care, c)
		}
	}
}

// readRules reads the name of the rule pack; which there are is not known here.
func (r *reader) readRules(n *node) {
	if name, ok := r.name(n, "rules"); ok {
		r.job.Site.Rules = string(name)
	}
}
