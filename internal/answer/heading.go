package answer

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"undersod/core/judge"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/internal/archive"
	"undersod/internal/jobfile"
)

// headingPatience is how long making a heading may wait for its turn: a heading
// is made while someone waits for a save.
const headingPatience = 30 * time.Second

// Heading implements archive.Read: it makes what lists and searches show of a
// job file. It never fails. What is kept with a save must not tell of a moment
// at which the desk was busy, so that without a turn it is made out of turn.
func (d *Desk) Heading(format string, job []byte) archive.Heading {
	ctx, cancel := context.WithTimeout(context.Background(), headingPatience)
	defer cancel()
	j := Job{Format: format, Bytes: job}
	head := func(o *opened, pack *rules.Pack, problems []site.Problem) (archive.Heading, error) {
		return o.heading(pack, len(problems)), nil
	}
	h, err := with(ctx, d, j, head)
	if errors.Is(err, ErrBusy) || errors.Is(err, context.DeadlineExceeded) {
		h, err = guarded(context.Background(), func(ctx context.Context) (archive.Heading, error) {
			o, err := read(ctx, j)
			if err != nil {
				return archive.Heading{}, err
			}
			pack, problems, err := o.pack(j.Pack)
			if err != nil {
				return archive.Heading{}, err
			}
			return head(o, pack, problems)
		})
	}
	if err != nil {
		return unjudged(j, err)
	}
	return h
}

// unjudged is the heading of a job that is kept and not judged: what it says of
// the site, as far as it can be read.
func unjudged(j Job, why error) archive.Heading {
	words := firstLine(why.Error())
	if fault := (faulty{}); errors.As(why, &fault) {
		words = "a fault in the program"
	}
	h := archive.Heading{Name: "a job file that cannot be read", Mistakes: 1}
	if result, err := jobfile.Read(j.name(), bytes.NewReader(j.Bytes)); err == nil && result.Job.Site.Name != "" {
		h = told(&result.Job)
		h.Mistakes = result.Mistakes()
	}
	h.Fill = "not judged: " + words
	return h
}

// firstLine shortens words to their first line.
func firstLine(words string) string {
	line, _, _ := strings.Cut(words, "\n")
	return line
}

// told is what a job says of itself.
func told(job *site.Job) archive.Heading {
	s, v := &job.Site, &job.Visit
	return archive.Heading{
		Name: s.Name, Address: s.Address, County: s.County, Owner: s.Owner, Parcel: s.Parcel, Permit: s.Permit, Authority: s.Authority,
		Date: v.Date, By: v.By,
	}
}

func (o *opened) heading(pack *rules.Pack, more int) archive.Heading {
	j := o.judgement(pack)
	h := told(&o.result.Job)
	h.Latitude, h.Longitude = o.plan.Frame.Latitude, o.plan.Frame.Longitude
	h.Fill, h.Mistakes, h.Acts = o.plan.Verdict.Words, o.result.Mistakes()+more, acts(j)
	h.Words = searched(&o.result.Job.Site, &o.result.Job.Visit, j)
	h.NextLook, h.NextWhat = next(j)
	return h
}

// acts counts what is to be done now or within weeks.
func acts(j *judge.Judgement) int {
	n := 0
	for _, a := range j.Actions {
		if a.Urgency <= judge.Soon {
			n++
		}
	}
	return n
}

// next is what is due first. A date of which only the month or the year is
// known stands on its first day.
func next(j *judge.Judgement) (on, what string) {
	for _, r := range j.Reminders {
		if day := dayOf(r.On.String()); day != "" && (on == "" || day < on) {
			on, what = day, r.Words
		}
	}
	return on, what
}

// dayOf makes a day of a date, a month or a year.
func dayOf(date string) string {
	for _, rest := range []string{"", "-01", "-01-01"} {
		if _, err := time.Parse(time.DateOnly, date+rest); err == nil {
			return date + rest
		}
	}
	return ""
}

// searched is everything else to search by: what stands and lies there, what
// was seen, what was noted.
func searched(s *site.Site, v *site.Visit, j *judge.Judgement) string {
	var w lines
	w.add(v.Company, v.Licence)
	w.add(v.Notes...)
	for _, p := range s.Parts {
		w.add(string(p.Name), string(p.Kind), p.Detail, p.Material)
	}
	for _, l := range s.Lines {
		w.add(string(l.Name))
	}
	for _, b := range s.Buildings {
		w.add(string(b.Name))
	}
	for _, f := range s.Features {
		w.add(string(f.Name), string(f.Kind), f.Class)
	}
	for _, p := range s.Proposed {
		w.add(string(p.Name))
	}
	for _, p := range s.Parts {
		w.findings(p.Findings)
	}
	for _, r := range v.Runs {
		w.findings(r.Findings)
	}
	for _, a := range j.Actions {
		w.add(a.What)
	}
	for _, r := range j.Reminders {
		w.add(r.Words)
	}
	return strings.Join(w.list, "\n")
}

// lines gathers texts, each once.
type lines struct {
	list []string
	seen map[string]bool
}

func (w *lines) add(texts ...string) {
	if w.seen == nil {
		w.seen = map[string]bool{}
	}
	for _, t := range texts {
		if t = strings.Join(strings.Fields(t), " "); t != "" && !w.seen[t] {
			w.seen[t] = true
			w.list = append(w.list, t)
		}
	}
}

func (w *lines) findings(list []site.Finding) {
	for _, f := range list {
		w.add(fmt.Sprint(f.What), f.Note)
	}
}
