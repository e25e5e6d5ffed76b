package sheet

import (
	"math"
	"math/rand/v2"
	"testing"
)

func randomBox(r *rand.Rand) box {
	s, c := math.Sincos(r.Float64() * math.Pi)
	return box{C: Pos{MM(r.Float64() * 40), MM(r.Float64() * 40)}, UX: c, UY: s, HW: MM(0.5 + r.Float64()*8), HH: MM(0.5 + r.Float64()*3)}
}

// holdsAny samples a box densely and asks whether any sample lies in the other.
func holdsAny(a, b box) bool {
	for i := range 41 {
		for j := range 41 {
			if b.holds(a.place(a.HW*(MM(i)/20-1), a.HH*(MM(j)/20-1))) {
				return true
			}
		}
	}
	return false
}

func TestBoxesMeetAsTheirPointsDo(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		a, b := randomBox(r), randomBox(r)
		meets := a.meets(b)
		if meets != b.meets(a) {
			t.Fatalf("%v and %v meet only one way", a, b)
		}
		if (holdsAny(a, b) || holdsAny(b, a)) && !meets {
			t.Fatalf("%v and %v share a point but do not meet", a, b)
		}
		if meets && !holdsAny(a.grown(0.5), b.grown(0.5)) {
			t.Fatalf("%v and %v meet but are apart", a, b)
		}
	}
}

func TestSegmentsMeetBoxesAsTheirPointsDo(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		b := randomBox(r)
		p := Pos{MM(r.Float64() * 40), MM(r.Float64() * 40)}
		q := Pos{MM(r.Float64() * 40), MM(r.Float64() * 40)}
		inside := false
		for i := range 401 {
			inside = inside || b.grown(-1e-6).holds(between(p, q, float64(i)/400))
		}
		if inside && !b.meetsSegment(p, q) {
			t.Fatalf("segment %v %v has a point in %v but does not meet it", p, q, b)
		}
		if !inside && b.grown(-0.2).meetsSegment(p, q) {
			t.Fatalf("segment %v %v meets %v but no point lies in it", p, q, b)
		}
	}
}

func TestGapsLeaveWhatNoBoxCovers(t *testing.T) {
	a, b := Pos{0, 0}, Pos{10, 0}
	cuts := []box{upright(rect{6, -1, 8, 1}), upright(rect{2, -1, 4, 1}), upright(rect{3, -1, 5, 1}), upright(rect{2, 1, 9, 2})}
	got := gaps(a, b, cuts)
	want := [][2]float64{{0, 0.2}, {0.5, 0.6}, {0.8, 1}}
	if len(got) != len(want) {
		t.Fatalf("gaps %v, expected %v", got, want)
	}
	for i := range want {
		if math.Abs(got[i][0]-want[i][0]) > 1e-12 || math.Abs(got[i][1]-want[i][1]) > 1e-12 {
			t.Errorf("gap %d is %v, expected %v", i, got[i], want[i])
		}
	}
}

func TestScaleBarHasRoundDivisionsThatFit(t *testing.T) {
	for scale := Scale(100); scale < 100_000; scale += 37 {
		per := MM(304.8 / float64(scale))
		size := barStep(per, 45, 4)
		if w := float64(per) * size * 4; w > 45.001 || w < 45/2.6 {
			t.Fatalf("at 1:%d the bar is %.1f mm wide, expected up to 45", scale, w)
		}
		lead := size / math.Pow(10, math.Floor(math.Log10(size)+1e-9))
		if k := math.Round(lead); math.Abs(lead-k) > 1e-9 || k != 1 && k != 2 && k != 5 {
			t.Fatalf("at 1:%d a division is %v ft", scale, size)
		}
	}
}
