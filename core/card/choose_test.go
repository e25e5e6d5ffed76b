package card_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"undersod/core/card"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

func make1(t *testing.T, y *yard, part site.Name) card.Card {
	t.Helper()
	c, err := card.Make(&y.job, &y.plan, part)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func from(c card.Card) string {
	var out []string
	for _, t := range c.Ties {
		out = append(out, string(t.From))
	}
	return strings.Join(out, " ")
}

func TestTapesThatCrossSquareAreChosen(t *testing.T) {
	y := &yard{}
	y.part("lid", site.Lid, at(0, 0))
	y.mark("flat 1", at(-30, 5))
	y.mark("flat 2", at(30, 5))
	y.mark("flat 3", at(-40, 5))
	y.mark("square", at(0, 30))
	c := make1(t, y, "lid")
	if c.Ties[0].From != "flat 1" && c.Ties[0].From != "flat 2" || c.Ties[1].From != "square" {
		t.Errorf("chosen %s", from(c))
	}
}

func TestCornersGoBeforePinsThatAreHardlyBetter(t *testing.T) {
	for _, c := range []struct {
		east float64
		want string
	}{{27, "A B"}, {9, "A Pin"}} { // hardly better, and much better
		y := &yard{}
		y.part("lid", site.Lid, at(0, -20))
		y.put("A", site.RoleCorner, "", at(-20, 0), 0)
		y.put("B", site.RoleCorner, "", at(30, 0), 0)
		if c.want == "A Pin" {
			y.plan.Points[2].At = at(120, 0)
		}
		y.mark("Pin", at(c.east, -2))
		if got := from(make1(t, y, "lid")); !strings.HasPrefix(got, c.want) {
			t.Errorf("chosen %s, want %s first", got, c.want)
		}
	}
}

func TestNoTapeRunsThroughTheHouse(t *testing.T) {
	y := homestead()
	y.mark("Pin 2", at(20, 60))  // behind the house
	y.mark("Pin 3", at(-60, 24)) // sees the box past the corner A
	c := make1(t, y, "D-box")
	for _, tie := range c.Ties {
		if tie.From == "C" || tie.From == "D" || tie.From == "Pin 2" {
			t.Errorf("a tape from %s runs through the house", tie.From)
		}
	}
	y.job.Site.Buildings = nil
	for _, n := range []site.Name{"A", "B", "Pin 1", "Pole", "Pin 3"} {
		for i, p := range y.job.Site.Points {
			if p.Name == n {
				y.job.Site.Points = slices.Delete(y.job.Site.Points, i, i+1)
				break
			}
		}
	}
	if got := from(make1(t, y, "D-box")); !strings.Contains(got, "C") || !strings.Contains(got, "D") {
		t.Errorf("with the house gone, %s", got)
	}
}

func TestAWallMayBeFollowedFromItsCorner(t *testing.T) {
	y := &yard{}
	y.house()
	y.part("cleanout", site.Cleanout, at(46, 0)) // in line with the wall A-B
	c := make1(t, y, "cleanout")
	names := from(c)
	if !strings.Contains(names, "B") && !strings.Contains(names, "A") || strings.Contains(names, "D") {
		t.Errorf("chosen %s", names)
	}
}

// TestExpectedErrorHoldsTheCrossing tapes a part many times with errors of the
// tapes, the marks and the part, by crossing circles, and counts.
func TestExpectedErrorHoldsTheCrossing(t *testing.T) {
	const draws = 20000
	for _, c := range []struct {
		name       string
		mark, part unit.Length
		together   bool
		low, high  float64
	}{
		{"tapes alone", 0, 0, false, 0.945, 0.955},
		{"a part placed to an inch", 0, unit.Inch, false, 0.945, 0.985},
		{"marks and part, apart", unit.Inch, unit.Inch, false, 0.945, 1},
		{"marks that move together", unit.Inch, unit.Inch, true, 0.945, 1},
	} {
		y := &yard{}
		marks := []planar.Vec{at(-30, 12), at(25, 31)}
		y.put("M", site.RoleMark, "", marks[0], c.mark)
		y.put("N", site.RoleMark, "", marks[1], c.mark)
		place := at(0, 0)
		y.part("lid", site.Lid, place)
		y.plan.Points[2].Sigma.East, y.plan.Points[2].Sigma.North = c.part, c.part
		made := make1(t, y, "lid")
		r, in := rand.New(rand.NewPCG(21, 22)), 0
		for range draws {
			ea, eb := scatter(r, c.mark), scatter(r, c.mark)
			if c.together {
				eb = ea
			}
			da := made.Ties[0].Distance + tape(made.Ties[0].Distance)*unit.Length(r.NormFloat64())
			db := made.Ties[1].Distance + tape(made.Ties[1].Distance)*unit.Length(r.NormFloat64())
			found := meet(marks[0].Plus(ea), da, marks[1].Plus(eb), db, place)
			if found.Minus(place.Plus(scatter(r, c.part))).Length() <= made.Expected {
				in++
			}
		}
		if share := float64(in) / draws; share < c.low || share > c.high {
			t.Errorf("%s: %.4f lie within %v in, want %v to %v", c.name, share, made.Expected.Inches(), c.low, c.high)
		}
	}
}

// TestChosenPairIsTheBestOfAll compares the choice with the scatter of every
// pair's crossings, found by drawing.
func TestChosenPairIsTheBestOfAll(t *testing.T) {
	layout := rand.New(rand.NewPCG(31, 32))
	for range 10 {
		y := &yard{}
		place := at(0, 0)
		y.put("lid", site.RolePart, "", place, 0)
		y.job.Site.Parts = []site.Part{{Name: "lid", Kind: site.Lid}}
		var marks []planar.Vec
		for i := range 6 {
			v := planar.Polar(unit.Angle(layout.Float64()*6.283), ft(10+80*layout.Float64()))
			marks = append(marks, v)
			y.mark(site.Name(rune('a'+i)), v)
		}
		c := make1(t, y, "lid")
		chosen, best := drawn(y, c.Ties[0].From, c.Ties[1].From), unit.Length(1e9)
		for i := range marks {
			for j := range i {
				best = min(best, drawn(y, site.Name(rune('a'+i)), site.Name(rune('a'+j))))
			}
		}
		if chosen > best*1.05 { // the draws themselves are good to about 2 %
			t.Errorf("the chosen pair scatters %v in, the best %v in", chosen.Inches(), best.Inches())
		}
		if d := c.Expected / chosen; d < 0.95 || d > 1.05 {
			t.Errorf("expected %v in, drawn %v in", c.Expected.Inches(), chosen.Inches())
		}
	}
}

// drawn is the 95 % radius of the crossings of two tapes, found by drawing.
func drawn(y *yard, a, b site.Name) unit.Length {
	var va, vb planar.Vec
	for _, p := range y.plan.Points {
		switch p.Name {
		case a:
			va = p.At
		case b:
			vb = p.At
		}
	}
	u, _ := va.Unit()
	v, _ := vb.Unit()
	if s := float64(u.Cross(v)); s < 0.17 && s > -0.17 { // flatter than the program takes
		return 1e9
	}
	const draws = 4000
	r := rand.New(rand.NewPCG(41, 42))
	off := make([]unit.Length, draws)
	for i := range off {
		da := va.Length() + tape(va.Length())*unit.Length(r.NormFloat64())
		db := vb.Length() + tape(vb.Length())*unit.Length(r.NormFloat64())
		off[i] = meet(va, da, vb, db, planar.Vec{}).Length()
	}
	slices.Sort(off)
	return off[draws*95/100]
}

// TestSideIsTheRightOne mirrors a part over its baseline: the words change with
// it, and they agree with where it lies.
func TestSideIsTheRightOne(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 52))
	for range 200 {
		y := &yard{}
		a, b, p := scatter(r, ft(40)), scatter(r, ft(40)), scatter(r, ft(30))
		y.mark("a", a)
		y.mark("b", b)
		y.part("lid", site.Lid, p)
		c, err := card.Make(&y.job, &y.plan, "lid")
		if err != nil {
			continue // too flat
		}
		want := "on the right, looking from a to b"
		if b.Minus(a).Cross(p.Minus(a)) > 0 {
			want = "on the left, looking from a to b"
		}
		if c.Side != want {
			t.Fatalf("a %v b %v part %v: %q, want %q", a, b, p, c.Side, want)
		}
	}
	if c := make1(t, homestead(), "D-box"); c.Side != "on the lawn side of A-B" {
		t.Errorf("side %q", c.Side)
	}
}

func TestThirdMarkTellsTheMirrorApart(t *testing.T) {
	y := &yard{}
	y.put("A", site.RoleCorner, "", at(-20, 0), 0)
	y.put("B", site.RoleCorner, "", at(20, 0), 0)
	y.part("lid", site.Lid, at(0, -20))
	y.mark("in line", at(6, 0)) // in line with A-B: as far from the mirrored place
	y.mark("aside", at(40, -50))
	if got := from(make1(t, y, "lid")); got != "A B aside" {
		t.Errorf("chosen %s", got)
	}
}

func TestLongTapesOnlyWhereTheyAreNeeded(t *testing.T) {
	y := &yard{}
	y.part("lid", site.Lid, at(0, 0))
	y.mark("near", at(0, 40))
	y.mark("far", at(130, 0))
	c := make1(t, y, "lid")
	if from(c) != "near far" || !strings.Contains(strings.Join(c.Words, " "), "long one") {
		t.Errorf("%s: %q", from(c), c.Words)
	}
	y.mark("slant", at(60, 50))
	if c := make1(t, y, "lid"); !strings.HasPrefix(from(c), "near slant") {
		t.Errorf("chosen %s", from(c))
	}
}

// TestWorkedExample is the one of docs/method.md: tapes of 30 ft and
// 40 ft that cross square, over places that are sure.
func TestWorkedExample(t *testing.T) {
	y := &yard{}
	y.put("lid", site.RolePart, "lid", at(0, 0), 0)
	y.job.Site.Parts = []site.Part{{Name: "lid", Kind: site.Lid}}
	y.mark("west", at(-30, 0))
	y.mark("north", at(0, 40))
	c := make1(t, y, "lid")
	if in := c.Expected.Inches(); in < 1.59 || in > 1.63 { // 2.4477 √((0.616² + 0.693²)/2) = 1.61 in
		t.Errorf("expected %.3f in", in)
	}
	if in := c.Ties[0].Within.Inches(); in < 1.20 || in > 1.21 { // 1.96 × 0.616 in
		t.Errorf("the 30 ft tape within %.3f in", in)
	}
}
