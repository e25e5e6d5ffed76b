package judge

import (
	"fmt"

	"undersod/core/absorb"
	"undersod/core/adjust"
	"undersod/core/hydraulic"
	"undersod/core/level"
	"undersod/core/look"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// Judge draws every judgement from a job and its plan, by the numbers of one
// rule pack. Nothing that is missing stops the rest: Missing says what to enter.
// A nil pack takes the default one.
func Judge(job *site.Job, plan *adjust.Plan, pack *rules.Pack) *Judgement {
	if pack == nil {
		pack = rules.Default()
	}
	w := &work{job: job, plan: plan, pack: pack, say: job.Show.Style(), out: &Judgement{Pack: pack.Name}, known: map[site.Name]bool{}}
	w.look()
	w.levels()
	w.lowEnds()
	w.capacity()
	w.boxes()
	w.storage()
	w.permit()
	w.old()
	w.lives()
	w.care()
	w.act()
	return w.out
}

// work is one judgement on its way.
type work struct {
	job     *site.Job
	plan    *adjust.Plan
	pack    *rules.Pack
	say     unit.Style
	areas   map[site.Name]absorb.TrenchArea // by line
	out     *Judgement
	known   map[site.Name]bool // boxes of which every open outlet's level and bore are known
	missing map[string]bool
}

// miss adds what was not known, once.
func (w *work) miss(words string) {
	if w.missing == nil {
		w.missing = map[string]bool{}
	}
	if !w.missing[words] {
		w.missing[words] = true
		w.out.Missing = append(w.out.Missing, words)
	}
}

func (w *work) look() {
	w.out.Runs = look.Lay(w.job, w.plan)
	w.out.Parts = look.AtParts(w.job, w.plan)
	for i := range w.out.Runs {
		w.tooDeep(&w.out.Runs[i])
	}
	for _, r := range w.out.Runs {
		w.out.Problems = append(w.out.Problems, r.Problems...)
	}
}

// tooDeep tells of water or sediment that is deeper than the pipe is wide.
func (w *work) tooDeep(r *look.Run) {
	line, _ := w.line(r.Line)
	bore := w.bore(line)
	for _, f := range r.Findings {
		if f.Depth != nil && bore > 0 && f.Depth.Length > bore {
			r.Problems = append(r.Problems, site.Problem{Place: f.Place, Subject: fmt.Sprintf("depth of the %s in %s", f.What, r.Line),
				Found: f.Depth.Text, Expected: "at most the inside diameter of the pipe, " + w.fineLength(bore), Severity: site.Remark})
		}
	}
}

func (w *work) levels() {
	net := w.plan.Net
	if net == nil {
		net = level.Adjust(nil, nil)
	}
	w.out.Levels = Levels{
		Heights: net.Heights(), Readings: net.Readings(), Closures: net.Closures(),
		Falls: level.Falls(w.job.Site.Lines, w.job.Visit.Boxes, net, w.along, w.say),
		Words: net.Words(),
	}
	w.carries()
}

// carries says what the pipes that fall can carry full, those of the field left
// out: they lie about level and pass their water to the soil.
func (w *work) carries() {
	for _, f := range w.out.Levels.Falls {
		line, _ := w.line(f.Line)
		bore := w.bore(line)
		if line.Kind == site.DrainLine || !f.Whole || f.Way != level.Falling || !f.RunKnown || bore <= 0 {
			continue
		}
		full, err := hydraulic.Pipe{Bore: bore, Slope: f.Slope, Roughness: hydraulic.SmoothPipe}.Full()
		if err != nil {
			continue
		}
		w.out.Levels.Carries = append(w.out.Levels.Carries, fmt.Sprintf(
			"%s, %s inside, carries about %s full at this fall (Manning, n = %.3f for smooth pipe, from memory).",
			f.Line, w.fineLength(bore), w.say.FormatPumpFlow(full.Flow), hydraulic.SmoothPipe))
	}
}

// along is the length of a line's path from one of its points to a later one,
// with its standard deviation.
func (w *work) along(line, from, to site.Name) (length, sd unit.Length, ok bool) {
	l, known := w.line(line)
	if !known {
		return 0, 0, false
	}
	measured, known := w.measured(line)
	if !known || len(measured.Segments) != len(l.Path)-1 {
		return 0, 0, false
	}
	i, j := indexOf(l.Path, from), indexOf(l.Path, to)
	if i < 0 || j < 0 || i == j {
		return 0, 0, false
	}
	for _, s := range measured.Segments[min(i, j):max(i, j)] {
		length += s
	}
	return length, measured.SD, true // the whole line's deviation holds for a piece of it
}

func indexOf(path []site.Name, name site.Name) int {
	for i, p := range path {
		if p == name {
			return i
		}
	}
	return -1
}

func (w *work) line(name site.Name) (site.Line, bool) {
	for _, l := range w.job.Site.Lines {
		if l.Name == name {
			return l, true
		}
	}
	return site.Line{}, false
}

// measured is a line's length on the plan, where all of it is located.
func (w *work) measured(line site.Name) (adjust.LineLength, bool) {
	for _, l := range w.plan.Footages {
		if l.Line == line {
			return l, l.Known
		}
	}
	return adjust.LineLength{}, false
}

// drains are the lines of the field.
func (w *work) drains() []site.Line {
	var out []site.Line
	for _, l := range w.job.Site.Lines {
		if l.Kind == site.DrainLine {
			out = append(out, l)
		}
	}
	return out
}
