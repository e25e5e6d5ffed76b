package least

// selected holds the entries of the inverse of the normal matrix that stand in
// the pattern of its factor.
type selected struct {
	diag  []float64
	below []float64
}

// inverse computes them from the last column to the first by the equations of
// Takahashi, Fagan and Chin (1973), as given by Erisman and Tinney (On computing
// certain elements of the inverse of a sparse matrix, CACM 18(3), 1975):
// Z_ij = δ_ij/d_i - Σ_k>j L_kj Z_ik. Open unknowns have none.
func (f *factor) inverse() selected {
	t := f.t
	n := len(t.free)
	z := selected{make([]float64, n), make([]float64, len(t.rows))}
	for c := n - 1; c >= 0; c-- {
		if f.d[c] == 0 {
			continue
		}
		lo, hi := t.start[c], t.start[c+1]
		for e := lo; e < hi; e++ {
			r := t.rows[e]
			if f.d[r] == 0 {
				continue
			}
			z.below[e] -= f.l[e] * z.diag[r]
			// Entry (row g, column r) with g > r serves both rows g and r.
			at := t.start[r]
			for g := e + 1; g < hi; g++ {
				for t.rows[at] != t.rows[g] {
					at++
				}
				v := z.below[at]
				z.below[e] -= f.l[g] * v
				z.below[g] -= f.l[e] * v
			}
		}
		s := 1 / f.d[c]
		for e := lo; e < hi; e++ {
			s -= f.l[e] * z.below[e]
		}
		z.diag[c] = s
	}
	return z
}
