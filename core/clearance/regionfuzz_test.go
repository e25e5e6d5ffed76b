package clearance_test

import (
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

// tape reads a yard from bytes: places on a coarse grid, so that sides and
// corners fall upon one another.
type tape []byte

func (t *tape) next() int {
	if len(*t) == 0 {
		return 0
	}
	b := (*t)[0]
	*t = (*t)[1:]
	return int(b)
}

func (t *tape) places(n int) []planar.Vec {
	out := make([]planar.Vec, n)
	for i := range out {
		b := t.next()
		out[i] = at(float64(b>>4), float64(b&15))
	}
	return out
}

func (t *tape) yard(tb testing.TB) yard {
	setback := func() unit.Length { return []unit.Length{0, 0, 1, 2.5}[t.next()&3] }
	y := yard{Turn: unit.Angle(t.next()) * 15 * unit.Degree, Foot: clearance.Point()}
	if size := t.next(); size > 0 {
		y.Foot = rectangle(tb, 0.5+float64(size>>4)/2, 0.5+float64(size&15)/2)
	}
	y.Ground.Lot, y.Ground.Setback = t.places(t.next()&7), setback()
	for range t.next() & 7 {
		kind := t.next()
		s := clearance.Shape{Points: t.places(1 + kind&3), Closed: kind&4 > 0}
		if kind&8 > 0 {
			s.Radius, s.HalfWidth = 1, 0.5
		}
		y.Ground.Obstacles = append(y.Ground.Obstacles, clearance.Obstacle{Shape: s, Setback: setback()})
	}
	return y
}

// FuzzAllowed: no ground, however its sides fall upon one another, panics or
// fails once it is checked, and no corner of a region breaks a setback.
func FuzzAllowed(f *testing.F) {
	f.Add([]byte{0, 0x42, 4, 0x00, 0xf0, 0xff, 0x0f, 2, 3, 6, 0x33, 0x73, 0x77, 0, 1, 0x44, 0x88, 2, 8, 0x99, 3})
	f.Add([]byte{3, 0, 5, 0x00, 0xf0, 0x88, 0xff, 0x0f, 0, 2, 7, 0x33, 0x73, 0x77, 0x37, 0, 7, 0x73, 0xb3, 0xb7, 0x77, 0})
	f.Add([]byte{1, 0x11, 0, 0, 1, 11, 0x33, 0x73, 0x77, 0x37, 3})
	f.Fuzz(func(t *testing.T, data []byte) {
		in := tape(data)
		y := in.yard(t)
		r, err := clearance.Allowed(y.Ground, y.Foot, y.Turn, 0.05)
		if wrong := y.Ground.Check(); (wrong != nil) != (err != nil) {
			t.Fatalf("the check says %v, the region %v", wrong, err)
		}
		checkRings(t, r)
		for _, p := range r.Pieces {
			for _, ring := range append([]planar.Ring{p.Outer}, p.Holes...) {
				for _, c := range ring {
					if m := y.least(c); m < -1e-9 {
						t.Fatalf("%v breaks a setback by %v", c, m)
					}
				}
			}
		}
	})
}
