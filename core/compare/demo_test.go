package compare_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"undersod/core/compare"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// The demo two years on was made from true places: the box set anew 6 in toward
// S 30° E of the house's own north, everything else where it was. Its box had an
// outlet 1/4 in low and has none.
func TestTheDemoTwoYearsOn(t *testing.T) {
	c := compare.Visits(example(t, "quarry-hollow.yaml"), example(t, "quarry-hollow-later.yaml"))
	for _, p := range c.Places {
		if (p.Verdict == compare.Moved) != (p.Name == "D-box") {
			t.Errorf("%s", p.Words)
		}
	}
	p := place(t, c, "D-box")
	if off := math.Abs(p.By.Inches() - 6); off > p.Within.Inches() {
		t.Errorf("%s, and the truth is 6 in", p.Words)
	}
	if len(c.Boxes) != 1 || c.Boxes[0].Spread.Verdict != compare.Changed || len(c.Boxes[0].Outlets) != 3 {
		t.Fatalf("%+v", c.Boxes)
	}
	for _, o := range c.Boxes[0].Outlets {
		if !o.SharesKnown || !near(o.ShareAfter, 1.0/3, 1e-9) || !strings.Contains(o.Words, "33 % of the flow") {
			t.Errorf("%+v", o)
		}
	}
	if last := c.Boxes[0].Outlets[2]; last.ShareBefore < 0.8 {
		t.Errorf("the low outlet took %v before", last.ShareBefore)
	}
	if place(t, c, "Pole").Verdict != compare.Gone || place(t, c, "Oak").Verdict != compare.New {
		t.Error("a mark gone or new is not told")
	}
	if !strings.Contains(strings.Join(c.Remarks, "\n"), "does not agree with the others") {
		t.Error(c.Remarks)
	}
}

// An outline that moved and turned is told with both; half a turn is none.
func TestAnOutlineThatMoved(t *testing.T) {
	before := example(t, "quarry-hollow.yaml")
	moved := func(by planar.Vec, turn unit.Angle) compare.Outline {
		after := example(t, "quarry-hollow.yaml")
		o := &after.Plan.Outlines[0]
		o.Centre, o.Azimuth = o.Centre.Plus(by), o.Azimuth+turn
		c := compare.Visits(before, after)
		if len(c.Outlines) != 1 {
			t.Fatalf("%d outlines", len(c.Outlines))
		}
		return c.Outlines[0]
	}
	if o := moved(at(3, 4), 0); o.Verdict != compare.Moved || !near(o.By.Feet(), 5, 1e-6) || !near(o.Toward.Degrees(), 36.8699, 1e-3) || o.Short == "" {
		t.Errorf("%+v", o)
	}
	if o := moved(planar.Vec{}, 30*unit.Degree); o.Verdict != compare.Moved || !near(o.Turned.Degrees(), 30, 1e-6) || !strings.Contains(o.Words, "30.0° clockwise") {
		t.Errorf("%+v", o)
	}
	if o := moved(planar.Vec{}, 180*unit.Degree); o.Verdict == compare.Moved {
		t.Errorf("%+v", o)
	}
}

// A field of many points takes neither long nor much.
func TestManyPoints(t *testing.T) {
	things := yard()
	for i := range 300 {
		things = append(things, thing{name: site.Name(fmt.Sprint("part ", i)), role: site.RolePart, at: at(5+float64(i%20)*4, 10+float64(i/20)*4)})
	}
	before := visit(things, base("A", "B", 0, 0, 0), tape, nil)
	c := compare.Visits(before, visit(things, base("C", "D", 0, 0, 0), tape, nil))
	if n := len(c.Places); n != 308 {
		t.Errorf("%d places", n)
	}
	for _, p := range c.Places {
		if p.Verdict != compare.Unchanged {
			t.Errorf("%s", p.Words)
		}
	}
}

func BenchmarkDemo(b *testing.B) {
	before, after := example(b, "quarry-hollow.yaml"), example(b, "quarry-hollow-later.yaml")
	for b.Loop() {
		compare.Visits(before, after)
	}
}
