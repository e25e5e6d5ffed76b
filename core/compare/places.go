package compare

import (
	"fmt"
	"math"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// places compares every point but probe hits, which are found once: in the
// order of the later plan, then what is gone.
func (w *work) places() {
	kinds := kindsOf(w.after.Job, w.before.Job)
	same := w.sameReadings()
	for _, q := range w.after.Plan.Points {
		if q.Role == site.RoleHit {
			continue
		}
		e := w.earlier(q.Name)
		p, known := w.pointBefore[e]
		out := Place{Name: q.Name, What: kinds[q.Name], Mark: mark(q.Role)}
		if e != q.Name {
			out.Earlier = e
		}
		switch {
		case !known:
			out.Verdict = New
			if w.fit != nil && located(q) {
				out.Is = w.fit.over(q.At)
			}
		case !located(p) || !located(q) || w.fit == nil:
			out.Verdict = NotLocated
		default:
			out.Same = same[q.Name]
			w.refresh()
			w.place(&out, p, q)
		}
		out.Words = w.placeWords(out, p, q)
		if out.Verdict == Moved {
			out.Short = fmt.Sprintf("%s moved %s %s", out.Name, w.say.Format(out.By), w.toward(out.Toward))
		}
		w.out.Places = append(w.out.Places, out)
	}
	for _, p := range w.before.Plan.Points {
		if _, ok := w.pointAfter[p.Name]; !ok && p.Role != site.RoleHit {
			out := Place{Name: p.Name, What: kinds[p.Name], Mark: mark(p.Role), Verdict: Gone, Was: p.At}
			out.Words = fmt.Sprintf("%s is not in the later visit: gone, or not looked for.", p.Name)
			w.out.Places = append(w.out.Places, out)
		}
	}
}

// refresh forgets what was reckoned for earlier points, so that what is kept of
// the covariances stays bounded.
func (w *work) refresh() {
	if w.reckoned++; w.reckoned%keptPoints == 0 {
		w.jointBefore, w.jointAfter = w.before.Plan.Joint(), w.after.Plan.Joint()
	}
}

// keptPoints is for how many points rows of the covariances are kept at a time.
const keptPoints = 200

// place compares one point that both plans have located.
func (w *work) place(out *Place, p, q adjust.Point) {
	out.Was, out.Is = p.At, w.fit.over(q.At)
	d := out.Is.Minus(out.Was)
	s, ok := w.spread(p, q)
	out.By, out.Toward = d.Length(), d.Azimuth()
	out.Within = adjust.Radius95(s) + p.Doubt + q.Doubt
	switch {
	case !ok:
		out.Verdict = NotLocated
	case beyond(d, s) && out.By > p.Doubt+q.Doubt:
		out.Verdict = Moved
		w.moved[p.Name] = true
	case out.By+out.Within <= w.places95:
		out.Verdict = Unchanged
	default:
		out.Verdict = TooClose
	}
}

// spread is the covariance of how far a point lies from where it lay, on the
// earlier plan: of both plans and of the marks that hold the overlay, all of
// which move together.
func (w *work) spread(p, q adjust.Point) (planar.Spread, bool) {
	f := w.fit
	east, north, both := planar.Vec{East: 1}, planar.Vec{North: 1}, planar.Vec{East: 1, North: 1}
	var v [3]float64
	for i, u := range []planar.Vec{east, north, both} {
		ok := false
		if v[i], ok = w.variance(p, q, u); !ok {
			return planar.Spread{}, false
		}
	}
	again := float64(foundAgain(p.Role))
	again *= 2 * again
	s := planar.Spread{East: unit.Area(v[0] + again), North: unit.Area(v[1] + again), Joint: unit.Area((v[2] - v[0] - v[1]) / 2)}
	return s.Plus(f.definition(p.At)), true
}

// definition is what finding the holding marks again adds at a place; of a mark
// that holds the overlay itself it is counted on the safe side.
func (f *fit) definition(at planar.Vec) planar.Spread {
	g := f.design(at)
	var out planar.Spread
	again := 2 * float64(MarkAgain) * float64(MarkAgain)
	for c := range 2 * len(f.marks) {
		var row [2]float64
		for k := range 2 {
			for q := range 3 {
				row[k] += g[k][q] * f.gain[q][c]
			}
		}
		out = out.Plus(planar.Spread{East: unit.Area(row[0] * row[0] * again), North: unit.Area(row[1] * row[1] * again), Joint: unit.Area(row[0] * row[1] * again)})
	}
	return out
}

// variance is that of a point's move along u, in square metres. The pulls of
// the point and of the marks that hold the overlay sum to nothing for a shift
// and for a turn of either plan, so that no datum is in it.
func (w *work) variance(p, q adjust.Point, u planar.Vec) (float64, bool) {
	was, is := w.pulls(w.fit.along(p.At, u))
	was = append(was, adjust.Pull{Point: p.Name, Along: u})
	is = append(is, adjust.Pull{Point: q.Name, Along: u.Clockwise(-w.fit.turn)})
	return w.sum(was, is)
}

// along is how a place moves along u with shift east, shift north and turn.
func (f *fit) along(at, u planar.Vec) [3]float64 {
	g := f.design(at)
	var out [3]float64
	for c := range out {
		out[c] = float64(u.East)*g[0][c] + float64(u.North)*g[1][c]
	}
	return out
}

// pulls are those of the marks on minus a combination of shift and turn.
func (w *work) pulls(by [3]float64) (was, is []adjust.Pull) {
	for i, m := range w.fit.marks {
		var along [2]float64
		for k := range along {
			for c := range by {
				along[k] -= by[c] * w.fit.gain[c][2*i+k]
			}
		}
		v := planar.Vec{East: unit.Length(along[0]), North: unit.Length(along[1])}
		was = append(was, adjust.Pull{Point: m.earlier, Along: v})
		is = append(is, adjust.Pull{Point: m.later, Along: v.Clockwise(-w.fit.turn)})
	}
	return was, is
}

// sum is the variance of a number that hangs on both plans.
func (w *work) sum(was, is []adjust.Pull) (float64, bool) {
	a, ok := w.jointBefore.Deviation(was...)
	b, good := w.jointAfter.Deviation(is...)
	sum := float64(a)*float64(a) + float64(b)*float64(b)
	return sum, ok && good && !math.IsNaN(sum)
}

// foundAgain is how well a point is found again by another crew.
func foundAgain(r site.Role) unit.Length {
	switch {
	case mark(r):
		return MarkAgain
	case r == site.RolePart:
		return PartAgain
	}
	return FeatureAgain
}

func (w *work) placeWords(c Place, p, q adjust.Point) string {
	name := string(c.Name)
	if c.Earlier != "" {
		name += ", " + string(c.Earlier) + " before,"
	}
	switch c.Verdict {
	case New:
		return name + " is not in the earlier visit: new, or not looked for then."
	case NotLocated:
		switch {
		case w.fit == nil:
			return name + ": the plans are not laid over each other."
		case !located(p):
			return name + " was not located at the earlier visit."
		}
		return name + " is not located at the later visit."
	case Moved:
		return fmt.Sprintf("%s moved %s %s, %s.", name, w.say.Format(c.By), w.toward(c.Toward), w.say.FormatDeviation(c.Within))
	case Unchanged:
		words := fmt.Sprintf("%s lies where it lay, within %s.", name, w.say.Format(c.By+c.Within))
		if c.Same {
			words += " Every reading of it is written as before: taped again to the same figure, or copied."
		}
		return words
	}
	return fmt.Sprintf("%s lies %s from where it lay, %s: that tells neither that it moved nor that it stayed.", name, w.say.Format(c.By), w.say.FormatDeviation(c.Within))
}

// kindsOf tells what each point is, of the first job that says so.
func kindsOf(jobs ...*site.Job) map[site.Name]string {
	out := map[site.Name]string{}
	put := func(n site.Name, kind string) {
		if out[n] == "" {
			out[n] = kind
		}
	}
	for _, job := range jobs {
		for _, p := range job.Site.Parts {
			put(p.Name, string(p.Kind))
		}
		for _, f := range job.Site.Features {
			for _, n := range f.Points {
				put(n, string(f.Kind))
			}
		}
		for _, p := range job.Site.Points {
			switch {
			case p.Kind != "":
				put(p.Name, p.Kind)
			case p.Role == site.RoleCorner:
				put(p.Name, "corner")
			case p.Role == site.RoleBend:
				put(p.Name, "bend or end of a line")
			}
		}
	}
	return out
}

// sameReadings lists the points of the later plan of which every reading is
// written as at the earlier visit.
func (w *work) sameReadings() map[site.Name]bool {
	written := map[site.ReadingID]string{}
	for _, r := range w.before.Plan.Readings {
		written[r.ID] = r.Written
	}
	out := map[site.Name]bool{}
	for _, r := range w.after.Plan.Readings {
		if r.Source != adjust.FromReading {
			continue
		}
		before, ok := written[r.ID]
		for _, n := range r.Touches {
			if _, seen := out[n]; !seen {
				out[n] = true
			}
			out[n] = out[n] && ok && before == r.Written
		}
	}
	return out
}

// outlines compares the parts that were found by their edges.
func (w *work) outlines() {
	earlier := map[site.Name]adjust.Outline{}
	for _, o := range w.before.Plan.Outlines {
		earlier[o.Part] = o
	}
	for _, o := range w.after.Plan.Outlines {
		e, ok := earlier[w.earlier(o.Part)]
		if ok && o.Fitted && e.Fitted && w.fit != nil {
			w.out.Outlines = append(w.out.Outlines, w.outline(e, o))
		}
	}
}

// outline compares one. Its middle hangs on its hits alone, so that its spread
// is taken against each plan's datum, and that of shift and turn on top: never
// too small.
func (w *work) outline(e, o adjust.Outline) Outline {
	f := w.fit
	out := Outline{Part: o.Part, Was: e.Centre, Is: f.over(o.Centre), WasCorner: e.Corners}
	d := out.Is.Minus(out.Was)
	carried, turn := w.carried(e.Centre)
	again := 2 * float64(PartAgain) * float64(PartAgain)
	s := e.Sigma.Spread().Plus(turning(f.turn).Of(o.Sigma.Spread())).Plus(carried).Plus(planar.Spread{East: unit.Area(again), North: unit.Area(again)})
	out.By, out.Toward, out.Within = d.Length(), d.Azimuth(), adjust.Radius95(s)
	// A rectangle turned by half a turn looks the same.
	out.Turned = unit.Angle(math.Remainder(float64(o.Azimuth+f.turn-e.Azimuth), math.Pi))
	out.TurnedSD = unit.Angle(math.Sqrt(sq(float64(e.AzimuthSD)) + sq(float64(o.AzimuthSD)) + turn))
	turned := out.TurnedSD > 0 && math.Abs(float64(out.Turned)) > z95*float64(out.TurnedSD)
	switch {
	case beyond(d, s) || turned:
		out.Verdict = Moved
		w.moved[e.Part] = true
	case out.By+out.Within <= w.places95:
		out.Verdict = Unchanged
	default:
		out.Verdict = TooClose
	}
	out.Words = w.outlineWords(out, turned)
	if out.Verdict == Moved {
		out.Short = fmt.Sprintf("%s moved %s %s", out.Part, w.say.Format(out.By), w.toward(out.Toward))
	}
	return out
}

func (w *work) outlineWords(o Outline, turned bool) string {
	words := fmt.Sprintf("The outline of %s, by its middle, lies %s %s of where it lay, %s", o.Part, w.say.Format(o.By), w.toward(o.Toward), w.say.FormatDeviation(o.Within))
	if turned {
		way := "clockwise"
		if o.Turned < 0 {
			way = "counterclockwise"
		}
		words += fmt.Sprintf(", turned by %.1f° %s", math.Abs(o.Turned.Degrees()), way)
	}
	return words + ": " + string(o.Verdict) + "."
}

func sq(v float64) float64 { return v * v }

// turning is a clockwise turn as a map of the plane.
func turning(a unit.Angle) planar.Matrix {
	s, c := math.Sincos(float64(a))
	return planar.Matrix{East: planar.Vec{East: unit.Length(c), North: unit.Length(s)}, North: planar.Vec{East: unit.Length(-s), North: unit.Length(c)}}
}

// carried is the spread that shift and turn bring to a place, and the variance
// of the turn, against the plans' own datums.
func (w *work) carried(at planar.Vec) (planar.Spread, float64) {
	var v [3]float64
	for i, u := range []planar.Vec{{East: 1}, {North: 1}, {East: 1, North: 1}} {
		v[i], _ = w.sum(w.pulls(w.fit.along(at, u)))
	}
	turn, _ := w.sum(w.pulls([3]float64{0, 0, 1}))
	return planar.Spread{East: unit.Area(v[0]), North: unit.Area(v[1]), Joint: unit.Area((v[2] - v[0] - v[1]) / 2)}.Plus(w.fit.definition(at)), turn
}
