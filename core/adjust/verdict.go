package adjust

import (
	"fmt"
	"math"
	"strings"

	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// at returns the plan position of a named point.
func (w *work) at(name site.Name) planar.Vec { return w.plan.Points[w.net.index[name]].At }

// drawnPoints lists the points that the sheet shows as part of the system.
func (w *work) drawnPoints() []int {
	on := map[site.Name]bool{}
	for _, l := range w.net.job.Site.Lines {
		for _, name := range l.Path {
			on[name] = true
		}
	}
	var out []int
	for i, p := range w.net.points {
		if p.Role == site.RolePart || p.Role == site.RoleHit || on[p.Name] {
			out = append(out, i)
		}
	}
	return out
}

// verdict says whether the hole may be filled: yes only when everything drawn
// is determined, checked and agrees.
func (w *work) verdict() Verdict {
	var v Verdict
	if w.trouble != nil {
		v.Reasons = append(v.Reasons, "The readings contradict each other so much that the plan does not settle. Look at the largest residuals (check --all), and set the worst reading aside.")
	}
	v.Reasons = append(v.Reasons, w.disagreements()...)
	wrong, open := w.plan.Net.Trouble()
	v.Reasons = append(v.Reasons, wrong...)
	v.Reasons = append(v.Reasons, w.openPoints()...)
	v.Reasons = append(v.Reasons, w.refused()...)
	v.Reasons = append(v.Reasons, w.contradictedHints()...)
	v.Reasons = append(v.Reasons, w.offOutline()...)
	if len(v.Reasons) > 0 {
		v.Fill, v.Words = FillNo, "Do not fill yet."
		return v
	}
	if len(w.drawnPoints()) == 0 {
		v.Fill, v.Words = FillNo, "Nothing buried is recorded yet."
		return v
	}
	v.Reasons = append(append(open, w.uncheckedParts()...), w.tooCoarse()...)
	switch {
	case len(open) > 0:
		v.Fill, v.Words = FillUnsure, "A run of the level does not close. Read it again before you fill."
		return v
	case len(v.Reasons) > 0:
		v.Fill, v.Words = FillUnsure, "Nothing disagrees, but not everything is checked. Measure more before you fill."
		return v
	}
	v.Fill, v.Words = FillYes, "The readings allow the hole to be filled: everything buried is located, checked and agrees."
	return v
}

func (w *work) disagreements() []string {
	var out []string
	for _, a := range w.plan.Search.Accused {
		text := a.Words
		if len(a.Hypotheses) > 0 && a.Hypotheses[0].Kind != SlipUnknown {
			text += " Perhaps " + a.Hypotheses[0].Words + "."
		}
		if a.NextReading != nil {
			text += " Next: " + a.NextReading.Words + "."
		}
		out = append(out, text)
	}
	if w.plan.Search.Unexplained {
		out = append(out, "The readings scatter more than their stated standard deviations allow, and no single one explains it.")
	}
	return out
}

func (w *work) openPoints() []string {
	var out []string
	for _, i := range w.drawnPoints() {
		p := &w.plan.Points[i]
		if p.State == Determined {
			continue
		}
		text := fmt.Sprintf("%s is not located: %s.", p.Name, p.Why)
		if p.CureWords != "" {
			text += " Next: " + p.CureWords + "."
		}
		out = append(out, text)
	}
	return out
}

func (w *work) refused() []string {
	var out []string
	for i := range w.plan.Readings {
		r := &w.plan.Readings[i]
		if r.Use == Unusable {
			out = append(out, fmt.Sprintf("The %s, written %s, cannot be used: %s.", r.Words, r.Written, r.Why))
		}
	}
	return out
}

func (w *work) offOutline() []string {
	var out []string
	for _, o := range w.plan.Outlines {
		if !o.Fitted {
			out = append(out, fmt.Sprintf("The outline of %s is not fitted: %s.", o.Part, o.Why))
		}
		for _, h := range o.Hits {
			if h.LiesOff {
				out = append(out, h.Words)
			}
		}
	}
	return out
}

// uncheckedParts lists the drawn points that rest on readings which nothing
// checks, each with the tie that would check it.
func (w *work) uncheckedParts() []string {
	if w.sol == nil {
		return nil
	}
	var out []string
	for _, i := range w.drawnPoints() {
		q := &w.plan.Points[i]
		if q.Hidden <= w.hiddenLimit() || w.inFittedOutline(q.Name) {
			continue
		}
		text := fmt.Sprintf("Nothing checks the place of %s.", q.Name)
		if !math.IsInf(float64(q.Hidden), 1) {
			text = fmt.Sprintf("A wrong reading could move %s by %s and nobody would notice.", q.Name, w.lengthWords(q.Hidden))
		}
		if c := w.planner().checking(i); c != nil {
			text += fmt.Sprintf(" Next: a tie from %s (about %s).", c.From, w.lengthWords(c.Expect))
		} else {
			text += " Next: take its ties once more, or set a stake in the lawn, tie it to two corners, and tie the part to it."
		}
		out = append(out, text)
	}
	return out
}

// hiddenLimit is how far an unnoticed slip may move a drawn point before the
// verdict says so: twice the accuracy limit where the job states one, else two
// feet, which a probe still finds in minutes (common practice, no source).
func (w *work) hiddenLimit() unit.Length {
	if a := w.net.job.Visit.Accuracy; a != nil && a.Limit > 0 {
		return 2 * a.Limit
	}
	return 2 * unit.Foot
}

// inFittedOutline tells whether a point is a probe hit of an outline that has
// more hits than it needs: the fit then checks it.
func (w *work) inFittedOutline(name site.Name) bool {
	for _, o := range w.plan.Outlines {
		for _, h := range o.Hits {
			if h.Point == name && o.Fitted && o.Freedom > 0 {
				return true
			}
		}
	}
	return false
}

// tooCoarse lists the parts whose 95 % radius is above the stated limit.
func (w *work) tooCoarse() []string {
	a := w.net.job.Visit.Accuracy
	if a == nil || math.IsNaN(float64(a.Limit)) || a.Limit <= 0 {
		return nil
	}
	var names []string
	for _, i := range w.drawnPoints() {
		if q := &w.plan.Points[i]; q.Ellipse.Radius > a.Limit {
			names = append(names, fmt.Sprintf("%s (%s)", q.Name, w.style().FormatDeviation(q.Ellipse.Radius)))
		}
	}
	if len(names) == 0 {
		return nil
	}
	text := fmt.Sprintf("Less sure than the limit of %s: %s.", w.lengthWords(a.Limit), strings.Join(names, ", "))
	if a.Source != "" {
		text += " (Source of the limit: " + a.Source + ". The local authority decides.)"
	}
	return []string{text}
}
