package report

import (
	"slices"

	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/internal/photo"
	"undersod/internal/report/flow"
)

// shown is a picture of the report with its words.
type shown struct {
	file, words string
	of          site.Name
	picture     *sheet.Picture // nil where it cannot be shown
	why         string         // why it cannot
}

// album gathers the pictures that the job names, those of findings first, and
// then the prepared ones that it does not name; each file once.
func album(in Input) []shown {
	a := &albumist{in: in, seen: map[string]bool{}}
	for _, r := range in.Judgement.Runs {
		for _, f := range r.Findings {
			a.all(f.Photos, f.Words, r.Line)
		}
	}
	for _, f := range in.Judgement.Parts {
		a.all(f.Photos, f.Words, f.Part)
	}
	for _, r := range in.Job.Visit.Runs {
		for _, f := range r.Findings {
			a.all(f.Photos, string(f.What), r.Line)
		}
	}
	for _, p := range in.Job.Site.Parts {
		for _, f := range p.Findings {
			a.all(f.Photos, string(f.What), p.Name)
		}
	}
	a.all(in.Job.Visit.Photos, "", "")
	for _, file := range fileNames(in.Photos) {
		a.all([]site.Photo{{File: file}}, "", "")
	}
	return a.out
}

type albumist struct {
	in   Input
	seen map[string]bool
	out  []shown
}

func (a *albumist) all(photos []site.Photo, words string, of site.Name) {
	for _, p := range photos {
		if a.seen[p.File] {
			continue
		}
		a.seen[p.File] = true
		s := shown{file: tidy(p.File), words: tidy(p.Words), of: p.Of}
		if s.of == "" {
			s.of = of
		}
		if s.words == "" {
			s.words = tidy(words)
		}
		if s.words == "" {
			s.words = tidy(string(s.of))
		}
		if s.words == "" {
			s.words = s.file
		}
		a.out = append(a.out, a.found(p.File, s))
	}
}

// found gives the picture itself, or why there is none.
func (a *albumist) found(file string, s shown) shown {
	p, ok := a.in.Photos[file]
	switch why := tidy(a.in.Unreadable[file]); {
	case ok && drawable(p.Picture):
		s.picture = p.Picture
		if where := tidy(p.Location); where != "" { // only where it was asked for
			s.words += " (taken at " + where + ")"
		}
	case why != "":
		s.why = why
	case ok:
		s.why = "the prepared picture is empty"
	default:
		s.why = "the picture was not given to the report"
	}
	return s
}

func drawable(p *sheet.Picture) bool {
	return p != nil && p.Wide > 0 && p.High > 0 && len(p.JPEG) > 0
}

func fileNames(m map[string]photo.Prepared) []string {
	var out []string
	for name := range m {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// pictures sets pictures in rows, each with its words below, and then a line
// for each that cannot be shown.
func (r *report) pictures(all []shown, across int) {
	var good []flow.Picture
	for _, s := range all {
		if s.picture != nil {
			good = append(good, flow.Picture{Picture: s.picture, Words: capital(s.words)})
		}
	}
	r.Pictures(good, across)
	for _, s := range all {
		if s.picture == nil {
			words := s.file
			if s.words != s.file {
				words += " (" + s.words + ")"
			}
			r.Note("Photo not shown: " + words + ": " + sentence(s.why))
		}
	}
}
