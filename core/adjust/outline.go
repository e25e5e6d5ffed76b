package adjust

import (
	"fmt"
	"math"

	"undersod/core/dense"
	"undersod/core/planar"
	"undersod/core/quantile"
	"undersod/core/site"
	"undersod/core/unit"
)

// Unknowns of a rectangle: centre, azimuth of the length, length and width.
const (
	rectEast = iota
	rectNorth
	rectTurn
	rectLength
	rectWidth
	rectUnknowns
)

// turnSteps is how many starting turns are tried over a whole circle, and
// rectRounds how often the fit is repeated from each.
const (
	turnSteps  = 24
	rectRounds = 12
)

// rectangle is the figure being fitted (m, rad).
type rectangle [rectUnknowns]float64

// edge returns how far outside an edge a place lies, with the slopes.
func (r rectangle) edge(e site.Edge, at planar.Vec) (off float64, slope rectangle) {
	s, c := math.Sincos(r[rectTurn])
	de, dn := float64(at.East)-r[rectEast], float64(at.North)-r[rectNorth]
	along, across := de*s+dn*c, -de*c+dn*s // to the right of the near edge; toward the far one
	// Turning the rectangle clockwise by dt changes along by -across dt and
	// across by along dt.
	switch e {
	case site.EdgeRight:
		return along - r[rectLength]/2, rectangle{-s, -c, -across, -0.5, 0}
	case site.EdgeLeft:
		return -along - r[rectLength]/2, rectangle{s, c, across, -0.5, 0}
	case site.EdgeFar:
		return across - r[rectWidth]/2, rectangle{c, -s, along, 0, -0.5}
	}
	return -across - r[rectWidth]/2, rectangle{-c, s, -along, 0, -0.5}
}

// nearest returns the edge of the rectangle that a place lies nearest to.
func (r rectangle) nearest(at planar.Vec) site.Edge {
	best, least := site.EdgeNear, math.Inf(1)
	for e := site.EdgeNear; e <= site.EdgeLeft; e++ {
		if off, _ := r.edge(e, at); math.Abs(off) < least {
			best, least = e, math.Abs(off)
		}
	}
	return best
}

// corners returns near left, far left, far right and near right.
func (r rectangle) corners() [4]planar.Vec {
	u := planar.Polar(unit.Angle(r[rectTurn]), unit.Length(r[rectLength]/2))
	v := planar.Polar(unit.Angle(r[rectTurn]-math.Pi/2), unit.Length(r[rectWidth]/2))
	c := planar.Vec{East: unit.Length(r[rectEast]), North: unit.Length(r[rectNorth])}
	return [4]planar.Vec{c.Minus(u).Minus(v), c.Minus(u).Plus(v), c.Plus(u).Plus(v), c.Plus(u).Minus(v)}
}

// rectFit fits one outline.
type rectFit struct {
	w         *work
	part      *site.Part
	hits      []site.Hit
	points    []int
	at        []planar.Vec
	cov       [][]float64 // of the hits' plan coordinates, 2 per hit
	probe     float64
	known     [rectUnknowns]float64 // known sizes, 0 when not known
	sizeSD    float64
	edges     []site.Edge
	r         rectangle
	normal    [][]float64 // inverse: covariance of the unknowns
	residual  []float64
	variance  []float64 // of each residual
	statistic float64
	freedom   int
}

// outlines fits every outline of the site.
func (w *work) outlines() []Outline {
	var out []Outline
	for i := range w.net.job.Site.Parts {
		p := &w.net.job.Site.Parts[i]
		if p.Outline == nil {
			continue
		}
		out = append(out, w.fitOutline(p))
	}
	return out
}

func (w *work) fitOutline(p *site.Part) Outline {
	out := Outline{Part: p.Name}
	f := w.newRectFit(p)
	need := 3
	for _, k := range []int{rectLength, rectWidth} {
		if f.known[k] == 0 {
			need++
		}
	}
	if len(f.points) < need {
		out.Why = fmt.Sprintf("%d located hits, and %d are needed", len(f.points), need)
		return out
	}
	if !f.best() {
		out.Why = "its hits leave its place, turn or size open: probe another edge"
		return out
	}
	var strays []*rectFit
	for len(f.hits) > need {
		i := f.stray()
		if i < 0 {
			break
		}
		rest := f.without(i)
		if !rest.best() {
			break
		}
		strays = append(strays, f.alone(i))
		f = rest
	}
	f.report(&out)
	for _, s := range strays {
		out.Hits = append(out.Hits, f.judgeStray(s))
	}
	return out
}

// stray returns the hit that does not fit the outline, or -1: the worst one,
// where it is beyond the limit of a single hit or all hits together fail.
func (f *rectFit) stray() int {
	if f.freedom <= 0 {
		return -1
	}
	i := f.worstIndex()
	if f.variance[i] <= leastShare*f.probe*f.probe {
		return -1
	}
	limit := criticalValue(f.w.settings.Significance, len(f.hits))
	alone := math.Abs(f.residual[i]) > limit*math.Sqrt(f.variance[i])
	together := f.statistic > quantile.Chi2Quantile(1-f.w.settings.Significance, float64(f.freedom))
	if alone || together {
		return i
	}
	return -1
}

// without returns the fit, not yet made, with one hit left out; alone returns
// that hit by itself.
func (f *rectFit) without(i int) *rectFit { return f.keeping(func(k int) bool { return k != i }) }
func (f *rectFit) alone(i int) *rectFit   { return f.keeping(func(k int) bool { return k == i }) }

func (f *rectFit) keeping(keep func(int) bool) *rectFit {
	out := &rectFit{w: f.w, part: f.part, probe: f.probe, known: f.known, sizeSD: f.sizeSD}
	var rows []int
	for k, h := range f.hits {
		if keep(k) {
			out.hits, out.points, out.at = append(out.hits, h), append(out.points, f.points[k]), append(out.at, f.at[k])
			rows = append(rows, 2*k, 2*k+1)
		}
	}
	for _, r := range rows {
		row := make([]float64, len(rows))
		for c, k := range rows {
			row[c] = f.cov[r][k]
		}
		out.cov = append(out.cov, row)
	}
	out.edges = make([]site.Edge, len(out.hits))
	return out
}

// judgeStray measures a left-out hit against the outline fitted without it.
func (f *rectFit) judgeStray(s *rectFit) HitResult {
	h := s.hits[0]
	r := HitResult{Point: h.Point, Edge: h.Edge, LiesOff: true}
	if r.Edge == site.AnyEdge {
		r.Edge = f.r.nearest(s.at[0])
	}
	off, slope := f.r.edge(r.Edge, s.at[0])
	variance := s.probe * s.probe
	for a := range 2 {
		for b := range 2 {
			variance += slope[a] * s.cov[a][b] * slope[b]
		}
	}
	for a := range slope {
		for b := range slope {
			variance += slope[a] * f.normal[a][b] * slope[b]
		}
	}
	r.Off, r.Standard = unit.Length(off), off/math.Sqrt(variance)
	r.Words = f.offWords(h, r)
	return r
}

// newRectFit gathers the located hits and their covariance in the plan frame.
func (w *work) newRectFit(p *site.Part) *rectFit {
	o := p.Outline
	f := &rectFit{w: w, part: p,
		probe:  stated(o.ProbeSD, w.net.dev.of("", site.ProbeRod).Fixed),
		sizeSD: stated(o.SizeSD, SizeDeviation)}
	if o.Length != nil {
		f.known[rectLength] = float64(o.Length.Length)
	}
	if o.Width != nil {
		f.known[rectWidth] = float64(o.Width.Length)
	}
	for _, h := range o.Hits {
		i, ok := w.net.index[h.Point]
		if ok && w.plan.Points[i].Placed && w.plan.Points[i].State == Determined {
			f.hits, f.points = append(f.hits, h), append(f.points, i)
			f.at = append(f.at, w.plan.Points[i].At)
		}
	}
	f.edges = make([]site.Edge, len(f.hits))
	if w.sol != nil {
		f.cov = w.jointCov(f.points)
	}
	return f
}

// jointCov returns the covariance of several points in the plan frame.
func (w *work) jointCov(points []int) [][]float64 {
	s, c := math.Sincos(float64(w.turn()))
	n := len(points)
	raw := make([][]float64, 2*n)
	for i, p := range points {
		for axis := range 2 {
			raw[2*i+axis] = make([]float64, 2*n)
			col := w.column(2*p + axis)
			for j, q := range points {
				// The column's own plan turn comes second, below.
				e, no := col[2*q], col[2*q+1]
				raw[2*i+axis][2*j], raw[2*i+axis][2*j+1] = c*e+s*no, -s*e+c*no
			}
		}
	}
	for i := range n {
		for j := range raw[2*i] {
			e, no := raw[2*i][j], raw[2*i+1][j]
			raw[2*i][j], raw[2*i+1][j] = c*e+s*no, -s*e+c*no
		}
	}
	return raw
}

// best tries starting turns all round and keeps the fit with the smallest
// misfit.
func (f *rectFit) best() bool {
	var kept *rectFit
	for step := range turnSteps {
		t := *f
		t.edges = make([]site.Edge, len(f.hits))
		t.start(2 * math.Pi * float64(step) / turnSteps)
		if t.iterate() && (kept == nil || t.statistic < kept.statistic-1e-9) {
			c := t
			kept = &c
		}
	}
	if kept == nil {
		return false
	}
	*f = *kept
	return true
}

// start centres the rectangle on its hits at a turn.
func (f *rectFit) start(turn float64) {
	f.r = rectangle{}
	f.r[rectTurn] = turn
	var low, high [2]float64
	s, c := math.Sincos(turn)
	for i, v := range f.at {
		e, n := float64(v.East), float64(v.North)
		p := [2]float64{e*s + n*c, -e*c + n*s}
		for a := range p {
			if i == 0 || p[a] < low[a] {
				low[a] = p[a]
			}
			if i == 0 || p[a] > high[a] {
				high[a] = p[a]
			}
		}
	}
	u, v := (low[0]+high[0])/2, (low[1]+high[1])/2
	f.r[rectEast], f.r[rectNorth] = u*s-v*c, u*c+v*s
	for a, k := range [2]int{rectLength, rectWidth} {
		f.r[k] = math.Max(high[a]-low[a], 0.1)
		if f.known[k] > 0 {
			f.r[k] = f.known[k]
		}
	}
}

// iterate assigns hits to edges and fits, until nothing changes.
func (f *rectFit) iterate() bool {
	for range rectRounds {
		for i, h := range f.hits {
			f.edges[i] = h.Edge
			if h.Edge == site.AnyEdge {
				f.edges[i] = f.r.nearest(f.at[i])
			}
		}
		step, ok := f.step()
		if !ok {
			return false
		}
		if step < 1e-9 {
			break
		}
	}
	return f.r[rectLength] > 0.05 && f.r[rectWidth] > 0.05
}

// step makes one Gauss-Newton step of the generalized least squares: the
// misfits of the hits are correlated through the plan, so rows are whitened by
// the Cholesky factor of their covariance.
func (f *rectFit) step() (float64, bool) {
	rows, miss, cov := f.rows()
	chol, ok := dense.Cholesky(cov)
	if !ok {
		return 0, false
	}
	wr := make([][]float64, len(rows))
	for i, r := range rows {
		wr[i] = append([]float64(nil), r...)
	}
	wm := append([]float64(nil), miss...)
	dense.Whiten(chol, wr, wm)
	normal := make([][]float64, rectUnknowns)
	right := make([]float64, rectUnknowns)
	for i := range normal {
		normal[i] = make([]float64, rectUnknowns)
		for j := range normal {
			for k := range wr {
				normal[i][j] += wr[k][i] * wr[k][j]
			}
		}
		for k := range wr {
			right[i] -= wr[k][i] * wm[k]
		}
	}
	inverse, ok := dense.Invert(normal)
	if !ok {
		return 0, false
	}
	size := 0.0
	for i := range f.r {
		d := 0.0
		for j := range right {
			d += inverse[i][j] * right[j]
		}
		f.r[i] += d
		size = math.Max(size, math.Abs(d))
	}
	f.normal = inverse
	f.judge(rows, cov)
	return size, size < 1e3
}

// rows returns the slopes, misfits and covariance of all observations: the
// hits, then the known sizes.
func (f *rectFit) rows() (rows [][]float64, miss []float64, cov [][]float64) {
	n := len(f.hits)
	total := n
	for _, k := range f.known {
		if k > 0 {
			total++
		}
	}
	cov = make([][]float64, total)
	for i := range cov {
		cov[i] = make([]float64, total)
	}
	for i := range n {
		off, slope := f.r.edge(f.edges[i], f.at[i])
		rows, miss = append(rows, slope[:]), append(miss, off)
	}
	for i := range n {
		for j := range n {
			// A hit moves against the slope of the centre.
			for a := range 2 {
				for b := range 2 {
					cov[i][j] += rows[i][a] * f.cov[2*i+a][2*j+b] * rows[j][b]
				}
			}
		}
		cov[i][i] += f.probe * f.probe
	}
	for k, v := range f.known {
		if v > 0 {
			row := make([]float64, rectUnknowns)
			row[k] = 1
			i := len(rows)
			rows, miss = append(rows, row), append(miss, f.r[k]-v)
			cov[i][i] = f.sizeSD * f.sizeSD
		}
	}
	return rows, miss, cov
}

// judge computes residuals, their variances C - A N⁻¹ Aᵀ and the statistic at
// the present figure.
func (f *rectFit) judge(rows [][]float64, cov [][]float64) {
	_, miss, _ := f.rows()
	chol, ok := dense.Cholesky(cov)
	if !ok {
		return
	}
	wm := append([]float64(nil), miss...)
	dense.Whiten(chol, nil, wm)
	f.statistic, f.freedom = 0, len(miss)-rectUnknowns
	for _, v := range wm {
		f.statistic += v * v
	}
	f.residual = miss
	f.variance = make([]float64, len(miss))
	for i, r := range rows {
		q := 0.0
		for a := range r {
			for b := range r {
				q += r[a] * f.normal[a][b] * r[b]
			}
		}
		f.variance[i] = cov[i][i] - q
	}
}

// report writes the fit down.
func (f *rectFit) report(out *Outline) {
	r := f.r
	sd := func(k int) float64 { return math.Sqrt(math.Max(f.normal[k][k], 0)) }
	out.Fitted = true
	out.Centre = planar.Vec{East: unit.Length(r[rectEast]), North: unit.Length(r[rectNorth])}
	out.Sigma = sigmaOf(f.normal[rectEast][rectEast], f.normal[rectEast][rectNorth], f.normal[rectNorth][rectNorth])
	out.Azimuth, out.AzimuthSD = unit.Angle(r[rectTurn]).Turn(), unit.Angle(sd(rectTurn))
	out.Length, out.LengthSD = unit.Length(r[rectLength]), unit.Length(sd(rectLength))
	out.Width, out.WidthSD = unit.Length(r[rectWidth]), unit.Length(sd(rectWidth))
	out.Corners = r.corners()
	out.Freedom, out.Statistic = f.freedom, f.statistic
	stray := f.stray()
	for i, h := range f.hits {
		res := HitResult{Point: h.Point, Edge: f.edges[i], Off: unit.Length(f.residual[i])}
		if f.variance[i] > leastShare*f.probe*f.probe {
			res.Standard = f.residual[i] / math.Sqrt(f.variance[i])
		}
		if i == stray { // too few hits are left to do without it
			res.LiesOff = true
			res.Words = f.offWords(h, res)
		}
		out.Hits = append(out.Hits, res)
	}
}

// worstIndex returns the hit that disagrees most.
func (f *rectFit) worstIndex() int {
	best, most := 0, -1.0
	for i := range f.hits {
		if f.variance[i] <= leastShare*f.probe*f.probe {
			continue
		}
		if t := f.residual[i] * f.residual[i] / f.variance[i]; t > most {
			best, most = i, t
		}
	}
	return best
}

// offWords tells that a hit does not fit the outline.
func (f *rectFit) offWords(h site.Hit, r HitResult) string {
	way := "outside"
	if r.Off < 0 {
		way = "inside"
	}
	return fmt.Sprintf("Probe hit %s does not fit the outline of %s: it lies %s %s its edge. It may be a stone, a root or the pipe; probe again beside it.",
		h.Point, f.part.Name, f.w.lengthWords(r.Off.Abs()), way)
}
