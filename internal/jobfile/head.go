package jobfile

import (
	"strconv"
	"strings"
	"time"

	"undersod/core/site"
	"undersod/core/unit"
)

func (r *reader) readBare(n *node) {
	word, ok := r.choice(n, "bare", bareForms())
	if !ok {
		return
	}
	r.bare = map[string]unit.Form{
		"feet": unit.DecimalFeet, "inches": unit.Inches, "metres": unit.Metres,
		"centimetres": unit.Centimetres, "millimetres": unit.Millimetres,
	}[word]
}

func (r *reader) readSite(n *node) {
	f, ok := r.fields(n, "site", inSite)
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
		r.words(f, w.key, "the site", w.to)
	}
}

func (r *reader) readVisit(n *node) {
	f, ok := r.fields(n, "visit", inVisit)
	if !ok {
		return
	}
	v := &r.job.Visit
	if d := f.get("date"); d != nil {
		if _, err := time.Parse(time.DateOnly, d.text); err != nil || d.form != scalar {
			r.wrong(d, "date of the visit", "a calendar date, year-month-day", "2026-05-14")
		} else {
			v.Date = d.text
		}
	}
	r.words(f, "by", "the visit", &v.By)
	r.words(f, "company", "the visit", &v.Company)
	r.words(f, "licence", "the visit", &v.Licence)
	if notes := f.get("notes"); notes != nil {
		for _, item := range elements(notes) {
			if s, ok := r.text(item, "notes of the visit"); ok {
				v.Notes = append(v.Notes, s)
			}
		}
	}
}

// readShow reads how results are printed; newReader set what holds without it.
func (r *reader) readShow(n *node) {
	f, ok := r.fields(n, "show", inShow)
	if !ok {
		return
	}
	show := &r.job.Show
	if k := f.get("lengths"); k != nil {
		if word, ok := r.choice(k, "lengths of show", lengthForms()); ok {
			show.Form = map[string]unit.Form{"feet-inches": unit.FeetInches,
				"decimal feet": unit.DecimalFeet, "metres": unit.Metres}[word]
		}
	}
	if k := f.get("fraction"); k != nil {
		if word, ok := r.choice(k, "fraction of show", fractions()); ok {
			show.Denominator, _ = strconv.Atoi(strings.TrimPrefix(word, "1/"))
		}
	}
	if k := f.get("paper"); k != nil {
		show.Paper, _ = r.choice(k, "paper of show", papers())
	}
	if k := f.get("ties"); k != nil {
		show.Ties, _ = r.yes(k, "ties of show")
	}
	r.words(f, "title", "show", &show.Title)
}

func (r *reader) readAccuracy(n *node) {
	f, ok := r.fields(n, "accuracy", inAccuracy)
	if !ok {
		return
	}
	a := site.Accuracy{}
	r.words(f, "source", "accuracy", &a.Source)
	if f.get("limit") == nil {
		r.wrong(n, "accuracy", "a limit", "limit: 0.5 ft")
		return
	}
	if a.Limit = r.sizeOf(f, "limit", "accuracy"); a.Limit > 0 {
		r.job.Visit.Accuracy = &a
	}
}

func (r *reader) readDeclination(n *node) {
	a, ok := quantity(r, n, "declination", "an angle east or west", "4°30' W", unit.ParseDeclination)
	if ok {
		r.job.Visit.Declination = &a
	}
}

func (r *reader) readInstruments(n *node) {
	for _, e := range r.entries(n, "instruments") {
		r.tools[e.name] = true
		subject := "instrument " + string(e.name)
		in := site.Instrument{Name: e.name, Place: r.at(e.key)}
		word, ok := r.kindOf(e.value, subject, kinded{inInstrument, instrumentKinds(), "steel tape"},
			func(f fields) { r.readDeviation(f, subject, &in) })
		if ok {
			in.Kind = site.InstrumentKind(word)
			r.job.Visit.Instruments = append(r.job.Visit.Instruments, in)
		}
	}
}

// readDatum reads how the plan is held. A datum in error is left automatic.
func (r *reader) readDatum(n *node) {
	if n.form == scalar {
		word, ok := r.choice(n, "datum", []string{"free", "automatic"})
		if ok && word == "free" {
			r.job.Datum = site.Datum{Kind: site.DatumFree, Place: r.at(n)}
		}
		return
	}
	f, ok := r.fields(n, "datum", inDatum)
	if !ok {
		return
	}
	d := site.Datum{Kind: site.DatumBaseline, Place: r.at(n)}
	var marked, toward bool
	d.Mark, marked = r.datumMark(f, "mark")
	d.Toward, toward = r.datumMark(f, "toward")
	if w := r.lengthOf(f, "east", "the datum"); w != nil {
		d.East = w.Length
	}
	if w := r.lengthOf(f, "north", "the datum"); w != nil {
		d.North = w.Length
	}
	if w := r.lengthOf(f, "height", "the datum"); w != nil {
		d.Height = w.Length
	}
	if k := f.get("azimuth"); k != nil {
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
	k := f.get(key)
	if k == nil {
		r.wrong(f.self, "datum", "both mark and toward", "datum: {mark: A, toward: B}")
		return "", false
	}
	return r.point(k, key+" of the datum")
}

func (r *reader) bearing(n *node, subject string) (unit.WrittenAngle, bool) {
	return quantity(r, n, subject, "a direction", "N 34°30' E", unit.ParseBearing)
}

func (r *reader) latitude(f fields, subject string) *unit.Angle {
	n := f.get("latitude")
	if n == nil {
		return nil
	}
	a, ok := quantity(r, n, "latitude of "+subject, "a latitude", "47.05312 N", unit.ParseLatitude)
	if !ok {
		return nil
	}
	return &a
}

func (r *reader) longitude(f fields, subject string) *unit.Angle {
	n := f.get("longitude")
	if n == nil {
		return nil
	}
	a, ok := quantity(r, n, "longitude of "+subject, "a longitude", "122.71104 W", unit.ParseLongitude)
	if !ok {
		return nil
	}
	return &a
}
