package adjust

import (
	"fmt"
	"math"
	"strings"

	"undersod/core/site"
	"undersod/core/unit"
)

// style is how the job wants lengths printed.
func (w *work) style() unit.Style {
	show := w.net.job.Show
	s := unit.Style{Form: show.Form, Denominator: show.Denominator}
	if s.Form == unit.NoForm {
		s.Form = unit.FeetInches
	}
	if s.Denominator == 0 {
		s.Denominator = 4
	}
	s.Digits = 2
	return s
}

// lengthWords prints a length as the job wants it.
func (w *work) lengthWords(l unit.Length) string { return w.style().Format(l) }

// valueWords prints the value of an equation: an angle as an azimuth, a length
// in the form of the reading.
func (w *work) valueWords(e *equation, v float64) string {
	if e.Wrap {
		if _, square := e.Model.(squareModel); square {
			return fmt.Sprintf("%.1f°", math.Abs(unit.Angle(v).Degrees()))
		}
		return unit.FormatAzimuth(unit.Angle(v).Turn(), 1)
	}
	written, ok := w.net.writtenOf(w.net.readings[e.reading].ID, e.component)
	if !ok || written.Form == unit.NoForm {
		return w.lengthWords(unit.Length(v))
	}
	s := unit.Style{Form: written.Form, Denominator: 8, Digits: 2}
	if v < 0 && e.Read < 0 {
		v = -v
	}
	return s.Format(unit.Length(v))
}

// writtenOf returns a reading's length as written: the tie, the footage, the
// side, or the station or distance of an offset by component.
func (n *network) writtenOf(id site.ReadingID, component int) (unit.Written, bool) {
	if n.written == nil {
		n.written = map[site.ReadingID][2]unit.Written{}
		for _, r := range n.job.Visit.Readings {
			switch r := r.(type) {
			case site.Tie:
				w := r.Read
				if r.Corrected != nil {
					w = *r.Corrected
				}
				n.written[r.ID] = [2]unit.Written{w}
			case site.Footage:
				n.written[r.ID] = [2]unit.Written{r.Read}
			case site.Offset:
				n.written[r.ID] = [2]unit.Written{r.Station, positive(r.Right)}
			}
		}
		for _, b := range n.job.Site.Buildings {
			for k, s := range b.Sides {
				if len(b.Corners) == 0 {
					break
				}
				i, j := k%len(b.Corners), (k+1)%len(b.Corners)
				n.written[site.ReadingID("side "+string(b.Corners[i])+"-"+string(b.Corners[j]))] = [2]unit.Written{s}
			}
		}
	}
	w, ok := n.written[id]
	return w[component&1], ok && w[component&1].Text != ""
}

// positive is a distance beside a baseline without its side.
func positive(w unit.Written) unit.Written {
	w.Length = w.Length.Abs()
	w.Text = strings.TrimPrefix(strings.TrimSpace(w.Text), "-")
	return w
}

// accusationWords tells an accusation in plain words.
func (s *searcher) accusationWords(a *Accusation, first int) string {
	if a.Located {
		r := s.reading(first)
		text := fmt.Sprintf("The %s, written %s, disagrees with the others", r.Words, r.Written)
		if r.Source == FromSquare {
			text = fmt.Sprintf("The %s disagrees with the others", r.Words)
		}
		return text + fmt.Sprintf(": they say %s.", s.w.valueWords(s.equation(first), a.Predicted))
	}
	names := make([]string, 0, len(a.Readings))
	for _, id := range a.Readings {
		names = append(names, s.w.plan.Readings[s.indexOf(id)].Words)
	}
	return fmt.Sprintf("One of these %d is wrong, and nothing tells which: %s.", len(names), strings.Join(names, "; "))
}

func (s *searcher) indexOf(id site.ReadingID) int {
	for i := range s.w.plan.Readings {
		if s.w.plan.Readings[i].ID == id {
			return i
		}
	}
	return 0
}

// words sums the search up in one line.
func (s *searcher) words() string {
	out := &s.w.plan.Search
	switch {
	case len(out.Accused) == 1:
		return "One disagreement was found."
	case len(out.Accused) > 1:
		return fmt.Sprintf("%d disagreements were found.", len(out.Accused))
	case out.Unexplained:
		return "No single reading stands out, but together they scatter more than their stated standard deviations allow."
	}
	return "Every reading that can be checked agrees with the others."
}
