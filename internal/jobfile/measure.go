package jobfile

import (
	"fmt"
	"io/fs"
	"math"
	"strconv"
	"strings"
	"time"

	"undersod/core/site"
	"undersod/core/unit"
)

// quantityTo reads a key with one of unit's parsers into to, which is left as
// it is where the key is absent or wrong.
func quantityTo[T any](r *reader, f fields, key, subject, expected, example string, parse func(string) (T, error), to *T) {
	if n := f.get(key); n != nil {
		if v, ok := quantity(r, n, key+" of "+subject, expected, example, parse); ok {
			*to = v
		}
	}
}

func (r *reader) flowOf(f fields, key, subject string, to *unit.Flow) {
	quantityTo(r, f, key, subject, "a flow", "450 gpd", unit.ParseFlow, to)
}

func (r *reader) volumeOf(f fields, key, subject string, to *unit.Volume) {
	quantityTo(r, f, key, subject, "a volume", "1,000 gal", unit.ParseVolume, to)
}

// number reads a plain number; false where there is none.
func (r *reader) number(n *node, subject, expected, example string) (float64, bool) {
	v, err := strconv.ParseFloat(strings.TrimSpace(n.text), 64)
	if n.form != scalar || err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		r.wrong(n, subject, expected, example)
		return 0, false
	}
	return v, true
}

// countOf reads a whole number of things into to.
func (r *reader) countOf(f fields, key, subject string, to *int) {
	n := f.get(key)
	if n == nil {
		return
	}
	const most = 1000
	v, err := strconv.Atoi(strings.TrimSpace(n.text))
	if n.form != scalar || err != nil || v < 0 || v > most {
		r.wrong(n, key+" of "+subject, "a whole number from 0 to 1000", key+": 3")
		return
	}
	*to = v
}

// shareOf reads a share in per cent into to, as a ratio. The sign must stand:
// without it nobody knows whether 0.4 is 40 % or less than one.
func (r *reader) shareOf(f fields, key, subject, example string, to *float64) {
	n := f.get(key)
	if n == nil {
		return
	}
	digits, signed := strings.CutSuffix(strings.TrimSpace(n.text), "%")
	v, err := strconv.ParseFloat(strings.TrimSpace(digits), 64)
	if n.form != scalar || !signed || err != nil || !(v >= 0 && v <= 100) {
		r.wrong(n, key+" of "+subject, "a share from 0% to 100%, with its %", key+": "+example)
		return
	}
	*to = v / 100
}

// percentOf reads per cents, with or without the sign.
func (r *reader) percentOf(f fields, key, subject string) *float64 {
	n := f.get(key)
	if n == nil {
		return nil
	}
	plain := *n
	plain.text = strings.TrimSuffix(strings.TrimSpace(n.text), "%")
	v, ok := r.number(&plain, key+" of "+subject, "per cents of the diameter, from 0 to 100", key+": 12")
	if !ok {
		return nil
	}
	return &v
}

// yesOf reads true or false into to.
func (r *reader) yesOf(f fields, key, subject string, to *bool) {
	if n := f.get(key); n != nil {
		if v, ok := r.yes(n, key+" of "+subject); ok {
			*to = v
		}
	}
}

// whenOf reads a day, a month or a year into to.
func (r *reader) whenOf(f fields, key, subject string, to *string) {
	n := f.get(key)
	if n == nil {
		return
	}
	if n.form == scalar {
		text := strings.TrimSpace(n.text)
		for _, layout := range []string{time.DateOnly, "2006-01", "2006"} {
			if _, err := time.Parse(layout, text); err == nil {
				*to = text
				return
			}
		}
	}
	r.wrong(n, key+" of "+subject, "a day as 2026-05-14, a month as 2026-05, or a year as 1996", key+": 2021-06")
}

// fileName reads the name of a file beside the job; what it holds is looked at
// elsewhere.
func (r *reader) fileName(n *node, subject, example string) (string, bool) {
	name, ok := r.text(n, subject)
	if !ok {
		return "", false
	}
	if !fs.ValidPath(name) || name == "." || strings.ContainsAny(name, "\\:") {
		r.wrong(n, subject, "a file beside the job file, its folders parted by /, without .. and not starting with /", example)
		return "", false
	}
	return name, true
}

// photo reads one picture, which is its file alone or a group with its words.
func (r *reader) photo(n *node, subject, group string) (site.Photo, bool) {
	p := site.Photo{Place: r.at(n)}
	file := n
	if n.form != scalar {
		f, ok := r.fields(n, subject, group)
		if !ok {
			return p, false
		}
		r.words(f, "words", subject, &p.Words)
		if of := f.get("of"); of != nil {
			if name, ok := r.name(of, "of of "+subject); ok && r.shownThing(of, name, "of of "+subject) {
				p.Of = name
			}
		}
		if file = f.get("file"); file == nil {
			r.wrong(n, subject, "the file of the picture", "file: photos/box.jpg")
			return p, false
		}
	}
	var ok bool
	p.File, ok = r.fileName(file, subject, "photos/box.jpg")
	return p, ok
}

// readPhotos reads pictures of the site or of something on it.
func (r *reader) readPhotos(n *node) {
	for _, item := range elements(n) {
		if p, ok := r.photo(item, "a photo", inPhoto); ok && r.roomFor(item) {
			r.job.Visit.Photos = append(r.job.Visit.Photos, p)
		}
	}
}

// shownThing tells a name of nothing that a picture could show.
func (r *reader) shownThing(n *node, name site.Name, subject string) bool {
	if r.exists(name) || r.partOf[name] || r.lineOf[name] || r.featured[name] {
		return true
	}
	known := func() []string {
		out := r.known()
		for _, p := range r.job.Site.Parts {
			out = append(out, string(p.Name))
		}
		for _, l := range r.job.Site.Lines {
			out = append(out, string(l.Name))
		}
		for _, f := range r.job.Site.Features {
			out = append(out, string(f.Name))
		}
		return out
	}
	p := site.Problem{Place: r.at(n), Subject: subject, Found: clip(string(name)), Expected: "the name of a part, a line or a feature of the job"}
	if near, ok := r.guess(string(name), known); ok {
		p.Example, p.Advice = near, fmt.Sprintf("Did you mean %q?", near)
	}
	r.tell(p)
	return false
}
