package compare

import (
	"fmt"
	"math"

	"undersod/core/english"
	"undersod/core/look"
	"undersod/core/site"
	"undersod/core/unit"
)

// What counts as grown of what is judged by eye or read on a rule, and how far
// one and the same thing is met again along a line beyond what the counters
// explain: common practice, no source.
const (
	percentGrows = 10.0 // points
	depthGrows   = unit.Inch / 2
	metAgain     = unit.Foot
)

// mostFindings is how many findings of one visit are compared.
const mostFindings = 3000

// families are kinds that turn into one another, the lighter first.
var families = map[site.FindingKind][2]int{
	site.FineRoots: {1, 0}, site.RootMass: {1, 1},
	site.StandingWater: {2, 0}, site.WaterOverPipe: {2, 1},
	site.Cracked: {3, 0}, site.Broken: {3, 1},
	site.Sediment: {4, 0}, site.Blocked: {4, 1},
}

// alike tells whether two kinds may be of one thing, and how much worse the
// later one is.
func alike(a, b site.FindingKind) (worse int, ok bool) {
	if a == b {
		return 0, true
	}
	f, g := families[a], families[b]
	return g[1] - f[1], f[0] != 0 && f[0] == g[0]
}

// met is a finding on its way, with how well its footage is known.
type met struct {
	look.Finding
	sd      unit.Length
	taken   bool
	covered bool // the other visit looked there
}

// findings compares what was seen in the lines and at the parts.
func (w *work) findings() {
	was, is := look.Lay(w.before.Job, w.before.Plan), look.Lay(w.after.Job, w.after.Plan)
	w.runs(was, is)
	var before, after []met
	for _, r := range was {
		before = append(before, w.ofRun(r, w.before, is, w.earlier, r.Line)...)
	}
	for _, r := range is {
		after = append(after, w.ofRun(r, w.after, was, func(n site.Name) site.Name { return n }, w.earlier(r.Line))...)
	}
	old, now := partsOf(w.before.Job), partsOf(w.after.Job)
	before = w.bounded("earlier", append(before, w.atParts(w.before, func(n site.Name) bool { return now[w.later(n)] })...))
	after = w.bounded("later", append(after, w.atParts(w.after, func(n site.Name) bool { return old[w.earlier(n)] })...))
	for i := range after {
		w.matched(&after[i], before)
	}
	for i := range before {
		if b := &before[i]; !b.taken {
			w.lost(b)
		}
	}
}

// ofRun takes the findings of a run, and whether a run of the other visit looked
// at the same place. name tells by what earlier name a run of the other visit
// goes; line is the earlier name of this one's.
func (w *work) ofRun(r look.Run, s Side, others []look.Run, name func(site.Name) site.Name, line site.Name) []met {
	var out []met
	d := look.Deviation(&s.Job.Visit, &r.Run)
	for _, f := range r.Findings {
		if f.What == site.LineEndSeen {
			continue
		}
		m := met{Finding: f, sd: f.From.StationSD}
		if f.Stretch > 0 && f.To != nil {
			m.sd = max(m.sd, d.At(f.Stretch))
		}
		m.Line = line
		for _, o := range others {
			m.covered = m.covered || name(o.Line) == line && f.From.Counted && f.From.Station >= o.Seen[0]-metAgain && f.From.Station <= o.Seen[1]+metAgain
		}
		out = append(out, m)
	}
	return out
}

func (w *work) atParts(s Side, there func(site.Name) bool) []met {
	var out []met
	for _, f := range look.AtParts(s.Job, s.Plan) {
		m := met{Finding: f, covered: there(f.Part)}
		if s.Job == w.after.Job {
			m.Part = w.earlier(f.Part)
		}
		out = append(out, m)
	}
	return out
}

func partsOf(job *site.Job) map[site.Name]bool {
	out := map[site.Name]bool{}
	for _, p := range job.Site.Parts {
		out[p.Name] = true
	}
	return out
}

// bounded keeps what can be held against each other in bounded time.
func (w *work) bounded(which string, list []met) []met {
	if len(list) <= mostFindings {
		return list
	}
	w.remark("The %s visit has %d findings; the first %d are compared.", which, len(list), mostFindings)
	return list[:mostFindings]
}

// ends are the stations between which a finding lies.
func (m *met) ends() (from, to unit.Length) {
	from, to = m.From.Station, m.From.Station
	if m.To != nil && m.To.Counted {
		to = m.To.Station
	}
	return min(from, to), max(from, to)
}

// gap is how far two findings of one line lie apart; none where they overlap.
func gap(a, b *met) unit.Length {
	a0, a1 := a.ends()
	b0, b1 := b.ends()
	return max(a0-b1, b0-a1, 0)
}

// matched finds what a later finding was before, and tells what became of it.
func (w *work) matched(a *met, before []met) {
	var best *met
	for i := range before {
		b := &before[i]
		if b.taken || a.Line != b.Line || a.Part != b.Part {
			continue
		}
		if _, ok := alike(b.What, a.What); !ok {
			continue
		}
		if a.Line != "" {
			if !a.From.Counted || !b.From.Counted || gap(a, b) > metAgain+both(a.sd, b.sd) {
				continue
			}
		}
		if best == nil || better(a, b, best) {
			best = b
		}
	}
	out := Finding{Line: w.name(a.Line), Part: w.name(a.Part), What: a.What, Station: a.From.Station, After: &a.Finding.Finding, Grade: a.Grade}
	if best == nil {
		out.Growth = Appeared
		if !a.covered {
			out.Growth = NotBefore
		}
		out.Words = w.findingWords(a, string(out.Growth))
	} else {
		best.taken = true
		out.Before = &best.Finding.Finding
		out.Growth, out.Words = w.growth(best, a)
	}
	w.out.Findings = append(w.out.Findings, out)
}

// better prefers the same kind, then the nearer one.
func better(a, b, best *met) bool {
	if (b.What == a.What) != (best.What == a.What) {
		return b.What == a.What
	}
	return a.Line != "" && gap(a, b) < gap(a, best)
}

// name is a later name, none where there is none.
func (w *work) name(earlier site.Name) site.Name {
	if earlier == "" {
		return ""
	}
	return w.later(earlier)
}

// lost tells of a finding that the later visit has not.
func (w *work) lost(b *met) {
	out := Finding{Line: w.name(b.Line), Part: w.name(b.Part), What: b.What, Station: b.From.Station, Before: &b.Finding.Finding, Grade: b.Grade, Growth: Vanished}
	if !b.covered {
		out.Growth = NotLookedAt
	}
	out.Words = w.findingWords(b, string(out.Growth))
	w.out.Findings = append(w.out.Findings, out)
}

func (w *work) findingWords(m *met, what string) string {
	return english.Capital(w.where(m)) + ": " + what + "."
}

func (w *work) where(m *met) string {
	switch {
	case m.Part != "":
		return fmt.Sprintf("%s at %s", m.What, w.later(m.Part))
	case !m.From.Counted:
		return fmt.Sprintf("%s in %s", m.What, w.later(m.Line))
	}
	return fmt.Sprintf("%s at %s of %s", m.What, w.say.Format(m.From.Station), w.later(m.Line))
}

// growth tells how a finding changed. Worse in anything is grown, whatever else
// became less.
func (w *work) growth(b, a *met) (Growth, string) {
	var more, less []string
	note := func(change float64, limit float64, words string) {
		switch {
		case change >= limit:
			more = append(more, words)
		case change <= -limit:
			less = append(less, words)
		}
	}
	if worse, _ := alike(b.What, a.What); worse != 0 {
		note(float64(worse), 1, fmt.Sprintf("%s before", b.What))
	}
	if b.Percent != nil && a.Percent != nil {
		note(*a.Percent-*b.Percent, percentGrows, fmt.Sprintf("%.0f %%, %.0f %% before", *a.Percent, *b.Percent))
	}
	if b.Depth != nil && a.Depth != nil {
		say := w.say.Small()
		note(float64(a.Depth.Length-b.Depth.Length), float64(depthGrows), fmt.Sprintf("%s deep, %s before", say.Format(a.Depth.Length), say.Format(b.Depth.Length)))
	}
	if b.Stretch > 0 && a.Stretch > 0 {
		limit := both(unit.Length(math.Sqrt2)*b.sd, unit.Length(math.Sqrt2)*a.sd) + metAgain
		note(float64(a.Stretch-b.Stretch), float64(limit), fmt.Sprintf("over %s, %s before", w.say.Format(a.Stretch), w.say.Format(b.Stretch)))
	}
	if a.Grade != b.Grade && a.Grade != site.GradeUnstated && b.Grade != site.GradeUnstated {
		note(float64(a.Grade)-float64(b.Grade), 1, fmt.Sprintf("%q now, %q before", a.Grade, b.Grade))
	}
	g, told := Same, ""
	switch {
	case len(more) > 0:
		g, told = Grown, list(more)
	case len(less) > 0:
		g, told = Lessened, list(less)
	}
	return g, english.Capital(w.where(a)) + ": " + string(g) + told + "."
}

func list(words []string) string {
	out := ""
	for _, s := range words {
		out += ", " + s
	}
	return out
}

// runs tells how far the camera saw, by line.
func (w *work) runs(was, is []look.Run) {
	index := map[site.Name]int{}
	at := func(line site.Name) *Run {
		i, ok := index[line]
		if !ok {
			i = len(w.out.Runs)
			index[line] = i
			w.out.Runs = append(w.out.Runs, Run{Line: line})
		}
		return &w.out.Runs[i]
	}
	for _, r := range is {
		one := at(r.Line)
		one.After = append(one.After, Seen{r.Seen[0], r.Seen[1], r.Ended})
	}
	for _, r := range was {
		one := at(w.later(r.Line))
		one.Before = append(one.Before, Seen{r.Seen[0], r.Seen[1], r.Ended})
	}
	for i := range w.out.Runs {
		r := &w.out.Runs[i]
		r.Words = fmt.Sprintf("%s: %s; before: %s.", r.Line, w.seen(r.After), w.seen(r.Before))
	}
}

func (w *work) seen(runs []Seen) string {
	if len(runs) == 0 {
		return "no camera run"
	}
	words := ""
	for i, s := range runs {
		if i > 0 {
			words += " and "
		}
		words += fmt.Sprintf("seen from %s to %s", w.say.Format(s.From), w.say.Format(s.To))
		if s.Ended != site.RunEndUnstated {
			words += fmt.Sprintf(" (%s)", s.Ended)
		}
	}
	return words
}
