package adjust_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/core/unit"
)

func (y *yard) rod(id site.ReadingID, setup, point site.Name, on site.RodOn, read unit.Length) {
	y.read(site.Rod{Taken: named(id), Setup: setup, Point: point, On: on, Read: asRead(read)})
}

func heightOf(t *testing.T, p *adjust.Plan, point site.Name, on site.RodOn) adjust.Height {
	t.Helper()
	for _, h := range p.Levels.Heights {
		if h.Point == point && h.On == on {
			return h
		}
	}
	t.Fatalf("no height of the %s at %s", on, point)
	return adjust.Height{}
}

// Two set-ups with a turning point, and a depth: heights add up as by hand.
// A: 5.00; turning point 3.20 -> +1.80; then 4.10 at the turning point and 6.60
// at the lid -> -2.50, together -0.70; the tank's top lies 1.25 below the lid's
// ground.
func TestTwoSetUpsAndATurningPoint(t *testing.T) {
	y := baseline(1)
	y.put("stake", site.RoleMark, at(20, 10))
	y.put("lid", site.RolePart, at(20, 20))
	y.rod("r1", "one", "A", site.OnGround, ft(5))
	y.rod("r2", "one", "stake", site.OnGround, ft(3.2))
	y.rod("r3", "two", "stake", site.OnGround, ft(4.1))
	y.rod("r4", "two", "lid", site.OnGround, ft(6.6))
	y.read(site.Depth{Taken: named("d"), Point: "lid", Read: asRead(ft(1.25))})
	p := y.solve()
	a := heightOf(t, p, "A", site.OnGround)
	for _, c := range []struct {
		point site.Name
		on    site.RodOn
		feet  float64
		sd    float64 // in
	}{
		{"stake", site.OnGround, 1.8, math.Sqrt2 / 16},
		{"lid", site.OnGround, -0.7, 2.0 / 16},
		{"lid", site.OnTop, -1.95, math.Hypot(2.0/16, 0.5)},
	} {
		h := heightOf(t, p, c.point, c.on)
		wantNear(t, string(c.point)+" "+string(c.on), (h.At - a.At).Feet(), c.feet, 1e-9)
		wantNear(t, "its sd", h.SD.Inches(), c.sd, 1e-9)
	}
	if p.Levels.Freedom != 0 || a.SD != 0 {
		t.Errorf("levels %+v", p.Levels)
	}
	// A third way round closes the loop: 0.03 ft of misclosure over six readings.
	y.rod("r5", "three", "lid", site.OnGround, ft(6))
	y.rod("r6", "three", "A", site.OnGround, ft(5.33))
	p = y.solve()
	if p.Levels.Freedom != 1 {
		t.Fatalf("freedom %d", p.Levels.Freedom)
	}
	wantNear(t, "statistic", p.Levels.Statistic, math.Pow(0.03*12*16, 2)/6, 1e-6)
	wantNear(t, "lid", (heightOf(t, p, "lid", site.OnGround).At - heightOf(t, p, "A", site.OnGround).At).Feet(), -0.7+0.02, 1e-9)
}

// A tie of 50 ft down 14 ft is 48 ft level.
func TestASlopedTieIsReduced(t *testing.T) {
	down := asRead(ft(14))
	impossible := asRead(ft(51))
	wrong := asRead(ft(30))
	for _, c := range []struct {
		name  string
		rods  bool
		held  site.Held
		drop  *unit.Written
		level float64 // ft
	}{
		{"rods", true, site.HeldAsGiven, nil, 48},
		{"rods, held sloped", true, site.HeldSloped, nil, 48},
		{"rods, held level", true, site.HeldLevel, nil, 50},
		{"drop", false, site.HeldAsGiven, &down, 48},
		{"drop wins over rods", true, site.HeldAsGiven, &wrong, 40},
		{"no heights", false, site.HeldAsGiven, nil, 50},
		{"impossible", false, site.HeldAsGiven, &impossible, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			y := newYard(1)
			y.put("A", site.RoleMark, at(0, 0))
			y.put("B", site.RoleMark, at(48, 0))
			y.read(site.Tie{Taken: named("slope"), From: "A", To: "B", Read: asRead(ft(50)), Held: c.held, Drop: c.drop})
			if c.rods {
				y.rod("r1", "one", "A", site.OnGround, ft(1))
				y.rod("r2", "one", "B", site.OnGround, ft(15))
			}
			p := y.solve()
			r := readingOf(t, p, "slope")
			if c.level == 0 {
				if r.Use != adjust.Unusable || !strings.Contains(r.Why, "height") ||
					!strings.Contains(strings.Join(p.Verdict.Reasons, " "), r.Why) {
					t.Errorf("use %v, %q, %q", r.Use, r.Why, p.Verdict.Reasons)
				}
				return
			}
			d := find(t, p, "B").At.Minus(find(t, p, "A").At).Length()
			wantNear(t, "level distance", d.Feet(), c.level, 1e-6)
			if c.name == "rods" {
				// σ² = tape² + (h/d)² σh², and the level distance moves by d/level.
				tape := math.Hypot(0.5/12, 0.001*50)
				h := math.Sqrt2 / 16 / 12 * 14 / 50
				wantNear(t, "sd of the reading", r.Components[0].SD/0.3048, math.Hypot(tape, h), 1e-9)
				wantNear(t, "sd of B", find(t, p, "B").Sigma.East.Feet()+find(t, p, "B").Sigma.North.Feet(), math.Hypot(tape, h)*50/48, 1e-6)
			}
		})
	}
}

// levelled is the demo with a run of the level through a turning point that is
// on no plan: out from the house to the box, and back. shift is what the last
// reading is wrong by.
func levelled(shift unit.Length) *yard {
	y := demo(1, 0)
	y.job.Site.LevelPoints = []site.LevelPoint{{Name: "TP1", Words: "turning point"}, {Name: "box outlet"}}
	y.rod("r1", "one", "F", site.OnGround, ft(4))
	y.rod("r2", "one", "TP1", site.OnGround, ft(6))
	y.rod("r3", "two", "TP1", site.OnGround, ft(3))
	y.rod("r4", "two", "box outlet", site.OnInvert, ft(7))
	y.rod("r5", "two", "F", site.OnGround, ft(1)+shift)
	return y
}

// Points that only the rod speaks of have heights and no place; nothing
// complains of them.
func TestPointsOfTheRodAloneAreNoPartOfThePlan(t *testing.T) {
	y := levelled(0)
	p := y.solve()
	if len(p.Points) != len(y.job.Site.Points) || p.Net == nil {
		t.Fatalf("%d points", len(p.Points))
	}
	near := func(point site.Name, on site.RodOn, feet float64) {
		wantNear(t, string(point), (heightOf(t, p, point, on).At - heightOf(t, p, "F", site.OnGround).At).Feet(), feet, 1e-9)
	}
	near("TP1", site.OnGround, -2)
	near("box outlet", site.OnInvert, -6)
	for _, id := range []site.ReadingID{"r1", "r4"} {
		if r := readingOf(t, p, id); r.Use != adjust.Idle || r.Flagged || !strings.Contains(r.Why, "heights") {
			t.Errorf("%s: use %v, %q", id, r.Use, r.Why)
		}
	}
	clean := demo(1, 0).solve()
	if p.Verdict.Fill != clean.Verdict.Fill || len(p.Verdict.Reasons) != len(clean.Verdict.Reasons) {
		t.Errorf("verdict %+v, without the rods %+v", p.Verdict, clean.Verdict)
	}
}

func TestTheVerdictKnowsTheRods(t *testing.T) {
	if v := levelled(0).solve().Verdict; v.Fill != adjust.FillYes {
		t.Fatalf("verdict %+v", v)
	}
	for _, c := range []struct {
		name   string
		yard   *yard
		fill   adjust.Fill
		reason string
	}{
		{"a foot off", levelled(unit.Foot), adjust.FillNo, "nothing tells which"},
		// σ of the loop is 4 readings of 1/16 in: 0.125 in; 95 % of it is 0.245 in.
		{"a loop left open", levelled(unit.Inch / 4), adjust.FillUnsure, "The run one and two back to one (by TP1 and F) misses by"},
		{"no number", levelled(-2 * unit.Foot), adjust.FillNo, "cannot be used: a rod reading is longer than nothing"},
	} {
		p := c.yard.solve()
		if p.Verdict.Fill != c.fill || !strings.Contains(strings.Join(p.Verdict.Reasons, "\n"), c.reason) {
			t.Errorf("%s: verdict %+v", c.name, p.Verdict)
		}
		if r := readingOf(t, p, "r5"); r.Flagged != (c.name == "a foot off") {
			t.Errorf("%s: flagged %v", c.name, r.Flagged)
		}
	}
}

// A depth of zero is a reading: the lid lies level with the ground.
func TestADepthOfZero(t *testing.T) {
	y := demo(1, 0)
	y.read(site.Depth{Taken: named("d"), Point: "F", Read: asRead(0)})
	p := y.solve()
	if h := heightOf(t, p, "F", site.OnTop); h.At != 0 || h.SD == 0 {
		t.Errorf("height %+v", h)
	}
	if r := readingOf(t, p, "d"); r.Use != adjust.Idle {
		t.Errorf("use %v, %q", r.Use, r.Why)
	}
}
