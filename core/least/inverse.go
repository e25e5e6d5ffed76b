package least

// invert computes the entries of the inverse Z that stand in the pattern of L,
// from the last column to the first: with k over the rows of column j,
//
//	Z_ij = -Σ Z_ik L_kj,  Z_jj = 1/D_j - Σ L_kj Z_kj
//
// (Takahashi, Fagan and Chin 1973, as given by Erisman and Tinney 1975, CACM
// 18(3)). Every Z_ik that this needs stands in the pattern itself. Held columns
// are zero throughout.
func (s *sparse) invert() {
	if s.zDiag != nil {
		return
	}
	n, a := len(s.mass), s.a
	s.zDiag, s.zLow = make([]float64, n), make([]float64, len(a.rows))
	lj, sum := make([]float64, n), make([]float64, n)
	for j := n - 1; j >= 0; j-- {
		if s.d[j] == 0 {
			continue
		}
		lo, hi := a.start[j], a.start[j+1]
		for e := lo; e < hi; e++ {
			lj[a.rows[e]], sum[a.rows[e]] = s.l[e], 0
		}
		for _, k := range a.rows[lo:hi] {
			sum[k] = s.gatherColumn(k, lj, sum)
		}
		diag := s.d[j]
		for e := lo; e < hi; e++ {
			i := a.rows[e]
			s.zLow[e] = -sum[i]
			diag += s.l[e] * sum[i]
			lj[i] = 0
		}
		s.zDiag[j] = diag
	}
}

// gatherColumn adds Z_ik L_kj to sum for the rows i below k, and returns the
// sum of row k with Z_ik L_ij, which is the same entry seen from the other side.
// Rows outside column j come along: their L_ij is zero, their sum is not used.
func (s *sparse) gatherColumn(k int32, lj, sum []float64) float64 {
	lo, hi := s.a.start[k], s.a.start[k+1]
	l := lj[k]
	own := sum[k] + s.zDiag[k]*l
	z := s.zLow[lo:hi]
	for q, i := range s.a.rows[lo:hi] {
		sum[i] += z[q] * l
		own += z[q] * lj[i]
	}
	return own
}

func (s *sparse) at(i, j int) (float64, bool) {
	a, b := s.a.position[i], s.a.position[j]
	if a == b {
		return s.zDiag[a], true
	}
	if e := s.a.find(max(a, b), min(a, b)); e >= 0 {
		return s.zLow[e], true
	}
	return 0, false
}
