package adjust_test

import (
	"slices"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/core/unit"
)

// accusedFirst lists the first reading of each accusation.
func accusedFirst(p *adjust.Plan) []site.ReadingID {
	var out []site.ReadingID
	for _, a := range p.Search.Accused {
		out = append(out, a.Readings[0])
	}
	slices.Sort(out)
	return out
}

func (y *yard) lengthen(id site.ReadingID, by unit.Length) {
	y.change(id, func(t *site.Tie) { t.Read = y.feetInches(t.Read.Length + by) })
}

func TestTwoWrongReadingsAreBothFound(t *testing.T) {
	for seed := range uint64(10) {
		y := demo(seed, 1)
		y.lengthen("tie E > D-box", ft(1))
		y.lengthen("tie D > bend 2", -ft(1))
		p := y.solve()
		if got := accusedFirst(p); !slices.Equal(got, []site.ReadingID{"tie D > bend 2", "tie E > D-box"}) {
			t.Errorf("seed %d: accused %v", seed, got)
			continue
		}
		for _, a := range p.Search.Accused {
			if h := a.Hypotheses[0]; h.Kind != adjust.SlipFoot || !h.Explains {
				t.Errorf("seed %d: %v explained as %+v", seed, a.Readings, h)
			}
			if !readingOf(t, p, a.Readings[0]).Flagged {
				t.Error("an accused reading is not flagged")
			}
		}
	}
}

// Three ties to one part are one check: a slip shows, and nothing tells in
// which. All three are named, and the reading to take next.
func TestOneCheckDetectsButDoesNotLocate(t *testing.T) {
	y := demo(1, 0)
	y.put("new lid", site.RolePart, at(10, -22), lawn)
	ids := []site.ReadingID{y.perfect("F", "new lid"), y.perfect("E", "new lid"), y.perfect("D", "new lid")}
	y.lengthen(ids[1], ft(0.5)+unit.Inch)
	p := y.solve()
	if len(p.Search.Accused) != 1 {
		t.Fatalf("accused %+v", p.Search.Accused)
	}
	a := p.Search.Accused[0]
	if a.Located {
		t.Errorf("located %v", a.Readings)
	}
	for _, id := range ids {
		if !slices.Contains(a.Readings, id) {
			t.Errorf("%s is not among %v", id, a.Readings)
		}
		if !strings.Contains(a.Words, readingOf(t, p, id).Words) {
			t.Errorf("%q does not name %s", a.Words, id)
		}
	}
	if a.NextReading == nil || a.NextReading.To != "new lid" || slices.Contains(ids, "tie "+site.ReadingID(a.NextReading.From)+" > new lid") {
		t.Errorf("next reading %+v", a.NextReading)
	}
	if !strings.Contains(strings.Join(p.Verdict.Reasons, " "), a.NextReading.Words) {
		t.Errorf("reasons %q", p.Verdict.Reasons)
	}
	// And that reading does locate it.
	y.perfect(a.NextReading.From, a.NextReading.To)
	p = y.solve()
	if len(p.Search.Accused) != 1 || !p.Search.Accused[0].Located || p.Search.Accused[0].Readings[0] != ids[1] {
		t.Errorf("with the next reading: %+v", p.Search.Accused)
	}
}

func TestAFootSlipInOneOfThreeTies(t *testing.T) {
	y := demo(1, 0)
	y.lengthen("tie E > inlet lid", ft(1))
	p := y.solve()
	if len(p.Search.Accused) != 1 || !slices.Contains(p.Search.Accused[0].Readings, "tie E > inlet lid") {
		t.Fatalf("accused %+v", p.Search.Accused)
	}
	a := p.Search.Accused[0]
	if a.NextReading == nil && !a.Located {
		t.Error("no reading to take next")
	}
}

// A reading that nothing checks is said to be so and is never accused, however
// wrong it is.
func TestAnUncheckedReadingIsNeverAccused(t *testing.T) {
	y := demo(1, 0)
	y.put("two ties", site.RolePart, at(5, -25), lawn)
	a, b := y.perfect("F", "two ties"), y.perfect("E", "two ties")
	y.lengthen(a, ft(1))
	p := y.solve()
	if len(p.Search.Accused) != 0 {
		t.Errorf("accused %+v", p.Search.Accused)
	}
	for _, id := range []site.ReadingID{a, b} {
		if !slices.Contains(p.Search.Unchecked, id) {
			t.Errorf("%s is not among the unchecked %v", id, p.Search.Unchecked)
		}
	}
	if p.Verdict.Fill != adjust.FillUnsure || !strings.Contains(strings.Join(p.Verdict.Reasons, " "), "two ties") {
		t.Errorf("verdict %+v", p.Verdict)
	}
}

func TestSwappedTies(t *testing.T) {
	y := demo(2, 0)
	var one, two unit.Written
	y.change("tie E > D-box", func(t *site.Tie) { one = t.Read })
	y.change("tie C > D-box", func(t *site.Tie) { two = t.Read })
	y.change("tie E > D-box", func(t *site.Tie) { t.Read = two })
	y.change("tie C > D-box", func(t *site.Tie) { t.Read = one })
	p := y.solve()
	if len(p.Search.Accused) == 0 {
		t.Fatal("nothing accused")
	}
	// The numbers fit two ties taken from each other's corner exactly as well,
	// so the exchange must be among the first two explanations of each.
	for _, a := range p.Search.Accused {
		found := false
		for _, h := range a.Hypotheses[:min(2, len(a.Hypotheses))] {
			ids := slices.Clone(h.Readings)
			slices.Sort(ids)
			found = found || h.Kind == adjust.SlipSwapped && h.Explains && slices.Equal(ids, []site.ReadingID{"tie C > D-box", "tie E > D-box"})
		}
		if !found {
			t.Errorf("%v: %+v", a.Readings, a.Hypotheses)
		}
	}
}

// offsetYard is the demo's house with a part that has an offset and two ties.
func offsetYard() *yard {
	y := demo(1, 0)
	y.put("cleanout", site.RolePart, at(10, -10), lawn)
	y.perfect("F", "cleanout")
	y.perfect("E", "cleanout")
	y.perfect("D", "cleanout")
	return y
}

func TestOffsetSlipsAreExplained(t *testing.T) {
	for _, c := range []struct {
		name           string
		station, right float64
		kind           adjust.HypothesisKind
	}{
		// The baseline runs from E (30, 0) to F (0, 0): station 20, 10 ft to the left.
		{"right as read", 20, -10, ""},
		{"left and right exchanged", 20, 10, adjust.SlipOtherSide},
		{"station from the other end", 10, -10, adjust.SlipWrongEnd},
	} {
		t.Run(c.name, func(t *testing.T) {
			y := offsetYard()
			y.offsetOf("E", "F", "cleanout", c.station, c.right)
			p := y.solve()
			if c.kind == "" {
				if len(p.Search.Accused) != 0 {
					t.Errorf("accused %+v", p.Search.Accused)
				}
				return
			}
			if len(p.Search.Accused) != 1 || p.Search.Accused[0].Readings[0] != "offset of cleanout" {
				t.Fatalf("accused %+v", p.Search.Accused)
			}
			if h := p.Search.Accused[0].Hypotheses[0]; h.Kind != c.kind || !h.Explains {
				t.Errorf("explained as %+v", h)
			}
		})
	}
}

func TestABackwardBearingIsExplained(t *testing.T) {
	y := demo(1, 0)
	for _, pair := range [][2]site.Name{{"F", "D-box"}, {"E", "end 1"}, {"D", "end 2"}, {"A", "B"}} {
		y.bearing(pair[0], pair[1], 0, false)
	}
	y.bearing("C", "end 3", unit.Angle(3.14159265), false)
	p := y.solve()
	if len(p.Search.Accused) != 1 || p.Search.Accused[0].Readings[0] != "bearing C > end 3" {
		t.Fatalf("accused %+v", p.Search.Accused)
	}
	if h := p.Search.Accused[0].Hypotheses[0]; h.Kind != adjust.SlipWrongEnd || !h.Explains || !p.Search.Accused[0].Angular {
		t.Errorf("explained as %+v", h)
	}
}

func TestATapeNotHeldAtZeroIsOneCause(t *testing.T) {
	y := demo(4, 0.5)
	short := -3 * unit.Inch
	count := 0
	for _, r := range y.job.Visit.Readings {
		if tie := r.(site.Tie); tie.From == "F" {
			y.lengthen(tie.ID, short)
			count++
		}
	}
	p := y.solve()
	if len(p.Search.Accused) != 1 {
		t.Fatalf("accused %d: %v", len(p.Search.Accused), accusedFirst(p))
	}
	a := p.Search.Accused[0]
	if len(a.Readings) != count || a.Hypotheses[0].Kind != adjust.SlipTapeZero || !strings.Contains(a.Words, "from F") {
		t.Errorf("%d of %d ties, %q, %+v", len(a.Readings), count, a.Words, a.Hypotheses)
	}
	wantNear(t, "bias", a.Misfit/0.0254, -3, 0.7)
}

// A point on the other side of its marks than its hint says, with ties that can
// tell: a hint never makes a right reading look wrong.
func TestAWrongSideIsNotAWrongReading(t *testing.T) {
	y := demo(1, 0)
	y.put("behind", site.RolePart, at(-10, 10), lawn) // truly north of the wall's line
	for _, m := range []site.Name{"F", "A", "E"} {
		y.perfect(m, "behind")
	}
	p := y.solve()
	wantAt(t, y, p, "behind", unit.Inch/2)
	if len(p.Search.Accused) != 0 {
		t.Errorf("accused %+v", p.Search.Accused)
	}
}

func TestDecisionsOfThePersonAreHonoured(t *testing.T) {
	y := demo(3, 0.5)
	right := readingIn(y, "tie E > D-box").Read
	spoil(y, "tie E > D-box", mustLength("45.2 ft"))
	if p := y.solve(); len(p.Search.Accused) != 1 {
		t.Fatalf("the slip is not found: %v", accusedFirst(p))
	}
	y.change("tie E > D-box", func(t *site.Tie) { t.Corrected = &right })
	p := y.solve()
	r := readingOf(t, p, "tie E > D-box")
	if len(p.Search.Accused) != 0 || r.Use != adjust.Used || r.Written != "45.2 ft" {
		t.Errorf("corrected: accused %v, reading %+v", accusedFirst(p), r)
	}
	wantNear(t, "corrected value", r.Components[0].Read, float64(right.Length), 1e-12)
	y.change("tie E > D-box", func(t *site.Tie) { t.Corrected, t.SetAside = nil, "misread, it rained" })
	p = y.solve()
	r = readingOf(t, p, "tie E > D-box")
	if len(p.Search.Accused) != 0 || r.Use != adjust.SetAside || r.Why != "misread, it rained" {
		t.Errorf("set aside: accused %v, reading %+v", accusedFirst(p), r)
	}
	if p.Verdict.Fill != adjust.FillYes {
		t.Errorf("verdict %+v", p.Verdict)
	}
}

func readingIn(y *yard, id site.ReadingID) site.Tie {
	for _, r := range y.job.Visit.Readings {
		if t, ok := r.(site.Tie); ok && t.ID == id {
			return t
		}
	}
	panic("no tie " + id)
}
