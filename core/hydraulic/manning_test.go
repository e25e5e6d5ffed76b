package hydraulic_test

import (
	"math"
	"testing"

	"undersod/core/hydraulic"
	"undersod/core/unit"
)

const cubicFootPerSecond = float64(unit.CubicFoot)

// Flowing full at n = 0.013: a 12 in sewer at 1 in 100 carries 3.56 cubic feet
// per second at 4.5 feet per second (capacity tables of concrete sewer pipe,
// from memory); the least slopes of sewers are those that bring about 2 feet per
// second (Recommended Standards for Wastewater Facilities, section 33.41, from
// memory).
func TestManningFull(t *testing.T) {
	got, err := hydraulic.Pipe{Bore: 12 * unit.Inch, Slope: 0.01, Roughness: 0.013}.Full()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "flow", float64(got.Flow)/cubicFootPerSecond, 3.56, 0.003)
	near(t, "speed", float64(got.Speed/hydraulic.FootPerSecond), 4.54, 0.003)

	for inches, slope := range map[float64]float64{8: 0.0040, 10: 0.0028, 12: 0.0022, 15: 0.0015, 18: 0.0012, 24: 0.0008} {
		got, err := hydraulic.Pipe{Bore: unit.Length(inches) * unit.Inch, Slope: slope, Roughness: 0.013}.Full()
		if err != nil {
			t.Fatal(err)
		}
		if v := float64(got.Speed / hydraulic.FootPerSecond); v < 2 || v > 2.2 {
			t.Errorf("%g in at %g: %.2f feet per second", inches, slope, v)
		}
	}
}

// Half full a pipe carries half at the same speed; the most is 1.076 of full at
// 0.938 of the bore, the fastest 1.14 of full at 0.81 (Chow, Open-Channel
// Hydraulics, 1959, figure 6-5, from memory).
func TestManningPartFull(t *testing.T) {
	p := hydraulic.Pipe{Bore: 0.1, Slope: 0.01, Roughness: 0.01}
	full, _ := p.Full()
	half, err := p.At(0.05)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "half flow", float64(half.Flow), float64(full.Flow)/2, 1e-12)
	near(t, "half speed", float64(half.Speed), float64(full.Speed), 1e-12)
	most, err := p.Most()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "most", float64(most.Flow/full.Flow), 1.076, 0.001)
	near(t, "depth of the most", float64(most.Depth/p.Bore), 0.938, 0.001)
	fast, _ := p.At(0.081)
	near(t, "fastest", float64(fast.Speed/full.Speed), 1.14, 0.002)
	for y := unit.Length(0); y <= 0.1; y += 0.0001 {
		if c, err := p.At(min(y, 0.1)); err != nil || c.Flow > most.Flow {
			t.Fatalf("depth %g: %g is more than the most, %v", y, c.Flow, err)
		}
	}
}

func TestManningNormalInvertsAt(t *testing.T) {
	for _, p := range []hydraulic.Pipe{{Bore: 4 * unit.Inch, Slope: 0.0104, Roughness: 0.01}, {Bore: 1, Slope: 1e-5, Roughness: 0.03}} {
		for _, filled := range []float64{1e-6, 0.01, 0.1, 0.3, 0.5, 0.8, 0.9, 0.93} {
			at, err := p.At(p.Bore * unit.Length(filled))
			if err != nil {
				t.Fatal(err)
			}
			got, err := p.Normal(at.Flow)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "depth", float64(got.Depth/p.Bore), filled, 1e-12)
			near(t, "speed", float64(got.Speed), float64(at.Speed), 1e-12)
		}
		most, _ := p.Most()
		if got, err := p.Normal(most.Flow); err != nil || got.Depth != most.Depth {
			t.Errorf("the most: %v, %v", got, err)
		}
		if got, err := p.Normal(0); err != nil || got != (hydraulic.Carried{}) {
			t.Errorf("no flow: %v, %v", got, err)
		}
		if _, err := p.Normal(most.Flow * 1.0001); err == nil {
			t.Error("more than the most: no error")
		}
	}
}

// Divide takes the pipes behind the box to be steep: even flow below critical
// depth. A smooth 4 in pipe at 1 in 120 is so at all flows of a household.
func TestManningSteep(t *testing.T) {
	p := hydraulic.Pipe{Bore: 4 * unit.Inch, Slope: 1.0 / 120, Roughness: hydraulic.SmoothPipe}
	for q := 0.2; q <= 20; q *= 1.1 {
		even, err := p.Normal(unit.Flow(q) * unit.GallonPerMinute)
		if err != nil {
			t.Fatal(err)
		}
		critical, err := hydraulic.CriticalDepth(p.Bore, unit.Flow(q)*unit.GallonPerMinute)
		if err != nil {
			t.Fatal(err)
		}
		if even.Depth > critical {
			t.Errorf("%.1f gpm: even depth %g, critical %g", q, even.Depth, critical)
		}
	}
}

func TestManningRefuses(t *testing.T) {
	good := hydraulic.Pipe{Bore: 0.1, Slope: 0.01, Roughness: 0.01}
	nan := math.NaN()
	for _, p := range []hydraulic.Pipe{
		{}, {Bore: 0.1}, {Bore: 0.1, Slope: 0.01}, {Bore: 0.1, Slope: -0.01, Roughness: 0.01}, {Bore: 0.1, Slope: nan, Roughness: 0.01},
		{Bore: 0.1, Slope: 0.01, Roughness: nan}, {Bore: unit.Length(nan), Slope: 0.01, Roughness: 0.01}, {Bore: 0.1, Slope: 0.01, Roughness: -1},
	} {
		if _, err := p.Full(); err == nil {
			t.Errorf("%v: no error", p)
		}
		if _, err := p.Normal(0.001); err == nil {
			t.Errorf("%v: no error of Normal", p)
		}
	}
	if _, err := good.Normal(-1); err == nil {
		t.Error("negative flow: no error")
	}
	if _, err := good.At(-1); err == nil {
		t.Error("negative depth: no error")
	}
}
