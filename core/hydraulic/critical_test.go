package hydraulic_test

import (
	"math"
	"testing"

	"undersod/core/hydraulic"
	"undersod/core/unit"
)

const g = 9.80665

func TestCriticalDepthAgainstTheTable(t *testing.T) {
	for _, row := range chow {
		if row.z == 0 {
			continue
		}
		// Z is rounded to four decimals, the depth is that uncertain.
		got, err := hydraulic.CriticalFlow(1, unit.Length(row.depth))
		if err != nil {
			t.Fatal(err)
		}
		if z := float64(got) / math.Sqrt(g); math.Abs(z-row.z) > 0.0001 {
			t.Errorf("depth %g: flow/√g is %.5f, the table has %.4f", row.depth, z, row.z)
		}
	}
}

// Straub's fit, depth = 1.01 flow^0.5 / (g^0.25 bore^0.26) in metres and
// seconds for 0.02 to 0.85 of the bore (French, Open-Channel Hydraulics, 1985,
// table 2.1, from memory), is said to be good to a few parts in a hundred.
func TestCriticalDepthAgainstStraub(t *testing.T) {
	for _, bore := range []float64{0.3, 1} {
		for _, filled := range []float64{0.2, 0.4, 0.6, 0.8} {
			q, err := hydraulic.CriticalFlow(unit.Length(bore), unit.Length(bore*filled))
			if err != nil {
				t.Fatal(err)
			}
			fit := 1.01 / math.Pow(bore, 0.26) * math.Sqrt(float64(q)/math.Sqrt(g))
			if math.Abs(fit-bore*filled) > 0.05*bore*filled {
				t.Errorf("bore %g, depth %g: Straub's fit gives %g", bore, bore*filled, fit)
			}
		}
	}
}

func TestCriticalDepthInvertsCriticalFlow(t *testing.T) {
	for _, bore := range []unit.Length{0.001, 4 * unit.Inch, 1} {
		for _, filled := range []float64{1e-9, 1e-6, 0.001, 0.01, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99, 0.999999} {
			q, err := hydraulic.CriticalFlow(bore, bore*unit.Length(filled))
			if err != nil {
				t.Fatal(err)
			}
			y, err := hydraulic.CriticalDepth(bore, q)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "depth", float64(y/bore), filled, 1e-13)
		}
	}
}

func TestCriticalDepthRisesWithFlow(t *testing.T) {
	last := unit.Length(-1)
	for e := -30.0; e < 3; e += 0.01 {
		y, err := hydraulic.CriticalDepth(4*unit.Inch, unit.Flow(math.Pow(10, e)))
		if err != nil {
			t.Fatal(err)
		}
		if y < last || y > 4*unit.Inch {
			t.Fatalf("flow 1e%g: depth %g after %g", e, y, last)
		}
		last = y
	}
	if y, err := hydraulic.CriticalDepth(4*unit.Inch, 0); y != 0 || err != nil {
		t.Errorf("no flow: depth %g, %v", y, err)
	}
}

func TestCriticalRefuses(t *testing.T) {
	for _, q := range []float64{-1, math.NaN(), math.Inf(1), 1e4} {
		if _, err := hydraulic.CriticalDepth(0.1, unit.Flow(q)); err == nil {
			t.Errorf("flow %g: no error", q)
		}
	}
	if _, err := hydraulic.CriticalDepth(0, 1); err == nil {
		t.Error("no bore: no error")
	}
	if _, err := hydraulic.CriticalFlow(0.1, 0.1); err == nil {
		t.Error("full pipe: no error")
	}
	if _, err := hydraulic.CriticalFlow(0.1, 0.2); err == nil {
		t.Error("over full: no error")
	}
}

// Critical flow is the most that a head passes: the largest of
// area × √(2g (head − depth)) over all depths, here found by trying, with the
// area by integration.
func mostByTrying(bore, head float64) float64 {
	f := func(y float64) float64 { return bore * bore * areaByIntegration(y/bore) * math.Sqrt(2*g*(head-y)) }
	low, high := 0.0, math.Min(head, bore)
	for range 90 {
		a, b := low+(high-low)/3, high-(high-low)/3
		if f(a) < f(b) {
			low = a
		} else {
			high = b
		}
	}
	return f((low + high) / 2)
}

func TestMouthFlowIsTheMostThatTheHeadPasses(t *testing.T) {
	for _, bore := range []float64{0.05, 0.1016} {
		for _, heads := range []float64{0.02, 0.1, 0.3, 0.5, 0.8, 1, 1.05} {
			q, regime, err := hydraulic.MouthFlow(unit.Length(bore), unit.Length(bore*heads))
			if err != nil || regime != hydraulic.Brink {
				t.Fatal(regime, err)
			}
			near(t, "flow", float64(q), mostByTrying(bore, bore*heads), 1e-9)
		}
	}
}

// The switch from brink to orifice: the two formulas meet there, the brink
// passes less between the crown and there, the orifice beyond.
func TestMouthFlowSwitches(t *testing.T) {
	orifice := func(heads float64) float64 { return 0.6 * math.Pi / 4 * math.Sqrt(g*(2*heads-1)) }
	const at = 1.058284974921075
	near(t, "where they meet", mostByTrying(1, at), orifice(at), 1e-12)
	for _, c := range []struct {
		heads  float64
		brink  bool
		regime hydraulic.Regime
	}{
		{1, true, hydraulic.Brink}, {1.02, true, hydraulic.Brink}, {1.058, true, hydraulic.Brink},
		{1.0584, false, hydraulic.Orifice}, {1.2, false, hydraulic.Orifice}, {2, false, hydraulic.Orifice}, {40, false, hydraulic.Orifice},
	} {
		q, regime, err := hydraulic.MouthFlow(1, unit.Length(c.heads))
		if err != nil || regime != c.regime {
			t.Errorf("head %g: %s, %v", c.heads, regime, err)
		}
		brink, full := mostByTrying(1, c.heads), orifice(c.heads)
		near(t, "flow", float64(q), math.Min(brink, full), 1e-9)
		if (brink < full) != c.brink {
			t.Errorf("head %g: brink passes %g, orifice %g", c.heads, brink, full)
		}
	}
}

func TestMouthFlowIsContinuousAndRises(t *testing.T) {
	last := -1.0
	for i := 0; i <= 300000; i++ {
		q, _, err := hydraulic.MouthFlow(1, unit.Length(float64(i)*1e-5))
		if err != nil {
			t.Fatal(err)
		}
		if i > 0 && !(float64(q) > last) || float64(q)-last > 5e-5 && i > 0 {
			t.Fatalf("head %g: flow %g after %g", float64(i)*1e-5, q, last)
		}
		last = float64(q)
	}
	for _, h := range []float64{math.NaN(), 101, math.Inf(-1)} {
		if _, _, err := hydraulic.MouthFlow(1, unit.Length(h)); err == nil {
			t.Errorf("head %g: no error", h)
		}
	}
	if q, regime, err := hydraulic.MouthFlow(1, -1); q != 0 || regime != hydraulic.Dry || err != nil {
		t.Errorf("below the invert: %g, %s, %v", q, regime, err)
	}
	if _, _, err := hydraulic.MouthFlow(0, 1); err == nil {
		t.Error("no bore: no error")
	}
}
