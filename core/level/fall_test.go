package level_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"undersod/core/level"
	"undersod/core/site"
	"undersod/core/unit"
)

func invert(setup, point site.Name, v float64) site.Rod {
	return rod(setup, point, site.OnInvert, v)
}

// straight gives every stretch the same length.
func straight(length, sd unit.Length) func(line, from, to site.Name) (unit.Length, unit.Length, bool) {
	return func(site.Name, site.Name, site.Name) (unit.Length, unit.Length, bool) { return length, sd, true }
}

func pipe(kind site.LineKind, path ...site.Name) []site.Line {
	return []site.Line{{Name: "pipe", Kind: kind, Path: path}}
}

var imperial = unit.Style{Form: unit.FeetInches, Denominator: 4}

// A drop of 0.24 ft in 20 ft is 0.144 in/ft or 1.2 %. With σ 1/16 in per
// reading the drop has σ = √2/16 in = 0.00737 ft; with σ 0.1 ft of the run the
// slope has √((0.00737/20)² + (0.012 · 0.1/20)²) = 0.000373.
func TestFallWorkedByHand(t *testing.T) {
	n := level.Adjust([]site.Reading{invert("one", "tank", 5), invert("one", "box", 5.24)}, sd)
	list := level.Falls(pipe(site.EffluentPipe, "tank", "box"), nil, n, straight(20*unit.Foot, 0.1*unit.Foot), imperial)
	if len(list) != 1 {
		t.Fatalf("falls %+v", list)
	}
	f := list[0]
	near(t, "drop", f.Drop.Feet(), 0.24, 1e-9)
	near(t, "its deviation", f.DropSD.Inches(), math.Sqrt2/16, 1e-9)
	near(t, "slope", f.Slope, 0.012, 1e-12)
	near(t, "its deviation", f.SlopeSD, math.Hypot(math.Sqrt2/16/12/20, 0.012*0.1/20), 1e-12)
	if f.Way != level.Falling || !f.Whole || f.From != "tank" || f.To != "box" || !f.RunKnown {
		t.Errorf("fall %+v", f)
	}
	if want := `falls 2 7/8" in 20' 0" (0.14 in/ft, 1.2 %), within 3/16" and 0.01 in/ft`; f.Words != want {
		t.Errorf("words %q, not %q", f.Words, want)
	}
	metric := level.Falls(pipe(site.EffluentPipe, "tank", "box"), nil, n, straight(6, 0), unit.Style{Form: unit.Metres})
	if want := "falls 0.073 m in 6.00 m (12.2 mm/m, 1.2 %), within 0.004 m and 0.7 mm/m"; metric[0].Words != want {
		t.Errorf("words %q, not %q", metric[0].Words, want)
	}
}

func TestWaysOfAPipe(t *testing.T) {
	for _, c := range []struct {
		kind  site.LineKind
		drop  float64 // ft
		way   level.Way
		words string
	}{
		{site.BuildingSewer, 0.25, level.Falling, "falls"},
		{site.BuildingSewer, 0.01, level.Level, "no fall is shown"},
		{site.BuildingSewer, -0.25, level.Backwards, "runs backwards"},
		{site.DrainLine, 0.01, level.Level, "level as far as the readings tell"},
		{site.DrainLine, -0.25, level.Backwards, "rises toward its end"},
		{site.PressurePipe, -0.25, level.Backwards, "as a pressure pipe may"},
		{site.DrainLine, 0.0144, level.Level, "level"},    // 1.96 √2/16 in = 0.01443 ft
		{site.DrainLine, 0.0145, level.Falling, "falls "}, // just told
	} {
		n := level.Adjust([]site.Reading{invert("one", "a", 5), invert("one", "b", 5+c.drop)}, sd)
		f := level.Falls(pipe(c.kind, "a", "b"), nil, n, nil, imperial)
		if len(f) != 1 || f[0].Way != c.way || !strings.Contains(f[0].Words, c.words) || f[0].RunKnown {
			t.Errorf("%s dropping %v: %+v", c.kind, c.drop, f)
		}
	}
}

// Stretches first, then the whole; a point whose invert is not known is passed
// over, and so is one of another set of readings.
func TestStretchesAndTheWhole(t *testing.T) {
	n := level.Adjust([]site.Reading{
		invert("one", "a", 5), invert("one", "c", 5.5), invert("one", "d", 5.25),
		ground("one", "b", 3), invert("two", "e", 4), invert("two", "f", 4),
	}, sd)
	got := ""
	for _, f := range level.Falls(pipe(site.DrainLine, "a", "b", "c", "d", "e", "f"), nil, n, nil, imperial) {
		got += string(f.From+">"+f.To+" "+site.Name(f.Way)) + map[bool]string{true: " whole"}[f.Whole] + "; "
	}
	if want := "a>c falls; c>d runs backwards; a>d falls whole; e>f level whole; "; got != want {
		t.Errorf("falls %q, not %q", got, want)
	}
}

// The line leaves the box by its own opening, read by the rod at a level point,
// or down from a level line that another opening shares with the rod.
func TestFallsFromAnOpeningOfABox(t *testing.T) {
	box := site.Box{
		Part:  "box",
		Inlet: &site.Opening{Rod: "box inlet"},
		Outlets: []site.Opening{
			{Line: "line 1", Rod: "box outlet 1", Down: down(6)},
			{Line: "line 2", Down: down(6.25)},
			{Line: "line 3"},
		},
	}
	lines := []site.Line{
		{Name: "in", Kind: site.EffluentPipe, Path: []site.Name{"tank", "box"}},
		{Name: "line 1", Kind: site.DrainLine, Path: []site.Name{"box", "end 1"}},
		{Name: "line 2", Kind: site.DrainLine, Path: []site.Name{"box", "end 2"}},
		{Name: "line 3", Kind: site.DrainLine, Path: []site.Name{"box", "end 3"}},
	}
	n := level.Adjust([]site.Reading{
		invert("one", "tank", 5), invert("one", "box inlet", 5.5), invert("one", "box outlet 1", 5.75),
		invert("one", "end 1", 6), invert("one", "end 2", 5.75), invert("one", "end 3", 5.75),
	}, sd)
	list := level.Falls(lines, []site.Box{box}, n, nil, imperial)
	if len(list) != 3 {
		t.Fatalf("falls %+v", list)
	}
	near(t, "into the box", list[0].Drop.Inches(), 6, 1e-6)
	near(t, "line 1", list[1].Drop.Inches(), 3, 1e-6)
	near(t, "line 2", list[2].Drop.Inches(), -0.25, 1e-6)
	near(t, "its deviation", list[2].DropSD.Inches(), 2.0/16, 1e-6) // two rods and two rules
	if list[2].Line != "line 2" || list[1].Way != level.Falling {
		t.Errorf("falls %+v", list)
	}
	// The depth of the pipe's top tells nothing of its invert.
	n = level.Adjust([]site.Reading{invert("one", "tank", 5), rod("one", "box", site.OnTop, 5), ground("one", "box", 3)}, sd)
	if list := level.Falls(lines[:1], nil, n, nil, imperial); len(list) != 0 {
		t.Errorf("falls %+v", list)
	}
}

// Depths in a box that nothing ties to the rods tell nothing of the pipes, so the
// rod at the box serves: into it 1 ft down, line 2 level, line 3 half a foot up.
// Where one opening is tied, all are, and the rod at the box is not used.
func TestARodAtABoxWhoseOpeningsStandAlone(t *testing.T) {
	box := site.Box{Part: "box", Inlet: &site.Opening{Line: "in", Down: down(4)},
		Outlets: []site.Opening{{Line: "line 2", Down: down(3.25)}, {Line: "line 3", Down: down(3)}}}
	lines := []site.Line{
		{Name: "in", Kind: site.EffluentPipe, Path: []site.Name{"tank", "box"}},
		{Name: "line 2", Kind: site.DrainLine, Path: []site.Name{"box", "end 2"}},
		{Name: "line 3", Kind: site.DrainLine, Path: []site.Name{"box", "bend", "end 3"}},
	}
	readings := []site.Reading{
		invert("one", "tank", 6), invert("one", "box", 5), invert("one", "end 2", 5), invert("one", "end 3", 4.5),
	}
	with := level.Falls(lines, []site.Box{box}, level.Adjust(readings, sd), nil, imperial)
	without := level.Falls(lines, nil, level.Adjust(readings, sd), nil, imperial)
	if len(with) != 3 || len(without) != 3 {
		t.Fatalf("falls %+v and %+v", with, without)
	}
	const note = "; by the rod at box, as nothing ties its opening to the other end"
	for i, want := range []float64{-1, 0, -0.5} {
		near(t, "drop", with[i].Drop.Feet(), want, 1e-9)
		if with[i].Words != without[i].Words+note {
			t.Errorf("words %q, not %q", with[i].Words, without[i].Words+note)
		}
		if with[i].Words = without[i].Words; with[i] != without[i] {
			t.Errorf("fall %+v, not %+v", with[i], without[i])
		}
	}
	if with[0].Way != level.Backwards || with[1].Way != level.Level || with[2].Way != level.Backwards {
		t.Errorf("falls %+v", with)
	}
	box.Outlets[0].Rod = "o2"
	tied := level.Adjust(append(readings, invert("one", "o2", 4.75)), sd)
	list := level.Falls(lines, []site.Box{box}, tied, nil, imperial)
	if len(list) != 3 {
		t.Fatalf("falls %+v", list)
	}
	// The opening of line 2 at 4.75 puts the inlet at 4.75 + 0.75/12 and that of
	// line 3 at 4.75 - 0.25/12.
	for i, want := range []float64{4.75 + 0.75/12 - 6, 0.25, 4.5 - 4.75 + 0.25/12} {
		near(t, "tied drop", list[i].Drop.Feet(), want, 1e-9)
		if strings.Contains(list[i].Words, "by the rod at") {
			t.Errorf("words %q", list[i].Words)
		}
	}
}

// An opening tied to the rods of one set-up and the rod at the box read from
// another each serve where they can, and no stretch is told twice.
func TestOpeningsComeBeforeTheRodAtTheirBox(t *testing.T) {
	box := site.Box{Part: "box", Outlets: []site.Opening{{Line: "line", Rod: "o"}}}
	lines := []site.Line{{Name: "line", Kind: site.DrainLine, Path: []site.Name{"box", "bend", "end"}}}
	one := []site.Reading{invert("one", "box", 5), invert("one", "bend", 5.25), invert("one", "end", 5.5)}
	for _, c := range []struct {
		boxes []site.Box
		two   []site.Reading
		want  string
	}{
		{[]site.Box{box}, []site.Reading{invert("two", "o", 4), invert("two", "TP", 4)},
			"box>bend 0.25 false; bend>end 0.25 false; box>end 0.50 true; "},
		// A second box makes a pair of openings: that comes first, and the whole is
		// not told again by the rods.
		{[]site.Box{box, {Part: "end", Inlet: &site.Opening{Line: "line", Rod: "i"}}},
			[]site.Reading{invert("two", "o", 4), invert("two", "i", 4.75)},
			"box>end 0.75 true; box>bend 0.25 false; bend>end 0.25 false; "},
		// One opening tied to the rods is enough for the whole of them.
		{[]site.Box{box}, []site.Reading{invert("one", "o", 4.75)},
			"box>bend 0.50 false; bend>end 0.25 false; box>end 0.75 true; "},
	} {
		got := ""
		n := level.Adjust(append(c.two, one...), sd)
		for _, f := range level.Falls(lines, c.boxes, n, nil, imperial) {
			got += fmt.Sprintf("%s>%s %.2f %v; ", f.From, f.To, f.Drop.Feet(), f.Whole)
		}
		if got != c.want {
			t.Errorf("falls %q, not %q", got, c.want)
		}
	}
}

// A run that cannot be right gives no slope.
func TestRunsOutOfReason(t *testing.T) {
	n := level.Adjust([]site.Reading{invert("one", "a", 5), invert("one", "b", 5.5)}, sd)
	for _, run := range []unit.Length{0, -1, unit.Length(math.NaN()), unit.Length(math.Inf(1))} {
		f := level.Falls(pipe(site.DrainLine, "a", "b"), nil, n, straight(run, 0), imperial)
		if f[0].RunKnown || !strings.Contains(f[0].Words, "not known") {
			t.Errorf("run %v: %+v", run, f[0])
		}
	}
}
