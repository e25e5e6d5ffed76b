package least

// normal is the matrix of the normal equations with its LDLᵀ factor and its
// inverse. The full and the sparse matrix implement it.
type normal interface {
	// assemble forms the matrix from the equations in use.
	assemble(p *Problem, r *rows)
	// decompose factors the matrix with damping times scale added to its
	// diagonal. It holds unknowns of which nothing is left.
	decompose(damping float64, scale []float64, rank float64)
	// diagonal is that of the undamped matrix.
	diagonal() []float64
	// solve puts the solution for the right-hand side b in its place, held
	// unknowns zero.
	solve(b []float64)
	// held lists the columns that decompose held; null writes the direction
	// which one of them leaves free.
	held() []int
	null(j int, v []float64)
	// invert prepares at, which returns an entry of the inverse, and false for
	// one that is not kept.
	invert()
	at(i, j int) (float64, bool)
}

// suspect is the share of its own weight below which an unknown is looked at
// more closely before it counts as determined.
const suspect = 1e-6

// dense is a normal matrix with all its entries. Lower triangles, by rows.
type dense struct {
	n    int
	sum  []float64 // the normal equations
	l    []float64 // unit lower factor
	d    []float64 // 1 over the pivots; 0 for a held unknown
	diag []float64
	inv  []float64 // the inverse, nil until asked for
	free []int
}

func newDense(n int) *dense {
	room := make([]float64, 2*n*n+2*n)
	return &dense{n: n, sum: room[:n*n], l: room[n*n : 2*n*n],
		d: room[2*n*n : 2*n*n+n], diag: room[2*n*n+n:]}
}

func (a *dense) assemble(p *Problem, r *rows) {
	clear(a.sum)
	for k := range p.Equations {
		if p.Equations[k].Off {
			continue
		}
		cols, slopes := r.col[r.first[k]:r.first[k+1]], r.slope[r.first[k]:r.first[k+1]]
		for i, ci := range cols {
			si := slopes[i]
			for j, cj := range cols[:i+1] {
				if ci >= cj {
					a.sum[int(ci)*a.n+int(cj)] += si * slopes[j]
				} else {
					a.sum[int(cj)*a.n+int(ci)] += si * slopes[j]
				}
			}
		}
	}
	for i := range a.n {
		a.diag[i] = a.sum[i*a.n+i]
	}
}

func (a *dense) diagonal() []float64 { return a.diag }

func (a *dense) decompose(damping float64, scale []float64, rank float64) {
	n := a.n
	a.free = a.free[:0]
	for i := range n {
		row := a.l[i*n : i*n+i+1]
		copy(row, a.sum[i*n:i*n+i+1])
		pivot := row[i] + damping*scale[i]
		for j := range i { // row[j] becomes L[i][j] times the pivot of j
			row[j] -= dot(row[:j], a.l[j*n:j*n+j])
		}
		for j := range i {
			u := row[j]
			row[j] *= a.d[j]
			pivot -= u * row[j]
		}
		row[i] = 1
		a.d[i] = 1 / pivot
		if a.isFree(i, pivot, rank) {
			a.d[i] = 0
			a.free = append(a.free, i)
		}
	}
}

// isFree tells whether too little is left of the pivot of row i. Rounding in a
// pivot grows with the null vector v it belongs to, so a small pivot is
// compared with vᵀDv, D the diagonal of the matrix.
func (a *dense) isFree(i int, pivot, rank float64) bool {
	own := a.diag[i]
	switch {
	case !(pivot > rank*own):
		return true
	case pivot > suspect*own:
		return false
	}
	v := make([]float64, a.n)
	a.null(i, v)
	return pivot <= rank*energy(v, a.diag)
}

func energy(v, diag []float64) float64 {
	sum := 0.0
	for k, c := range v {
		sum += c * c * diag[k]
	}
	return sum
}

func dot(x, y []float64) float64 {
	y = y[:len(x)]
	s, t := 0.0, 0.0
	i := 0
	for ; i+1 < len(x); i += 2 {
		s += x[i] * y[i]
		t += x[i+1] * y[i+1]
	}
	if i < len(x) {
		s += x[i] * y[i]
	}
	return s + t
}

// null solves Lᵀ v = e_j. Held columns before j are empty, so they stay zero.
func (a *dense) null(j int, v []float64) {
	clear(v)
	v[j] = 1
	for k := j; k >= 0; k-- {
		if v[k] == 0 {
			continue
		}
		for i, c := range a.l[k*a.n : k*a.n+k] {
			v[i] -= c * v[k]
		}
	}
}

func (a *dense) held() []int { return a.free }

func (a *dense) solve(b []float64) {
	n := a.n
	for i := range n {
		b[i] -= dot(b[:i], a.l[i*n:i*n+i])
	}
	for i := range n {
		b[i] *= a.d[i]
	}
	for i := n - 1; i >= 0; i-- {
		if b[i] == 0 {
			continue
		}
		for j, c := range a.l[i*n : i*n+i] {
			b[j] -= c * b[i]
		}
	}
}

// invert forms W = L⁻¹ row by row and from it the inverse Wᵀ D⁻¹ W.
func (a *dense) invert() {
	if a.inv != nil {
		return
	}
	n := a.n
	a.inv = make([]float64, n*n)
	w := make([]float64, n*n)
	for k := range n {
		row := w[k*n : k*n+k+1]
		row[k] = 1
		for j, c := range a.l[k*n : k*n+k] {
			if c != 0 {
				axpy(row[:j+1], -c, w[j*n:j*n+j+1])
			}
		}
		if a.d[k] == 0 {
			continue
		}
		for i, c := range row {
			if c != 0 {
				axpy(a.inv[i*n:i*n+i+1], c*a.d[k], row[:i+1])
			}
		}
	}
}

// axpy adds c times x to y.
func axpy(y []float64, c float64, x []float64) {
	x = x[:len(y)]
	for i := range y {
		y[i] += c * x[i]
	}
}

func (a *dense) at(i, j int) (float64, bool) {
	if i < j {
		i, j = j, i
	}
	return a.inv[i*a.n+j], true
}
