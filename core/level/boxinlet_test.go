package level_test

import (
	"strings"
	"testing"

	"undersod/core/level"
	"undersod/core/site"
	"undersod/core/unit"
)

// flatBox has three outlets 6 in down and the inlet 3 3/4 in down.
func flatBox() site.Box {
	b := threeWays()
	for k := range b.Outlets {
		b.Outlets[k].Down = down(6)
	}
	b.Water, b.Inlet.Down = nil, down(3.75)
	return b
}

// An inlet 50 mm over the outlets within 3 mm is not told from 2 in, 50.8 mm. With
// 1.5 mm for the difference what is less than 50.8 - 1.96 · 1.5 = 47.86 mm is told.
func TestTheInletHasTheBenefitOfItsUncertainty(t *testing.T) {
	sd := unit.Length(0.0015 / 1.4142135623730951)
	for _, c := range []struct {
		step unit.Length
		told bool
	}{{0.0508, false}, {0.050, false}, {0.0479, false}, {0.0478, true}, {0.047, true}} {
		b := flatBox()
		for k := range b.Outlets {
			b.Outlets[k].SD = &sd
		}
		b.Inlet = &site.Opening{Down: inches((6*unit.Inch - c.step).Inches()), SD: &sd}
		got := level.Measure(b, nil, unit.Style{Form: unit.Metres})
		if told := len(got.Words) > 0; told != c.told || got.InletLow {
			t.Errorf("%v: %+v", c.step, got)
		}
		if c.told && (!strings.Contains(got.Words[0], "New York") || strings.Contains(got.Words[0], "Pennsylvania")) {
			t.Errorf("%v: %q", c.step, got.Words)
		}
	}
}

// One sentence tells an inlet that is too low, however many outlets are higher,
// and it is not told once more among the other words.
func TestInletLow(t *testing.T) {
	const ending = ": water backs up into the inlet before it runs out there."
	for _, c := range []struct {
		name   string
		change func(*site.Box)
		words  string
	}{
		{"none", func(b *site.Box) {}, ""},
		{"not told", func(b *site.Box) { b.Outlets[0].Down = down(3.6) }, ""},
		{"one", func(b *site.Box) { b.Outlets[0].Down = down(3.5) },
			`The outlet to 1 lies 1/4" above the inlet (within 3/16")` + ending},
		{"two", func(b *site.Box) { b.Outlets[0].Down, b.Outlets[2].Down = down(3.5), down(3) },
			`The outlet to 3 lies 3/4" above the inlet (within 3/16"), and so does the outlet to 1` + ending},
		{"all", func(b *site.Box) { b.Inlet.Down = down(7) },
			`The outlet to 1 lies 1" above the inlet (within 3/16"), and so do the outlet to 2 and the outlet to 3` + ending},
		{"a closed one", func(b *site.Box) { b.Outlets[0].Down, b.Outlets[0].Closed = down(3), true }, ""},
		{"no inlet", func(b *site.Box) { b.Inlet = nil }, ""},
	} {
		b := flatBox()
		c.change(&b)
		got := level.Measure(b, nil, imperial)
		if got.InletLow != (c.words != "") || got.InletWords != c.words {
			t.Errorf("%s: %v %q, not %q", c.name, got.InletLow, got.InletWords, c.words)
		}
		if got.InletLow && len(got.Words) > 0 {
			t.Errorf("%s: %q", c.name, got.Words)
		}
	}
}

// Water over outlets is told once, with the rule that was read; behind a cap it
// may stand.
func TestFlooded(t *testing.T) {
	const ending = ": Massachusetts (310 CMR 15.303) counts a static level above the outlet invert as a failed system; the local authority decides."
	for _, c := range []struct {
		name   string
		change func(*site.Box)
		words  string
	}{
		{"dry", func(b *site.Box) {}, ""},
		{"at the inverts", func(b *site.Box) { b.Water = down(6) }, ""},
		{"not told", func(b *site.Box) { b.Water = down(5.85) }, ""},
		{"below", func(b *site.Box) { b.Water = down(8) }, ""},
		{"one", func(b *site.Box) { b.Water, b.Outlets[1].Down = down(6), down(6.5) },
			`Water stands 1/2" over the invert of the outlet to 2 (within 3/16")` + ending},
		{"a closed one", func(b *site.Box) {
			b.Water, b.Outlets[1].Down, b.Outlets[1].Closed = down(6), down(6.5), true
		}, ""},
		{"all", func(b *site.Box) { b.Water = down(4) },
			`Water stands 2" over the invert of the outlet to 1 (within 3/16"), and over the outlet to 2 and the outlet to 3` + ending},
		{"all, and all closed", func(b *site.Box) {
			b.Water, b.Outlets = down(4), b.Outlets[:1]
			b.Outlets[0].Closed = true
		}, `Water stands 2" over the invert of the outlet to 1 (within 3/16")` + ending},
		{"no outlet is known", func(b *site.Box) { b.Water, b.Outlets = down(4), nil }, ""},
	} {
		b := flatBox()
		c.change(&b)
		got := level.Measure(b, nil, imperial)
		if got.Flooded != (c.words != "") || got.FloodedWords != c.words {
			t.Errorf("%s: %v %q, not %q", c.name, got.Flooded, got.FloodedWords, c.words)
		}
		if strings.Contains(strings.Join(got.Words, " "), "Water stands") {
			t.Errorf("%s: %q", c.name, got.Words)
		}
	}
}
