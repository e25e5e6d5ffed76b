package level_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"undersod/core/level"
	"undersod/core/site"
	"undersod/core/unit"
)

// inches is a length read in inches.
func inches(v float64) *unit.Written {
	return &unit.Written{Text: fmt.Sprintf(`%g"`, v), Length: unit.Length(v) * unit.Inch, Form: unit.Inches}
}

// down is read down from the level line, in inches.
func down(v float64) *unit.Written { return inches(v) }

// outlet is one in a wall, some inches from its left corner.
func outlet(line site.Name, read float64, wall site.Edge, left float64) site.Opening {
	return site.Opening{Line: line, Down: down(read), Wall: wall, FromLeft: inches(left)}
}

// threeWays is a box of 20 in by 16 in with an outlet in each wall but the
// near one. Down: 6 in to the far wall, 6 1/4 in to the right, 5 7/8 in to the
// left; the inlet at 4 in.
func threeWays() site.Box {
	return site.Box{
		Part: "box", Length: inches(20), Width: inches(16), Floor: down(10), Lid: down(-1), Water: down(5),
		Inlet: &site.Opening{Line: "in", Down: down(4), Wall: site.EdgeNear, FromLeft: inches(8)},
		Outlets: []site.Opening{
			outlet("1", 6, site.EdgeFar, 8), outlet("2", 6.25, site.EdgeRight, 10), outlet("3", 5.875, site.EdgeLeft, 10),
		},
	}
}

func TestMeasureByTheLevelLine(t *testing.T) {
	b := level.Measure(threeWays(), nil, imperial)
	for k, want := range []float64{0.25, 0, 0.375} {
		o := b.Outlets[k]
		near(t, "outlet", o.At.Inches(), want, 1e-9)
		if !o.Known || string(o.Line) != fmt.Sprint(k+1) {
			t.Errorf("outlet %+v", o)
		}
	}
	near(t, "deviation", b.Outlets[0].SD.Inches(), math.Sqrt2/16, 1e-9)
	near(t, "of the lowest", b.Outlets[1].SD.Inches(), 0, 0)
	near(t, "spread", b.Spread.Inches(), 0.375, 1e-9)
	near(t, "its deviation", b.SpreadSD.Inches(), math.Sqrt2/16, 1e-9)
	near(t, "inlet", b.Inlet.At.Inches(), 2.25, 1e-9)
	near(t, "lid", b.Lid.Inches(), 7.25, 1e-9)
	near(t, "floor", b.Floor.Inches(), -3.75, 1e-9)
	near(t, "water", b.Water.Inches(), 1.25, 1e-9)
	// The inlet, 1 7/8 in above within 3/16 in, is not told from New York's 2 in.
	if len(b.Words) != 0 || b.InletLow || b.InletWords != "" {
		t.Errorf("box %+v", b)
	}
	want := `Water stands 1 1/4" over the invert of the outlet to 2 (within 3/16"), and over the outlet to 1 and the outlet to 3: ` +
		"Massachusetts (310 CMR 15.303) counts a static level above the outlet invert as a failed system; the local authority decides."
	if !b.Flooded || b.FloodedWords != want {
		t.Errorf("words %q, not %q", b.FloodedWords, want)
	}
}

// The plane of threeWays: at (8, 20) -6, at (16, 10) -6.25, at (0, 10) -5.875.
// To the right it goes (-6.25 + 5.875)/16 = -3/128; away from the near wall
// (-6 - (-6.25 - 5.875)/2)/10 = 1/160. The variances are 2σ²/16² and 1.5σ²/10².
func TestTiltWorkedByHand(t *testing.T) {
	tilt := level.Measure(threeWays(), nil, imperial).Tilt
	a, b := -3.0/128, 1.0/160
	near(t, "slope", tilt.Slope, math.Hypot(a, b), 1e-12)
	near(t, "toward", tilt.Toward.Degrees(), unit.Angle(math.Atan2(-a, -b)).Degrees(), 1e-9)
	va, vb := 2.0/256/256, 1.5/256/100
	s := tilt.Slope
	near(t, "deviation", tilt.SlopeSD, math.Sqrt(a*a*va+b*b*vb)/s, 1e-12)
	near(t, "across", tilt.Across.Inches(), -a*16*(-a/s)/(-a/s)*(-a/s)*(s/-a)+b*20*(b/s)*(s/b), 1e-9)
	near(t, "residual", tilt.Residual.Inches(), 0, 1e-9)
	if !tilt.Known || tilt.By != "outlets" || tilt.OneWay || !tilt.Told ||
		!strings.HasPrefix(tilt.Words, `1/2" lower at the right wall than at the left wall, within `) {
		t.Errorf("tilt %+v", tilt)
	}
}

// By the middles of the rim the slope to the right is (right - left)/width and
// that away (far - near)/length.
func TestTiltByTheRim(t *testing.T) {
	b := site.Box{Part: "box", Length: inches(20), Width: inches(16),
		Outlets: []site.Opening{{Line: "1", Down: down(6)}},
		Rim: map[site.Edge]unit.Written{
			site.EdgeNear: *down(1), site.EdgeFar: *down(1.5), site.EdgeLeft: *down(1.25), site.EdgeRight: *down(1.25),
		}}
	tilt := level.Measure(b, nil, imperial).Tilt
	near(t, "slope", tilt.Slope, 0.5/20, 1e-12)
	near(t, "deviation", tilt.SlopeSD, math.Sqrt2/16/20, 1e-12)
	near(t, "toward", tilt.Toward.HalfTurn().Degrees(), 0, 1e-9)
	near(t, "across", tilt.Across.Inches(), 0.5, 1e-9)
	if want := `1/2" lower at the far wall than at the near wall, within 3/16", by its rim`; tilt.Words != want {
		t.Errorf("words %q, not %q", tilt.Words, want)
	}
	delete(b.Rim, site.EdgeLeft)
	delete(b.Rim, site.EdgeRight)
	tilt = level.Measure(b, nil, imperial).Tilt
	near(t, "slope", tilt.Slope, 0.5/20, 1e-12)
	if !tilt.OneWay || tilt.By != "rim" || !strings.HasSuffix(tilt.Words, "the other way across is not told") {
		t.Errorf("tilt %+v", tilt)
	}
	b.Width = nil
	if tilt = level.Measure(b, nil, imperial).Tilt; tilt.Known || !strings.Contains(tilt.Why, "inside length and width") {
		t.Errorf("tilt %+v", tilt)
	}
}

// Three outlets in one wall tell the tilt along it, with or without the box's
// size: 1/8 in per 4 in down to the right, by symmetric places (5.75 - 6)/8.
func TestTiltAlongOneWall(t *testing.T) {
	for _, c := range []struct {
		wall   site.Edge
		toward float64
		side   string
	}{
		{site.EdgeFar, 90, "right wall"}, {site.EdgeNear, 270, "left wall"},
		{site.EdgeRight, 180, "near wall"}, {site.EdgeLeft, 0, "far wall"},
	} {
		b := site.Box{Part: "box", Outlets: []site.Opening{
			outlet("1", 5.75, c.wall, 4), outlet("2", 5.875, c.wall, 8), outlet("3", 6, c.wall, 12)}}
		tilt := level.Measure(b, nil, imperial).Tilt
		near(t, "slope", tilt.Slope, 0.25/8, 1e-12)
		near(t, "deviation", tilt.SlopeSD, 1/math.Sqrt(32)/16, 1e-12)
		near(t, "toward", math.Mod(tilt.Toward.Degrees()+360.0000001, 360), c.toward, 1e-3)
		near(t, "across", tilt.Across.Inches(), 0.25, 1e-9)
		if !tilt.OneWay || !tilt.Told || !strings.Contains(tilt.Words, "lower at the "+c.side) {
			t.Errorf("%+v", tilt)
		}
		b.Width, b.Length = inches(16), inches(16)
		near(t, "across the whole", level.Measure(b, nil, imperial).Tilt.Across.Inches(), 0.5, 1e-9)
	}
	flat := site.Box{Outlets: []site.Opening{outlet("1", 6, site.EdgeFar, 4), outlet("2", 6, site.EdgeFar, 12)}}
	if tilt := level.Measure(flat, nil, imperial).Tilt; !tilt.Known || tilt.Told || tilt.Slope != 0 || !strings.HasPrefix(tilt.Words, "level as far") {
		t.Errorf("%+v", tilt)
	}
}

// The plane agrees with gonum's QR on boxes of many outlets.
func TestPlaneAgreesWithQR(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		b := site.Box{Part: "box", Length: inches(24), Width: inches(18)}
		n := 3 + rnd.IntN(6)
		design, read := mat.NewDense(n, 3, nil), mat.NewVecDense(n, nil)
		for i := range n {
			left, h := 2+rnd.Float64()*14, 5+rnd.Float64()
			wall := []site.Edge{site.EdgeRight, site.EdgeFar, site.EdgeLeft}[i%3]
			b.Outlets = append(b.Outlets, outlet("x", h, wall, left))
			place := map[site.Edge][2]float64{site.EdgeRight: {18, 24 - left}, site.EdgeFar: {left, 24}, site.EdgeLeft: {0, left}}[wall]
			design.SetRow(i, []float64{1, place[0], place[1]})
			read.SetVec(i, -h)
		}
		var want mat.VecDense
		if err := want.SolveVec(design, read); err != nil {
			t.Fatal(err)
		}
		tilt := level.Measure(b, nil, imperial).Tilt
		x, y := math.Sincos(float64(tilt.Toward))
		near(t, "right", -tilt.Slope*x, want.AtVec(1), 1e-9)
		near(t, "away", -tilt.Slope*y, want.AtVec(2), 1e-9)
	}
}

// Moving the level line up or down changes nothing; changing the order of the
// outlets changes that of the answers.
func TestBoxDoesNotDependOnTheLineOrTheOrder(t *testing.T) {
	want := level.Measure(threeWays(), nil, imperial)
	b := threeWays()
	shift := func(w *unit.Written) { w.Length += 3 * unit.Inch }
	for k := range b.Outlets {
		shift(b.Outlets[k].Down)
	}
	for _, w := range []*unit.Written{b.Inlet.Down, b.Lid, b.Floor, b.Water} {
		shift(w)
	}
	b.Outlets[0], b.Outlets[2] = b.Outlets[2], b.Outlets[0]
	got := level.Measure(b, nil, imperial)
	for i, k := range []int{2, 1, 0} {
		near(t, "outlet", got.Outlets[i].At.Metres(), want.Outlets[k].At.Metres(), 1e-12)
	}
	near(t, "spread", got.Spread.Metres(), want.Spread.Metres(), 1e-12)
	near(t, "water", got.Water.Metres(), want.Water.Metres(), 1e-12)
	near(t, "slope", got.Tilt.Slope, want.Tilt.Slope, 1e-12)
	near(t, "toward", got.Tilt.Toward.Degrees(), want.Tilt.Toward.Degrees(), 1e-6)
	if got.Tilt.Words != want.Tilt.Words {
		t.Errorf("%q, not %q", got.Tilt.Words, want.Tilt.Words)
	}
}

// The rod on two openings and the level line on two, one of them both, make one
// box.
func TestMeasureByRodAndLevelLineTogether(t *testing.T) {
	n := level.Adjust([]site.Reading{
		invert("one", "o1", 5), invert("one", "o2", 5.02), invert("one", "in", 4.8),
	}, sd)
	b := site.Box{Part: "box", Inlet: &site.Opening{Rod: "in"}, Outlets: []site.Opening{
		{Line: "1", Rod: "o1", Down: down(6)}, {Line: "2", Rod: "o2"}, {Line: "3", Down: down(6.12)}, {Line: "4"},
	}}
	got := level.Measure(b, n, imperial)
	for k, want := range []float64{0.24, 0, 0.12} {
		near(t, "outlet", got.Outlets[k].At.Inches(), want, 1e-6)
	}
	near(t, "deviation", got.Outlets[2].SD.Inches(), 2.0/16, 1e-6) // two rods, two rules
	near(t, "inlet", got.Inlet.At.Inches(), 2.64, 1e-6)
	if got.Outlets[3].Known || len(got.Words) != 1 || !strings.HasPrefix(got.Words[0], "The level of the outlet to 4 is not known") {
		t.Errorf("words %q", got.Words)
	}
	// Without the link they cannot be compared; the larger set is told.
	b.Outlets[0].Down = nil
	got = level.Measure(b, n, imperial)
	if got.Outlets[2].Known || !strings.HasPrefix(got.Words[0], "The level of the outlet to 3 cannot be compared") {
		t.Errorf("%+v", got)
	}
	// A level line that contradicts the rod is told.
	b.Outlets[0].Down, b.Outlets[1].Down = down(6), down(7)
	if got = level.Measure(b, n, imperial); !strings.HasPrefix(got.Words[0], "The level line and the rod do not agree") {
		t.Errorf("words %q", got.Words)
	}
}

// What rests on a rod reading in doubt says so.
func TestDoubtIsCarriedOn(t *testing.T) {
	n := level.Adjust([]site.Reading{
		invert("one", "tank", 4.5), invert("one", "o1", 5), invert("one", "in", 4.5), invert("one", "A", 3),
		invert("two", "tank", 5.5), invert("two", "o1", 5), invert("two", "in", 5.5), invert("two", "A", 4),
		invert("three", "far", 4), invert("three", "end", 4),
	}, sd)
	b := site.Box{Part: "box", Inlet: &site.Opening{Rod: "in"}, Outlets: []site.Opening{{Line: "1", Rod: "o1"}}}
	words := strings.Join(level.Measure(b, n, imperial).Words, "\n")
	if !strings.Contains(words, "The rod reading on the outlet to 1 is in doubt") || strings.Contains(words, "on the inlet is in doubt") {
		t.Errorf("words %q", words)
	}
	lines := []site.Line{{Name: "pipe", Path: []site.Name{"tank", "o1"}}, {Name: "1", Path: []site.Name{"far", "end"}}}
	f := level.Falls(lines, nil, n, nil, imperial)
	if len(f) != 2 || !f[0].Doubted || !strings.Contains(f[0].Words, "in doubt") || f[1].Doubted {
		t.Errorf("falls %+v", f)
	}
}

func TestWordsOfABox(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*site.Box)
		words  string // of one of them; empty for none at all
	}{
		{"all is well", func(b *site.Box) {}, ""},
		{"inlet short of 2 in", func(b *site.Box) { b.Inlet.Down = down(4.5) }, // 1 1/2 in
			`The inlet lies 1 1/2" above the outlet to 1, the highest known one (within 3/16"). New York (10 NYCRR Appendix 75-A.7) asks for at least 2 in; the local authority decides.`},
		{"inlet short of both", func(b *site.Box) { b.Inlet.Down = down(5.5) },
			`asks for at least 2 in, Pennsylvania (25 Pa. Code 73.42) and New Jersey (N.J.A.C. 7:9A-9.4, 2022) for at least 1 in; the local authority decides.`},
		{"inlet not told from 1 in", func(b *site.Box) { b.Inlet.Down = down(5.1) }, `ask for cannot be told from it. The local authority decides.`},
		{"inlet at the outlets", func(b *site.Box) { b.Inlet.Down = down(6) },
			`The inlet is not told from the level of the outlet to 1 (they differ by 0", within 3/16").`},
		{"inlet close over the outlets", func(b *site.Box) { b.Inlet.Down = down(5) }, `The inlet lies 1" above the outlet to 1, the highest known one`},
		{"lid below", func(b *site.Box) { b.Lid = down(7) }, `The lid's underside is read as 1" below the invert of the outlet to 1`},
		{"floor above", func(b *site.Box) { b.Floor = down(5) }, `The floor is read as 1" above the invert of the outlet to 2`},
		{"no inlet", func(b *site.Box) { b.Inlet = nil }, "The level of the inlet is not known"},
		{"no level", func(b *site.Box) { b.Outlets[1].Down = nil }, "The level of the outlet to 2 is not known"},
		{"no outlet", func(b *site.Box) { b.Outlets = nil }, "No outlet is entered"},
		{"no name", func(b *site.Box) { b.Outlets[1] = site.Opening{} }, "The level of outlet 2 is not known"},
		{"beyond its wall", func(b *site.Box) { b.Outlets[0].FromLeft = inches(17) }, `The outlet to 1 is placed 17" from the left corner of a wall that is 1' 4" long`},
		{"floor alone", func(b *site.Box) {
			b.Outlets, b.Inlet = []site.Opening{{Line: "1", Rod: "o1"}}, nil
		}, "The floor was measured from a level line, but no outlet was"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := threeWays()
			for k := range b.Outlets {
				b.Outlets[k].Down = down(6)
			}
			b.Water, b.Inlet.Down = down(6.1), down(3.75)
			c.change(&b)
			got := level.Measure(b, level.Adjust([]site.Reading{invert("one", "o1", 5)}, sd), imperial)
			if got.Flooded || got.InletLow || c.words == "" && len(got.Words) > 0 || !strings.Contains(strings.Join(got.Words, "\n"), c.words) {
				t.Errorf("words %q", got.Words)
			}
		})
	}
}

// One outlet in a hundred boxes that are level is told to be tipped: at 95 %,
// about five in a hundred are.
func TestALevelBoxIsSeldomCalledTipped(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	const runs = 2000
	told := 0
	for range runs {
		b := threeWays()
		for k := range b.Outlets {
			b.Outlets[k].Down = down(6 + rnd.NormFloat64()/16)
		}
		if level.Measure(b, nil, imperial).Tilt.Told {
			told++
		}
	}
	near(t, "share told", float64(told)/runs, 0.05, 4*math.Sqrt(0.05*0.95/runs))
}
