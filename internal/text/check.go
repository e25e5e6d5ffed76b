package text

import (
	"fmt"
	"io"
	"math"
	"strings"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/judge"
	"undersod/core/unit"
	"undersod/internal/jobfile"
)

// Check prints a job with what is judged of it, nil for nothing; everything adds
// a row for each reading.
func Check(w io.Writer, of Of, j *judge.Judgement, everything bool) {
	r := of.Read
	t := of.teller(w)
	t.everything = everything
	t.head()
	t.verdict()
	t.problems(r)
	t.accused()
	t.points()
	t.accuracy()
	t.lines()
	t.outlines()
	t.heights()
	t.next()
	t.unchecked()
	t.judgements(j)
	if t.everything {
		t.readings()
	}
	t.tapes()
	t.foot()
}

func (t *teller) verdict() {
	v := t.plan.Verdict
	colour := map[adjust.Fill]string{adjust.FillNo: red, adjust.FillUnsure: yellow, adjust.FillYes: green}[v.Fill]
	t.print("%s\n", t.paint(colour, v.Words))
	if n := len(t.plan.Search.Accused); n == 1 {
		t.print("- One disagreement, told below with what may have gone wrong.\n")
	} else if n > 1 {
		t.print("- %d disagreements, told below with what may have gone wrong.\n", n)
	}
	var reasons []string
	for _, r := range v.Reasons {
		if !t.toldBelow(r) {
			reasons = append(reasons, r)
		}
	}
	for _, r := range collapsed(reasons) {
		t.wrapped("- ", r)
	}
}

// toldBelow tells whether a reason is an accusation, which has a section of its
// own.
func (t *teller) toldBelow(reason string) bool {
	for _, a := range t.plan.Search.Accused {
		if a.Words != "" && strings.HasPrefix(reason, a.Words) {
			return true
		}
	}
	return false
}

func (t *teller) problems(r jobfile.Result) {
	if len(r.Problems) == 0 {
		return
	}
	t.title("In the job file")
	for _, p := range r.Problems {
		for line := range strings.Lines(r.Show(p)) {
			t.print("%s\n", strings.TrimRight(line, "\n"))
		}
	}
}

func (t *teller) accused() {
	for i, a := range t.plan.Search.Accused {
		if i == 0 {
			t.title("What disagrees, and why perhaps")
		}
		t.wrapped("- ", a.Words)
		for k, h := range explaining(a.Hypotheses) {
			t.hypothesis(k+1, h)
		}
		if a.NextReading != nil {
			t.wrapped("    next: ", a.NextReading.Words)
		}
	}
}

// explaining keeps the hypotheses that explain; where none does, the best of
// the others is all there is to tell.
func explaining(all []adjust.Hypothesis) []adjust.Hypothesis {
	var out []adjust.Hypothesis
	for _, h := range all {
		if h.Explains {
			out = append(out, h)
		}
	}
	if len(out) == 0 {
		return all[:min(1, len(all))]
	}
	return out
}

func (t *teller) hypothesis(rank int, h adjust.Hypothesis) {
	fit := "does not fit"
	switch z := math.Abs(h.Standard); {
	case h.Kind == adjust.SlipUnknown || h.Kind == adjust.SlipTapeZero:
		fit = ""
	case z <= 1.5:
		fit = "fits well"
	case h.Explains:
		fit = "fits"
	}
	text := h.Words
	if fit != "" {
		text += " (" + fit + ")"
	}
	if len(h.Moves) > 0 && rank == 1 {
		m := h.Moves[0]
		text += fmt.Sprintf("; it moves %s by %s", m.Point, t.length(m.By.Length()))
	}
	t.wrapped(fmt.Sprintf("  %d. ", rank), text)
}

func (t *teller) points() {
	var located, open []adjust.Point
	for _, p := range t.plan.Points {
		switch {
		case p.State == adjust.Determined:
			located = append(located, p)
		default:
			open = append(open, p)
		}
	}
	if len(located) > 0 {
		t.title("Where the points lie, and how sure (95 %)")
		t.print("  %-22s %12s %12s %10s  %s\n", "", "east", "north", "within", "an unnoticed slip could hide")
		for _, p := range located {
			t.print("  %-22s %12s %12s %10s  %s\n", p.Name, t.length(p.At.East), t.length(p.At.North),
				t.within(p.Ellipse.Radius), t.hides(p))
		}
		t.doubtWords()
		t.print("  counted from %s, %s\n", t.plan.Frame.Mark, t.frameWords())
	}
	if len(open) > 0 {
		t.title("Not located")
		for _, p := range open {
			text := fmt.Sprintf("%s: %s.", p.Name, p.Why)
			if p.CureWords != "" {
				text += " " + english.Capital(p.CureWords) + "."
			}
			t.wrapped("- ", text)
		}
	}
}

func (t *teller) within(r unit.Length) string {
	if r == 0 {
		return "held"
	}
	return t.style().FormatDeviation(r)
}

// hides tells how far a wrong reading could move a point unnoticed, or that the
// place is in doubt.
func (t *teller) hides(p adjust.Point) painted {
	switch {
	case t.inDoubt(p):
		return t.paint(red, "IN DOUBT by "+t.length(p.Doubt))
	case math.IsInf(float64(p.Hidden), 1):
		return "anything"
	case p.Hidden == 0:
		return "nothing"
	}
	return painted(t.length(p.Hidden))
}

// inDoubt tells whether setting the accused readings aside moves a point
// farther than it is said to be sure.
func (t *teller) inDoubt(p adjust.Point) bool {
	return p.Doubt > p.Ellipse.Radius && p.Doubt > unit.Inch/2
}

func (t *teller) doubtWords() {
	for _, p := range t.plan.Points {
		if t.inDoubt(p) {
			t.wrapped("  ", "In doubt: so far the place moves when the readings that disagree are set aside. The places above use every reading as written.")
			return
		}
	}
}

func (t *teller) frameWords() string {
	f := t.plan.Frame
	switch f.North {
	case adjust.NorthGiven:
		return "north as the job gives it"
	case adjust.NorthMeasured:
		return fmt.Sprintf("true north as measured, within %.1f°", 1.96*f.NorthSD.Degrees())
	case adjust.NorthMagnetic:
		return fmt.Sprintf("magnetic north as measured, within %.1f°", 1.96*f.NorthSD.Degrees())
	}
	return fmt.Sprintf("east along %s-%s: nothing measured north", f.Mark, f.Toward)
}

func (t *teller) outlines() {
	shown := false
	for _, o := range t.plan.Outlines {
		if !o.Fitted {
			continue
		}
		if !shown {
			t.title("Outlines from probe hits")
			shown = true
		}
		s := t.style()
		t.print("  %-22s %s x %s, centre within %s\n", o.Part, s.Format(o.Length), s.Format(o.Width),
			s.FormatDeviation(o.Sigma.Ellipse95().Radius))
	}
}

func (t *teller) heights() {
	for i, h := range t.plan.Levels.Heights {
		if i == 0 {
			t.title("Heights, over the first of each set of rod readings")
		}
		t.print("  %-22s %-8s %12s %10s\n", h.Point, h.On, t.length(h.At), t.within(1.96*h.SD))
	}
}

func (t *teller) next() {
	for i, c := range t.plan.Next {
		if i == 0 {
			t.title("What one more reading would do")
		}
		t.wrapped("- ", english.Capital(c.Words)+".")
	}
}

func (t *teller) unchecked() {
	u := t.plan.Search.Unchecked
	if len(u) == 0 {
		return
	}
	names := make([]string, 0, len(u))
	for _, id := range u {
		names = append(names, string(id))
	}
	t.title("Cannot be checked by the other readings")
	t.wrapped("- ", strings.Join(names, "; "))
}

func (t *teller) readings() {
	t.title("Every reading (residual is adjusted minus read)")
	t.print("  %-38s %14s %12s %8s %6s %12s\n", "", "as written", "residual", "standard", "share", "finds from")
	for _, r := range t.plan.Readings {
		for _, c := range r.Components {
			t.reading(r, c)
		}
	}
}

func (t *teller) reading(r adjust.Reading, c adjust.Component) {
	name := string(r.ID)
	if len(r.Components) > 1 {
		name += ", " + c.What
	}
	if r.Use != adjust.Used {
		t.print("  %-38s %14s  %s: %s\n", name, r.Written, [...]string{"used", "set aside", "unusable", "not adjusted"}[r.Use], r.Why)
		return
	}
	residual, detect := t.length(unit.Length(c.Residual)), t.length(unit.Length(c.Detectable))
	if c.Angular {
		residual, detect = fmt.Sprintf("%.2f°", c.Residual*180/math.Pi), fmt.Sprintf("%.1f°", c.Detectable*180/math.Pi)
	}
	if math.IsInf(c.Detectable, 0) {
		detect = "nothing"
	}
	mark := ""
	if r.Flagged {
		mark = " <"
	}
	written := r.Written
	if r.Corrected != "" {
		written += " -> " + r.Corrected
	}
	t.print("  %-38s %14s %12s %8.1f %6.2f %12s%s\n", name, written, residual, c.Standard, c.Redundancy, detect, mark)
}

func (t *teller) foot() {
	g := t.plan.Global
	t.print("\n")
	if g.Freedom > 0 {
		word := "passed"
		if !g.Passed {
			word = "failed"
		}
		degrees := "degrees"
		if g.Freedom == 1 {
			degrees = "degree"
		}
		t.wrapped("", fmt.Sprintf("Test of the whole: %s (%.1f with %d %s of freedom; %.1f to %.1f is usual). A single standardized residual may reach %.1f.",
			word, g.Statistic, g.Freedom, degrees, g.Lower, g.Upper, g.Critical))
	}
	if g.TooGood {
		t.wrapped("", "The readings agree better than their stated standard deviations: the standard deviations may be too large.")
	}
	t.wrapped("", "Before you dig or probe: call before you dig, and mind private lines that nobody marks. Keep people and loads back from an open edge, never lean into or enter a tank, and never leave an open lid. Local code and the licensed practitioner decide.")
}
