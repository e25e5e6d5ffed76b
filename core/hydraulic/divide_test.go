package hydraulic_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"undersod/core/hydraulic"
	"undersod/core/unit"
)

// outlets returns openings of one bore at inverts in inches.
func outlets(bore unit.Length, inches ...float64) []hydraulic.Opening {
	var out []hydraulic.Opening
	for i, in := range inches {
		out = append(out, hydraulic.Opening{Name: string(rune('A' + i)), Invert: unit.Length(in) * unit.Inch, Bore: bore})
	}
	return out
}

func divide(t *testing.T, o []hydraulic.Opening, q unit.Flow) hydraulic.Split {
	t.Helper()
	s, err := hydraulic.Divide(o, q)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// At half a pipe of water the brink passes 0.2461 √g bore^2.5 under a head of
// 0.5 + 0.3927/2 = 0.6963 bores (Chow, appendix A, from memory): three level
// 4 in outlets share three times that.
func TestDivideLevelBox(t *testing.T) {
	bore := 4 * unit.Inch
	one := 0.246095 * math.Sqrt(g) * math.Pow(float64(bore), 2.5)
	s := divide(t, outlets(bore, 12, 12, 12), unit.Flow(3*one))
	near(t, "water", float64(s.Water/bore), 0.69635, 2e-5)
	for _, share := range s.Shares {
		near(t, "share", share.Share, 1.0/3, 1e-14)
		near(t, "depth", float64(share.Depth/bore), 0.5, 2e-5)
		if share.Regime != hydraulic.Brink || share.Wanted != 1.0/3 {
			t.Errorf("%+v", share)
		}
	}
	near(t, "lowest", float64(s.Lowest), float64(unit.Foot), 1e-15)
}

// The daily average of 300 gallons is a trickle: 0.2 inches of water, so that
// an outlet 1/4 in lower takes it all, and near empty flow goes as the square of
// the head, 0.6124 √g bore^0.5 head² (the leading term of critical flow).
func TestDivideTrickle(t *testing.T) {
	bore := 4 * unit.Inch
	q := 300 * unit.GallonPerDay
	s := divide(t, outlets(bore, 1, 0.75, 1), q)
	head := math.Sqrt(float64(q) / (math.Pow(1.5, 1.5) / 3 * math.Sqrt(g*float64(bore))))
	near(t, "water", float64(s.Water), head, 0.02)
	if s.Shares[1].Share != 1 || s.Shares[0].Regime != hydraulic.Dry || s.Shares[2].Head != 0 || s.Shares[2].Flow != 0 {
		t.Errorf("%+v", s)
	}
	s = divide(t, outlets(bore, 1, 0.9, 1), q)
	if got := s.Shares[1].Share; got <= 0.5 || got >= 1 {
		t.Errorf("a tenth of an inch lower takes %g", got)
	}
	// Towards nothing the leading term becomes exact.
	for _, tiny := range []float64{1e-12, 1e-20, 1e-29} {
		s := divide(t, outlets(bore, 1), unit.Flow(tiny))
		head := math.Sqrt(tiny / (math.Pow(1.5, 1.5) / 3 * math.Sqrt(g*float64(bore))))
		near(t, "water of a trickle", float64(s.Water), head, 1e-3*math.Sqrt(math.Sqrt(tiny/1e-12)))
	}
}

// The numbers worked in docs/method.md: 10 gpm on three level 4 in outlets stand
// 0.75 in deep, and an outlet 1/4 in low then takes 48 % of it; of 300 gallons a
// day it takes all.
func TestDivideWorkedNumber(t *testing.T) {
	q := 10 * unit.GallonPerMinute
	s := divide(t, outlets(4*unit.Inch, 1, 1, 1), q)
	near(t, "water", s.Water.Inches(), 0.75, 0.007)
	near(t, "critical depth", s.Shares[0].Depth.Inches(), 0.555, 0.002)
	s = divide(t, outlets(4*unit.Inch, 1, 0.75, 1), q)
	near(t, "share of the low one", s.Shares[1].Share, 0.485, 0.002)
	near(t, "share of the others", s.Shares[0].Share, 0.258, 0.002)
	s = divide(t, outlets(4*unit.Inch, 1, 0.75, 1), 300*unit.GallonPerDay)
	near(t, "share of a trickle", s.Shares[1].Share, 1, 0)
}

func TestDivideByHand(t *testing.T) {
	// Two outlets of different bore, the second over its crown: every flow is
	// that of its own head, and they add up.
	o := []hydraulic.Opening{
		{Name: "wide", Bore: 0.2, Invert: 5},
		{Name: "low", Bore: 0.05, Invert: 4.9},
		{Name: "half", Bore: 0.2, Invert: 5, Narrowed: 0.5},
		{Name: "off", Closed: true},
	}
	s := divide(t, o, 0.01)
	sum := unit.Flow(0)
	for i, share := range s.Shares[:3] {
		if math.Abs(float64(share.Head-(s.Lowest+s.Water-o[i].Invert))) > 1e-12 {
			t.Errorf("%s: head %g", share.Name, share.Head)
		}
		q, regime, err := hydraulic.MouthFlow(o[i].Bore, share.Head)
		if err != nil || regime != share.Regime {
			t.Error(regime, err)
		}
		near(t, share.Name, float64(share.Flow), float64(q)*(1-o[i].Narrowed), 1e-12)
		sum += share.Flow
	}
	near(t, "sum", float64(sum), 0.01, 1e-15)
	near(t, "narrowed", s.Shares[2].Share, s.Shares[0].Share/2, 1e-14)
	if s.Shares[1].Regime != hydraulic.Orifice || s.Shares[1].Depth != 0.05 || s.Shares[3].Share != 0 || s.Shares[3].Regime != hydraulic.Dry {
		t.Errorf("%+v", s)
	}
}

func TestDivideWanted(t *testing.T) {
	o := outlets(0.1, 0, 0, 0)
	o[0].Wanted, o[1].Wanted, o[2].Wanted = 100, 300, 600
	o[2].Closed = true
	s := divide(t, o, 0.001)
	if s.Shares[0].Wanted != 0.25 || s.Shares[1].Wanted != 0.75 || s.Shares[2].Wanted != 0 {
		t.Errorf("%+v", s.Shares)
	}
}

func TestDivideNoInflow(t *testing.T) {
	for _, q := range []unit.Flow{0, 5e-324} {
		s := divide(t, outlets(0.1, 3, 4), q)
		if s.Water != 0 || s.Lowest != 3*unit.Inch {
			t.Errorf("%+v", s)
		}
		for _, share := range s.Shares {
			if share.Flow != 0 || share.Share != 0 || share.Regime != hydraulic.Dry || share.Wanted != 0.5 {
				t.Errorf("%+v", share)
			}
		}
	}
}

func TestDivideErrors(t *testing.T) {
	good := hydraulic.Opening{Name: "Line 1", Bore: 0.1}
	change := func(f func(*hydraulic.Opening)) []hydraulic.Opening {
		o := good
		f(&o)
		return []hydraulic.Opening{good, o}
	}
	nan, inf := math.NaN(), math.Inf(1)
	tests := []struct {
		openings []hydraulic.Opening
		inflow   float64
		words    []string
	}{
		{nil, 1, []string{"no outlets"}},
		{[]hydraulic.Opening{{Closed: true}, {Closed: true}}, 1, []string{"every outlet", "closed"}},
		{change(func(o *hydraulic.Opening) { o.Bore = 0 }), 1, []string{"Line 1", "bore", `4"`}},
		{change(func(o *hydraulic.Opening) { o.Bore = -1 }), 1, []string{"Line 1", "bore"}},
		{change(func(o *hydraulic.Opening) { o.Bore = unit.Length(nan) }), 1, []string{"bore", "unknown"}},
		{change(func(o *hydraulic.Opening) { o.Invert = unit.Length(inf); o.Name = "" }), 1, []string{"outlet 2", "invert"}},
		{change(func(o *hydraulic.Opening) { o.Invert = unit.Length(nan) }), 1, []string{"invert"}},
		{change(func(o *hydraulic.Opening) { o.Narrowed = 1 }), 1, []string{"Line 1", "narrowed", "closed"}},
		{change(func(o *hydraulic.Opening) { o.Narrowed = -0.1 }), 1, []string{"narrowed"}},
		{change(func(o *hydraulic.Opening) { o.Narrowed = nan }), 1, []string{"narrowed"}},
		{change(func(o *hydraulic.Opening) { o.Wanted = -1 }), 1, []string{"wanted"}},
		{change(func(o *hydraulic.Opening) { o.Wanted = inf }), 1, []string{"wanted"}},
		{[]hydraulic.Opening{good}, -1, []string{"inflow"}},
		{[]hydraulic.Opening{good}, nan, []string{"inflow"}},
		{[]hydraulic.Opening{good}, inf, []string{"inflow"}},
		{[]hydraulic.Opening{good}, 1000, []string{"over the lowest outlet", "bores"}},
	}
	for i, c := range tests {
		_, err := hydraulic.Divide(c.openings, unit.Flow(c.inflow))
		if err == nil {
			t.Errorf("case %d: no error", i)
			continue
		}
		for _, w := range c.words {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("case %d: %q lacks %q", i, err, w)
			}
		}
	}
}

// anyBox returns a box as they are found, and worse.
func anyBox(r *rand.Rand) ([]hydraulic.Opening, unit.Flow) {
	o := make([]hydraulic.Opening, 1+r.IntN(8))
	for i := range o {
		o[i] = hydraulic.Opening{
			Name:   string(rune('A' + i)),
			Invert: unit.Length(r.Float64()*0.06 + 30),
			Bore:   unit.Length(0.05 + 0.1*r.Float64()),
			Closed: i > 0 && r.IntN(6) == 0,
			Wanted: float64(r.IntN(3)) * r.Float64(),
		}
		if r.IntN(4) == 0 {
			o[i].Narrowed = r.Float64() * 0.9
		}
	}
	return o, unit.Flow(math.Pow(10, -7+5*r.Float64()))
}

func TestDivideKeepsTheWater(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		o, q := anyBox(r)
		s := divide(t, o, q)
		flow, part, mouths := 0.0, 0.0, 0.0
		for i, share := range s.Shares {
			flow += float64(share.Flow)
			part += share.Share
			m, _, err := hydraulic.MouthFlow(max(o[i].Bore, 0.001), share.Head)
			if err != nil {
				t.Fatal(err)
			}
			mouths += float64(m) * (1 - o[i].Narrowed)
		}
		near(t, "flow", flow, float64(q), 1e-12)
		near(t, "shares", part, 1, 1e-12)
		// The same from the heads that are told; a head of 0.1 mm told to the
		// last digit of the level carries its flow to 1e-10.
		near(t, "flow of the mouths", mouths, float64(q), 1e-10)
	}
}

func TestDivideRisesWithInflow(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		o, q := anyBox(r)
		a, b := divide(t, o, q), divide(t, o, q*1.01)
		if !(b.Water > a.Water) {
			t.Fatalf("more inflow, water %g after %g", b.Water, a.Water)
		}
		for i := range a.Shares {
			if b.Shares[i].Flow < a.Shares[i].Flow {
				t.Fatalf("more inflow, outlet takes %g after %g", b.Shares[i].Flow, a.Shares[i].Flow)
			}
		}
	}
}

func TestDivideRaisedTakesLess(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		o, q := anyBox(r)
		a := divide(t, o, q)
		o[0].Invert += unit.Inch / 16
		b := divide(t, o, q)
		if b.Shares[0].Flow > a.Shares[0].Flow*(1+1e-12) {
			t.Fatalf("raised outlet takes %g after %g", b.Shares[0].Flow, a.Shares[0].Flow)
		}
		for i := 1; i < len(o); i++ {
			if b.Shares[i].Flow < a.Shares[i].Flow*(1-1e-9) {
				t.Fatalf("another is raised, outlet takes %g after %g", b.Shares[i].Flow, a.Shares[i].Flow)
			}
		}
	}
}

func TestDivideKnowsNoOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 300 {
		o, q := anyBox(r)
		a := divide(t, o, q)
		perm := r.Perm(len(o))
		mixed := make([]hydraulic.Opening, len(o))
		for i, p := range perm {
			mixed[i] = o[p]
		}
		b := divide(t, mixed, q)
		for i, p := range perm {
			if math.Abs(b.Shares[i].Share-a.Shares[p].Share) > 1e-12 {
				t.Fatalf("share %g in another order %g", a.Shares[p].Share, b.Shares[i].Share)
			}
		}
	}
}

func TestDivideKnowsNoCommonLevel(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 300 {
		o, q := anyBox(r)
		a := divide(t, o, q)
		for i := range o {
			o[i].Invert -= 1000
		}
		b := divide(t, o, q)
		for i := range o {
			if math.Abs(b.Shares[i].Share-a.Shares[i].Share) > 1e-9 {
				t.Fatalf("share %g from another level %g", a.Shares[i].Share, b.Shares[i].Share)
			}
		}
	}
}

// Froude's law: lengths ten times, flows 10^2.5 times, shares alike.
func TestDivideScales(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for range 300 {
		o, q := anyBox(r)
		for i := range o {
			o[i].Invert -= 30
		}
		a := divide(t, o, q)
		for i := range o {
			o[i].Invert *= 10
			o[i].Bore *= 10
		}
		b := divide(t, o, q*unit.Flow(math.Pow(10, 2.5)))
		near(t, "water", float64(b.Water), float64(10*a.Water), 1e-12)
		for i := range o {
			if math.Abs(b.Shares[i].Share-a.Shares[i].Share) > 1e-10 {
				t.Fatalf("share %g at another scale %g", a.Shares[i].Share, b.Shares[i].Share)
			}
		}
	}
}

func FuzzDivide(f *testing.F) {
	f.Add(0.0, 0.1, 0.0, 1.0, 0.01, 0.1, 0.5, 2.0, 0.001, false)
	f.Add(1e5, 0.001, 0.999999, 0.0, -1e5, 10.0, 0.0, 0.0, 1000.0, false)
	f.Add(math.NaN(), math.Inf(1), math.Copysign(0, -1), 1e300, 5e-324, 1e-3, 1.0, -1.0, 5e-324, true)
	f.Fuzz(func(t *testing.T, z1, d1, n1, w1, z2, d2, n2, w2, q float64, closed bool) {
		o := []hydraulic.Opening{
			{Name: "A", Invert: unit.Length(z1), Bore: unit.Length(d1), Narrowed: n1, Wanted: w1},
			{Name: "B", Invert: unit.Length(z2), Bore: unit.Length(d2), Narrowed: n2, Wanted: w2, Closed: closed},
		}
		s, err := hydraulic.Divide(o, unit.Flow(q))
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without words")
			}
			return
		}
		if s.Water > 100 {
			t.Fatalf("water %g", s.Water)
		}
		sum := 0.0
		for _, share := range s.Shares {
			for _, v := range []float64{float64(share.Head), float64(share.Depth), float64(share.Flow), share.Share, share.Wanted} {
				if !(v >= 0 && v <= 1e9) {
					t.Fatalf("%+v", s)
				}
			}
			sum += share.Share
		}
		if q >= 1e-30 && math.Abs(sum-1) > 1e-12 {
			t.Fatalf("shares add up to %g: %+v", sum, s)
		}
		for _, err := range []error{
			second(hydraulic.Sense(o, unit.Flow(q), unit.Inch/16)),
			second(hydraulic.Correct(o, unit.Flow(q), 0.02, unit.Inch/16)),
		} {
			if err != nil && q >= 1e-30 && !strings.Contains(err.Error(), "invert") && !strings.Contains(err.Error(), "over the lowest") {
				t.Fatal(err)
			}
		}
	})
}

func second[T any](_ T, err error) error { return err }

func BenchmarkDivideSix(b *testing.B) {
	o := outlets(4*unit.Inch, 1, 1.25, 1, 0.9, 1.1, 1)
	for b.Loop() {
		if _, err := hydraulic.Divide(o, 10*unit.GallonPerMinute); err != nil {
			b.Fatal(err)
		}
	}
}
