package text

import (
	"testing"

	"undersod/core/site"
	"undersod/core/unit"
)

func TestRatioWords(t *testing.T) {
	for _, c := range []struct {
		ratio float64
		want  string
	}{
		{0.001, "1 in 1,000"}, {0.0001, "1 in 10,000"}, {0.1, "1 in 10"}, {0.0015, "0.15%"},
		{1e-6, "1 in 1,000,000"}, {1e-12, "1e-10%"}, {1, "1 in 1"},
	} {
		if got := ratioWords(c.ratio); got != c.want {
			t.Errorf("%g: %q, want %q", c.ratio, got, c.want)
		}
	}
}

func TestAssumedTape(t *testing.T) {
	steel := site.Instrument{Name: "steel", Kind: site.SteelTape}
	laser := site.Instrument{Name: "red dot", Kind: site.LaserMeter}
	rod := site.Instrument{Name: "rod", Kind: site.LevelRod}
	half := unit.Inch / 2
	stated := site.Instrument{Name: "old", Kind: site.FibreglassTape, Fixed: &half}
	for _, c := range []struct {
		declared []site.Instrument
		name     string
		fixed    unit.Length
		perUnit  float64
	}{
		{nil, "fibreglass tape (the job declares none)", unit.Inch / 2, 0.001},
		{[]site.Instrument{rod}, "fibreglass tape (the job declares none)", unit.Inch / 2, 0.001},
		{[]site.Instrument{steel, rod}, "steel (steel tape)", unit.Inch / 4, 0.0001},
		{[]site.Instrument{steel, laser}, "fibreglass tape (the job declares several)", unit.Inch / 2, 0.001},
		{[]site.Instrument{stated}, "old (fibreglass tape)", unit.Inch / 2, 0},
	} {
		in, name := assumedTape(c.declared)
		fixed, perUnit := spread(in)
		if name != c.name || fixed != c.fixed || perUnit != c.perUnit {
			t.Errorf("%v: %s %v %v", c.declared, name, fixed, perUnit)
		}
	}
}
