package look

import (
	"fmt"
	"math"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Lay lays every camera run of the visit along its line on the plan, in the
// order of the job. The counter's readings are used as they are: a run that
// reached the line's end is not stretched to fit the plan, but where the two
// disagree beyond their 95 % a problem says so and what would make them agree.
// Nothing that is missing or wrong in a run stops the others.
func Lay(job *site.Job, plan *adjust.Plan) []Run {
	g := newGround(job, plan)
	out := make([]Run, 0, len(g.job.Visit.Runs))
	for i := range g.job.Visit.Runs {
		out = append(out, g.lay(&g.job.Visit.Runs[i]))
	}
	return out
}

// SpotAt returns the place of a station along a line, counted from the line's
// start with the standard deviation sd. An unknown line, one that is not
// located so far, or a station before its start gives a spot that is not Known.
func SpotAt(job *site.Job, plan *adjust.Plan, line site.Name, station, sd unit.Length) Spot {
	g := newGround(job, plan)
	l, ok := g.line(line)
	if !ok || len(l.Path) == 0 {
		return Spot{}
	}
	return g.travel(line, l.Path, 0, false).spot(station, sd.Abs())
}

// laying is one run while it is laid.
type laying struct {
	g     *ground
	run   *site.Run
	line  site.Line
	route route
	dev   adjust.Deviation
	zero  unit.Length
	gain  float64 // counter per true length
	lost  bool    // the way it went is not known
	out   Run
}

func (g *ground) lay(run *site.Run) Run {
	y := laying{g: g, run: run, gain: 1, out: Run{Run: *run}, dev: Deviation(&g.job.Visit, run)}
	y.counter()
	y.enter()
	for i := range run.Findings {
		y.out.Findings = append(y.out.Findings, y.finding(&run.Findings[i]))
	}
	y.end()
	y.seen()
	y.compare()
	y.out.Words = y.words()
	return y.out
}

func (y *laying) problem(p site.Problem) { y.out.Problems = append(y.out.Problems, p) }

// subject names the run in problems.
func (y *laying) subject() string {
	if y.run.ID != "" {
		return string(y.run.ID)
	}
	return "camera " + string(y.run.Line)
}

// counter sets what turns a reading of the counter into a true length.
func (y *laying) counter() {
	if z := y.run.Zero; z != nil {
		if whole(z.Length) {
			y.zero = z.Length
		} else {
			y.problem(site.Problem{Place: y.run.Place, Subject: y.subject(), Found: z.Text,
				Expected: "what the counter showed at the entry; 0 is taken", Example: "1' 6\""})
		}
	}
	if p := y.run.Pushed; p > -0.5 && p < 1 {
		y.gain = 1 + p
	} else if p != 0 {
		y.problem(site.Problem{Place: y.run.Place, Subject: y.subject(), Found: fmt.Sprint(p),
			Expected: "by how much of the true length the counter reads long, at most the whole of it; 0 is taken", Example: "0.01"})
	}
}

// enter finds where the camera went in and which way.
func (y *laying) enter() {
	line, ok := y.g.line(y.run.Line)
	if !ok || len(line.Path) < 2 {
		y.lost = true
		y.problem(y.noLine(ok))
		return
	}
	y.line = line
	all := y.g.travel(line.Name, line.Path, 0, false)
	y.out.Known = all.whole
	if all.whole {
		y.out.Length, y.out.LengthSD = all.length, y.g.lengthSD(line.Name, all)
	} else {
		y.problem(site.Problem{Place: y.run.Place, Subject: y.subject(), Severity: site.Remark,
			Expected: fmt.Sprintf("a line that is located: %s is not, at %s", line.Name, all.missing),
			Advice:   fmt.Sprintf("What the camera saw is kept by its footage; tie %s to two or three marks to place it on the lawn.", all.missing)})
	}
	from, back, p := y.way()
	if p != nil {
		y.lost = true
		y.problem(*p)
		return
	}
	y.out.Against = back
	y.route = y.g.travel(line.Name, line.Path, from, back)
	y.out.Entry = y.route.spot(0, 0)
}

func (y *laying) noLine(named bool) site.Problem {
	p := site.Problem{Place: y.run.Place, Subject: y.subject(), Found: string(y.run.Line)}
	if named {
		p.Expected, p.Example = "a line with a path of two points or more", "path: [D-box, L1 end]"
		return p
	}
	p.Expected = "the name of a line"
	if lines := y.g.job.Site.Lines; len(lines) > 0 {
		names := make([]site.Name, len(lines))
		for i, l := range lines {
			names[i] = l.Name
		}
		p.Expected = "the name of a line: " + either(names)
		p.Example = string(lines[0].Name)
	}
	return p
}

// way returns the index of the entry on the line's path and whether the camera
// was pushed toward the line's start, or what keeps that from being known.
func (y *laying) way() (from int, back bool, problem *site.Problem) {
	path, last := y.line.Path, len(y.line.Path)-1
	entry, toward := index(path, y.run.Entry), index(path, y.run.Toward)
	off := func(found site.Name, what string) *site.Problem {
		return &site.Problem{Place: y.run.Place, Subject: y.subject(), Found: string(found),
			Expected: fmt.Sprintf("%s on the path of %s: %s", what, y.line.Name, either(path)), Example: string(path[0]),
			Advice: "Add the point to the line's path where the camera went in elsewhere."}
	}
	switch {
	case y.run.Entry != "" && entry < 0:
		return 0, false, off(y.run.Entry, "the point where the camera went in,")
	case y.run.Toward != "" && toward < 0:
		return 0, false, off(y.run.Toward, "the point that it was pushed to,")
	case y.run.Entry == "" && toward == 0:
		return last, true, nil
	case y.run.Entry == "":
		return 0, false, nil
	case y.run.Toward == "" && (entry == 0 || entry == last):
		return entry, entry == last, nil
	case y.run.Toward == "" || toward == entry:
		return 0, false, &site.Problem{Place: y.run.Place, Subject: y.subject(), Found: string(y.run.Toward),
			Expected: fmt.Sprintf("which way it was pushed from %s: toward %s or toward %s", y.run.Entry, path[0], path[last]),
			Example:  string(path[last])}
	}
	return entry, toward < entry, nil
}

func index(path []site.Name, name site.Name) int {
	for i, n := range path {
		if n == name && name != "" {
			return i
		}
	}
	return -1
}

// along turns a reading of the counter into the true length from the entry,
// with its standard deviation. False where it cannot be a reading.
func (y *laying) along(w *unit.Written) (d, sd unit.Length, ok bool) {
	if w == nil || !whole(w.Length) {
		return 0, 0, false
	}
	d = (w.Length - y.zero) / unit.Length(y.gain)
	return d, y.dev.At(d), true
}

// spot places a reading of the counter.
func (y *laying) spot(w *unit.Written) Spot {
	d, sd, ok := y.along(w)
	if !ok || y.lost {
		return Spot{}
	}
	return y.route.spot(d, sd)
}

// end sets how far the run went.
func (y *laying) end() {
	if y.run.EndedAt != nil {
		s := y.spot(y.run.EndedAt)
		y.out.End = &s
		y.check(y.subject()+", where it ended", y.run.Place, y.run.EndedAt, s, y.run.Ended == site.ReachedEnd)
		return
	}
	if y.run.Ended == site.ReachedEnd && !y.lost && y.route.whole {
		s := y.route.spot(y.route.length, 0)
		y.out.End = &s
	}
}

// seen sets the stations between which the line was looked at: from the entry
// to where the run ended, or where nobody said that, to the farthest finding.
func (y *laying) seen() {
	if y.lost || !y.route.counted {
		return
	}
	low, high := y.out.Entry.Station, y.out.Entry.Station
	reach := func(s *Spot) {
		if s != nil && s.Counted {
			low, high = min(low, s.Station), max(high, s.Station)
		}
	}
	reach(y.out.End)
	if y.out.End == nil {
		for i := range y.out.Findings {
			reach(&y.out.Findings[i].From)
			reach(y.out.Findings[i].To)
		}
	}
	y.out.Seen = [2]unit.Length{max(low, 0), high}
}

// check tells what is wrong with the footage of a spot. One at the line's end
// is held against the plan by compare.
func (y *laying) check(subject string, place site.Place, w *unit.Written, s Spot, atEnd bool) {
	d, sd, ok := y.along(w)
	p := site.Problem{Place: place, Subject: subject, Severity: site.Remark}
	if w != nil {
		p.Found = w.Text
	}
	switch {
	case !ok:
		p.Severity, p.Expected, p.Example = site.Mistake, "the counter's reading", "41'"
	case d < -z95*sd:
		p.Severity, p.Expected = site.Mistake, "a reading at or past what the counter showed at the entry, "+y.g.length(y.zero)
		p.Advice = "Check the reading, and what the counter showed when the camera went in."
	case !atEnd && s.Beyond > z95*unit.Length(math.Hypot(float64(sd), float64(y.out.LengthSD))):
		p.Expected = fmt.Sprintf("at most %s, the end of %s on the plan; it reaches %s past it",
			y.g.length((y.route.length)*unit.Length(y.gain)+y.zero), y.line.Name, y.g.length(s.Beyond))
		p.Advice = "It is shown at the line's end. Check the reading, the counter's zero, and the points of the line."
	default:
		return
	}
	y.problem(p)
}

// compare holds the counter against the plan where the end was reached.
func (y *laying) compare() {
	w := y.run.EndedAt
	if y.run.Ended != site.ReachedEnd {
		w = nil
	}
	for i := range y.run.Findings {
		if f := &y.run.Findings[i]; w == nil && f.What == site.LineEndSeen {
			w = f.At
		}
	}
	d, sd, ok := y.along(w)
	if !ok || y.lost || !y.route.whole || !(y.route.length > 0) {
		return
	}
	plan := y.route.length
	limit := z95 * unit.Length(math.Hypot(float64(sd), float64(y.out.LengthSD)))
	if (d - plan).Abs() <= limit {
		return
	}
	p := site.Problem{Place: y.run.Place, Subject: y.subject() + ", at the line's end", Found: w.Text, Severity: site.Remark,
		Expected: fmt.Sprintf("%s, as long as the plan has it, give or take %s",
			y.g.length(plan*unit.Length(y.gain)+y.zero), y.g.up(limit)),
		Advice: "One of them is wrong: check the counter's zero and the points of the line before trusting a footage to dig by."}
	if more := float64((w.Length-y.zero)/plan) - 1; math.Abs(more) < 0.1 {
		p.Advice += fmt.Sprintf(" If the pushed cable snaked, a counter that reads %s over this run would make both agree.", longBy(more))
	}
	y.problem(p)
}

func longBy(more float64) string {
	if more < 0 {
		return fmt.Sprintf("%.1f %% short", -100*more)
	}
	return fmt.Sprintf("%.1f %% long", 100*more)
}

// finding lays one finding.
func (y *laying) finding(in *site.Finding) Finding {
	out := Finding{Finding: *in, Line: y.run.Line}
	at, to := in.At, in.To
	subject := string(in.What) + ", " + y.subject()
	place := in.Place
	if place == (site.Place{}) {
		place = y.run.Place
	}
	if at != nil && to != nil && to.Length < at.Length {
		y.problem(site.Problem{Place: place, Subject: subject, Found: at.Text + " to " + to.Text, Severity: site.Remark,
			Expected: "where it begins before where it ends", Example: to.Text + " to " + at.Text, Advice: "It is taken the other way round."})
		at, to = to, at
	}
	out.From = y.spot(at)
	y.check(subject, place, at, out.From, in.What == site.LineEndSeen)
	if to != nil {
		s := y.spot(to)
		y.check(subject, place, to, s, false)
		out.To = &s
	}
	y.stretch(&out, at, to)
	y.g.judge(&out, y.line, y.problem, subject, place)
	out.Near = y.g.near(&out)
	out.Words = y.findingWords(&out, at, to)
	return out
}

// stretch sets where the finding runs.
func (y *laying) stretch(f *Finding, at, to *unit.Written) {
	from, _, fromOK := y.along(at)
	until, _, untilOK := y.along(to)
	if fromOK && untilOK {
		f.Stretch = until - from
	}
	switch {
	case f.From.Known && f.To != nil && f.To.Known:
		f.Path = []planar.Vec(y.route.piece(from, until))
	case f.From.Known:
		f.Path = []planar.Vec{f.From.At}
	case f.To != nil && f.To.Known:
		f.Path = []planar.Vec{f.To.At}
	}
}
