package site

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"undersod/core/unit"
)

// dated tells an ISO 8601 calendar date, a month of one, or a year. The days of
// a month are counted by who reckons with dates.
func dated(text string) bool {
	const shape = "0000-00-00"
	if n := len(text); n != 4 && n != 7 && n != 10 {
		return false
	}
	for i := range len(text) {
		if digit := text[i] >= '0' && text[i] <= '9'; digit != (shape[i] == '0') || !digit && text[i] != '-' {
			return false
		}
	}
	within := func(from int, most int) bool {
		if len(text) < from+2 {
			return true
		}
		v := int(text[from]-'0')*10 + int(text[from+1]-'0')
		return v >= 1 && v <= most
	}
	return text[:4] != "0000" && within(5, 12) && within(8, 31)
}

// date returns a date as written, or nothing where it is none.
func (c *checker) date(at Place, subject, text string) string {
	if text == "" || dated(text) {
		return text
	}
	c.tell(at, subject, text, "a day as 2026-05-14, a month as 2026-05, or a year as 1996", "2021-06")
	return ""
}

// natural returns a number of things, or 0 where it is below.
func (c *checker) natural(at Place, subject string, n int) int {
	if n >= 0 {
		return n
	}
	c.tell(at, subject, fmt.Sprint(n), "a whole number, zero or more", "3")
	return 0
}

// amount returns a quantity that cannot be below zero, or 0, not stated.
func amount[Q ~float64](c *checker, at Place, subject string, q Q) Q {
	if q >= 0 && !math.IsInf(float64(q), 0) {
		return q
	}
	c.tell(at, subject, fmt.Sprintf("%.4g", float64(q)), "a quantity above zero", "")
	return 0
}

// stated returns a length above zero, or nil where it cannot be.
func (c *checker) stated(at Place, subject string, w *unit.Written) *unit.Written {
	if w == nil || c.positive(at, subject, *w) {
		return w
	}
	return nil
}

// built checks what is known of the making of parts, lines and features.
func (c *checker) built(job *Job) {
	for i := range job.Site.Parts {
		p := &job.Site.Parts[i]
		subject := "part " + string(p.Name)
		p.Capacity = amount(c, p.Place, "capacity of "+subject, p.Capacity)
		p.Installed = c.date(p.Place, "installed of "+subject, p.Installed)
	}
	for i := range job.Site.Lines {
		c.trench(&job.Site.Lines[i])
	}
	for i := range job.Site.Features {
		f := &job.Site.Features[i]
		f.Trunk = amount(c, f.Place, "trunk of feature "+string(f.Name), f.Trunk)
	}
}

func (c *checker) trench(l *Line) {
	subject := "line " + string(l.Name)
	l.Bore = c.bore(l.Place, "bore of "+subject, l.Bore)
	l.TrenchDepth = c.stated(l.Place, "trench depth of "+subject, l.TrenchDepth)
	l.Installed = c.date(l.Place, "installed of "+subject, l.Installed)
	for _, stone := range []struct {
		what string
		read **unit.Written
	}{{"stone below of ", &l.StoneBelow}, {"stone above of ", &l.StoneAbove}} {
		if w := *stone.read; w != nil && !(w.Length >= 0 && w.Length < farthest) {
			c.tell(l.Place, stone.what+subject, w.Text, "a depth of stone, zero or more", `12"`)
			*stone.read = nil
		}
	}
	if !(l.Porosity >= 0 && l.Porosity < 1) {
		c.tell(l.Place, "porosity of "+subject, fmt.Sprintf("%.4g %%", 100*l.Porosity), "the share of the stone's room that is void, under 100%", "40%")
		l.Porosity = 0
	}
}

// record checks what the permit or an older drawing claims.
func (c *checker) record(job *Job) {
	if job.Site.Record == nil {
		return
	}
	r := *job.Site.Record
	const of = " of the record"
	r.Date = c.date(r.Place, "date"+of, r.Date)
	r.Lines = c.natural(r.Place, "lines"+of, r.Lines)
	r.Outlets = c.natural(r.Place, "outlets"+of, r.Outlets)
	r.Bedrooms = c.natural(r.Place, "bedrooms"+of, r.Bedrooms)
	r.Tank = amount(c, r.Place, "tank"+of, r.Tank)
	r.DailyFlow = amount(c, r.Place, "daily flow"+of, r.DailyFlow)
	r.Area = amount(c, r.Place, "area"+of, r.Area)
	r.TrenchWidth = c.stated(r.Place, "trench width"+of, r.TrenchWidth)
	r.TrenchDepth = c.stated(r.Place, "trench depth"+of, r.TrenchDepth)
	r.StoneBelow = c.stated(r.Place, "stone below"+of, r.StoneBelow)
	r.TrenchLength = c.stated(r.Place, "trench length"+of, r.TrenchLength)
	r.Spacing = c.stated(r.Place, "spacing"+of, r.Spacing)
	r.Distances = slices.DeleteFunc(slices.Clone(r.Distances), func(x Claim) bool { return !c.claim(x) })
	if r.Drawing != nil {
		d := *r.Drawing
		c.drawing(&d)
		r.Drawing = &d
	}
	job.Site.Record = &r
}

func (c *checker) claim(x Claim) bool {
	subject := fmt.Sprintf("distance from %s to %s in the record", x.From, x.To)
	ok := c.named(x.Place, subject, x.From)
	if ok = c.named(x.Place, subject, x.To) && ok; !ok {
		return false
	}
	if x.From == x.To {
		c.tell(x.Place, subject, string(x.From), "two different points", "")
		return false
	}
	return c.positive(x.Place, subject, x.Read) && c.spread(x.Place, "sd of "+subject, x.SD)
}

// named tells a name that neither a point nor a part with an outline has.
func (c *checker) named(at Place, subject string, name Name) bool {
	return c.outlined[name] || c.exists(at, subject, name)
}

func (c *checker) drawing(d *Drawing) {
	const subject = "drawing of the record"
	if !beside(d.File) && d.File != "" {
		c.tell(d.Place, "file of the "+subject, d.File, "a file beside the job, without .. and not starting with /", "photos/old-sketch.jpg")
		d.File = ""
	}
	if !(d.SD >= 0) || math.IsInf(d.SD, 0) {
		c.tell(d.Place, "sd of the "+subject, fmt.Sprintf("%.4g", d.SD), "a number above zero, in the drawing's own units", "sd: 2")
		d.SD = 0
	}
	const longest = 1e9 // no drawing has more dots across
	list := once(c, "point of the drawing", d.Points, func(p DrawnPoint) (Name, Place) { return p.Name, p.Place })
	d.Points = slices.DeleteFunc(list, func(p DrawnPoint) bool {
		if !c.named(p.Place, "point of the "+subject, p.Name) {
			return true
		}
		if math.Abs(p.X) < longest && math.Abs(p.Y) < longest {
			return false
		}
		c.tell(p.Place, "point "+string(p.Name)+" of the "+subject, fmt.Sprintf("%.4g, %.4g", p.X, p.Y), "two numbers in the drawing's own units", "[120, 340]")
		return true
	})
}

// lived checks who uses the system and what the ground is.
func (c *checker) lived(job *Job) {
	h := &job.Site.Household
	const of = " of the household"
	h.Bedrooms = c.natural(h.Place, "bedrooms"+of, h.Bedrooms)
	h.AddedBedrooms = c.natural(h.Place, "added bedrooms"+of, h.AddedBedrooms)
	h.Persons = c.natural(h.Place, "persons"+of, h.Persons)
	h.DailyFlow = amount(c, h.Place, "daily flow"+of, h.DailyFlow)
	h.Surge = amount(c, h.Place, "surge"+of, h.Surge)
	if h.Hours != nil && !c.hours(h.Place, h.Hours) {
		h.Hours = nil
	}
	s := &job.Site.Soil
	s.Percolation = amount(c, s.Place, "percolation of the soil", s.Percolation)
	s.Loading = amount(c, s.Place, "loading of the soil", s.Loading)
}

func (c *checker) hours(at Place, hours []float64) bool {
	sum, found := 0.0, ""
	for _, v := range hours {
		if !(v >= 0) {
			found = fmt.Sprintf("%.4g", v)
		}
		sum += v
	}
	switch {
	case len(hours) != 24:
		found = count(len(hours), "number")
	case found == "" && !(sum > 0 && sum < math.MaxFloat64):
		found = fmt.Sprintf("a sum of %.4g", sum)
	}
	if found == "" {
		return true
	}
	c.tell(at, "hours of the household", found, "24 numbers, zero or more, one for each hour from midnight on", "")
	return false
}

// care checks what was done before and puts it in the order of its dates.
func (c *checker) care(job *Job) {
	list := slices.Clone(job.Site.Care)
	for i := range list {
		x := &list[i]
		x.Date = c.date(x.Place, "date of care", x.Date)
		if job.Visit.Date != "" && x.Date > job.Visit.Date {
			c.remark(x.Place, "date of care", x.Date, "a date before the visit of "+job.Visit.Date, "")
		}
	}
	// As text, ISO 8601 dates stand in the order of time.
	slices.SortStableFunc(list, func(a, b Care) int { return cmp.Compare(a.Date, b.Date) })
	job.Site.Care = list
}
