package site

import (
	"fmt"
	"slices"
	"strings"

	"undersod/core/unit"
)

// runs checks the camera runs. One of a line that does not exist is left out;
// what else is wrong in a run or in a finding never takes the run along. A run
// whose entry or direction is wrong keeps them as written, so that nobody lays
// it where it was not.
func (c *checker) runs(job *Job) {
	var list []Run
	seen := map[ReadingID]bool{}
	for _, r := range job.Visit.Runs {
		if r.ID != "" && seen[r.ID] {
			c.tell(r.Place, "camera run "+string(r.ID), string(r.ID), "a name that no other camera run has", "")
			continue
		}
		seen[r.ID] = true
		if c.run(&r) {
			list = append(list, r)
		}
	}
	job.Visit.Runs = list
}

// run checks one run and mends its own copy of it; false when its line does not
// exist.
func (c *checker) run(r *Run) bool {
	subject := "camera run down " + string(r.Line)
	line, ok := c.lineSet[r.Line]
	if !ok {
		if !c.badLine[r.Line] { // a line in error was told already
			c.tell(r.Place, subject, string(r.Line), "the name of a line of the site", "")
		}
		return false
	}
	c.pushed(r, line, subject)
	if r.Instrument != "" && !c.tools[r.Instrument] {
		c.tell(r.Place, "instrument of "+subject, string(r.Instrument), "an instrument of the job or a kind of instrument", string(CameraCounter))
		r.Instrument = ""
	}
	c.snaking(r, subject)
	if !c.spread(r.Place, "sd of "+subject, r.SD) {
		r.SD = nil
	}
	c.ending(r, subject)
	var found []Finding
	for _, f := range r.Findings {
		f = c.looked(f, "a finding of "+subject)
		if c.counted(&f, *r, subject) {
			found = append(found, f)
		}
	}
	r.Findings = found
	return true
}

// pushed checks where a run went in and which way, on which all its places
// rest.
func (c *checker) pushed(r *Run, line Line, subject string) {
	const advice = "Until it is mended, what the camera saw is kept by its footage and placed nowhere."
	for _, end := range []struct {
		what string
		name Name
	}{{"entry of ", r.Entry}, {"toward of ", r.Toward}} {
		if end.name != "" && !slices.Contains(line.Path, end.name) {
			c.problems = append(c.problems, Problem{Place: r.Place, Subject: end.what + subject, Found: string(end.name),
				Expected: "a point of the line's path: " + pathWords(line), Example: string(line.Path[0]), Advice: advice})
		}
	}
	if r.Entry != "" && r.Entry == r.Toward {
		c.tell(r.Place, subject, string(r.Entry), "an entry and another point that the camera was pushed toward", "")
	}
	if r.Zero != nil && !(r.Zero.Length.Abs() < farthest) {
		c.tell(r.Place, "zero of "+subject, r.Zero.Text, "what the counter showed at the entry, a length under 10 km", `1' 6"`)
		r.Zero = nil
	}
}

// snaking checks by how much the counter reads long.
func (c *checker) snaking(r *Run, subject string) {
	found := fmt.Sprintf("%.4g %%", 100*r.Pushed)
	const (
		most  = 0.5 // more is a slip of the point
		usual = 0.1 // more was hardly ever seen: common practice, no source
	)
	switch {
	case !(r.Pushed > -most && r.Pushed < most):
		c.tell(r.Place, "pushed of "+subject, found, "by how much of the length the counter reads long, under 50%", "1%")
		r.Pushed = 0
	case r.Pushed > usual || r.Pushed < -usual:
		c.remark(r.Place, "pushed of "+subject, found, "a counter that reads long by a few per cent at most", "Look at it again; it is used as written.")
	}
}

// ending checks where and why a run ended.
func (c *checker) ending(r *Run, subject string) {
	if e := r.EndedAt; e != nil && !c.counter(r.Place, "ended at of "+subject, *e, r.Zero) {
		r.EndedAt = nil
	}
	if r.Ended != RunEndUnstated && !slices.Contains(RunEnds(), r.Ended) {
		c.tell(r.Place, "ended of "+subject, string(r.Ended), "why the run ended, one of the words of the documentation", string(ReachedEnd))
		r.Ended = RunEndUnstated
	}
	if r.Ended == StoppedOther && r.Note == "" {
		c.remark(r.Place, "ended of "+subject, string(r.Ended), "a note that says what ended it", "")
	}
}

// counter tells what no counter can show on a run: less than at the entry, or
// more than any cable is long.
func (c *checker) counter(at Place, subject string, w unit.Written, zero *unit.Written) bool {
	least, words := unit.Length(0), "zero"
	if zero != nil {
		least, words = zero.Length, zero.Text+", what it showed at the entry,"
	}
	if w.Length >= least && w.Length < farthest {
		return true
	}
	c.tell(at, subject, w.Text, "a reading of the counter from "+words+" to 10 km", `41' 6"`)
	return false
}

// counted checks the footages of a finding in a line; false when nobody can
// say where it is.
func (c *checker) counted(f *Finding, r Run, where string) bool {
	subject := "at of " + string(f.What) + " of " + where
	if f.At == nil {
		c.tell(f.Place, subject, "nothing", "the counter where it was seen", `at: 41'`)
		return false
	}
	if !c.counter(f.Place, subject, *f.At, r.Zero) {
		return false
	}
	last := f.At
	if f.To != nil {
		switch {
		case !c.counter(f.Place, "to of "+string(f.What)+" of "+where, *f.To, r.Zero):
			f.To = nil
		case f.To.Length < f.At.Length:
			c.remark(f.Place, subject, f.At.Text+" to "+f.To.Text, "the smaller reading first", "It is used from the smaller to the larger.")
			f.At, f.To = f.To, f.At
		}
		if f.To != nil {
			last = f.To
		}
	}
	if r.EndedAt != nil && last.Length > r.EndedAt.Length {
		c.remark(f.Place, subject, last.Text, "at most "+r.EndedAt.Text+", where the run ended",
			"One of the two readings is wrong; both are used as written.")
	}
	return true
}

// looked checks what was seen, footages apart, and returns it mended.
func (c *checker) looked(f Finding, subject string) Finding {
	if !slices.Contains(FindingKinds(), f.What) {
		c.tell(f.Place, "what of "+subject, string(f.What), "a kind of finding", string(FineRoots))
		f.Note = strings.TrimSuffix(string(f.What)+": "+f.Note, ": ")
		f.What = AnotherFinding
	}
	if f.What == AnotherFinding && f.Note == "" {
		c.remark(f.Place, subject, string(f.What), "a note that says what was seen", "")
	}
	if f.Grade > Act {
		c.tell(f.Place, "grade of "+subject, fmt.Sprint(uint8(f.Grade)), "note, watch or act", "watch")
		f.Grade = GradeUnstated
	}
	if f.Percent != nil && !(*f.Percent >= 0 && *f.Percent <= 100) {
		c.tell(f.Place, "percent of "+subject, fmt.Sprintf("%.4g", *f.Percent), "per cents of the diameter, from 0 to 100", "percent: 12")
		f.Percent = nil
	}
	// No line of a house lies in a pipe two metres wide.
	if d := f.Depth; d != nil && !(d.Length >= 0 && d.Length < 2*unit.Metre) {
		c.tell(f.Place, "depth of "+subject, d.Text, "a depth over the pipe's bottom, from zero to 2 m", `1 1/2"`)
		f.Depth = nil
	}
	f.Photos = c.pictures(f.Photos)
	return f
}

// atParts checks what was seen at the parts.
func (c *checker) atParts(job *Job) {
	job.Site.Parts = slices.Clone(job.Site.Parts)
	for i := range job.Site.Parts {
		p := &job.Site.Parts[i]
		subject := "a finding of part " + string(p.Name)
		found := slices.Clone(p.Findings)
		for k, f := range found {
			if f.At != nil || f.To != nil {
				c.tell(f.Place, subject, "a footage", "no footage: the finding is at a part", "")
				f.At, f.To = nil, nil
			}
			found[k] = c.looked(f, subject)
		}
		p.Findings = found
	}
}

// pictures leaves out what cannot be the name of a file beside the job.
func (c *checker) pictures(list []Photo) []Photo {
	return slices.DeleteFunc(slices.Clone(list), func(p Photo) bool {
		if beside(p.File) {
			return false
		}
		c.tell(p.Place, "a photo", p.File, "a file beside the job, its folders parted by /, without .. and not starting with /", "photos/box.jpg")
		return true
	})
}

// beside tells a file name that cannot lead out of the folder of the job.
func beside(name string) bool {
	if name == "" || strings.ContainsAny(name, "\\:\x00") {
		return false
	}
	for _, part := range strings.Split(name, "/") {
		if part == "" || part == "." || part == ".." {
			return false
		}
	}
	return true
}

// photos checks the pictures of the visit and what they are said to show.
func (c *checker) photos(job *Job) {
	list := c.pictures(job.Visit.Photos)
	known := map[Name]bool{"": true}
	for _, p := range job.Site.Parts {
		known[p.Name] = true
	}
	for _, l := range job.Site.Lines {
		known[l.Name] = true
	}
	for _, f := range job.Site.Features {
		known[f.Name] = true
	}
	for i, p := range list {
		if !known[p.Of] && !c.pointSet[p.Of] {
			c.tell(p.Place, "of of photo "+p.File, string(p.Of), "a part, a line or a feature of the site", "")
			list[i].Of = ""
		}
	}
	job.Visit.Photos = list
}
