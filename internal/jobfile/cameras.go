package jobfile

import (
	"fmt"
	"strings"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/internal/jobfile/tree"
	"undersod/internal/jobfile/values"
)

// roomFor counts one more thing seen, and tells once when there are too many.
func (r *reader) roomFor(n *node) bool {
	if r.seen++; r.seen > maxFindings {
		r.tellFull(r.At(n), fmt.Sprintf("at most %d findings, camera runs, pictures and things on record or planned", maxFindings))
		return false
	}
	return true
}

// readCameras reads camera runs by line; a line run more than once has a list.
func (r *reader) readCameras(n *node) {
	for _, line := range r.Entries(n, "cameras") {
		known := r.mustBeLine(line.Key, line.Name, "camera run down "+string(line.Name))
		for i, value := range tree.Elements(line.Value) {
			id, subject := "camera "+string(line.Name), "camera run down "+string(line.Name)
			if i > 0 {
				id, subject = fmt.Sprintf("%s #%d", id, i+1), fmt.Sprintf("%s #%d", subject, i+1)
			}
			run := site.Run{ID: site.ReadingID(id), Line: line.Name, Place: r.At(value)}
			if value == line.Value {
				run.Place = r.At(line.Key)
			}
			if r.run(value, subject, &run) && known && r.roomFor(value) {
				r.job.Visit.Runs = append(r.job.Visit.Runs, run)
			}
		}
	}
}

// run reads one camera run. What is wrong in it is told and left out; the rest
// of the run stays.
func (r *reader) run(n *node, subject string, run *site.Run) bool {
	f, ok := r.Fields(n, subject, inRun)
	if !ok {
		return false
	}
	// Whether the line passes there is told once the lines are checked.
	r.nameOf(f, "entry", subject, &run.Entry)
	r.nameOf(f, "toward", subject, &run.Toward)
	run.Zero = r.LengthOf(f, "zero", subject)
	r.ShareOf(f, "pushed", subject, "1%", &run.Pushed)
	run.SD, _ = r.SDOf(f, "sd", subject)
	var t site.Taken
	r.about(f, subject, &t)
	run.Instrument, run.Note = t.Instrument, t.Note
	if k := f.Get("ended"); k != nil {
		word, _ := r.Choice(k, "ended of "+subject, runEnds())
		run.Ended = site.RunEnd(word)
	}
	run.EndedAt = r.LengthOf(f, "ended at", subject)
	if k := f.Get("findings"); k != nil {
		run.Findings = r.findings(k, subject, true)
	}
	return true
}

func (r *reader) nameOf(f fields, key, subject string, to *site.Name) {
	if n := f.Get(key); n != nil {
		*to, _ = r.Name(n, key+" of "+subject)
	}
}

// findings reads what was seen in a line, with footages, or at a part, without.
func (r *reader) findings(n *node, where string, inLine bool) []site.Finding {
	var out []site.Finding
	for _, item := range tree.Elements(n) {
		if x, ok := r.finding(item, "a finding of "+where, inLine); ok && r.roomFor(item) {
			out = append(out, x)
		}
	}
	return out
}

func (r *reader) finding(n *node, subject string, inLine bool) (site.Finding, bool) {
	x := site.Finding{Place: r.At(n)}
	if n.Form == tree.Scalar && !n.Null && !inLine { // at a part, the word says it all
		return x, r.what(n, subject, &x)
	}
	f, ok := r.Fields(n, subject, inFinding)
	if !ok {
		return x, false
	}
	r.Words(f, "note", subject, &x.Note)
	what := f.Get("what")
	if what == nil {
		r.Wrong(n, subject, "what was seen: "+english.Or(findingKinds()), "what: fine roots")
		return x, false
	}
	ok = r.what(what, subject, &x)
	r.measures(f, subject, &x)
	return x, r.footages(f, subject, inLine, &x) && ok
}

// what reads the kind of a finding. One that nobody knows is kept as another
// finding, with what was written in its note: a slip of the word does not lose
// what was seen.
func (r *reader) what(n *node, subject string, x *site.Finding) bool {
	word, ok := r.Choice(n, "what of "+subject, findingKinds())
	if ok {
		x.What = site.FindingKind(word)
		return true
	}
	text := strings.TrimSpace(n.Text)
	if n.Form != tree.Scalar || text == "" || strings.ContainsFunc(text, values.Unprintable) {
		return false
	}
	x.What = site.AnotherFinding
	x.Note = strings.TrimSuffix(text+": "+x.Note, ": ")
	return true
}

// measures reads how bad a finding is and its pictures.
func (r *reader) measures(f fields, subject string, x *site.Finding) {
	if k := f.Get("grade"); k != nil {
		word, _ := r.Choice(k, "grade of "+subject, grades())
		for _, g := range site.Grades() {
			if g.String() == word {
				x.Grade = g
			}
		}
	}
	x.Depth = r.LengthOf(f, "depth", subject)
	x.Percent = r.PercentOf(f, "percent", subject)
	if k := f.Get("photo"); k != nil {
		for _, item := range tree.Elements(k) {
			if p, ok := r.photo(item, "photo of "+subject, inFindingPhoto); ok && r.roomFor(item) {
				x.Photos = append(x.Photos, p)
			}
		}
	}
}

// footages reads where a finding begins and ends. In a line it must begin
// somewhere: it is false where that cannot be read.
func (r *reader) footages(f fields, subject string, inLine bool, x *site.Finding) bool {
	at, from, to := f.Get("at"), f.Get("from"), f.Get("to")
	if !inLine {
		for _, k := range []*node{at, from, to} {
			if k != nil {
				r.Wrong(k, subject, "no footage: the finding is at a part", "what: corroded")
			}
		}
		return true
	}
	begin := "at"
	if at == nil {
		begin = "from"
	}
	switch {
	case at != nil && from != nil:
		r.Tell(site.Problem{Place: r.At(from), Subject: subject, Found: "at and from",
			Expected: "only one of at and from", Advice: "What at says is used."})
	case at == nil && from == nil:
		r.Wrong(f.Self, subject, "the counter where it was seen", `at: 41'`)
		return false
	}
	x.At, x.To = r.LengthOf(f, begin, subject), r.LengthOf(f, "to", subject)
	return x.At != nil
}
