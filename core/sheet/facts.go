package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/ties"
	"undersod/core/unit"
)

// facts is what the furniture of the sheet tells.
type facts struct {
	c       *content
	m       *measure
	say     wording
	scale   Scale
	unusual bool // none of the usual scales fits
	turn    unit.Angle
	used    [looks]bool
	keys    []keyed
	room    []string // words for which the list of numbers keeps room
	beyond  []string // what lies beyond the drawing
	trench  bool     // a trench is drawn to scale
	table   ties.Table
	blocks  map[MM][]block
	still   map[MM][3]block
	titles  map[MM]row
}

func newFacts(c *content, m *measure) *facts {
	f := &facts{c: c, m: m, say: c.say, blocks: map[MM][]block{}, still: map[MM][3]block{}, titles: map[MM]row{}, table: ties.Of(c.Index)}
	f.learn(c.things)
	return f
}

// learn notes which looks are on the sheet, and tells whether that is new.
// Whether rings are drawn is known only with the scale.
func (f *facts) learn(things []thing) bool {
	before := f.used
	f.used = [looks]bool{}
	f.used[lookEllipse] = before[lookEllipse]
	for i := range things {
		t := &things[i]
		if t.look < looks && t.look != lookEllipse {
			f.used[t.look] = true
		}
		f.trench = f.trench || t.width > 0
	}
	return f.used != before
}

// shows notes what is on the drawing and what lies beyond it, and tells whether
// the panel must be laid out again for that.
func (f *facts) shows(things []thing, beyond []string) bool {
	if learned := f.learn(things); !learned && slices.Equal(beyond, f.beyond) {
		return false
	}
	f.beyond = beyond
	f.blocks = map[MM][]block{}
	return true
}

// title is the sheet's title.
func (f *facts) title() string {
	return cmp.Or(f.c.title, clean(f.c.job.Show.Title), "Septic system as-built")
}

// north says what up on the sheet is: a short word for the arrow and a line.
func (f *facts) north() (arrow bool, words string) {
	fr := f.c.plan.Frame
	switch fr.North {
	case adjust.NorthGiven:
		return true, "True north, as given for the site"
	case adjust.NorthMeasured:
		if fr.NorthSD > 0 {
			return true, fmt.Sprintf("North as measured, within %.1f° (95 %%)", 1.96*fr.NorthSD.Degrees())
		}
		return true, "North as measured"
	case adjust.NorthMagnetic:
		return true, "Magnetic north; the declination is not known"
	}
	wall := "the baseline"
	if fr.Mark != "" && fr.Toward != "" {
		wall = clean(string(fr.Mark)) + "–" + clean(string(fr.Toward))
	}
	return false, "North was not measured: up is square to " + wall
}

// datum says what the coordinates hang on.
func (f *facts) datum() string {
	fr := f.c.plan.Frame
	if w := clean(fr.Why); w != "" {
		return w
	}
	if fr.Mark == "" || fr.Toward == "" {
		return "spread over all marks"
	}
	return fmt.Sprintf("held at %s, toward %s", clean(string(fr.Mark)), clean(string(fr.Toward)))
}

// accuracy says which parts meet the limit that is asked for.
func (f *facts) accuracy() string {
	a := f.c.job.Visit.Accuracy
	if a == nil || a.Limit <= 0 {
		return ""
	}
	good, n := 0, 0
	var over []string
	for _, p := range f.c.plan.Points {
		if !f.c.Judged(p) || f.c.Outlined(p.Name) {
			continue
		}
		n++
		if _, ok := f.c.Located(p.Name); ok && p.State == adjust.Determined && p.Ellipse.Radius+p.Doubt <= a.Limit {
			good++
			continue
		}
		over = append(over, clean(string(p.Name)))
	}
	limit := f.say.Length(a.Limit)
	if src := clean(a.Source); src != "" {
		limit += " (" + src + ")"
	}
	if n == 0 {
		return "Accuracy asked for: " + limit + ". No located part to judge."
	}
	if good == n {
		return fmt.Sprintf("Accuracy asked for: %s. All %d located parts meet it with 95 %% probability, as far as the readings are right.", limit, n)
	}
	return fmt.Sprintf("Accuracy asked for: %s. %d of %d parts meet it with 95 %% probability; not shown to meet it: %s.", limit, good, n, shorten(over, 12))
}

// shorten lists names, at most n of them.
func shorten(names []string, n int) string {
	if len(names) <= n {
		return english.And(names)
	}
	return strings.Join(names[:n], ", ") + fmt.Sprintf(" and %d more", len(names)-n)
}

// about holds the words that every sheet carries.
func (f *facts) about() []string {
	lengths := ""
	if f.c.sided {
		lengths = ", with the lengths of their sides as located here, not of record"
	}
	out := []string{
		"This drawing shows measured positions of buried parts. It is not a boundary survey: property lines are shown as found or told" + lengths + ". The local authority decides. Call before you dig.",
	}
	ring := ""
	if f.used[lookEllipse] {
		ring = fmt.Sprintf(" A ring is drawn, to scale, where this is more than %.1f mm on paper.", float64(smallest))
	}
	except := ""
	if slices.ContainsFunc(f.table.Rows, ties.Row.Doubted) {
		except = ", except where the table says " + ties.InDoubt
	}
	out = append(out, "95 % ±: with 95 % probability the point lies within this distance of where it is drawn"+except+"."+ring)
	if a := f.accuracy(); a != "" {
		out = append(out, a)
	}
	return out
}
