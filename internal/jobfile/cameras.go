package jobfile

import (
	"fmt"
	"strings"

	"undersod/core/site"
)

// maxFindings is how many findings, camera runs and pictures one job may hold.
const maxFindings = 10_000

// roomFor counts one more thing seen, and tells once when there are too many.
func (r *reader) roomFor(n *node) bool {
	if r.seen++; r.seen > maxFindings {
		r.tellFull(r.at(n), fmt.Sprintf("at most %d findings, camera runs and pictures", maxFindings))
		return false
	}
	return true
}

// readCameras reads camera runs by line; a line run more than once has a list.
func (r *reader) readCameras(n *node) {
	for _, line := range r.entries(n, "cameras") {
		known := r.mustBeLine(line.key, line.name, "camera run down "+string(line.name))
		for i, value := range elements(line.value) {
			id, subject := "camera "+string(line.name), "camera run down "+string(line.name)
			if i > 0 {
				id, subject = fmt.Sprintf("%s #%d", id, i+1), fmt.Sprintf("%s #%d", subject, i+1)
			}
			run := site.Run{ID: site.ReadingID(id), Line: line.name, Place: r.at(value)}
			if value == line.value {
				run.Place = r.at(line.key)
			}
			if r.run(value, subject, &run) && known && r.roomFor(value) {
				r.job.Visit.Runs = append(r.job.Visit.Runs, run)
			}
		}
	}
}

// run reads one camera run. What is wrong in it is told and left out; the rest
// of the run stays, unless nobody can say where it went in.
func (r *reader) run(n *node, subject string, run *site.Run) bool {
	f, ok := r.fields(n, subject, inRun)
	if !ok {
		return false
	}
	placed := r.pointOf(f, "entry", subject, &run.Entry)
	placed = r.pointOf(f, "toward", subject, &run.Toward) && placed
	run.Zero = r.lengthOf(f, "zero", subject)
	placed = placed && (run.Zero != nil || f.get("zero") == nil)
	r.shareOf(f, "pushed", subject, "1%", &run.Pushed)
	run.SD, _ = r.sdOf(f, "sd", subject)
	var t site.Taken
	r.about(f, subject, &t)
	run.Instrument, run.Note = t.Instrument, t.Note
	if k := f.get("ended"); k != nil {
		word, _ := r.choice(k, "ended of "+subject, runEnds())
		run.Ended = site.RunEnd(word)
	}
	run.EndedAt = r.lengthOf(f, "ended at", subject)
	if k := f.get("findings"); k != nil {
		run.Findings = r.findings(k, subject, true)
	}
	return placed
}

// pointOf reads the name of a point that must exist into to; false when it is
// there but wrong.
func (r *reader) pointOf(f fields, key, subject string, to *site.Name) (ok bool) {
	n := f.get(key)
	if n == nil {
		return true
	}
	*to, ok = r.point(n, key+" of "+subject)
	return ok
}

// findings reads what was seen in a line, with footages, or at a part, without.
func (r *reader) findings(n *node, where string, inLine bool) []site.Finding {
	var out []site.Finding
	for _, item := range elements(n) {
		if x, ok := r.finding(item, "a finding of "+where, inLine); ok && r.roomFor(item) {
			out = append(out, x)
		}
	}
	return out
}

func (r *reader) finding(n *node, subject string, inLine bool) (site.Finding, bool) {
	x := site.Finding{Place: r.at(n)}
	if n.form == scalar && !n.null && !inLine { // at a part, the word says it all
		return x, r.what(n, subject, &x)
	}
	f, ok := r.fields(n, subject, inFinding)
	if !ok {
		return x, false
	}
	r.words(f, "note", subject, &x.Note)
	what := f.get("what")
	if what == nil {
		r.wrong(n, subject, "what was seen: "+orList(findingKinds()), "what: fine roots")
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
	word, ok := r.choice(n, "what of "+subject, findingKinds())
	if ok {
		x.What = site.FindingKind(word)
		return true
	}
	text := strings.TrimSpace(n.text)
	if n.form != scalar || text == "" || strings.ContainsFunc(text, unprintable) {
		return false
	}
	x.What = site.AnotherFinding
	x.Note = strings.TrimSuffix(text+": "+x.Note, ": ")
	return true
}

// measures reads how bad a finding is and its pictures.
func (r *reader) measures(f fields, subject string, x *site.Finding) {
	if k := f.get("grade"); k != nil {
		word, _ := r.choice(k, "grade of "+subject, grades())
		for _, g := range site.Grades() {
			if g.String() == word {
				x.Grade = g
			}
		}
	}
	x.Depth = r.lengthOf(f, "depth", subject)
	x.Percent = r.percentOf(f, "percent", subject)
	if k := f.get("photo"); k != nil {
		for _, item := range elements(k) {
			if p, ok := r.photo(item, "photo of "+subject, inFindingPhoto); ok && r.roomFor(item) {
				x.Photos = append(x.Photos, p)
			}
		}
	}
}

// footages reads where a finding begins and ends. In a line it must begin
// somewhere: it is false where that cannot be read.
func (r *reader) footages(f fields, subject string, inLine bool, x *site.Finding) bool {
	at, from, to := f.get("at"), f.get("from"), f.get("to")
	if !inLine {
		for _, k := range []*node{at, from, to} {
			if k != nil {
				r.wrong(k, subject, "no footage: the finding is at a part", "what: corroded")
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
		r.tell(site.Problem{Place: r.at(from), Subject: subject, Found: "at and from",
			Expected: "only one of at and from", Advice: "What at says is used."})
	case at == nil && from == nil:
		r.wrong(f.self, subject, "the counter where it was seen", `at: 41'`)
		return false
	}
	x.At, x.To = r.lengthOf(f, begin, subject), r.lengthOf(f, "to", subject)
	return x.At != nil
}
