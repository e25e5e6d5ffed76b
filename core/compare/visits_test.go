package compare_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"undersod/core/compare"
	"undersod/core/site"
	"undersod/core/unit"
)

const tape = unit.Inch / 8

// Two datums of one yard: the overlay finds the shift and the turn between them
// exactly, and nothing moved.
func TestShiftAndTurnAreRecovered(t *testing.T) {
	before := visit(yard(), base("A", "B", 0, 0, 0), tape, nil)
	after := visit(yard(), base("A", "B", 300, -40, 25), tape, nil)
	c := compare.Visits(before, after)
	o := c.Overlay
	if !o.Known || len(o.Marks) != 5 || len(o.Aside) != 0 {
		t.Fatalf("%+v", o)
	}
	// A lies at (300, -40) and must come to (0, 0); B's azimuth 25° to 0°.
	if !near(o.Turn.Degrees(), -25, 1e-6) || o.ToEarlier(at(300, -40)).Length() > 1e-6 {
		t.Errorf("turn %v°, A at %v", o.Turn.Degrees(), o.ToEarlier(at(300, -40)))
	}
	if v := at(12, 34); o.ToEarlier(o.ToLater(v)).Minus(v).Length() > 1e-9 {
		t.Error("there and back is not where it began")
	}
	for _, p := range c.Places {
		if p.Verdict != compare.Unchanged || p.By > 1e-6 || p.Within <= 0 {
			t.Errorf("%s: %s by %v within %v", p.Name, p.Verdict, p.By, p.Within)
		}
	}
}

// A part that moved is found with how far and which way, on the earlier plan,
// whatever the later datum.
func TestAMovedPartIsFoundExactly(t *testing.T) {
	before := visit(yard(), base("A", "B", 0, 0, 0), tape, nil)
	after := visit(with(yard(), "D-box", at(3, 4)), base("D", "C", -70, 12, 200), tape, nil)
	c := compare.Visits(before, after)
	p := place(t, c, "D-box")
	if p.Verdict != compare.Moved || !near(p.By.Feet(), 5, 1e-4) || !near(p.Toward.Degrees(), 36.8699, 0.01) {
		t.Errorf("%s by %v ft toward %v°", p.Verdict, p.By.Feet(), p.Toward.Degrees())
	}
	if !strings.Contains(p.Words, "N 37° E") || !strings.Contains(p.Words, "5.0") && !strings.Contains(p.Words, "5' 0\"") {
		t.Error(p.Words)
	}
	for _, p := range c.Places {
		if p.Name != "D-box" && p.Verdict != compare.Unchanged {
			t.Errorf("%s is %s", p.Name, p.Verdict)
		}
	}
	// The tapes to the box say so too, whatever the overlay.
	if len(c.Readings) != 5 {
		t.Errorf("%d pairs differ", len(c.Readings))
	}
}

// A mark that moved is set aside and told; the others hold the overlay.
func TestAMovedMarkIsSetAside(t *testing.T) {
	before := visit(yard(), base("A", "B", 0, 0, 0), tape, nil)
	for _, name := range []site.Name{"A", "C", "E"} {
		after := visit(with(yard(), name, at(0.6, 0.8)), base("D", "B", 0, 0, 0), tape, nil)
		c := compare.Visits(before, after)
		if len(c.Overlay.Aside) != 1 || c.Overlay.Aside[0].Mark != name || len(c.Overlay.Aside[0].With) != 0 {
			t.Fatalf("%s: %+v", name, c.Overlay)
		}
		if by := c.Overlay.Aside[0].By; by.Minus(at(0.6, 0.8)).Length() > 0.01 {
			t.Errorf("%s moved by %v", name, by)
		}
		for _, p := range c.Places {
			if (p.Verdict == compare.Moved) != (p.Name == name) {
				t.Errorf("%s moved, and %s is %s", name, p.Name, p.Verdict)
			}
		}
	}
}

// With three marks it can often not be told which moved; with two never.
func TestTooFewMarks(t *testing.T) {
	marks := func(n int, by ...thing) []thing { return append(append([]thing(nil), yard()[:n]...), yard()[5:]...) }
	before := visit(marks(2), base("A", "B", 0, 0, 0), tape, nil)
	after := visit(with(marks(2), "B", at(0, 2)), base("A", "B", 0, 0, 0), tape, nil)
	c := compare.Visits(before, after)
	if c.Overlay.Known || !strings.Contains(c.Overlay.Words, "cannot be told which") {
		t.Errorf("%+v", c.Overlay)
	}
	if place(t, c, "D-box").Verdict != compare.NotLocated || len(c.Readings) == 0 {
		t.Errorf("%+v, %d readings", place(t, c, "D-box"), len(c.Readings))
	}
	renamed := visit(yard(), base("A", "B", 0, 0, 0), tape, nil)
	for i := range renamed.Plan.Points {
		renamed.Plan.Points[i].Name += " of another"
	}
	c = compare.Visits(before, renamed)
	if c.Overlay.Known || !strings.Contains(c.Overlay.Words, "0 marks in common") {
		t.Error(c.Overlay.Words)
	}
	same := visit(marks(2), base("B", "A", 0, 0, 77), tape, nil)
	if c = compare.Visits(before, same); !c.Overlay.Known || !strings.Contains(c.Overlay.Words, "a third would show") {
		t.Error(c.Overlay.Words)
	}
	three := visit(with(marks(3), "B", at(0, 2)), base("A", "B", 0, 0, 0), tape, nil)
	c = compare.Visits(visit(marks(3), base("A", "B", 0, 0, 0), tape, nil), three)
	if len(c.Overlay.Aside) == 0 && c.Overlay.Known {
		t.Errorf("%+v", c.Overlay)
	}
}

// A visit held against itself says that nothing moved, whatever the datum.
func TestNothingMovesAgainstItself(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 12))
	for n := range 20 {
		one := visit(yard(), base("A", "B", 0, 0, 0), tape, rand.New(rand.NewPCG(uint64(n), 1)))
		two := visit(yard(), base("C", "D", 1000*r.Float64(), -500*r.Float64(), 360*r.Float64()), tape, rand.New(rand.NewPCG(uint64(n), 1)))
		if n%2 == 1 {
			two = visit(yard(), site.Datum{Kind: site.DatumFree}, tape, rand.New(rand.NewPCG(uint64(n), 1)))
		}
		c := compare.Visits(one, two)
		if !c.Overlay.Known || c.Overlay.Misfit > 1e-6 {
			t.Fatalf("%+v", c.Overlay)
		}
		for _, p := range c.Places {
			if p.Verdict != compare.Unchanged || p.By > 1e-6 || !p.Same {
				t.Errorf("%d: %s is %s by %v", n, p.Name, p.Verdict, p.By)
			}
		}
		if len(c.Readings)+len(c.Facts)+len(c.Since) > 0 {
			t.Errorf("%+v", c)
		}
	}
}

// The uncertainty does not depend on the datums, and with nothing but the
// scatter of tapes about 5 % at most are called moved. The things are not found
// again a little off here, so that fewer than 5 % are.
func TestScatterIsNotCalledAMove(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	moved, all, aside := 0, 0, 0
	const sd = 2 * unit.Inch // large beside how well things are found again
	for n := range 150 {
		before := visit(yard(), base("A", "B", 0, 0, 0), sd, r)
		after := visit(yard(), base([]site.Name{"A", "D"}[n%2], "C", 50, 0, 40), sd, r)
		c := compare.Visits(before, after)
		aside += len(c.Overlay.Aside)
		for _, p := range c.Places {
			all++
			if p.Verdict == compare.Moved {
				moved++
			}
		}
	}
	t.Logf("%d of %d called moved, %d marks set aside", moved, all, aside)
	if share := float64(moved) / float64(all); share > 0.07 || share < 0.01 {
		t.Errorf("%.1f %% of what lies still is called moved", 100*share)
	}
	if aside > 8 { // 1 % of 150 visits are 1.5 on average
		t.Errorf("%d marks that stand were set aside", aside)
	}
}

func TestUncertaintyDoesNotDependOnTheDatum(t *testing.T) {
	r := func() *rand.Rand { return rand.New(rand.NewPCG(5, 5)) }
	before := visit(yard(), base("A", "B", 0, 0, 0), tape, r())
	one := compare.Visits(before, visit(with(yard(), "Tank", at(1, 0)), base("A", "B", 0, 0, 0), tape, r()))
	two := compare.Visits(before, visit(with(yard(), "Tank", at(1, 0)), base("E", "D", 900, 900, 123), tape, r()))
	for i, p := range one.Places {
		q := two.Places[i]
		if !near(float64(p.Within), float64(q.Within), 1e-5) || !near(float64(p.By), float64(q.By), 1e-5) || p.Verdict != q.Verdict {
			t.Errorf("%s: %v ± %v and %v ± %v", p.Name, p.By, p.Within, q.By, q.Within)
		}
	}
}

func TestNewGoneAndRenamed(t *testing.T) {
	before := visit(yard(), base("A", "B", 0, 0, 0), tape, nil)
	things := yard()
	things[6].name = "Box"
	after := visit(things, base("A", "B", 0, 0, 0), tape, nil)
	c := compare.Visits(before, after)
	if place(t, c, "Box").Verdict != compare.New || place(t, c, "D-box").Verdict != compare.Gone {
		t.Errorf("%+v", c.Places)
	}
	if !strings.Contains(strings.Join(c.Remarks, "\n"), "D-box of the earlier visit and Box of the later one lie in the same place") {
		t.Error(c.Remarks)
	}
	after.Renamed = map[site.Name]site.Name{"D-box": "Box"}
	c = compare.Visits(before, after)
	if p := place(t, c, "Box"); p.Verdict != compare.Unchanged || p.Earlier != "D-box" || len(c.Places) != 8 {
		t.Errorf("%+v", p)
	}
}
