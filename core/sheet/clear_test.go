package sheet_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/examples"
	"undersod/internal/jobfile"
	"undersod/internal/render"
)

// layer returns the shapes of a layer.
func layer(s sheet.Scene, name string) []sheet.Shape {
	for _, l := range s.Layers {
		if l.Name == name {
			return l.Shapes
		}
	}
	return nil
}

// flat joins all words of a sheet without the breaks of its lines.
func flat(s sheet.Scene) string { return strings.Join(strings.Fields(words(s)), " ") }

// checkInside finds what leaves the frame of the sheet, or is no number.
func checkInside(s sheet.Scene) []string {
	var bad []string
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			p, ok := shape.(sheet.Path)
			if !ok {
				continue
			}
			for _, seg := range pieces(p) {
				if !within(seg[:], s.Width, s.Height) || math.IsNaN(float64(seg[0].X+seg[0].Y+seg[1].X+seg[1].Y)) {
					bad = append(bad, fmt.Sprintf("%q of layer %q leaves the sheet at %v", p.Name, l.Name, seg))
					break
				}
			}
		}
	}
	return bad
}

func TestClearKeepsThePromisesOfTheSheet(t *testing.T) {
	for _, form := range []unit.Form{unit.FeetInches, unit.Metres} {
		y, c := clearYard(form)
		for _, paper := range []sheet.Paper{sheet.PaperAuto, sheet.Letter, sheet.Tabloid, sheet.A4, sheet.A3} {
			for _, ties := range []bool{false, true} {
				s := draw(t, y, sheet.Options{Paper: paper, Ties: ties, Clear: c})
				for _, b := range append(checkSheet(s), checkInside(s)...) {
					t.Errorf("form %d, paper %q, ties %v: %s", form, paper, ties, b)
				}
				if n := numbers(s); n > 12 {
					t.Errorf("form %d, paper %q, ties %v: %d labels became numbers", form, paper, ties, n)
				}
			}
		}
	}
}

func TestLabelsKeepClearOfWhatIsProposed(t *testing.T) {
	for seed := range uint64(40) {
		y := randomYard(seed)
		r := rand.New(rand.NewPCG(seed, 3))
		s := draw(t, y, sheet.Options{Clear: randomClear(r)})
		for _, b := range append(checkSheet(s), checkInside(s)...) {
			t.Errorf("yard %d: %s", seed, b)
		}
	}
}

// randomClear is setbacks and things to build anywhere near a house at 0.
func randomClear(r *rand.Rand) *sheet.Clear {
	c := &sheet.Clear{AllowedAs: "where the middle of the shed may lie"}
	f := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	for i := range 1 + r.IntN(8) {
		c.Bands = append(c.Bands, sheet.Band{Area: sheet.Patch{Outer: round(f(-60, 100), f(-120, 80), f(2, 90), 40)}, Words: fmt.Sprintf("%d ft from thing %d", 5*i, i)})
	}
	e, n := f(-60, 60), f(-110, 40)
	c.Allowed = []sheet.Patch{{Outer: round(e, n, 30, 50), Holes: []planar.Ring{round(e, n, 12, 30)}}}
	c.Proposed = []sheet.Proposal{{Name: "Shed", Outline: upright(e, n, e+f(3, 20), n+f(3, 20)), Words: []string{"Shed", `12' 0" x 8' 0"`}}}
	for i := range r.IntN(6) {
		c.Distances = append(c.Distances, sheet.Distance{From: feet(e, n), To: feet(f(-80, 120), f(-140, 90)), Words: fmt.Sprintf(`%d' 3", 20' required`, 10+i), Grade: site.Note + site.Grade(i%3)})
	}
	return c
}

func TestWithoutClearNothingChanges(t *testing.T) {
	y := metricYard()
	if !reflect.DeepEqual(draw(t, y, sheet.Options{}), draw(t, y, sheet.Options{Clear: &sheet.Clear{AllowedAs: "anything"}})) {
		t.Error("a clear with nothing in it changes the sheet")
	}
}

func TestClearIsExplainedAndLayered(t *testing.T) {
	y, c := clearYard(unit.FeetInches)
	c.Sources, c.Title = []string{"An invented code, table 1"}, "Planned: workshop"
	s := draw(t, y, sheet.Options{Clear: c})
	text := flat(s)
	for _, w := range []string{
		"Where the distances come from", "An invented code, table 1", "Planned: workshop",
		"edge of a setback, as named along it", "where the middle of the workshop may lie", "proposed, not built", "proposed well",
		"distance: clear", "distance: too close to call", "distance: short",
		`20' 0" from the drain lines`, `10' 0" from the tank`, `50' 0" from the well`, `10' 0" from the lot line`,
		`26' 0", 10' 0" required`, "Workshop", "New well",
		`All of the drawing lies within: 400' 0" from the quarry`, `A distance that leads beyond the drawing: 100' 0", 100' 0" required`,
	} {
		if !strings.Contains(text, w) {
			t.Errorf("the sheet does not say %q: %s", w, text)
		}
	}
	for _, name := range []string{"allowed region", "setbacks", "proposed", "distances"} {
		if len(layer(s, name)) == 0 {
			t.Errorf("layer %q is empty", name)
		}
	}
	bare := flat(draw(t, y, sheet.Options{}))
	for _, w := range []string{"setback", "middle of", "proposed", "distance:", "distances come"} {
		if strings.Contains(bare, w) {
			t.Errorf("a sheet without setbacks says %q", w)
		}
	}
}

func TestGradesAreToldWithoutColour(t *testing.T) {
	y, c := clearYard(unit.FeetInches)
	s := draw(t, y, sheet.Options{Clear: c})
	lines := map[string]string{}
	for _, d := range c.Distances[:4] {
		p := pathsOf(s, "distances", d.Words)
		if len(p) < 3 {
			t.Fatalf("%q has %d paths, expected a line and two signs", d.Words, len(p))
		}
		looks := fmt.Sprintf("%v %v, sign of %d pieces", p[0].Stroke.Width, p[0].Stroke.Dash, len(p[1].Runs[0].Pieces))
		if was, seen := lines[looks]; seen && d.Grade != site.Note {
			t.Errorf("%q looks like %q", d.Words, was)
		}
		lines[looks] = d.Words
	}
	if len(lines) != 3 {
		t.Errorf("three grades have %d looks: %v", len(lines), lines)
	}
}

func TestRegionIsHatchedInsideAndItsHolesAreOpen(t *testing.T) {
	y, c := clearYard(unit.FeetInches)
	s := draw(t, y, sheet.Options{Clear: c})
	lines := 0
	for _, shape := range layer(s, "allowed region") {
		p := shape.(sheet.Path)
		if len(p.Runs) < 20 || len(p.Runs[0].Pieces) != 1 {
			continue // the outline
		}
		for _, r := range p.Runs {
			a, b := s.Mapping.Plan(r.Start), s.Mapping.Plan(r.Pieces[0].To)
			lines++
			for _, share := range []float64{0.02, 0.3, 0.5, 0.7, 0.98} {
				v := a.Plus(b.Minus(a).Times(share))
				in := c.Allowed[0].Outer.Contains(v) && !c.Allowed[0].Holes[0].Contains(v)
				if c.Allowed[1].Outer.Contains(v) {
					in = true
				}
				if !in {
					t.Fatalf("the hatch runs over %v, which is not in the region", v)
				}
			}
		}
	}
	if lines < 40 {
		t.Errorf("only %d lines hatch the region", lines)
	}
}

func TestOnlyWhatIsProposedSetsTheScale(t *testing.T) {
	y := randomYard(1)
	plain := draw(t, y, sheet.Options{Paper: sheet.Tabloid})
	far := &sheet.Clear{
		Bands:     []sheet.Band{{Area: sheet.Patch{Outer: round(500, 0, 600, 90)}, Words: "600 ft from the works"}},
		Allowed:   []sheet.Patch{{Outer: upright(-2000, -2000, -1000, 2000)}, {Outer: upright(-10, -200, 40, -20)}},
		Distances: []sheet.Distance{{From: feet(20, -40), To: feet(-900, -40), Words: "920 ft, 100 ft required"}},
	}
	s := draw(t, y, sheet.Options{Clear: far, Paper: sheet.Tabloid})
	if was := draw(t, y, sheet.Options{Paper: sheet.Tabloid}); s.Mapping.MMPerMetre != was.Mapping.MMPerMetre {
		t.Errorf("drawn at 1:%.0f, expected 1:%.0f as without setbacks", 1000/s.Mapping.MMPerMetre, 1000/was.Mapping.MMPerMetre)
	}
	for _, b := range append(checkSheet(s), checkInside(s)...) {
		t.Error(b)
	}
	far.Proposed = []sheet.Proposal{{Name: "Barn", Outline: upright(240, -40, 280, 0), Words: []string{"Barn"}}}
	s = draw(t, y, sheet.Options{Clear: far, Paper: sheet.Tabloid})
	if s.Mapping.MMPerMetre >= plain.Mapping.MMPerMetre {
		t.Error("the drawing did not make room for the barn")
	}
	p := pathsOf(s, "proposed", "Barn")
	if len(p) != 1 {
		t.Fatalf("the barn has %d outlines", len(p))
	}
	if d := s.Mapping.Plan(p[0].Runs[0].Start).Minus(feet(240, -40)).Length(); d > unit.Millimetre {
		t.Errorf("the barn's corner is drawn %v m off", d)
	}
	for _, b := range append(checkSheet(s), checkInside(s)...) {
		t.Error(b)
	}
}

func TestADistanceThatLeavesTheDrawingIsBroken(t *testing.T) {
	y := randomYard(1)
	d := sheet.Distance{From: feet(-20, -40), To: feet(-900, -60), Words: "880 ft, 100 ft required"}
	s := draw(t, y, sheet.Options{Clear: &sheet.Clear{Distances: []sheet.Distance{d}}})
	p := pathsOf(s, "distances", d.Words)
	if len(p) != 3 {
		t.Fatalf("%d paths, expected the line, a sign and a break", len(p))
	}
	if n := len(p[2].Runs); n != 2 {
		t.Errorf("the break has %d strokes, expected 2", n)
	}
	if !strings.Contains(flat(s), d.Words) {
		t.Error("its words are not on the sheet")
	}
}

func TestThirtyBands(t *testing.T) {
	y, c := clearYard(unit.FeetInches)
	c.Bands = nil
	for i := range 30 {
		e, n := -60+float64(i%6)*28, -115+float64(i/6)*30
		c.Bands = append(c.Bands, sheet.Band{Area: sheet.Patch{Outer: round(e, n, 8+float64(i), 64)}, Words: fmt.Sprintf("%d ft from thing %d", 8+i, i)})
	}
	s := draw(t, y, sheet.Options{Clear: c})
	for _, b := range append(checkSheet(s), checkInside(s)...) {
		t.Error(b)
	}
	text := flat(s)
	for _, b := range c.Bands {
		if !strings.Contains(text, b.Words) {
			t.Errorf("the sheet does not say %q", b.Words)
		}
	}
}

func TestHostileClear(t *testing.T) {
	nan, inf := unit.Length(math.NaN()), unit.Length(math.Inf(1))
	bad := planar.Vec{East: nan, North: inf}
	r := rand.New(rand.NewPCG(1, 2))
	ragged := make(planar.Ring, 5000)
	for i := range ragged {
		ragged[i] = feet(r.Float64()*200-100, r.Float64()*200-100)
	}
	long := strings.Repeat("very ", 2000) + "long"
	tests := map[string]*sheet.Clear{
		"nothing":   {},
		"empty":     {Bands: make([]sheet.Band, 3), Allowed: make([]sheet.Patch, 3), Proposed: make([]sheet.Proposal, 3), Distances: make([]sheet.Distance, 3)},
		"no number": {Bands: []sheet.Band{{sheet.Patch{Outer: planar.Ring{bad, bad, bad, feet(1, 1)}, Holes: []planar.Ring{{bad}}}, "x"}}, Allowed: []sheet.Patch{{Outer: planar.Ring{bad, bad, bad}}}, Proposed: []sheet.Proposal{{Name: "Ghost", Outline: planar.Ring{bad}}, {Name: "Half", Outline: planar.Ring{bad, feet(0, 40), feet(10, 40)}}}, Distances: []sheet.Distance{{bad, feet(0, 0), "x", site.Act}, {feet(0, 0), planar.Vec{East: 1e300}, "x", 200}}},
		"one place": {Bands: []sheet.Band{{sheet.Patch{Outer: planar.Ring{feet(1, 1), feet(1, 1), feet(1, 1), feet(1, 1)}}, "x"}, {sheet.Patch{Outer: planar.Ring{feet(1, 1), feet(2, 2), feet(1, 1), feet(2, 2)}}, "flat"}}, Distances: []sheet.Distance{{feet(20, -40), feet(20, -40), "0, 10 ft required", site.Act}, {feet(20, -45), feet(20.001, -45), "", 0}}},
		"ragged":    {Bands: []sheet.Band{{sheet.Patch{Outer: ragged}, "ragged"}}, Allowed: []sheet.Patch{{Outer: ragged, Holes: []planar.Ring{ragged}}}, Proposed: []sheet.Proposal{{Name: "Star", Outline: ragged[:50], Words: []string{"Star", ""}}}},
		"long":      {Bands: []sheet.Band{{sheet.Patch{Outer: round(0, -60, 40, 3)}, long}}, AllowedAs: long, Allowed: []sheet.Patch{{Outer: round(0, -60, 20, 5000)}}, Proposed: []sheet.Proposal{{Name: site.Name(long), Outline: round(60, -60, 10, 4), Words: []string{long}}}, Distances: []sheet.Distance{{feet(0, -60), feet(60, -60), long, 9}}},
		"huge":      {Bands: []sheet.Band{{sheet.Patch{Outer: round(0, 0, 300_000, 7)}, "huge"}}, Allowed: []sheet.Patch{{Outer: round(0, 0, 200_000, 2000)}}},
	}
	for name, c := range tests {
		t.Run(name, func(t *testing.T) {
			s := draw(t, randomYard(2), sheet.Options{Clear: c})
			for i, b := range append(checkSheet(s), checkInside(s)...) {
				if i < 5 {
					t.Errorf("%s: %s", name, b)
				}
			}
		})
	}
	if !strings.Contains(words(draw(t, randomYard(2), sheet.Options{Clear: tests["no number"]})), "Ghost: proposed, but its place is not known") {
		t.Error("something proposed that cannot be drawn is dropped in silence")
	}
}

// BenchmarkDrawDemo draws the demo with and without what the owner asks for.
func BenchmarkDrawDemo(b *testing.B) {
	text, err := examples.Files.ReadFile("quarry-hollow.yaml")
	if err != nil {
		b.Fatal(err)
	}
	r, err := jobfile.ReadBeside("quarry-hollow.yaml", bytes.NewReader(text), examples.Files)
	if err != nil {
		b.Fatal(err)
	}
	plan := adjust.Solve(&r.Job, adjust.Settings{})
	for _, bb := range []struct {
		name string
		c    *sheet.Clear
	}{{"without", nil}, {"with", demoClear(plan)}} {
		b.Run(bb.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := sheet.Draw(r.Job, *plan, render.Metrics(), sheet.Options{Clear: bb.c}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// demoClear is a workshop beside the demo's field, with setbacks of the system.
func demoClear(plan *adjust.Plan) *sheet.Clear {
	c := &sheet.Clear{AllowedAs: "where the middle of the workshop may lie"}
	var tank planar.Vec
	for _, o := range plan.Outlines {
		tank = o.Centre
	}
	e, n := tank.East.Feet(), tank.North.Feet()
	shop := upright(e+70, n-20, e+86, n+4)
	c.Bands = []sheet.Band{
		{Area: sheet.Patch{Outer: round(e, n, 9, 60)}, Words: "5 ft from the tank"},
		{Area: sheet.Patch{Outer: grown(e-5, n-80, e+30, n-14, 10)}, Words: "10 ft from the drain lines"},
		{Area: sheet.Patch{Outer: grown(e-3, n-12, e+6, n-8, 5)}, Words: "5 ft from the box"},
		{Area: sheet.Patch{Outer: round(e+95, n+88, 50, 90)}, Words: "50 ft from the well"},
	}
	c.Allowed = []sheet.Patch{{Outer: upright(e+60, n-60, e+100, n+50), Holes: []planar.Ring{round(e+80, n-40, 6, 40)}}}
	c.Proposed = []sheet.Proposal{{Name: "Workshop", Outline: shop, Words: []string{"Workshop", `24' 0" x 16' 0"`}}}
	for i, to := range []planar.Vec{feet(e+55, n-30), feet(e+78, n-75), feet(e+118, n+4), feet(e+25, n+6)} {
		c.Distances = append(c.Distances, sheet.Distance{From: [...]planar.Vec{feet(e+70, n-20), feet(e+78, n-20), feet(e+86, n+4), feet(e+70, n+4)}[i], To: to, Words: fmt.Sprintf(`%d' 3", 10' required`, 20+i), Grade: site.Note})
	}
	return c
}
