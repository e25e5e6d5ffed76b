package rules_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/rules"
	"undersod/core/unit"
)

func pack(t *testing.T, name string) *rules.Pack {
	t.Helper()
	p, ok := rules.ByName(name)
	if !ok {
		t.Fatalf("no pack %s", name)
	}
	return p
}

func perc(v float64) unit.Percolation { return unit.Percolation(v) * unit.MinutePerInch }

// Sewage code of Wayne County, Indiana, Table IV: rows hold up to their time.
func TestStepTakesTheNextSlowerRow(t *testing.T) {
	f := pack(t, "federal").Field
	for _, test := range []struct{ time, area float64 }{
		{0.5, 100}, {3, 100}, {3.01, 115}, {4, 115}, {5, 125}, {7, 165}, {10, 165}, {15, 190}, {16, 250}, {30, 250}, {31, 330}, {60, 330},
	} {
		s, ok := f.Step(perc(test.time), "")
		if got := float64(s.PerBedroom / unit.SquareFoot); !ok || math.Abs(got-test.area) > 1e-9 {
			t.Errorf("%g min/in: %g sq ft, %v; want %g", test.time, got, ok, test.area)
		}
	}
	for _, time := range []float64{0, -1, 61, math.NaN(), math.Inf(1)} {
		if _, ok := f.Step(perc(time), ""); ok {
			t.Errorf("%g min/in has a row", time)
		}
	}
}

// Written in the other unit, a time at the edge of a band is still in it.
func TestStepDoesNotMindTheUnit(t *testing.T) {
	f := pack(t, "missouri-county").Field
	at, err := unit.ParsePercolation("0.393700787401575 min/mm") // 10 min/in
	if err != nil {
		t.Fatal(err)
	}
	if s, ok := f.Step(at, ""); !ok || s.UpTo != perc(10) {
		t.Errorf("10 min/in written by millimetres falls in %+v, %v", s, ok)
	}
}

// Minnesota Rules 7080.2150, Table IXa: fine sand has a row of its own up to
// 5 min/in, and the common rows beyond.
func TestStepByTexture(t *testing.T) {
	f := pack(t, "minnesota").Field
	for _, test := range []struct {
		time    float64
		texture string
		rate    float64
	}{
		{3, "", 1.2}, {3, "loam", 1.2}, {3, "Fine Sand", 0.6}, {5, "fine sand", 0.6}, {10, "fine sand", 0.78}, {50, "", 0.45},
	} {
		s, ok := f.Step(perc(test.time), test.texture)
		if got := float64(s.Loading / unit.GallonPerDayPerSquareFoot); !ok || math.Abs(got-test.rate) > 1e-9 {
			t.Errorf("%g min/in, %q: %g, %v; want %g", test.time, test.texture, got, ok, test.rate)
		}
	}
	if _, ok := f.Step(perc(0.05), ""); ok {
		t.Error("soil faster than the first row has a row")
	}
}

func TestStepInProportion(t *testing.T) {
	f := &rules.FieldRule{Between: rules.Interpolate, Steps: []rules.PercStep{
		{UpTo: perc(10), PerBedroom: 100, Loading: 1},
		{UpTo: perc(20), PerBedroom: 200, Loading: 3, Source: &rules.Source{Title: "second"}},
	}}
	for _, test := range []struct {
		time float64
		area unit.Area
		rate unit.Loading
	}{{5, 100, 1}, {10, 100, 1}, {15, 150, 2}, {20, 200, 3}} {
		s, ok := f.Step(perc(test.time), "")
		if !ok || math.Abs(float64(s.PerBedroom-test.area)) > 1e-9 || math.Abs(float64(s.Loading-test.rate)) > 1e-9 {
			t.Errorf("%g: got %+v, %v", test.time, s, ok)
		}
	}
}

// Q = 5 / sqrt(t), against the rounded table of the old federal manual (from
// memory): 5.0, 3.5, 2.9, 2.5, 2.2, 1.6, 1.3, 0.9, 0.6.
func TestRateAt(t *testing.T) {
	f := pack(t, "south-dakota").Field
	for time, want := range map[float64]float64{1: 5, 2: 3.5, 3: 2.9, 4: 2.5, 5: 2.2, 10: 1.6, 15: 1.3, 30: 0.9, 60: 0.6} {
		q, ok := f.RateAt(perc(time))
		if got := float64(q / unit.GallonPerDayPerSquareFoot); !ok || math.Abs(got-want) > 0.0501 {
			t.Errorf("%g min/in: %g, %v; want %g", time, got, ok, want)
		}
	}
	// Indian Standard IS 2470-2: Q = 130 / sqrt(t) in litres a day per square
	// metre. With t in minutes per centimetre it is the metric twin, rounded by
	// less than 2 %.
	for _, time := range []float64{1, 10, 60} {
		q, _ := f.RateAt(unit.Percolation(time * 60 / 0.01))
		if got, twin := float64(q/unit.LitrePerDayPerSquareMetre), 130/math.Sqrt(time); math.Abs(got/twin-1) > 0.02 {
			t.Errorf("%g min/cm: %g against %g L/d/m²", time, got, twin)
		}
	}
	if _, ok := pack(t, "federal").Field.RateAt(perc(10)); ok {
		t.Error("a table by bedrooms was turned into a rate")
	}
	if _, ok := f.RateAt(0); ok {
		t.Error("no percolation time has a rate")
	}
}

// Washington Administrative Code 246-272A-0234, Table VIII.
func TestTextureTakesTheFirstRowThatFits(t *testing.T) {
	f := pack(t, "washington").Field
	for _, test := range []struct {
		texture, structure, strength string
		rate                         float64
		asks, ok                     bool
	}{
		{"sandy loam", "", "", 0.6, true, true},
		{"Sandy Loam", "blocky", "", 0.6, false, true},
		{"sandy loam", "massive", "", 0, false, true},
		{"silt loam", "blocky", "strong", 0.4, false, true},
		{"silt loam", "blocky", "moderate", 0.4, false, true},
		{"silt loam", "blocky", "weak", 0.2, false, true},
		{"silt loam", "platy", "strong", 0, false, true},
		{"silt loam", "", "", 0.2, true, true},
		{"clay", "blocky", "strong", 0, false, true},
		{"peat", "", "", 0, true, false},
		{"", "massive", "", 0, false, false},
	} {
		row, asks, ok := f.Texture(test.texture, test.structure, test.strength)
		if got := float64(row.Loading / unit.GallonPerDayPerSquareFoot); ok != test.ok || asks != test.asks || math.Abs(got-test.rate) > 1e-9 {
			t.Errorf("%q %q %q: %g, %v, %v", test.texture, test.structure, test.strength, got, asks, ok)
		}
	}
	if names := f.TextureNames(); len(names) != 19 || names[0] != "gravelly coarse sand" {
		t.Errorf("textures %q", names)
	}
}

func TestDaily(t *testing.T) {
	for _, test := range []struct {
		pack     string
		bedrooms int
		want     float64
		ok       bool
	}{
		{"federal", 3, 450, true}, {"federal", 0, 0, false},
		{"new-york", 2, 260, true}, {"new-york", 3, 390, true}, {"new-york", 4, 520, true}, {"new-york", 6, 780, true}, {"new-york", 1, 130, true},
		{"pennsylvania", 3, 400, true}, {"pennsylvania", 5, 600, true}, {"pennsylvania", 2, 0, false},
		{"washington", 1, 240, true}, {"washington", 2, 240, true}, {"washington", 3, 360, true},
		{"texas", 3, 0, false},
	} {
		got, ok := pack(t, test.pack).Flow.Daily(test.bedrooms)
		if ok != test.ok || math.Abs(float64(got/unit.GallonPerDay)-test.want) > 1e-9 {
			t.Errorf("%s, %d bedrooms: %g, %v", test.pack, test.bedrooms, float64(got/unit.GallonPerDay), ok)
		}
	}
}

// The tank tables: Manual of Septic-Tank Practice (from memory), Washington
// Administrative Code 246-272A-0232 Table VII, a county code of the Missouri
// layout, plan notes of Queensbury, New York.
func TestCapacity(t *testing.T) {
	for name, want := range map[string][]float64{ // 1, 2, ... bedrooms; 0 no row
		"federal":         {750, 750, 900, 1000, 1250, 1500, 1750},
		"washington":      {900, 900, 900, 1000, 1250, 1500, 1750},
		"missouri-county": {1000, 1000, 1000, 1250, 1500, 0},
		"new-york":        {1000, 1000, 1000, 1250, 1500, 1750, 2000},
		"pennsylvania":    {0, 0, 0, 0},
		"texas":           {0, 0, 0},
	} {
		tank := pack(t, name).Tank
		for i, v := range want {
			got, ok := tank.Capacity(i + 1)
			if ok != (v > 0) || math.Abs(float64(got/unit.Gallon)-v) > 1e-9 {
				t.Errorf("%s, %d bedrooms: %g gal, %v; want %g", name, i+1, float64(got/unit.Gallon), ok, v)
			}
		}
	}
}

func TestLivesAndLooks(t *testing.T) {
	p := rules.Default()
	for _, test := range []struct{ material, thing, want string }{
		{"concrete", "septic tank", "concrete tank"},
		{"Precast concrete", "septic tank", "concrete tank"},
		{"fiberglass", "pump tank", "fibreglass tank"},
		{"brick", "septic tank", "tank"},
		{"", "distribution box", "distribution box"},
		{"plastic", "distribution box", "plastic distribution box"},
		{"", "field", "field"},
	} {
		l, ok := p.Life(test.material, test.thing)
		if !ok || l.What != test.want || l.LeastYears > l.MostYears || l.Source.Status != rules.CommonPractice {
			t.Errorf("%s %s: %+v, %v", test.material, test.thing, l, ok)
		}
	}
	if _, ok := p.Life("", "mill wheel"); ok {
		t.Error("a mill wheel has a life")
	}
	if i, ok := p.Look("look at the tank"); !ok || i.Months != 36 {
		t.Errorf("tank: %+v, %v", i, ok)
	}
	if _, ok := p.Look("paint the shed"); ok {
		t.Error("the shed is looked at")
	}
}

func TestSourceWords(t *testing.T) {
	for _, test := range []struct {
		source rules.Source
		want   string
	}{
		{rules.Source{Title: "County code", Section: "Table 2", Year: "1999", Status: rules.Read}, "County code, Table 2, 1999 (read in a copy)"},
		{rules.Source{Title: "common practice, no source", Status: rules.CommonPractice}, "common practice, no source"},
		{rules.Source{Title: "Two a room", Status: rules.CommonPractice}, "Two a room (common practice, no source)"},
		{rules.Source{Title: "the permit", Status: rules.TheUser}, "the permit (as entered)"},
	} {
		if got := test.source.Words(); got != test.want {
			t.Errorf("got %q, want %q", got, test.want)
		}
	}
	if w := (rules.Source{Title: "A", Status: rules.FromMemory}).Words(); !strings.Contains(w, "from memory") || !strings.Contains(w, "not law") {
		t.Errorf("got %q", w)
	}
}

// A pack that was not found has no numbers, and asking for them is no crash.
func TestNothingKnown(t *testing.T) {
	var p *rules.Pack
	if _, ok := p.Life("", "field"); ok {
		t.Error("a life")
	}
	if _, ok := p.Look("x"); ok {
		t.Error("a look")
	}
	var f *rules.FieldRule
	if _, ok := f.Step(perc(1), ""); ok {
		t.Error("a step")
	}
	if _, _, ok := f.Texture("loam", "", ""); ok || f.TextureNames() != nil {
		t.Error("a texture")
	}
	if _, ok := f.RateAt(perc(1)); ok {
		t.Error("a rate")
	}
}
