package figure_test

import (
	"strings"
	"testing"

	"undersod/core/figure"
	"undersod/core/hydraulic"
	"undersod/core/look"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

// words joins the texts of a figure.
func words(s sheet.Scene) string {
	var b strings.Builder
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			if t, ok := shape.(sheet.Text); ok {
				b.WriteString(t.Text + " ")
			}
		}
	}
	return b.String()
}

func says(t *testing.T, s sheet.Scene, want ...string) {
	t.Helper()
	text := words(s)
	for _, w := range want {
		if !strings.Contains(text, w) {
			t.Errorf("the figure does not say %q:\n%s", w, text)
		}
	}
}

func TestTheCheckOfAFigureFindsFaults(t *testing.T) {
	runs, falls := lineTwo()
	s := figure.Strip("Line 2", runs, falls, feetAndInches(180))
	last := len(s.Layers) - 1
	moved := s.Layers[last].Shapes[1].(sheet.Text)
	moved.At.X += 1
	s.Layers[last].Shapes = append(s.Layers[last].Shapes, moved)
	moved.At.X = 179
	moved.At.Y = 60
	s.Layers[last].Shapes = append(s.Layers[last].Shapes, moved)
	bad := strings.Join(faults(s), "\n")
	if !strings.Contains(bad, "lies on") || !strings.Contains(bad, "leaves the figure") {
		t.Errorf("a text on another and one off the paper are not found: %s", bad)
	}
}

func TestStripTellsWhereAndHowMuch(t *testing.T) {
	runs, falls := lineTwo()
	runs[0].Findings[2].At = written(feet(43)) // the counter read two feet more
	runs[0].Findings = append(runs[0].Findings, look.Finding{Finding: site.Finding{What: site.Cracked}, Grade: site.Act})
	s := figure.Strip("Line 2", runs, falls, feetAndInches(180))
	says(t, s, `Line 2, 54' 9" long`, "41' fine roots, closing 15 %", "(counter 43'", `46' 9" to 54' 9" standing`, `1 1/2" deep`,
		"22' to 24' flattened by 30 %", "falls 1/2\" in 47' 9\"", "in at D-box, pushed toward L2 end; reached the line end",
		"10 times as large", "1 finding without a footage")
	says(t, figure.Strip("Line 2", shortRun(), nil, feetAndInches(180)), "stopped at 31' by roots", "against the flow; stopped at 38' by soil",
		"not seen by the camera", "fall was not measured", "bore is not known")
}

// The pipe is drawn at one vertical scale: water of 1 1/2 in in a pipe of 4 in
// fills 37.5 % of its height.
func TestWaterStandsToTheScaleOfThePipe(t *testing.T) {
	runs, falls := lineTwo()
	say := feetAndInches(180)
	say.Bore = 4 * unit.Inch
	var deep, high sheet.MM
	for _, l := range figure.Strip("Line 2", runs, falls, say).Layers {
		for _, shape := range l.Shapes {
			p, ok := shape.(sheet.Path)
			if !ok || p.Fill == nil || len(p.Runs[0].Pieces) < 3 {
				continue
			}
			r := p.Runs[0]
			tall := r.Pieces[len(r.Pieces)-1].To.Y - r.Start.Y
			switch *p.Fill {
			case sheet.Colour{R: 150, G: 186, B: 204}:
				deep = tall
			case sheet.Colour{R: 240, G: 233, B: 220}:
				high = tall
			}
		}
	}
	if !(high > 0) || deep/high < 0.3749 || deep/high > 0.3751 {
		t.Errorf("the water is %v mm deep in a pipe of %v mm, expected 0.375 of it", deep, high)
	}
}

func TestSectionTellsLevelsAndShares(t *testing.T) {
	b, m := opened(0.25, 0, 0.1875)
	s := figure.Section(b, m, divided(5*unit.GallonPerMinute, 0.9*unit.Inch, 0.27, 0.44, 0.29), feetAndInches(180))
	says(t, s, "D-box", `+1/4"`, `+3/16"`, `floor -2"`, `lid +9 1/2"`, `inlet +2 1/4"`, "How 5.0 gpm divides", "44 %", "2.2 gpm", "should have, 33 %")
	says(t, figure.Section(b, m, divided(972*unit.GallonPerDay, 0.3*unit.Inch, 0.04, 0.92, 0.04), feetAndInches(180)), "How 0.7 gpm divides", "0.6 gpm")
	says(t, figure.Section(b, m, divided(972*unit.GallonPerDay, 0.3*unit.Inch, 0.04, 0.92, 0.04), inMetres(180)), "How 0.04 L/s divides")
	b.Missing = []string{"no flow is known"}
	says(t, figure.Section(b, m, hydraulic.Split{}, feetAndInches(180)), "How the flow divides is not known: no flow is known.")
}

// A quarter of an inch shows as a millimetre at least, even under a lid 40 in
// above the outlets.
func TestAQuarterInchIsSeen(t *testing.T) {
	b, m := opened(0.25, 0)
	b.Lid = height(40 * unit.Inch)
	var at []sheet.MM
	for _, l := range figure.Section(b, m, hydraulic.Split{}, feetAndInches(180)).Layers {
		for _, shape := range l.Shapes {
			if p, ok := shape.(sheet.Path); ok && p.Stroke != nil && p.Stroke.Width == 0.5 {
				at = append(at, p.Runs[0].Start.Y)
			}
		}
	}
	if len(at) != 2 || at[1]-at[0] < 1 {
		t.Errorf("the inverts are drawn at %v mm, expected two at least 1 mm apart", at)
	}
}

// The inlet is drawn with its own bore: what stands higher makes the heights
// smaller.
func TestTheInletHasItsOwnBore(t *testing.T) {
	b, m := opened(0.25, 0)
	b.Lid, b.Floor = nil, nil
	tall := func(bore unit.Length) sheet.MM {
		m.Inlet = &site.Opening{Bore: bore}
		for _, l := range figure.Section(b, m, hydraulic.Split{}, feetAndInches(180)).Layers {
			var walls []sheet.MM // the inlet's top and bottom run from the left edge of its stub
			for _, shape := range l.Shapes {
				if p, ok := shape.(sheet.Path); ok && p.Stroke != nil && p.Stroke.Width == 0.35 && len(p.Runs[0].Pieces) == 1 && p.Runs[0].Start.Y == p.Runs[0].Pieces[0].To.Y {
					walls = append(walls, p.Runs[0].Start.Y)
				}
			}
			if len(walls) >= 2 {
				return walls[1] - walls[0]
			}
		}
		return 0
	}
	small, large, unknown := tall(3*unit.Inch), tall(6*unit.Inch), tall(0)
	if !(small > 0 && small < unknown && unknown < large) {
		t.Errorf("inlets of 3 in, unknown and 6 in are drawn %v, %v and %v mm high", small, unknown, large)
	}
}

func TestDayTellsWhenATrenchIsFull(t *testing.T) {
	run, r := ponding(1, 3, 8, 3)
	r.Backed, r.BackAt = 12*unit.Gallon, 72000
	says(t, figure.Day(run, r, feetAndInches(180)), "Line 2 full to the top at 12:05 pm", "water backs up into the box from 8 pm",
		"12 gal found no room", "Line 1 and Line 3", "full", "450 gal a day")
	run, r = ponding(3, 3)
	says(t, figure.Day(run, r, inMetres(180)), "full to the top, day 3,", "cm")
}
