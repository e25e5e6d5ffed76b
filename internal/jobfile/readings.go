package jobfile

import (
	"fmt"

	"undersod/core/site"
	"undersod/core/unit"
)

// taken names a reading and gives it its place. Repeats are counted whether
// they can be read or not, so that names stay as they are when a mistake is
// mended.
func (r *reader) taken(n *node, words string) site.Taken {
	base := site.ReadingID(words)
	id := base
	for {
		r.repeats[base]++
		if k := r.repeats[base]; k > 1 {
			id = site.ReadingID(fmt.Sprintf("%s #%d", words, k))
		}
		if !r.ids[id] {
			break
		}
	}
	r.ids[id] = true
	return site.Taken{ID: id, Place: r.at(n)}
}

// about reads what every reading may say: instrument, note, set aside. It is
// false when the instrument is not known.
func (r *reader) about(f fields, subject string, t *site.Taken) bool {
	r.words(f, "note", subject, &t.Note)
	if k := f.get("set aside"); k != nil {
		if t.SetAside, _ = r.text(k, "set aside of "+subject); t.SetAside == "true" {
			t.SetAside = "set aside in the job file"
		}
	}
	k := f.get("with")
	if k == nil {
		return true
	}
	name, ok := r.name(k, "with of "+subject)
	if !ok {
		return false
	}
	if !r.tools[name] && !contains(instrumentKinds(), string(name)) {
		r.unknownTool(k, name, subject)
		return false
	}
	t.Instrument = name
	return true
}

func (r *reader) unknownTool(n *node, name site.Name, subject string) {
	known := func() []string {
		var out []string
		for _, in := range r.job.Visit.Instruments {
			out = append(out, string(in.Name))
		}
		return append(out, instrumentKinds()...)
	}
	p := site.Problem{Place: r.at(n), Subject: "with of " + subject, Found: clip(string(name)),
		Expected: "an instrument of the job or a kind of instrument", Example: "with: steel tape"}
	if near, ok := r.guess(string(name), known); ok {
		p.Advice = fmt.Sprintf("Did you mean %q?", near)
	}
	r.tell(p)
}

// keep adds a reading, up to the limit.
func (r *reader) keep(n *node, x site.Reading) {
	if len(r.job.Visit.Readings) >= maxReadings {
		r.tellFull(r.at(n), fmt.Sprintf("at most %d readings", maxReadings))
		return
	}
	r.job.Visit.Readings = append(r.job.Visit.Readings, x)
}

// spelled is one reading as it stands in the file: short, or as a group.
type spelled struct {
	fields
	read *node // the value read, nil when the group lacks it
}

// spelled reads n as the value alone or as a group with read in it.
func (r *reader) spelled(n *node, subject, group string) (spelled, bool) {
	if n.form == scalar {
		return spelled{fields{self: n}, n}, true
	}
	f, ok := r.fields(n, subject, group)
	if !ok {
		return spelled{}, false
	}
	read := f.get("read")
	if read == nil {
		r.wrong(n, subject, "read, the value as it was read", `read: 23' 4 1/2"`)
		return spelled{}, false
	}
	return spelled{f, read}, true
}

// each walks a section of the shape outer: inner: reading or list of readings.
func (r *reader) each(n *node, section string, do func(outer, inner entry, value *node)) {
	for _, outer := range r.entries(n, section) {
		for _, inner := range r.entries(outer.value, section+" of "+string(outer.name)) {
			for _, value := range elements(inner.value) {
				do(outer, inner, value)
			}
		}
	}
}

// ends checks both points of a reading.
func (r *reader) ends(outer, inner entry, subject string) bool {
	ok := r.mustExist(inner.key, inner.name, subject)
	return r.mustExist(outer.key, outer.name, subject) && ok
}

func (r *reader) readTies(n *node) {
	r.each(n, "ties", r.oneTie)
}

// oneTie reads a tie to the point outer, from the mark inner.
func (r *reader) oneTie(outer, inner entry, value *node) {
	subject := fmt.Sprintf("tie from %s to %s", inner.name, outer.name)
	t := site.Tie{Taken: r.taken(value, fmt.Sprintf("tie %s > %s", inner.name, outer.name)), From: inner.name, To: outer.name}
	known := r.ends(outer, inner, subject)
	if s, ok := r.spelled(value, subject, inTie); ok && r.tie(s, subject, &t) && known {
		r.keep(value, t)
	}
}

func (r *reader) tie(s spelled, subject string, t *site.Tie) (ok bool) {
	t.Read, ok = r.length(s.read, subject)
	ok = r.about(s.fields, subject, &t.Taken) && ok
	sd, sdOK := r.sdOf(s.fields, "sd", subject)
	t.SD = sd
	if k := s.get("held"); k != nil {
		word, heldOK := r.choice(k, "held of "+subject, []string{"level", "sloped"})
		ok = ok && heldOK
		t.Held = map[string]site.Held{"level": site.HeldLevel, "sloped": site.HeldSloped}[word]
	}
	if s.get("corrected") != nil {
		t.Corrected = r.lengthOf(s.fields, "corrected", subject)
		ok = ok && t.Corrected != nil
	}
	if s.get("drop") != nil {
		t.Drop = r.lengthOf(s.fields, "drop", subject)
		ok = ok && t.Drop != nil
	}
	return ok && sdOK
}

func (r *reader) readBearings(n *node) {
	r.each(n, "bearings", r.oneBearing)
}

// oneBearing reads a bearing to the point outer, seen from inner.
func (r *reader) oneBearing(outer, inner entry, value *node) {
	subject := fmt.Sprintf("bearing from %s to %s", inner.name, outer.name)
	b := site.Bearing{Taken: r.taken(value, fmt.Sprintf("bearing %s > %s", inner.name, outer.name)), From: inner.name, To: outer.name}
	known := r.ends(outer, inner, subject)
	s, ok := r.spelled(value, subject, inBearing)
	if !ok {
		return
	}
	var read, sd bool
	b.Read, read = r.bearing(s.read, subject)
	b.SD, sd = r.angleSD(s.fields, "sd", subject)
	ok = r.about(s.fields, subject, &b.Taken) && read && sd
	if k := s.get("north"); k != nil {
		word, north := r.choice(k, "north of "+subject, []string{"true", "magnetic"})
		b.Magnetic = word == "magnetic"
		ok = ok && north
	}
	if ok && known {
		r.keep(value, b)
	}
}

func (r *reader) readDepths(n *node) {
	for _, e := range r.entries(n, "depths") {
		subject := "depth of " + string(e.name)
		known := r.mustExist(e.key, e.name, subject)
		for _, value := range elements(e.value) {
			r.oneDepth(e.name, value, known)
		}
	}
}

func (r *reader) oneDepth(point site.Name, value *node, known bool) {
	d := site.Depth{Taken: r.taken(value, "depth "+string(point)), Point: point}
	ok := r.single(value, "depth of "+string(point), inDepth, &d.Taken, &d.Read, &d.SD)
	if ok && known {
		r.keep(value, d)
	}
}

// single reads a reading that is one length.
func (r *reader) single(n *node, subject, group string, t *site.Taken, read *unit.Written, sd **unit.Length) bool {
	s, ok := r.spelled(n, subject, group)
	if !ok {
		return false
	}
	var readOK, sdOK bool
	*read, readOK = r.length(s.read, subject)
	*sd, sdOK = r.sdOf(s.fields, "sd", subject)
	return r.about(s.fields, subject, t) && readOK && sdOK
}

func (r *reader) readRods(n *node) {
	r.each(n, "rods", func(setup, point entry, feet *node) {
		where := fmt.Sprintf("rod at %s from %s", point.name, setup.name)
		if feet.form == scalar {
			r.wrong(feet, where, "what the rod stood on: "+orList(rodFeet()), "{ground: 4.52 ft}")
			return
		}
		known := r.mustStand(point.key, point.name, where)
		for _, e := range r.entries(feet, where) {
			on, ok := r.choice(e.key, "what the rod stood on at "+string(point.name), rodFeet())
			if !ok {
				continue
			}
			for _, value := range elements(e.value) {
				r.oneRod(site.Rod{Setup: setup.name, Point: point.name, On: site.RodOn(on)}, value, known)
			}
		}
	})
}

func (r *reader) oneRod(x site.Rod, value *node, known bool) {
	subject := fmt.Sprintf("rod on the %s of %s from %s", x.On, x.Point, x.Setup)
	x.Taken = r.taken(value, fmt.Sprintf("rod %s > %s %s", x.Setup, x.Point, x.On))
	if r.single(value, subject, inRodReading, &x.Taken, &x.Read, &x.SD) && known {
		r.keep(value, x)
	}
}

func (r *reader) readFootages(n *node) {
	r.each(n, "footages", r.oneFootage)
}

func (r *reader) oneFootage(line, to entry, value *node) {
	subject := fmt.Sprintf("footage along %s to %s", line.name, to.name)
	f := site.Footage{Taken: r.taken(value, fmt.Sprintf("footage %s > %s", line.name, to.name)), Line: line.name, To: to.name}
	known := r.mustBeLine(line.key, line.name, subject)
	known = r.mustExist(to.key, to.name, subject) && known
	if r.single(value, subject, inFootage, &f.Taken, &f.Read, &f.SD) && known {
		r.keep(value, f)
	}
}

func (r *reader) mustBeLine(n *node, name site.Name, subject string) bool {
	if r.lineOf[name] {
		return true
	}
	p := site.Problem{Place: r.at(n), Subject: subject, Found: clip(string(name)), Expected: "the name of a line of the job"}
	near, ok := r.guess(string(name), func() []string {
		var out []string
		for _, l := range r.job.Site.Lines {
			out = append(out, string(l.Name))
		}
		return out
	})
	if ok {
		p.Example, p.Advice = near, fmt.Sprintf("Did you mean %q?", near)
	}
	r.tell(p)
	return false
}
