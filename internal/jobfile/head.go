package jobfile

import (
	"strconv"
	"strings"
	"time"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tree"
	"undersod/internal/jobfile/values"
)

func (r *reader) readBare(n *node) {
	word, ok := r.Choice(n, "bare", bareForms())
	if !ok {
		return
	}
	r.Bare = map[string]unit.Form{
		"feet": unit.DecimalFeet, "inches": unit.Inches, "metres": unit.Metres,
		"centimetres": unit.Centimetres, "millimetres": unit.Millimetres,
	}[word]
}

func (r *reader) readSite(n *node) {
	f, ok := r.Fields(n, "site", inSite)
	if !ok {
		return
	}
	s := &r.job.Site
	for _, w := range []struct {
		key string
		to  *string
	}{
		{"name", &s.Name}, {"address", &s.Address}, {"county", &s.County}, {"owner", &s.Owner},
		{"parcel", &s.Parcel}, {"permit", &s.Permit}, {"authority", &s.Authority},
	} {
		r.Words(f, w.key, "the site", w.to)
	}
}

func (r *reader) readVisit(n *node) {
	f, ok := r.Fields(n, "visit", inVisit)
	if !ok {
		return
	}
	v := &r.job.Visit
	if d := f.Get("date"); d != nil {
		if _, err := time.Parse(time.DateOnly, d.Text); err != nil || d.Form != tree.Scalar {
			r.Wrong(d, "date of the visit", "a calendar date, year-month-day", "2026-05-14")
		} else {
			v.Date = d.Text
		}
	}
	r.Words(f, "by", "the visit", &v.By)
	r.Words(f, "company", "the visit", &v.Company)
	r.Words(f, "licence", "the visit", &v.Licence)
	if notes := f.Get("notes"); notes != nil {
		for _, item := range tree.Elements(notes) {
			if s, ok := r.Text(item, "notes of the visit"); ok {
				v.Notes = append(v.Notes, s)
			}
		}
	}
}

// readShow reads how results are printed; newReader set what holds without it.
func (r *reader) readShow(n *node) {
	f, ok := r.Fields(n, "show", inShow)
	if !ok {
		return
	}
	show := &r.job.Show
	if k := f.Get("lengths"); k != nil {
		if word, ok := r.Choice(k, "lengths of show", lengthForms()); ok {
			show.Form = map[string]unit.Form{"feet-inches": unit.FeetInches,
				"decimal feet": unit.DecimalFeet, "metres": unit.Metres}[word]
		}
	}
	if k := f.Get("fraction"); k != nil {
		if word, ok := r.Choice(k, "fraction of show", fractions()); ok {
			show.Denominator, _ = strconv.Atoi(strings.TrimPrefix(word, "1/"))
		}
	}
	if k := f.Get("paper"); k != nil {
		show.Paper, _ = r.Choice(k, "paper of show", papers())
	}
	if k := f.Get("ties"); k != nil {
		show.Ties, _ = r.Yes(k, "ties of show")
	}
	r.Words(f, "title", "show", &show.Title)
}

func (r *reader) readAccuracy(n *node) {
	f, ok := r.Fields(n, "accuracy", inAccuracy)
	if !ok {
		return
	}
	a := site.Accuracy{}
	r.Words(f, "source", "accuracy", &a.Source)
	if f.Get("limit") == nil {
		r.Wrong(n, "accuracy", "a limit", "limit: 0.5 ft")
		return
	}
	if a.Limit = r.SizeOf(f, "limit", "accuracy"); a.Limit > 0 {
		r.job.Visit.Accuracy = &a
	}
}

func (r *reader) readDeclination(n *node) {
	a, ok := values.Quantity(r.Reader, n, "declination", "an angle east or west", "4°30' W", unit.ParseDeclination)
	if ok {
		r.job.Visit.Declination = &a
	}
}

func (r *reader) readInstruments(n *node) {
	for _, e := range r.Entries(n, "instruments") {
		r.tools[e.Name] = true
		subject := "instrument " + string(e.Name)
		in := site.Instrument{Name: e.Name, Place: r.At(e.Key)}
		word, ok := r.kindOf(e.Value, subject, kinded{inInstrument, instrumentKinds(), "steel tape"},
			func(f fields) {
				if d, ok := r.DeviationOf(f, "sd", subject); ok { // else the default of its kind
					in.Fixed, in.PerUnit, in.Angle = d.Fixed, d.PerUnit, d.Angle
				}
			})
		if ok {
			in.Kind = site.InstrumentKind(word)
			r.job.Visit.Instruments = append(r.job.Visit.Instruments, in)
		}
	}
}

// readDatum reads how the plan is held. A datum in error is left automatic.
func (r *reader) readDatum(n *node) {
	if n.Form == tree.Scalar {
		word, ok := r.Choice(n, "datum", []string{"free", "automatic"})
		if ok && word == "free" {
			r.job.Datum = site.Datum{Kind: site.DatumFree, Place: r.At(n)}
		}
		return
	}
	f, ok := r.Fields(n, "datum", inDatum)
	if !ok {
		return
	}
	d := site.Datum{Kind: site.DatumBaseline, Place: r.At(n)}
	var marked, toward bool
	d.Mark, marked = r.datumMark(f, "mark")
	d.Toward, toward = r.datumMark(f, "toward")
	if w := r.LengthOf(f, "east", "the datum"); w != nil {
		d.East = w.Length
	}
	if w := r.LengthOf(f, "north", "the datum"); w != nil {
		d.North = w.Length
	}
	if w := r.LengthOf(f, "height", "the datum"); w != nil {
		d.Height = w.Length
	}
	if k := f.Get("azimuth"); k != nil {
		if a, ok := r.bearing(k, "azimuth of the datum"); ok {
			d.Azimuth = &a.Angle
		}
	}
	d.Latitude, d.Longitude = r.latitude(f, "the datum"), r.longitude(f, "the datum")
	if marked && toward {
		r.job.Datum = d
	}
}

func (r *reader) datumMark(f fields, key string) (site.Name, bool) {
	k := f.Get(key)
	if k == nil {
		r.Wrong(f.Self, "datum", "both mark and toward", "datum: {mark: A, toward: B}")
		return "", false
	}
	return r.point(k, key+" of the datum")
}

func (r *reader) bearing(n *node, subject string) (unit.WrittenAngle, bool) {
	return values.Quantity(r.Reader, n, subject, "a direction", "N 34°30' E", unit.ParseBearing)
}

func (r *reader) latitude(f fields, subject string) *unit.Angle {
	n := f.Get("latitude")
	if n == nil {
		return nil
	}
	a, ok := values.Quantity(r.Reader, n, "latitude of "+subject, "a latitude", "47.05312 N", unit.ParseLatitude)
	if !ok {
		return nil
	}
	return &a
}

func (r *reader) longitude(f fields, subject string) *unit.Angle {
	n := f.Get("longitude")
	if n == nil {
		return nil
	}
	a, ok := values.Quantity(r.Reader, n, "longitude of "+subject, "a longitude", "122.71104 W", unit.ParseLongitude)
	if !ok {
		return nil
	}
	return &a
}
