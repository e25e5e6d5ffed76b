package jobfile

import (
	"fmt"
	"slices"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tell"
	"undersod/internal/jobfile/tree"
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
	return site.Taken{ID: id, Place: r.At(n)}
}

// about reads what every reading may say: instrument, note, set aside. It is
// false when the instrument is not known.
func (r *reader) about(f fields, subject string, t *site.Taken) bool {
	r.Words(f, "note", subject, &t.Note)
	if k := f.Get("set aside"); k != nil {
		if t.SetAside, _ = r.Text(k, "set aside of "+subject); t.SetAside == "true" {
			t.SetAside = "set aside in the job file"
		}
	}
	k := f.Get("with")
	if k == nil {
		return true
	}
	name, ok := r.Name(k, "with of "+subject)
	if !ok {
		return false
	}
	if !r.tools[name] && !slices.Contains(instrumentKinds(), string(name)) {
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
	p := site.Problem{Place: r.At(n), Subject: "with of " + subject, Found: tell.Clip(string(name)),
		Expected: "an instrument of the job or a kind of instrument", Example: "with: steel tape"}
	if near, ok := r.Guess(string(name), known); ok {
		p.Advice = fmt.Sprintf("Did you mean %q?", near)
	}
	r.Tell(p)
}

// keep adds a reading, up to the limit.
func (r *reader) keep(n *node, x site.Reading) {
	if len(r.job.Visit.Readings) >= maxReadings {
		r.tellFull(r.At(n), fmt.Sprintf("at most %d readings", maxReadings))
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
	if n.Form == tree.Scalar {
		return spelled{fields{Self: n}, n}, true
	}
	f, ok := r.Fields(n, subject, group)
	if !ok {
		return spelled{}, false
	}
	read := f.Get("read")
	if read == nil {
		r.Wrong(n, subject, "read, the value as it was read", `read: 23' 4 1/2"`)
		return spelled{}, false
	}
	return spelled{f, read}, true
}

// each walks a section of the shape outer: inner: reading or list of readings.
func (r *reader) each(n *node, section string, do func(outer, inner entry, value *node)) {
	for _, outer := range r.Entries(n, section) {
		for _, inner := range r.Entries(outer.Value, section+" of "+string(outer.Name)) {
			for _, value := range tree.Elements(inner.Value) {
				do(outer, inner, value)
			}
		}
	}
}

// ends checks both points of a reading.
func (r *reader) ends(outer, inner entry, subject string) bool {
	ok := r.mustExist(inner.Key, inner.Name, subject)
	return r.mustExist(outer.Key, outer.Name, subject) && ok
}

func (r *reader) readTies(n *node) {
	r.each(n, "ties", r.oneTie)
}

// oneTie reads a tie to the point outer, from the mark inner.
func (r *reader) oneTie(outer, inner entry, value *node) {
	subject := fmt.Sprintf("tie from %s to %s", inner.Name, outer.Name)
	t := site.Tie{Taken: r.taken(value, fmt.Sprintf("tie %s > %s", inner.Name, outer.Name)), From: inner.Name, To: outer.Name}
	known := r.ends(outer, inner, subject)
	if s, ok := r.spelled(value, subject, inTie); ok && r.tie(s, subject, &t) && known {
		r.keep(value, t)
	}
}

func (r *reader) tie(s spelled, subject string, t *site.Tie) (ok bool) {
	t.Read, ok = r.Length(s.read, subject)
	ok = r.about(s.fields, subject, &t.Taken) && ok
	sd, sdOK := r.SDOf(s.fields, "sd", subject)
	t.SD = sd
	if k := s.Get("held"); k != nil {
		word, heldOK := r.Choice(k, "held of "+subject, []string{"level", "sloped"})
		ok = ok && heldOK
		t.Held = map[string]site.Held{"level": site.HeldLevel, "sloped": site.HeldSloped}[word]
	}
	if s.Get("corrected") != nil {
		t.Corrected = r.LengthOf(s.fields, "corrected", subject)
		ok = ok && t.Corrected != nil
	}
	if s.Get("drop") != nil {
		t.Drop = r.LengthOf(s.fields, "drop", subject)
		ok = ok && t.Drop != nil
	}
	return ok && sdOK
}

func (r *reader) readBearings(n *node) {
	r.each(n, "bearings", r.oneBearing)
}

// oneBearing reads a bearing to the point outer, seen from inner.
func (r *reader) oneBearing(outer, inner entry, value *node) {
	subject := fmt.Sprintf("bearing from %s to %s", inner.Name, outer.Name)
	b := site.Bearing{Taken: r.taken(value, fmt.Sprintf("bearing %s > %s", inner.Name, outer.Name)), From: inner.Name, To: outer.Name}
	known := r.ends(outer, inner, subject)
	s, ok := r.spelled(value, subject, inBearing)
	if !ok {
		return
	}
	var read, sd bool
	b.Read, read = r.bearing(s.read, subject)
	b.SD, sd = r.AngleSD(s.fields, "sd", subject)
	ok = r.about(s.fields, subject, &b.Taken) && read && sd
	if k := s.Get("north"); k != nil {
		word, north := r.Choice(k, "north of "+subject, []string{"true", "magnetic"})
		b.Magnetic = word == "magnetic"
		ok = ok && north
	}
	if ok && known {
		r.keep(value, b)
	}
}

func (r *reader) readDepths(n *node) {
	for _, e := range r.Entries(n, "depths") {
		subject := "depth of " + string(e.Name)
		known := r.mustExist(e.Key, e.Name, subject)
		for _, value := range tree.Elements(e.Value) {
			r.oneDepth(e.Name, value, known)
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
	*read, readOK = r.Length(s.read, subject)
	*sd, sdOK = r.SDOf(s.fields, "sd", subject)
	return r.about(s.fields, subject, t) && readOK && sdOK
}

func (r *reader) readRods(n *node) {
	r.each(n, "rods", func(setup, point entry, feet *node) {
		where := fmt.Sprintf("rod at %s from %s", point.Name, setup.Name)
		if feet.Form == tree.Scalar {
			r.Wrong(feet, where, "what the rod stood on: "+english.Or(rodFeet()), "{ground: 4.52 ft}")
			return
		}
		known := r.mustStand(point.Key, point.Name, where)
		for _, e := range r.Entries(feet, where) {
			on, ok := r.Choice(e.Key, "what the rod stood on at "+string(point.Name), rodFeet())
			if !ok {
				continue
			}
			for _, value := range tree.Elements(e.Value) {
				r.oneRod(site.Rod{Setup: setup.Name, Point: point.Name, On: site.RodOn(on)}, value, known)
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
	subject := fmt.Sprintf("footage along %s to %s", line.Name, to.Name)
	f := site.Footage{Taken: r.taken(value, fmt.Sprintf("footage %s > %s", line.Name, to.Name)), Line: line.Name, To: to.Name}
	known := r.mustBeLine(line.Key, line.Name, subject)
	known = r.mustExist(to.Key, to.Name, subject) && known
	if r.single(value, subject, inFootage, &f.Taken, &f.Read, &f.SD) && known {
		r.keep(value, f)
	}
}

func (r *reader) mustBeLine(n *node, name site.Name, subject string) bool {
	if r.lineOf[name] {
		return true
	}
	return r.unknown(n, name, subject, "the name of a line of the job", r.knownLines, remedy{})
}
