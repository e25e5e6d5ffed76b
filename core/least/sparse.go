package least

// sparse is a normal matrix with the entries that the elimination can touch.
// Its columns are numbered by elimination, those of its methods as elsewhere.
type sparse struct {
	a     *analysis
	mass  []float64 // diagonal of the normal equations, by elimination
	diag  []float64 // the same by free column
	below []float64
	l     []float64 // unit lower factor
	d     []float64 // 1 over the pivots; 0 for a held unknown
	free  []int     // held columns
	row   chain
	work  []float64
	zDiag []float64 // the inverse, nil until asked for
	zLow  []float64
}

// chain lists for each row the columns that reach it next.
type chain struct {
	head []int32 // first column of each row, -1 for none
	next []int32 // the column after each column
	at   []int32 // entry of each column at the row that it is listed for
}

func newSparse(a *analysis) *sparse {
	n, m := len(a.position), len(a.rows)
	f := make([]float64, 4*n+2*m)
	i := make([]int32, 3*n)
	return &sparse{a: a, mass: f[:n], diag: f[n : 2*n], d: f[2*n : 3*n], work: f[3*n : 4*n],
		below: f[4*n : 4*n+m], l: f[4*n+m:],
		row: chain{head: i[:n], next: i[n : 2*n], at: i[2*n:]}}
}

func (s *sparse) assemble(p *Problem, r *rows) {
	clear(s.mass)
	clear(s.below)
	slot := s.a.slot
	for k := range p.Equations {
		slopes := r.slope[r.first[k]:r.first[k+1]]
		if p.Equations[k].Off {
			slot = slot[len(slopes)*(len(slopes)+1)/2:]
			continue
		}
		for i, si := range slopes {
			for j, sj := range slopes[:i] {
				s.below[slot[j]] += si * sj
			}
			s.mass[^slot[i]] += si * si
			slot = slot[i+1:]
		}
	}
	for c, q := range s.a.position {
		s.diag[c] = s.mass[q]
	}
}

func (s *sparse) diagonal() []float64 { return s.diag }

func (s *sparse) held() []int { return s.free }

// decompose works column after column; each takes what the columns before it
// that reach its row have to give (George and Liu 1981, Computer Solution of
// Large Sparse Positive Definite Systems, section 5.5; from memory).
func (s *sparse) decompose(damping float64, scale []float64, rank float64) {
	a := s.a
	s.free = s.free[:0]
	for j := range s.row.head {
		s.row.head[j] = -1
	}
	w := s.work
	for c, q := range a.position {
		s.d[q] = damping * scale[c]
	}
	for j := range a.position {
		lo, hi := a.start[j], a.start[j+1]
		pivot := s.mass[j] + s.d[j]
		for e := lo; e < hi; e++ {
			w[a.rows[e]] = s.below[e]
		}
		pivot -= s.takeFrom(int32(j), w)
		inv := 1 / pivot
		if s.isFree(j, pivot, rank) {
			inv = 0
			s.free = append(s.free, j)
		}
		s.d[j] = inv
		for e := lo; e < hi; e++ {
			s.l[e] = w[a.rows[e]] * inv
		}
		if inv != 0 {
			s.list(int32(j), lo)
		}
	}
	s.renumber()
}

// takeFrom subtracts from w what the columns listed for row j have below it,
// lists them on, and returns what they take from the pivot.
func (s *sparse) takeFrom(j int32, w []float64) (fromPivot float64) {
	a := s.a
	for k := s.row.head[j]; k >= 0; {
		after, e := s.row.next[k], s.row.at[k]
		c := s.l[e] / s.d[k] // L_jk times the pivot of k
		fromPivot += c * s.l[e]
		rows, low := a.rows[e+1:a.start[k+1]], s.l[e+1:a.start[k+1]]
		for q, i := range rows {
			w[i] -= c * low[q]
		}
		s.list(k, e+1)
		k = after
	}
	return fromPivot
}

// list files column k under the row of its entry e.
func (s *sparse) list(k, e int32) {
	if e < s.a.start[k+1] {
		r := s.a.rows[e]
		s.row.at[k], s.row.next[k], s.row.head[r] = e, s.row.head[r], k
	}
}

// isFree is as for the full matrix.
func (s *sparse) isFree(j int, pivot, rank float64) bool {
	own := s.mass[j]
	switch {
	case !(pivot > rank*own):
		return true
	case pivot > suspect*own:
		return false
	}
	v := make([]float64, len(s.mass))
	s.back(j, v)
	return pivot <= rank*energy(v, s.mass)
}

// renumber turns the held columns from elimination order into free columns.
func (s *sparse) renumber() {
	if len(s.free) == 0 {
		return
	}
	column := make([]int, len(s.mass))
	for c, q := range s.a.position {
		column[q] = c
	}
	for i, j := range s.free {
		s.free[i] = column[j]
	}
}

// back writes Lᵀ v = e_j by elimination order.
func (s *sparse) back(j int, v []float64) {
	clear(v)
	v[j] = 1
	for k := j - 1; k >= 0; k-- {
		if s.d[k] != 0 {
			v[k] = -s.reach(k, v)
		}
	}
}

// reach is the scalar product of column k of L with v.
func (s *sparse) reach(k int, v []float64) float64 {
	lo, hi := s.a.start[k], s.a.start[k+1]
	sum := 0.0
	low := s.l[lo:hi]
	for q, i := range s.a.rows[lo:hi] {
		sum += low[q] * v[i]
	}
	return sum
}

func (s *sparse) null(c int, v []float64) {
	w := make([]float64, len(v))
	s.back(int(s.a.position[c]), w)
	for c, q := range s.a.position {
		v[c] = w[q]
	}
}

func (s *sparse) solve(b []float64) {
	w := make([]float64, len(b))
	for c, q := range s.a.position {
		w[q] = b[c]
	}
	for k := range w {
		lo, hi := s.a.start[k], s.a.start[k+1]
		if c := w[k]; c != 0 {
			low := s.l[lo:hi]
			for q, i := range s.a.rows[lo:hi] {
				w[i] -= c * low[q]
			}
		}
	}
	for k := len(w) - 1; k >= 0; k-- {
		if w[k] *= s.d[k]; s.d[k] != 0 {
			w[k] -= s.reach(k, w)
		}
	}
	for c, q := range s.a.position {
		b[c] = w[q]
	}
}
