package adjust_test

import (
	"fmt"
	"math"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
)

// A referee is the adjustment written a second time, apart from the program:
// the weighted misfits straight from the job's readings, minimised by a general
// minimiser. Its parameters are the turn of the frame and the places of all
// points; A lies at the origin and B on the east axis.
type referee struct {
	job   *site.Job
	names []site.Name
	index map[site.Name]int
}

// The parameters: the turn, the east of B, then east and north of the others.
func newReferee(job *site.Job) *referee {
	r := &referee{job: job, index: map[site.Name]int{}}
	for i, p := range job.Site.Points {
		r.names = append(r.names, p.Name)
		r.index[p.Name] = i
	}
	return r
}

func (r *referee) size() int { return 2 + 2*(len(r.names)-2) }

func (r *referee) at(x []float64, name site.Name) (e, n float64) {
	switch i := r.index[name]; i {
	case 0:
		return 0, 0
	case 1:
		return x[1], 0
	default:
		return x[2*i-2], x[2*i-1]
	}
}

// misfits lists (computed - read) / sd of every reading.
func (r *referee) misfits(x []float64) []float64 {
	var out []float64
	for _, reading := range r.job.Visit.Readings {
		switch m := reading.(type) {
		case site.Tie:
			ae, an := r.at(x, m.From)
			be, bn := r.at(x, m.To)
			out = append(out, (math.Hypot(be-ae, bn-an)-float64(m.Read.Length))/float64(*m.SD))
		case site.Offset:
			ae, an := r.at(x, m.From)
			be, bn := r.at(x, m.To)
			pe, pn := r.at(x, m.Point)
			l := math.Hypot(be-ae, bn-an)
			station := ((pe-ae)*(be-ae) + (pn-an)*(bn-an)) / l
			right := ((pe-ae)*(bn-an) - (pn-an)*(be-ae)) / l
			out = append(out, (station-float64(m.Station.Length))/float64(*m.SD), (right-float64(m.Right.Length))/float64(*m.SD))
		case site.Bearing:
			ae, an := r.at(x, m.From)
			be, bn := r.at(x, m.To)
			d := math.Atan2(be-ae, bn-an) + x[0] - float64(m.Read.Angle)
			out = append(out, math.Remainder(d, 2*math.Pi)/float64(*m.SD))
		case site.Footage:
			sum := 0.0
			path := r.job.Site.Lines[0].Path
			for k := 1; k < len(path); k++ {
				ae, an := r.at(x, path[k-1])
				be, bn := r.at(x, path[k])
				sum += math.Hypot(be-ae, bn-an)
				if path[k] == m.To {
					break
				}
			}
			out = append(out, (sum-float64(m.Read.Length))/float64(*m.SD))
		}
	}
	return out
}

func (r *referee) sum(x []float64) float64 {
	s := 0.0
	for _, v := range r.misfits(x) {
		s += v * v
	}
	return s
}

// jacobian differentiates the misfits numerically.
func (r *referee) jacobian(x []float64) *mat.Dense {
	rows := len(r.misfits(x))
	j := mat.NewDense(rows, len(x), nil)
	fd.Jacobian(j, func(dst, x []float64) { copy(dst, r.misfits(x)) }, x,
		&fd.JacobianSettings{Formula: fd.Central, Step: 1e-4})
	return j
}

// least finds the minimum near x.
func (r *referee) least(t *testing.T, x []float64) ([]float64, float64) {
	t.Helper()
	// Scaled by the curvature of the start, so that metres and radians count alike.
	scale := make([]float64, len(x))
	j := r.jacobian(x)
	for i := range scale {
		if scale[i] = 1; mat.Norm(j.ColView(i), 2) > 0 {
			scale[i] = 1 / mat.Norm(j.ColView(i), 2)
		}
	}
	put := func(z []float64) []float64 {
		out := make([]float64, len(x))
		for i := range out {
			out[i] = x[i] + z[i]*scale[i]
		}
		return out
	}
	f := func(z []float64) float64 { return r.sum(put(z)) }
	p := optimize.Problem{Func: f, Grad: func(g, z []float64) {
		fd.Gradient(g, f, z, &fd.Settings{Formula: fd.Central, Step: 1e-4})
	}}
	res, err := optimize.Minimize(p, make([]float64, len(x)),
		&optimize.Settings{GradientThreshold: 1e-5, MajorIterations: 2000}, &optimize.BFGS{})
	if res == nil {
		t.Fatal(err)
	}
	return put(res.X), res.F
}

// randomNetwork is a job of a few marks and parts at random places with ties,
// offsets, a bent line with its footage, and bearings in every second one.
func randomNetwork(seed uint64) *yard {
	y := newYard(seed)
	spot := func(w, h float64) planar.Vec { return at(w*y.rand.Float64(), h*y.rand.Float64()) }
	y.put("A", site.RoleMark, at(0, 0))
	y.put("B", site.RoleMark, at(30+10*y.rand.Float64(), 0))
	above := site.Side{Kind: site.LeftOf, From: "A", To: "B"}
	y.put("C", site.RoleMark, at(35, 20).Plus(spot(10, 10)), above)
	y.put("D", site.RoleMark, at(-5, 25).Plus(spot(10, 10)), above)
	marks := []site.Name{"A", "B", "C", "D"}
	for i, a := range marks {
		for _, b := range marks[i+1:] {
			y.scattered(a, b, unit.Inch/2)
		}
	}
	for k := range 3 + y.rand.IntN(4) {
		name := site.Name(fmt.Sprint("part ", k))
		y.put(name, site.RolePart, at(2, 5).Plus(spot(36, 20)), above)
		drop := y.rand.IntN(5)
		for i, m := range marks {
			if i != drop {
				y.scattered(m, name, unit.Inch/4+unit.Inch*unit.Length(y.rand.Float64()))
			}
		}
	}
	sd := unit.Foot / 10
	noise := func(s unit.Length) unit.Length { return s * unit.Length(y.rand.NormFloat64()) }
	p := y.truth["part 1"]
	y.read(site.Offset{Taken: named("offset"), From: "A", To: "B", Point: "part 1",
		Station: asRead(p.East + noise(sd)), Right: asRead(-p.North + noise(sd)), SD: &sd})
	y.job.Site.Lines = []site.Line{{Name: "Line", Path: []site.Name{"part 0", "part 1", "part 2"}}}
	coarse := unit.Foot / 2
	y.read(site.Footage{Taken: named("footage"), Line: "Line", To: "part 2",
		Read: asRead(y.apart("part 0", "part 1") + y.apart("part 1", "part 2") + noise(coarse)), SD: &coarse})
	if seed%2 == 0 {
		fan := unit.Degree
		for _, to := range []site.Name{"B", "C", "part 0"} {
			a := y.truth[to].Azimuth() + unit.Angle(0.3) + fan*unit.Angle(y.rand.NormFloat64())
			y.read(site.Bearing{Taken: named("bearing " + site.ReadingID(to)), From: "A", To: to,
				Read: unit.WrittenAngle{Angle: a.Turn()}, SD: &fan})
		}
	}
	return y
}

// TestAGeneralMinimiserAgrees compares places, misfit and covariance with the
// referee on random networks.
func TestAGeneralMinimiserAgrees(t *testing.T) {
	for seed := range uint64(60) {
		y := randomNetwork(seed)
		p := adjust.Solve(&y.job, adjust.Settings{SkipNext: true, SkipSearch: true})
		r := newReferee(&y.job)
		x := make([]float64, r.size())
		x[1] = float64(y.truth["B"].East)
		for i, name := range r.names[2:] {
			x[2*i+2], x[2*i+3] = float64(y.truth[name].East), float64(y.truth[name].North)
		}
		if seed%2 == 0 {
			x[0] = 0.3
		}
		x, sum := r.least(t, x)
		if math.Abs(sum-p.Global.Statistic) > 1e-6*(1+sum) {
			t.Errorf("network %d: minimum %.9f, the referee's %.9f", seed, p.Global.Statistic, sum)
		}
		r.compare(t, seed, p, x)
	}
}

// compare holds places and covariances of all points to the referee's.
func (r *referee) compare(t *testing.T, seed uint64, p *adjust.Plan, x []float64) {
	t.Helper()
	j := r.jacobian(x)
	var normal mat.SymDense
	normal.SymOuterK(1, j.T())
	if seed%2 == 1 {
		normal.SetSym(0, 0, 1) // no bearing measures the turn
	}
	var chol mat.Cholesky
	if !chol.Factorize(&normal) {
		t.Fatalf("network %d: the referee's normal equations are singular", seed)
	}
	var q mat.SymDense
	if err := chol.InverseTo(&q); err != nil {
		t.Fatal(err)
	}
	turn := unit.Angle(x[0])
	s, c := math.Sincos(x[0])
	for i, name := range r.names {
		e, n := r.at(x, name)
		got := find(t, p, name)
		if d := got.At.Minus(vec(e, n).Clockwise(turn)).Length(); d > 1e-5 {
			t.Errorf("network %d: %s lies %.7f m from the referee's place", seed, name, float64(d))
		}
		if i < 2 {
			continue
		}
		k := 2*i - 2
		ee, en, nn := q.At(k, k), q.At(k, k+1), q.At(k+1, k+1)
		pe := c*c*ee + 2*s*c*en + s*s*nn
		pn := s*s*ee - 2*s*c*en + c*c*nn
		px := s*c*(nn-ee) + (c*c-s*s)*en
		se, sn := float64(got.Sigma.East), float64(got.Sigma.North)
		wantNear(t, fmt.Sprint("network ", seed, " var east of ", name), se*se, pe, 2e-5*(pe+pn))
		wantNear(t, fmt.Sprint("network ", seed, " var north of ", name), sn*sn, pn, 2e-5*(pe+pn))
		wantNear(t, fmt.Sprint("network ", seed, " covariance of ", name), got.Sigma.Correlation*se*sn, px, 2e-5*(pe+pn))
	}
	if seed%2 == 0 {
		wantNear(t, "sd of north", float64(p.Frame.NorthSD), math.Sqrt(q.At(0, 0)), 1e-5*math.Sqrt(q.At(0, 0)))
	}
}
