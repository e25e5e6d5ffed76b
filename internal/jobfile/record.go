package jobfile

import (
	"fmt"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tree"
	"undersod/internal/jobfile/values"
)

// readRecord reads what the permit or an older drawing claims.
func (r *reader) readRecord(n *node) {
	const subject = "the record"
	f, ok := r.Fields(n, subject, inRecord)
	if !ok {
		return
	}
	rec := &site.Record{Place: r.At(n)}
	r.Words(f, "source", subject, &rec.Source)
	r.WhenOf(f, "date", subject, &rec.Date)
	r.CountOf(f, "lines", subject, &rec.Lines)
	r.CountOf(f, "outlets", subject, &rec.Outlets)
	r.CountOf(f, "bedrooms", subject, &rec.Bedrooms)
	r.VolumeOf(f, "tank", subject, &rec.Tank)
	r.FlowOf(f, "daily flow", subject, &rec.DailyFlow)
	values.QuantityTo(r.Reader, f, "area", subject, "an area", "540 sq ft", unit.ParseArea, &rec.Area)
	rec.TrenchWidth = r.LengthOf(f, "trench width", subject)
	rec.TrenchDepth = r.LengthOf(f, "trench depth", subject)
	rec.StoneBelow = r.LengthOf(f, "stone below", subject)
	rec.TrenchLength = r.LengthOf(f, "trench length", subject)
	rec.Spacing = r.LengthOf(f, "spacing", subject)
	if k := f.Get("distances"); k != nil {
		rec.Distances = r.claims(k)
	}
	if k := f.Get("drawing"); k != nil {
		rec.Drawing = r.drawing(k)
	}
	r.job.Site.Record = rec
}

// claims reads the distances that the record states: point, then point, then
// the distance.
func (r *reader) claims(n *node) []site.Claim {
	var out []site.Claim
	r.each(n, "distances of the record", func(outer, inner entry, value *node) {
		subject := fmt.Sprintf("distance from %s to %s in the record", inner.Name, outer.Name)
		c := site.Claim{From: inner.Name, To: outer.Name, Place: r.At(value)}
		known := r.stands(outer.Key, outer.Name, subject)
		known = r.stands(inner.Key, inner.Name, subject) && known
		s, ok := r.spelled(value, subject, inClaim)
		if !ok {
			return
		}
		c.Read, ok = r.Length(s.read, subject)
		c.SD, _ = r.SDOf(s.fields, "sd", subject)
		if ok && known && r.roomFor(value) {
			out = append(out, c)
		}
	})
	return out
}

// drawing reads points of an old drawing in its own units.
func (r *reader) drawing(n *node) *site.Drawing {
	const subject = "the drawing of the record"
	f, ok := r.Fields(n, subject, inDrawing)
	if !ok {
		return nil
	}
	d := &site.Drawing{Place: r.At(n)}
	if k := f.Get("file"); k != nil {
		d.File, _ = r.FileName(k, "file of "+subject, "photos/old-sketch.jpg")
	}
	r.YesOf(f, "down", subject, &d.Down)
	if k := f.Get("sd"); k != nil {
		if v, ok := r.Number(k, "sd of "+subject, "a number in the drawing's own units", "sd: 2"); ok {
			d.SD = v
		}
	}
	if k := f.Get("points"); k != nil {
		for _, e := range r.Entries(k, "points of "+subject) {
			if p, ok := r.drawn(e); ok && r.roomFor(e.Key) {
				d.Points = append(d.Points, p)
			}
		}
	}
	return d
}

// drawn reads "A: [120, 340]".
func (r *reader) drawn(e entry) (site.DrawnPoint, bool) {
	subject := "point " + string(e.Name) + " of the drawing"
	p := site.DrawnPoint{Name: e.Name, Place: r.At(e.Key)}
	known := r.stands(e.Key, e.Name, subject)
	if e.Value.Form != tree.List || len(e.Value.Items) != 2 {
		r.Wrong(e.Value, subject, "two numbers in the drawing's own units, to the right and then up or down", "[120, 340]")
		return p, false
	}
	x, ok1 := r.Number(e.Value.Items[0], subject, "a number", "[120, 340]")
	y, ok2 := r.Number(e.Value.Items[1], subject, "a number", "[120, 340]")
	p.X, p.Y = x, y
	return p, known && ok1 && ok2
}

func (r *reader) readHousehold(n *node) {
	const subject = "the household"
	f, ok := r.Fields(n, subject, inHousehold)
	if !ok {
		return
	}
	h := site.Household{Place: r.At(n)}
	r.CountOf(f, "bedrooms", subject, &h.Bedrooms)
	r.CountOf(f, "added bedrooms", subject, &h.AddedBedrooms)
	r.CountOf(f, "persons", subject, &h.Persons)
	r.YesOf(f, "grinder", subject, &h.Grinder)
	r.FlowOf(f, "daily flow", subject, &h.DailyFlow)
	r.FlowOf(f, "surge", subject, &h.Surge)
	if k := f.Get("hours"); k != nil {
		h.Hours = r.hours(k, "hours of "+subject)
	}
	r.job.Site.Household = h
}

// hours reads how the day's flow spreads; it is left at the default where one
// hour cannot be read.
func (r *reader) hours(n *node, subject string) []float64 {
	const expected = "24 numbers, one for each hour from midnight on"
	if n.Form != tree.List || len(n.Items) != 24 {
		r.Wrong(n, subject, expected, "")
		return nil
	}
	out := make([]float64, 0, len(n.Items))
	for _, item := range n.Items {
		v, ok := r.Number(item, subject, "a number, zero or more", "1.5")
		if !ok {
			return nil
		}
		out = append(out, v)
	}
	return out
}

func (r *reader) readSoil(n *node) {
	const subject = "the soil"
	f, ok := r.Fields(n, subject, inSoil)
	if !ok {
		return
	}
	s := site.Soil{Place: r.At(n)}
	values.QuantityTo(r.Reader, f, "percolation", subject, "a time for each depth of fall", "18 min/in", unit.ParsePercolation, &s.Percolation)
	r.Words(f, "texture", subject, &s.Texture)
	r.Words(f, "structure", subject, &s.Structure)
	r.Words(f, "strength", subject, &s.StructureBy)
	values.QuantityTo(r.Reader, f, "loading", subject, "a flow for each area", "0.6 gal/ft2/day", unit.ParseLoading, &s.Loading)
	r.Words(f, "source", subject, &s.Source)
	r.job.Site.Soil = s
}

// readCare reads what was done to the system before.
func (r *reader) readCare(n *node) {
	for _, item := range tree.Elements(n) {
		const subject = "care"
		f, ok := r.Fields(item, subject, inCare)
		if !ok {
			continue
		}
		c := site.Care{Place: r.At(item)}
		r.WhenOf(f, "date", subject, &c.Date)
		r.Words(f, "what", subject, &c.What)
		r.Words(f, "by", subject, &c.By)
		r.Words(f, "note", subject, &c.Note)
		if f.Get("what") == nil {
			r.Wrong(item, subject, "what was done", "what: pumped")
			continue
		}
		if r.roomFor(item) {
			r.job.Site.Care = append(r.job.Site.Care, c)
		}
	}
}

// readRules reads the name of the rule pack; which there are is not known here.
func (r *reader) readRules(n *node) {
	if name, ok := r.Name(n, "rules"); ok {
		r.job.Site.Rules = string(name)
	}
}
