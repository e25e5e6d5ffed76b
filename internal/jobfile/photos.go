package jobfile

import (
	"slices"

	"undersod/core/site"
	"undersod/internal/jobfile/tree"
)

// photo reads one picture, which is its file alone or a group with its words.
func (r *reader) photo(n *node, subject, group string) (site.Photo, bool) {
	p := site.Photo{Place: r.At(n)}
	file := n
	if n.Form != tree.Scalar {
		f, ok := r.Fields(n, subject, group)
		if !ok {
			return p, false
		}
		r.Words(f, "words", subject, &p.Words)
		if of := f.Get("of"); of != nil {
			if name, ok := r.Name(of, "what is shown by "+subject); ok && r.shownThing(of, name, "what is shown by "+subject) {
				p.Of = name
			}
		}
		if file = f.Get("file"); file == nil {
			r.Wrong(n, subject, "the file of the picture", "file: photos/box.jpg")
			return p, false
		}
	}
	var ok bool
	p.File, ok = r.FileName(file, subject, "photos/box.jpg")
	return p, ok
}

// readPhotos reads pictures of the site or of something on it.
func (r *reader) readPhotos(n *node) {
	for _, item := range tree.Elements(n) {
		if p, ok := r.photo(item, "a photo", inPhoto); ok && r.roomFor(item) {
			r.job.Visit.Photos = append(r.job.Visit.Photos, p)
		}
	}
}

// shownThing tells a name of nothing that a picture could show.
func (r *reader) shownThing(n *node, name site.Name, subject string) bool {
	if r.partOf[name] || r.lineOf[name] || r.featured[name] || r.exists(name) {
		return true
	}
	known := func() []string {
		features := named(r.job.Site.Features, func(f site.Feature) site.Name { return f.Name })
		return slices.Concat(r.known(), r.knownParts(), r.knownLines(), features)
	}
	return r.unknown(n, name, subject, "the name of a part, a line or a feature of the job", known, remedy{})
}
