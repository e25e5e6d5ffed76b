package compare

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"undersod/core/adjust"
	"undersod/core/dense"
	"undersod/core/english"
	"undersod/core/phrase"
	"undersod/core/planar"
	"undersod/core/quantile"
	"undersod/core/site"
	"undersod/core/unit"
)

// mostMarks is how many marks hold an overlay; more would add nothing but time.
const mostMarks = 24

// The chance that marks which stand are accused of having moved, over all of
// them; and how much worse the others must agree without another mark for the
// two to be told apart, in units of the weighted sum of squares (a likelihood
// ratio of e² in its exponent's double).
const (
	markSignificance = 0.01
	apart            = 4.0
)

// loose is the variance given to shift and turn of each plan, which nothing in
// the marks may rest on: m² and rad². It is large against every real one and
// small enough to invert with.
const (
	looseShift = 1.0
	looseTurn  = 0.01
)

// common is a mark of both plans.
type common struct {
	earlier, later site.Name
	was, is        planar.Vec // each on its own plan
	row            int        // of its east in the covariance of all common marks
}

// fit is the later plan laid over the earlier by some marks: generalized least
// squares for a shift and a turn, with the covariance of both plans. The plans'
// own datums drop out: shift and turn of each are given a large variance, which
// changes neither what the marks leave nor what is compared. (Koch, Parameter
// Estimation and Hypothesis Testing in Linear Models, 1999, chapter 3, from
// memory.)
type fit struct {
	marks     []common
	turn      unit.Angle
	shift     planar.Vec
	centre    planar.Vec  // of the marks on the earlier plan
	gain      [][]float64 // 3 rows: how shift east, north and turn follow each mark's place
	statistic float64
}

func (f *fit) over(v planar.Vec) planar.Vec { return v.Clockwise(f.turn).Plus(f.shift) }

// freedom is how many coordinates more than needed hold the fit.
func (f *fit) freedom() int { return 2*len(f.marks) - 3 }

// overlay lays the later plan over the earlier one.
func (w *work) overlay() {
	all := w.common()
	o := &w.out.Overlay
	if len(all) < 2 {
		o.Words = fmt.Sprintf("The plans have %s in common and cannot be laid over each other: at least two must be located at both visits. Lengths, levels, findings and readings are compared all the same.", english.Count(len(all), "mark"))
		return
	}
	spread := w.spreads(all)
	left := all
	for {
		f, ok := solve(left, spread)
		if !ok {
			o.Words = "The marks in common stand too close to each other to lay one plan over the other. Lengths, levels, findings and readings are compared all the same."
			return
		}
		worst := w.accuse(f, spread)
		if len(worst) == 0 {
			w.hold(f)
			return
		}
		rest := without(left, worst)
		if len(rest) < 2 {
			o.Words = fmt.Sprintf("One of %s moved between the visits, and with no further mark it cannot be told which: the plans are not laid over each other. Lengths, levels, findings and readings are compared all the same.", english.And(names(left)))
			return
		}
		for _, c := range worst {
			var with []site.Name
			for _, d := range worst {
				if d.earlier != c.earlier {
					with = append(with, d.later)
				}
			}
			o.Aside = append(o.Aside, Aside{Mark: c.later, With: with})
		}
		left = rest
	}
}

// common lists the marks that both plans have located, in the order of the
// earlier one.
func (w *work) common() []common {
	var out []common
	for _, p := range w.before.Plan.Points {
		q, ok := w.pointAfter[p.Name]
		if !ok || !mark(p.Role) || !mark(q.Role) || !located(p) || !located(q) {
			continue
		}
		if out = append(out, common{p.Name, q.Name, p.At, q.At, 2 * len(out)}); len(out) == mostMarks {
			break
		}
	}
	return out
}

func mark(r site.Role) bool { return r == site.RoleMark || r == site.RoleCorner }

func located(p adjust.Point) bool {
	return p.Placed && p.State == adjust.Determined && finite(p.At)
}

func finite(v planar.Vec) bool {
	s := float64(v.East + v.North)
	return !math.IsNaN(s) && !math.IsInf(s, 0) && v.Length() < 1e7*unit.Metre
}

func names(list []common) []site.Name {
	var out []site.Name
	for _, c := range list {
		out = append(out, c.later)
	}
	return out
}

func without(list, out []common) []common {
	return slices.DeleteFunc(slices.Clone(list), func(c common) bool {
		return slices.ContainsFunc(out, func(d common) bool { return d.earlier == c.earlier })
	})
}

// spreads is the covariance of what the marks' places differ by between the
// visits, on the earlier plan, a row for each east and each north. Both plans
// are brought to one datum that no choice of theirs is in: no shift and no turn
// over all the marks (inner constraints, an S-transformation: Baarda,
// S-transformations and criterion matrices, 1973, from memory).
func (w *work) spreads(marks []common) [][]float64 {
	start, _ := rigid(marks) // with marks in one place no turn is needed either
	q := square(2 * len(marks))
	axes := [2]planar.Vec{{East: 1}, {North: 1}}
	pull := func(name site.Name, u planar.Vec) adjust.Pull { return adjust.Pull{Point: name, Along: u} }
	for i, a := range marks {
		for j, b := range marks[:i+1] {
			for k, u := range axes {
				for l, v := range axes {
					s := covariance(w.jointBefore, pull(a.earlier, u), pull(b.earlier, v)) +
						covariance(w.jointAfter, pull(a.later, u.Clockwise(-start.turn)), pull(b.later, v.Clockwise(-start.turn)))
					q[2*i+k][2*j+l], q[2*j+l][2*i+k] = s, s
				}
			}
		}
	}
	q = start.inner(marks, q)
	for i := range q {
		q[i][i] += 2 * float64(MarkAgain) * float64(MarkAgain)
	}
	return q
}

func square(n int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, n)
	}
	return out
}

// inner takes shift and turn over all marks out of a covariance: S Q Sᵀ with
// S = I − G (GᵀG)⁻¹ Gᵀ, where GᵀG is diagonal about the middle of the marks.
func (f *fit) inner(marks []common, q [][]float64) [][]float64 {
	n := len(q)
	if f.marks == nil {
		return q
	}
	var g [3][]float64
	for p := range g {
		g[p] = make([]float64, n)
		length := 0.0
		for i, m := range marks {
			for k, row := range f.design(m.was) {
				g[p][2*i+k] = row[p]
				length += row[p] * row[p]
			}
		}
		for i := range g[p] {
			g[p][i] /= math.Sqrt(length)
		}
	}
	s, half, out := square(n), square(n), square(n)
	for i := range n {
		for j := range n {
			if i == j {
				s[i][j] = 1
			}
			s[i][j] -= g[0][i]*g[0][j] + g[1][i]*g[1][j] + g[2][i]*g[2][j]
		}
	}
	product(half, s, q)
	product(out, half, s)
	return out
}

// product puts a b into out.
func product(out, a, b [][]float64) {
	for i := range a {
		for j := range b {
			for k := range b {
				out[i][j] += a[i][k] * b[k][j]
			}
		}
	}
}

// covariance is that of two pulls, from the variances of each and of their sum.
func covariance(j *adjust.Joint, a, b adjust.Pull) float64 {
	variance := func(pulls ...adjust.Pull) float64 {
		sd, ok := j.Deviation(pulls...)
		if v := float64(sd) * float64(sd); ok && !math.IsNaN(v) {
			return v
		}
		return 0
	}
	if a == b {
		return variance(a)
	}
	return (variance(a, b) - variance(a) - variance(b)) / 2
}

// rigid lays marks over one another with equal weights, in closed form.
func rigid(marks []common) (fit, bool) {
	var was, is planar.Vec
	for _, c := range marks {
		was, is = was.Plus(c.was.Times(1/float64(len(marks)))), is.Plus(c.is.Times(1/float64(len(marks))))
	}
	var dot, cross unit.Area
	for _, c := range marks {
		a, b := c.is.Minus(is), c.was.Minus(was)
		dot += a.Dot(b)
		cross += b.Cross(a)
	}
	if !(math.Hypot(float64(dot), float64(cross)) > 0.01) {
		return fit{}, false
	}
	f := fit{marks: marks, turn: unit.Angle(math.Atan2(float64(cross), float64(dot))), centre: was}
	f.shift = was.Minus(is.Clockwise(f.turn))
	return f, true
}

// design is how a place on the earlier plan follows shift east, shift north and
// a clockwise turn about the centre.
func (f *fit) design(at planar.Vec) [2][3]float64 {
	d := at.Minus(f.centre)
	return [2][3]float64{{1, 0, float64(d.North)}, {0, 1, -float64(d.East)}}
}

// solve fits shift and turn to marks.
func solve(marks []common, spread [][]float64) (*fit, bool) {
	start, ok := rigid(marks)
	if !ok {
		return nil, false
	}
	f := &start
	weight, ok := f.weight(spread)
	if !ok || !f.gains(weight) {
		return nil, false
	}
	for range 3 { // the turn is small after the first step; two more settle it
		f.step()
	}
	f.statistic = f.left(weight)
	return f, true
}

// weight is the inverse of the marks' covariance, both datums freed.
func (f *fit) weight(spread [][]float64) ([][]float64, bool) {
	q := square(2 * len(f.marks))
	free := [3]float64{looseShift, looseShift, looseTurn}
	for i, a := range f.marks {
		ga := f.design(a.was)
		for j, b := range f.marks {
			gb := f.design(b.was)
			for k := range 2 {
				for l := range 2 {
					v := spread[a.row+k][b.row+l]
					for p := range 3 {
						v += free[p] * ga[k][p] * gb[l][p]
					}
					q[2*i+k][2*j+l] = v
				}
			}
		}
	}
	return dense.Invert(q)
}

// gains finds (GᵀWG)⁻¹GᵀW.
func (f *fit) gains(weight [][]float64) bool {
	n := 2 * len(f.marks)
	gw := [3][]float64{make([]float64, n), make([]float64, n), make([]float64, n)}
	normal := square(3)
	for c := range n {
		for i, m := range f.marks {
			g := f.design(m.was)
			for k := range 2 {
				for p := range 3 {
					gw[p][c] += g[k][p] * weight[2*i+k][c]
				}
			}
		}
		g := f.design(f.marks[c/2].was)[c%2]
		for p := range 3 {
			for q := range 3 {
				normal[p][q] += gw[p][c] * g[q]
			}
		}
	}
	inverse, ok := dense.Invert(normal)
	if !ok {
		return false
	}
	f.gain = make([][]float64, 3)
	for p := range 3 {
		f.gain[p] = make([]float64, n)
		for c := range n {
			for q := range 3 {
				f.gain[p][c] += inverse[p][q] * gw[q][c]
			}
		}
	}
	return true
}

// step moves the later plan by what its marks miss the earlier ones.
func (f *fit) step() {
	var move [3]float64
	for i, m := range f.marks {
		d := m.was.Minus(f.over(m.is))
		for p := range 3 {
			move[p] += f.gain[p][2*i]*float64(d.East) + f.gain[p][2*i+1]*float64(d.North)
		}
	}
	turn := unit.Angle(move[2])
	f.shift = f.shift.Minus(f.centre).Clockwise(turn).Plus(f.centre).Plus(planar.Vec{East: unit.Length(move[0]), North: unit.Length(move[1])})
	f.turn += turn
}

// left is the weighted sum of squares that the marks leave.
func (f *fit) left(weight [][]float64) float64 {
	r := make([]float64, 0, 2*len(f.marks))
	for _, m := range f.marks {
		d := m.was.Minus(f.over(m.is))
		r = append(r, float64(d.East), float64(d.North))
	}
	sum := 0.0
	for i := range r {
		for j := range r {
			sum += r[i] * weight[i][j] * r[j]
		}
	}
	return sum
}

// accuse returns the mark that most likely moved, with those that cannot be told
// from it; none where all agree.
func (w *work) accuse(f *fit, spread [][]float64) []common {
	if len(f.marks) == 2 {
		if f.statistic > quantile.Chi2Quantile(1-markSignificance, 1) {
			return f.marks
		}
		return nil
	}
	type drop struct {
		mark common
		by   float64
	}
	var drops []drop
	for _, m := range f.marks {
		if rest, ok := solve(without(f.marks, []common{m}), spread); ok {
			drops = append(drops, drop{m, f.statistic - rest.statistic})
		}
	}
	if len(drops) == 0 {
		return nil
	}
	slices.SortStableFunc(drops, func(a, b drop) int { return cmp.Compare(b.by, a.by) })
	limit := quantile.Chi2Quantile(math.Pow(1-markSignificance, 1/float64(len(f.marks))), 2)
	if drops[0].by <= limit {
		return nil
	}
	var out []common
	for _, d := range drops {
		if d.by > limit && d.by > drops[0].by-apart {
			out = append(out, d.mark)
		}
	}
	return out
}

// hold keeps a fit and tells of it.
func (w *work) hold(f *fit) {
	w.fit = f
	o := &w.out.Overlay
	o.Known, o.Turn, o.Shift, o.Misfit, o.Freedom = true, f.turn.HalfTurn(), f.shift, f.statistic, f.freedom()
	o.Words = fmt.Sprintf("The later plan is laid over the earlier one by %s: %s.", english.Count(len(f.marks), "mark"), english.And(names(f.marks)))
	for _, m := range f.marks {
		o.Marks = append(o.Marks, m.earlier)
	}
	if len(f.marks) == 2 {
		o.Words += " Two marks check their distance alone: a third would show whether one of them moved."
	}
	for i := range o.Aside {
		a := &o.Aside[i]
		e := w.earlier(a.Mark)
		a.By = f.over(w.pointAfter[e].At).Minus(w.pointBefore[e].At)
		a.Words = fmt.Sprintf("%s stands %s %s from where the other marks put it; it does not hold the overlay.", a.Mark, w.say.Format(a.By.Length()), w.toward(a.By.Azimuth()))
		if len(a.With) > 0 {
			a.Words = fmt.Sprintf("%s may have moved, by %s %s, or %s instead: the marks cannot tell which. None of them holds the overlay.", a.Mark, w.say.Format(a.By.Length()), w.toward(a.By.Azimuth()), english.Or(a.With))
		}
	}
}

// toward tells a direction on the earlier plan.
func (w *work) toward(a unit.Angle) string {
	words := "toward " + phrase.Azimuth(a)
	if w.before.Plan.Frame.North == adjust.NorthUnknown {
		words += " of the plan"
	}
	return words
}
