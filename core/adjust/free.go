package adjust

import "math"

// freeDatum turns the covariance of a plan held by two points into that of the
// plan held by all its marks alike: the inner-constraint (free network) datum.
// With G the shifts and the turn of the plan and E picking the marks, the
// transformation is S = I - G (GᵀEG)⁻¹ GᵀE and C' = S C Sᵀ (Baarda,
// S-Transformations and Criterion Matrices, 1973, from memory). Positions stay.
type freeDatum struct {
	w      *work
	he, hn float64     // centre of the marks, m
	k      [][]float64 // three rows H C, H = (GᵀEG)⁻¹ GᵀE
	m      [3][3]float64
	factor [3]float64 // diagonal of (GᵀEG)⁻¹ about the centre
}

func newFreeDatum(w *work) *freeDatum {
	f := &freeDatum{w: w}
	var marks []int
	for i, p := range w.net.points {
		if p.IsMark() && w.layout.placed[i] {
			marks = append(marks, i)
		}
	}
	if len(marks) < 2 {
		return nil
	}
	for _, i := range marks {
		s := w.layout.at(i)
		f.he, f.hn = f.he+s.e/float64(len(marks)), f.hn+s.n/float64(len(marks))
	}
	spread := 0.0
	for _, i := range marks {
		s := w.layout.at(i)
		spread += (s.e-f.he)*(s.e-f.he) + (s.n-f.hn)*(s.n-f.hn)
	}
	f.factor = [3]float64{1 / float64(len(marks)), 1 / float64(len(marks)), 1 / spread}
	f.gather(marks)
	return f
}

// row returns the effect of the two shifts and the turn on a point.
func (f *freeDatum) row(p int) (east, north [3]float64) {
	s := f.w.layout.at(p)
	return [3]float64{1, 0, s.n - f.hn}, [3]float64{0, 1, -(s.e - f.he)}
}

// gather forms H C and H C Hᵀ from the covariance columns of the marks.
func (f *freeDatum) gather(marks []int) {
	n := f.w.net.unknowns
	f.k = [][]float64{make([]float64, n), make([]float64, n), make([]float64, n)}
	for _, p := range marks {
		east, north := f.row(p)
		for axis, g := range [2][3]float64{east, north} {
			col := f.w.sol.Column(2*p + axis)
			for r := range 3 {
				h := f.factor[r] * g[r]
				for j, v := range col {
					f.k[r][j] += h * v
				}
			}
		}
	}
	for _, p := range marks {
		east, north := f.row(p)
		for axis, g := range [2][3]float64{east, north} {
			for r := range 3 {
				for s := range 3 {
					f.m[r][s] += f.k[r][2*p+axis] * f.factor[s] * g[s]
				}
			}
		}
	}
}

// entry turns the covariance c of unknowns i and j into that of the free datum,
// given their rows of G.
func (f *freeDatum) entry(c float64, gi, gj [3]float64, i, j int) float64 {
	for r := range 3 {
		c -= gi[r]*f.k[r][j] + gj[r]*f.k[r][i]
		for s := range 3 {
			c += gi[r] * f.m[r][s] * gj[s]
		}
	}
	return c
}

// transform returns the covariance of point p in the free datum.
func (f *freeDatum) transform(p int, ee, en, nn float64) (float64, float64, float64) {
	ge, gn := f.row(p)
	i, j := 2*p, 2*p+1
	ee, en, nn = f.entry(ee, ge, ge, i, i), f.entry(en, ge, gn, i, j), f.entry(nn, gn, gn, j, j)
	return math.Max(ee, 0), en, math.Max(nn, 0)
}

// column turns a column of the covariance, that of coordinate i, into the free
// datum, for the coordinates of all points that are placed.
func (f *freeDatum) column(i int, col []float64) {
	east, north := f.row(i / 2)
	g := east
	if i%2 == 1 {
		g = north
	}
	for p, ok := range f.w.layout.placed {
		if ok {
			ge, gn := f.row(p)
			col[2*p] = f.entry(col[2*p], ge, g, 2*p, i)
			col[2*p+1] = f.entry(col[2*p+1], gn, g, 2*p+1, i)
		}
	}
}

// column returns the covariances of a point's coordinate with those of all
// points, in the plan's datum.
func (w *work) column(i int) []float64 {
	c := make([]float64, w.net.unknowns)
	if !w.problem.Held[i] {
		copy(c, w.sol.Column(i))
	}
	if w.free != nil {
		w.free.column(i, c)
	}
	return c
}
