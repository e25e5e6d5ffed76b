package compare

import (
	"fmt"
	"math"

	"undersod/core/adjust"
	"undersod/core/calendar"
	"undersod/core/planar"
	"undersod/core/quantile"
	"undersod/core/site"
	"undersod/core/unit"
)

// work is one comparison on its way.
type work struct {
	before, after Side
	say           unit.Style
	places95      unit.Length // a move that matters
	old           map[site.Name]site.Name
	pointBefore   map[site.Name]adjust.Point
	pointAfter    map[site.Name]adjust.Point // by earlier name
	jointBefore   *adjust.Joint
	jointAfter    *adjust.Joint
	fit           *fit // nil where no overlay is known
	reckoned      int  // points so far
	moved         map[site.Name]bool
	out           *Comparison
}

func newWork(before, after Side) *work {
	for _, s := range []*Side{&before, &after} {
		if s.Job == nil {
			s.Job = &site.Job{}
		}
		if s.Plan == nil {
			s.Plan = adjust.Solve(&site.Job{}, adjust.Settings{})
		}
	}
	w := &work{
		before: before, after: after, say: after.Job.Show.Style(), places95: PlaceMatters,
		old: map[site.Name]site.Name{}, pointBefore: map[site.Name]adjust.Point{}, pointAfter: map[site.Name]adjust.Point{},
		jointBefore: before.Plan.Joint(), jointAfter: after.Plan.Joint(), moved: map[site.Name]bool{},
		out: &Comparison{Before: before.Job.Visit.Date, After: after.Job.Visit.Date},
	}
	for earlier, later := range after.Renamed {
		w.old[later] = earlier
	}
	if a := after.Job.Visit.Accuracy; a != nil && a.Limit > 0 {
		w.places95 = a.Limit
	}
	for _, p := range before.Plan.Points {
		w.pointBefore[p.Name] = p
	}
	for _, p := range after.Plan.Points {
		w.pointAfter[w.earlier(p.Name)] = p
	}
	return w
}

// earlier is what something of the later visit was called before.
func (w *work) earlier(later site.Name) site.Name {
	if e, ok := w.old[later]; ok {
		return e
	}
	return later
}

// later is what something of the earlier visit is called now.
func (w *work) later(earlier site.Name) site.Name {
	if l, ok := w.after.Renamed[earlier]; ok {
		return l
	}
	return earlier
}

func (w *work) remark(format string, args ...any) {
	w.out.Remarks = append(w.out.Remarks, fmt.Sprintf(format, args...))
}

// order tells where the visits seem to be exchanged, or of two properties.
func (w *work) order() {
	a, errA := calendar.Parse(w.out.Before)
	b, errB := calendar.Parse(w.out.After)
	if errA == nil && errB == nil && b.Before(a) {
		w.remark("The visit given as the later one, %s, is dated before the other, %s: exchange them.", w.out.After, w.out.Before)
	}
	one, two := w.before.Job.Site, w.after.Job.Site
	if one.Parcel != "" && two.Parcel != "" && one.Parcel != two.Parcel || one.Parcel == "" && one.Name != "" && two.Name != "" && one.Name != two.Name {
		w.remark("The two jobs may be of different properties: %s and %s.", title(one), title(two))
	}
}

func title(s site.Site) string {
	if s.Parcel == "" {
		return s.Name
	}
	return s.Name + ", parcel " + s.Parcel
}

// z95 is how many standard deviations on either side cover 95 % of a normal
// number: 1.96.
var z95 = quantile.NormalQuantile(0.975)

// plane95 is the 95 % limit of the squared standardized length of a step in the
// plane: chi-square with two degrees of freedom, 5.99.
var plane95 = quantile.Chi2Quantile(0.95, 2)

// of judges a change with its 95 % uncertainty against what would matter.
func of(change, within, matters unit.Length, yes Verdict) Verdict {
	c := change.Abs()
	switch {
	case math.IsNaN(float64(c + within)):
		return TooClose
	case c > within && within > 0:
		return yes
	case c+within <= matters:
		return Unchanged
	}
	return TooClose
}

// both is the 95 % half-width of the difference of two independent numbers.
func both(a, b unit.Length) unit.Length {
	return unit.Length(z95 * math.Hypot(float64(a), float64(b)))
}

// beyond tells whether a step is longer than its spread explains, with 95 %.
func beyond(d planar.Vec, s planar.Spread) bool {
	e, n := float64(d.East), float64(d.North)
	a, b, c := float64(s.East), float64(s.Joint), float64(s.North)
	det := a*c - b*b
	if !(det > 0) {
		return false // without an uncertainty nothing is called moved
	}
	return (c*e*e-2*b*e*n+a*n*n)/det > plane95
}

// unsettled tells where the readings of a visit disagree: what hangs on them may
// move.
func (w *work) unsettled() {
	for _, s := range []struct {
		side Side
		name string
	}{{w.before, "earlier"}, {w.after, "later"}} {
		n := len(s.side.Plan.Search.Accused)
		if n > 0 {
			w.remark("Of the %s visit %s not agree with the others: decide them first (undersod check); until then what they may move counts as uncertain.",
				s.name, map[bool]string{true: "one reading or group of readings does", false: fmt.Sprintf("%d readings or groups of readings do", n)}[n == 1])
		}
	}
}

// Differs tells whether anything moved, changed, grew, is new or gone, or
// whether it cannot be told as the plans are not laid over each other.
func (c *Comparison) Differs() bool {
	steady := func(v Verdict) bool { return v == Unchanged || v == TooClose || v == NotLocated }
	differs := !c.Overlay.Known || len(c.Overlay.Aside)+len(c.Since)+len(c.Facts) > 0
	for _, p := range c.Places {
		differs = differs || !steady(p.Verdict)
	}
	for _, o := range c.Outlines {
		differs = differs || !steady(o.Verdict)
	}
	for _, l := range c.Lines {
		differs = differs || !steady(l.Verdict) || l.BendsWas != l.BendIs
	}
	for _, l := range c.Levels {
		differs = differs || !steady(l.Verdict)
	}
	for _, d := range c.Depths {
		differs = differs || !steady(d.Verdict)
	}
	for _, b := range c.Boxes {
		differs = differs || b.Spread.Verdict == Changed
	}
	for _, f := range c.Findings {
		differs = differs || f.Growth != Same
	}
	return differs
}
