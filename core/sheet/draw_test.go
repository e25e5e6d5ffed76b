package sheet_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

func draw(t *testing.T, y *yard, o sheet.Options) sheet.Scene {
	t.Helper()
	s, err := sheet.Draw(y.job, y.plan, rough{}, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// words joins all text of the sheet in drawing order.
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

// pathsOf returns the paths of a thing in one layer.
func pathsOf(s sheet.Scene, layer, name string) []sheet.Path {
	var out []sheet.Path
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			if p, ok := shape.(sheet.Path); ok && l.Name == layer && p.Name == name {
				out = append(out, p)
			}
		}
	}
	return out
}

func TestPositionsMeasureBack(t *testing.T) {
	for seed := range uint64(20) {
		y := randomYard(seed)
		s := draw(t, y, sheet.Options{})
		house := pathsOf(s, "buildings", "House")[0].Runs[0]
		for i, n := range []site.Name{"A", "B", "C", "D"} {
			at := house.Start
			if i > 0 {
				at = house.Pieces[i-1].To
			}
			if d := s.Mapping.Plan(at).Minus(y.at[n]).Length(); float64(d)*s.Mapping.MMPerMetre > 0.1 {
				t.Errorf("yard %d: corner %s is drawn %v m off", seed, n, d)
			}
		}
		box := pathsOf(s, "parts", "D-box")[0].Runs[0]
		mid := sheet.Pos{X: (box.Start.X + box.Pieces[1].To.X) / 2, Y: (box.Start.Y + box.Pieces[1].To.Y) / 2}
		want := s.Mapping.Paper(y.at["D-box"])
		if hypot(float64(mid.X-want.X), float64(mid.Y-want.Y)) > 0.1 {
			t.Errorf("yard %d: D-box is drawn at %v, expected %v", seed, mid, want)
		}
	}
}

func TestTrenchIsDrawnToScale(t *testing.T) {
	y := randomYard(3)
	y.job.Site.Lines[len(y.job.Site.Lines)-1].TrenchWidth = 3 * unit.Foot
	name := string(y.job.Site.Lines[len(y.job.Site.Lines)-1].Name)
	s := draw(t, y, sheet.Options{})
	for _, p := range pathsOf(s, "pipes and trenches", name) {
		if p.Fill == nil || p.Stroke != nil || len(p.Runs[0].Pieces) != 3 {
			continue
		}
		r := p.Runs[0]
		wide := hypot(float64(r.Start.X-r.Pieces[2].To.X), float64(r.Start.Y-r.Pieces[2].To.Y))
		if want := 3 * 0.3048 * s.Mapping.MMPerMetre; math.Abs(wide-want) > 1e-6 {
			t.Errorf("the trench is %.3f mm wide, expected %.3f", wide, want)
		}
		return
	}
	t.Error("no trench is drawn")
}

func TestSameInputSameScene(t *testing.T) {
	for name, y := range specials() {
		if name == "full" {
			continue // slow, and nothing in it is special to this test
		}
		a, b := draw(t, y, sheet.Options{}), draw(t, y, sheet.Options{})
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%s: two drawings of one job differ", name)
		}
	}
}

func TestSpecialYardsKeepTheirPromises(t *testing.T) {
	for name, y := range specials() {
		for _, ties := range []bool{false, true} {
			if ties && name == "full" {
				continue
			}
			s := draw(t, y, sheet.Options{Ties: ties})
			for _, b := range checkSheet(s) {
				t.Errorf("%s: %s", name, b)
			}
		}
	}
}

func TestTheCheckOfTheSheetFindsFaults(t *testing.T) {
	y := randomYard(1)
	s := draw(t, y, sheet.Options{})
	for i, l := range s.Layers {
		if l.Name != "labels" {
			continue
		}
		moved := l.Shapes[0].(sheet.Text)
		moved.Name = "elsewhere"
		moved.At.X += 2
		s.Layers[i].Shapes = append(s.Layers[i].Shapes, moved)
	}
	if len(checkSheet(s)) == 0 {
		t.Error("a label moved onto another is not found")
	}
}

func TestPapersAndScales(t *testing.T) {
	y := randomYard(1)
	tests := []struct {
		name   string
		form   unit.Form
		o      sheet.Options
		w, h   sheet.MM
		scale  float64
		phrase string
	}{
		{"tabloid upright", unit.FeetInches, sheet.Options{Paper: sheet.Tabloid, Orientation: sheet.Portrait, Scale: 240}, 279.4, 431.8, 240, "1 in = 20 ft (1:240)"},
		{"tabloid lying", unit.FeetInches, sheet.Options{Paper: sheet.Tabloid, Orientation: sheet.Landscape, Scale: 600}, 431.8, 279.4, 600, "1 in = 50 ft (1:600)"},
		{"A3", unit.Metres, sheet.Options{Paper: sheet.A3, Orientation: sheet.Portrait, Scale: 250}, 297, 420, 250, "Scale 1:250"},
		{"A4", unit.Metres, sheet.Options{Paper: sheet.A4, Orientation: sheet.Landscape, Scale: 500}, 297, 210, 500, "Scale 1:500"},
	}
	for _, tt := range tests {
		y.job.Show.Form = tt.form
		s := draw(t, y, tt.o)
		if s.Width != tt.w || s.Height != tt.h {
			t.Errorf("%s: the sheet is %v x %v mm, expected %v x %v", tt.name, s.Width, s.Height, tt.w, tt.h)
		}
		if got := 1000 / s.Mapping.MMPerMetre; math.Abs(got-tt.scale) > 1e-9 {
			t.Errorf("%s: drawn at 1:%v, expected 1:%v", tt.name, got, tt.scale)
		}
		if !strings.Contains(words(s), tt.phrase) {
			t.Errorf("%s: the sheet does not say %q", tt.name, tt.phrase)
		}
	}
}

// Usual engineer's scales; common practice, no source.
func TestScalesAreUsualOnes(t *testing.T) {
	feet := map[int]bool{120: true, 240: true, 360: true, 480: true, 600: true, 720: true, 1200: true}
	metres := map[int]bool{100: true, 200: true, 250: true, 500: true}
	for seed := range uint64(40) {
		y := randomYard(seed)
		if s := draw(t, y, sheet.Options{}); !feet[int(math.Round(1000/s.Mapping.MMPerMetre))] {
			t.Errorf("yard %d is drawn at 1:%v", seed, 1000/s.Mapping.MMPerMetre)
		}
		y.job.Show.Form = unit.Metres
		s := draw(t, y, sheet.Options{})
		if !metres[int(math.Round(1000/s.Mapping.MMPerMetre))] {
			t.Errorf("yard %d is drawn at 1:%v in metres", seed, 1000/s.Mapping.MMPerMetre)
		}
		if min(s.Width, s.Height) != 210 && min(s.Width, s.Height) != 297 {
			t.Errorf("yard %d: a metric sheet of %v x %v mm", seed, s.Width, s.Height)
		}
	}
}

func TestErrorsSayWhatToDo(t *testing.T) {
	y := randomYard(1)
	empty := newYard(1)
	tests := []struct {
		y    *yard
		o    sheet.Options
		says string
	}{
		{empty, sheet.Options{}, "no point of the plan is located"},
		{y, sheet.Options{Paper: "napkin"}, `paper "napkin" is not known`},
		{y, sheet.Options{Scale: -4}, "for example 1:240"},
		{y, sheet.Options{Scale: 60}, "does not fit on tabloid paper"},
		{y, sheet.Options{Orientation: 9}, "orientation 9"},
	}
	for _, tt := range tests {
		_, err := sheet.Draw(tt.y.job, tt.y.plan, rough{}, tt.o)
		if err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%+v: error %v, expected one that says %q", tt.o, err, tt.says)
		}
	}
}

func TestDoubtIsShown(t *testing.T) {
	y := doubtYard()
	s := draw(t, y, sheet.Options{})
	text := words(s)
	for _, w := range []string{
		"Not located or in doubt", "Not final: readings disagree", "L3 end: readings disagree", "L2 end: only one tie reaches it", "L1 end: two answers", "Magnetic north",
		"lies inside, 95 % sure", "one place or the other", "2.6 ft", "* as written; it disagrees",
	} {
		if !strings.Contains(text, w) {
			t.Errorf("the sheet does not say %q", w)
		}
	}
	if n := strings.Count(text, "L1 end ?"); n != 2 {
		t.Errorf("the point with two answers is labelled %d times, expected 2", n)
	}
	if p := pathsOf(s, "parts", "L2 end"); len(p) > 0 {
		t.Error("a point that is not determined is drawn as located")
	}
	if p := pathsOf(s, "parts", "Old cleanout"); len(p) > 0 {
		t.Error("a point that is not connected is drawn")
	}
}

func TestFarFeaturesDoNotShrinkTheSystem(t *testing.T) {
	s := draw(t, ruralYard(), sheet.Options{})
	if scale := 1000 / s.Mapping.MMPerMetre; scale > 720.5 {
		t.Errorf("drawn at 1:%.0f, expected 1 in = 60 ft or larger", scale)
	}
	text := words(s)
	for _, w := range []string{"Beyond the drawing", "Barn well lies beyond the drawing", "Farm line", "Lot line goes on beyond the drawing"} {
		if !strings.Contains(text, w) {
			t.Errorf("the sheet does not say %q", w)
		}
	}
	for _, p := range append(pathsOf(s, "boundaries and services", "Farm line"), pathsOf(s, "areas", "Old pond")...) {
		for _, seg := range pieces(p) {
			if !within(seg[:], s.Width, s.Height) {
				t.Errorf("%s leaves the drawing", p.Name)
			}
		}
	}
}

func TestRingsAreToScaleOrLeftToTheTable(t *testing.T) {
	y := randomYard(2)
	for i := range y.plan.Points {
		y.plan.Points[i].Ellipse = adjust.Ellipse{Major: unit.Inch, Minor: unit.Inch / 2, Radius: unit.Inch}
	}
	if s := draw(t, y, sheet.Options{}); len(pathsOf(s, "uncertainty", "D-box")) > 0 || strings.Contains(words(s), "lies inside") {
		t.Error("a ring of one inch is drawn or explained")
	}
	y.find("D-box").Ellipse = adjust.Ellipse{Major: 4 * unit.Foot, Minor: 2 * unit.Foot, Azimuth: 40 * unit.Degree, Radius: 3 * unit.Foot}
	s := draw(t, y, sheet.Options{})
	p := pathsOf(s, "uncertainty", "D-box")
	if len(p) != 1 {
		t.Fatalf("%d rings are drawn, expected 1", len(p))
	}
	got := s.Mapping.Plan(p[0].Runs[0].Start).Minus(y.at["D-box"])
	want := planar.Polar(40*unit.Degree, 4*unit.Foot)
	if got.Minus(want).Length() > unit.Millimetre {
		t.Errorf("the ring reaches %v, expected %v", got, want)
	}
}

func TestTitleBlockShowsEmptyFields(t *testing.T) {
	y := randomYard(2)
	y.job.Site.Owner = ""
	text := words(draw(t, y, sheet.Options{}))
	for _, w := range []string{"Licence no.", "Owner", "Permit no. OC-2026-118", "2026-05-14", "It is not a boundary", "local authority", "Call before", "0' 6\"", "county rule"} {
		if w == "0' 6\"" {
			w = `6"`
		}
		if !strings.Contains(text, w) {
			t.Errorf("the sheet does not say %q", w)
		}
	}
}

func TestTankToScaleIsToldFromItsSymbol(t *testing.T) {
	tests := []struct {
		name          string
		length, width unit.Length
		says, not     string
		hatched       bool
	}{
		{"size known", 8 * unit.Foot, 5 * unit.Foot, "septic tank, to scale", "size not measured", true},
		{"size not known", 0, 0, "septic tank, size not measured", "tank, to scale", false},
	}
	for _, tt := range tests {
		y := newYard(5)
		y.house(40, 28)
		y.part("Tank", site.SepticTank, feet(10, -20), "")
		p := &y.job.Site.Parts[0]
		p.Length, p.Width = tt.length, tt.width
		s := draw(t, y, sheet.Options{})
		text := strings.Join(strings.Fields(words(s)), " ")
		if !strings.Contains(text, tt.says) || strings.Contains(text, tt.not) {
			t.Errorf("%s: expected %q in the legend and not %q: %s", tt.name, tt.says, tt.not, text)
		}
		if got := len(pathsOf(s, "tanks", "Tank")) == 2; got != tt.hatched {
			t.Errorf("%s: hatched %v, expected %v", tt.name, got, tt.hatched)
		}
		for _, sign := range pathsOf(s, "parts", "Tank") {
			if sign.Stroke.Dash == nil {
				t.Errorf("%s: the symbol has the full edge of a tank to scale", tt.name)
			}
		}
	}
}

func TestStampSaysWhyNotFinal(t *testing.T) {
	no := adjust.Verdict{Fill: adjust.FillNo, Words: "Leave the hole open."}
	tests := []struct {
		name string
		make func(y *yard)
		says string
	}{
		{"unsure", func(y *yard) { y.plan.Verdict = adjust.Verdict{Fill: adjust.FillUnsure, Words: "Measure more."} }, "NOT FINAL: not everything is checked"},
		{"flagged", func(y *yard) { y.plan.Verdict, y.plan.Readings[0].Flagged = no, true }, "NOT FINAL: readings disagree "},
		{"open", func(y *yard) { y.plan.Verdict, y.find("D-box").State = no, adjust.Undetermined }, "NOT FINAL: not everything is located"},
		{"not fitted", func(y *yard) { y.plan.Verdict, y.plan.Outlines[0].Fitted = no, false }, "NOT FINAL: not everything is located"},
		{"both", func(y *yard) {
			y.plan.Verdict, y.plan.Search.Unexplained, y.plan.Outlines[0].Fitted = no, true, false
		}, "NOT FINAL: readings disagree; not everything is located"},
		{"other", func(y *yard) { y.plan.Verdict = no }, "NOT FINAL: see the check"},
	}
	for _, tt := range tests {
		y := randomYard(2)
		tt.make(y)
		s := draw(t, y, sheet.Options{})
		if text := words(s); !strings.Contains(text, tt.says) {
			t.Errorf("%s: the sheet does not say %q:\n%s", tt.name, tt.says, text)
		}
		for _, b := range checkSheet(s) {
			t.Errorf("%s: %s", tt.name, b)
		}
	}
	y := randomYard(2)
	y.plan.Verdict = adjust.Verdict{Fill: adjust.FillYes, Words: "Fill."}
	if strings.Contains(words(draw(t, y, sheet.Options{})), "NOT FINAL") {
		t.Error("a final drawing is stamped")
	}
}

func TestLegendHoldsOnlyWhatIsDrawn(t *testing.T) {
	y := newYard(5)
	y.house(40, 28)
	y.part("Lid", site.Lid, feet(10, -20), "")
	text := words(draw(t, y, sheet.Options{}))
	for _, w := range []string{"septic tank ", "distribution box", "driveway", "tree", "fence", "tie, tape"} {
		if strings.Contains(text, w) {
			t.Errorf("the legend explains %q, which is not drawn", w)
		}
	}
	for _, w := range []string{"lid", "building", "mark or corner"} {
		if !strings.Contains(text, w) {
			t.Errorf("the legend does not explain %q", w)
		}
	}
}

func TestNumbersThatAreNoneDoNoHarm(t *testing.T) {
	nan, inf := unit.Length(math.NaN()), unit.Length(math.Inf(1))
	for _, v := range []planar.Vec{{East: nan}, {North: inf}, {East: 1e12, North: -1e12}, {East: -inf, North: nan}} {
		y := randomYard(9)
		for _, n := range []site.Name{"D-box", "A", "Well", "Driveway 2", "L1 bend"} {
			p := y.find(n)
			p.At, p.Ellipse.Major = v, nan
		}
		y.job.Site.Lines[2].TrenchWidth = nan
		y.plan.Outlines[0].Corners[2] = v
		for _, b := range checkSheet(draw(t, y, sheet.Options{})) {
			t.Error(b)
		}
	}
}
