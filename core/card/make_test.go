package card_test

import (
	"errors"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/card"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

func TestCardOfTheBox(t *testing.T) {
	y := homestead()
	y.job.Visit.Readings = []site.Reading{
		site.Depth{Point: "D-box", Read: unit.Written{Length: 9 * unit.Inch}},
		site.Depth{Point: "D-box", Read: unit.Written{Length: 14 * unit.Inch}},
		site.Depth{Point: "D-box", Read: unit.Written{Length: 99 * unit.Inch}, Taken: site.Taken{SetAside: "to a stone"}},
	}
	c := make1(t, y, "D-box")
	if c.Part != "D-box" || c.Kind != "distribution box" || c.InDoubt || c.Depth == nil || *c.Depth != 14*unit.Inch {
		t.Errorf("%+v", c)
	}
	if got := strings.Join(c.Words, "\n"); got != strings.Join([]string{
		`Hold the zero of one tape at House corner A, and that of another at House corner B.`,
		`Pull both level and tight; bring 27' 7 7/8" of the first and 30' 5" of the second together, on the lawn side of A-B.`,
		`There, within 3" (95 %), lies D-box: probe from the crossing outward.`,
		`Check: the tape from iron pin Pin 1 should read 46' 1 1/8", give or take 2". If it does not, look on the other side of the line or measure again before you dig.`,
		`It lay 1' 2" below the ground on 2026-05-14.`,
		`Open with care: keep people and flames away, cover it again at once, and never enter.`,
	}, "\n") {
		t.Errorf("words:\n%s", got)
	}
	if want := "18 Quarry Hollow Lane\nD-box, distribution box\n1 House corner A: 27' 7 7/8\"\n2 House corner B: 30' 5\"\n" +
		"check iron pin Pin 1: 46' 1 1/8\"\non the lawn side of A-B\nwithin 3\" (95 %)\ndepth 1' 2\"\nmeasured 2026-05-14\n" +
		"Open with care, cover at once, never enter."; c.Text != want {
		t.Errorf("text:\n%s", c.Text)
	}
}

func TestCardOfATankByItsOutline(t *testing.T) {
	y := homestead()
	y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: "Tank", Kind: site.SepticTank,
		Outline: &site.Outline{Hits: []site.Hit{{Point: "h1"}}}})
	y.part("inlet lid", site.Lid, at(7, -14))
	y.plan.Outlines = []adjust.Outline{{Part: "Tank", Fitted: true, Centre: at(10, -14), Sigma: adjust.Sigma{East: ft(0.1), North: ft(0.1)},
		Corners: [4]planar.Vec{at(6, -16), at(6, -12), at(14, -12), at(14, -16)}}}
	c := make1(t, y, "Tank")
	words := strings.Join(c.Words, "\n")
	if !strings.Contains(words, "lies the middle of Tank") || !strings.Contains(words, "On it: inlet lid;") || c.Depth != nil {
		t.Errorf("words %s", words)
	}
	if d := c.Ties[0].Distance - at(10, -14).Length(); c.Ties[0].From != "A" || d.Abs() > 1e-9 {
		t.Errorf("tie %+v", c.Ties[0])
	}
	y.plan.Search.Accused = []adjust.Accusation{{Readings: []site.ReadingID{"tie A > h1"}}}
	y.plan.Readings = []adjust.Reading{{ID: "tie A > h1", Touches: []site.Name{"A", "h1"}}}
	if c := make1(t, y, "Tank"); !c.InDoubt || !strings.Contains(c.Text, "readings disagree") {
		t.Error("a tank whose hit is accused is not in doubt")
	}
	if c := make1(t, y, "D-box"); c.InDoubt {
		t.Error("a box is in doubt for a hit of the tank")
	}
}

func TestWhatKeepsACardFromBeingMade(t *testing.T) {
	for _, c := range []struct {
		name  string
		part  site.Name
		spoil func(y *yard)
		want  []string
	}{
		{"a slip of the pen", "d-bx", func(*yard) {}, []string{`"d-bx"`, `for example "D-box"`}},
		{"a mark", "Pole", func(*yard) {}, []string{"this is a mark"}},
		{"no parts", "Tank", func(y *yard) { y.job.Site = site.Site{} }, []string{"no parts yet"}},
		{"not located", "D-box", func(y *yard) {
			p := &y.plan.Points[len(y.plan.Points)-1]
			p.State, p.Why, p.CureWords = adjust.TwoAnswers, "two mirrored places", "Measure Pole to D-box."
		}, []string{"two mirrored places", "Measure Pole to D-box."}},
		{"not in the plan", "D-box", func(y *yard) { y.plan.Points = nil }, []string{"it is not", "two or three marks"}},
		{"an outline not fitted", "Tank", func(y *yard) {
			y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: "Tank", Outline: &site.Outline{}})
			y.plan.Outlines = []adjust.Outline{{Part: "Tank", Why: "three hits are too few"}}
		}, []string{"three hits are too few", "probe hits"}},
		{"no marks", "D-box", func(y *yard) { y.job.Site.Points = y.job.Site.Points[6:] }, []string{"no marks yet"}},
		{"one mark", "D-box", func(y *yard) { y.job.Site.Points = y.job.Site.Points[5:] }, []string{"Only Pole can be used", "Add a mark"}},
		{"marks in one line", "D-box", func(y *yard) {
			y.job.Site.Points = nil
			y.mark("p", at(18, 0))
			y.mark("q", at(18, -60))
		}, []string{"too nearly in one line with p and q", "well to the side"}},
		{"behind the house", "D-box", func(y *yard) {
			for i := range y.plan.Points {
				if n := y.plan.Points[i].Name; n == "Pole" || n == "Pin 1" || n == "A" {
					y.plan.Points[i].At = at(20+float64(i), 70)
				}
			}
			y.job.Site.Points = y.job.Site.Points[2:]
			y.job.Site.Buildings[0].Corners = []site.Name{"e", "f", "g", "h"}
			for i, v := range []planar.Vec{at(-60, -5), at(90, -5), at(90, 24), at(-60, 24)} {
				n := []site.Name{"e", "f", "g", "h"}[i]
				y.plan.Points = append(y.plan.Points, adjust.Point{Name: n, At: v, Placed: true})
			}
		}, []string{"House stands between"}},
	} {
		y := homestead()
		c.spoil(y)
		_, err := card.Make(&y.job, &y.plan, c.part)
		var p site.Problem
		if !errors.As(err, &p) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		for _, w := range c.want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q does not say %q", c.name, err, w)
			}
		}
	}
	if _, err := card.Make(nil, nil, "Tank"); err == nil {
		t.Error("a card of nothing")
	}
}

// FuzzMake gives it names and places of any kind.
func FuzzMake(f *testing.F) {
	f.Add("D-box", "18 Quarry Hollow Lane", 18.0, -21.0, 0.1, uint8(0))
	f.Add("Straße Ünïcode 世界", "\n\x00\xff", 1e300, -1e300, -1.0, uint8(7))
	f.Fuzz(func(t *testing.T, part, name string, e, n, sd float64, bits uint8) {
		y := homestead()
		y.job.Site.Name, y.job.Visit.Date = name, name
		y.part(site.Name(part), site.PartKind(name), at(e, n))
		y.put(site.Name(name), site.RoleMark, part, at(n, e), ft(sd))
		y.job.Site.Buildings[0].Name = site.Name(name)
		y.job.Show.Form = unit.Form(bits)
		p := &y.plan.Points[int(bits)%len(y.plan.Points)]
		p.Sigma.East, p.Doubt = ft(sd), ft(e)
		y.job.Visit.Readings = append(y.job.Visit.Readings, site.Depth{Point: site.Name(part), Read: unit.Written{Length: ft(n)}})
		c, err := card.Make(&y.job, &y.plan, site.Name(part))
		if err != nil {
			return
		}
		if len(c.Text) > 600 || strings.IndexFunc(c.Text, func(r rune) bool { return r > 0x7e || r < ' ' && r != '\n' }) >= 0 {
			t.Errorf("text of %d bytes: %q", len(c.Text), c.Text)
		}
		if len(c.Ties) < 2 || len(c.Ties) > 3 || c.Side == "" || len(c.Words) < 4 || !(c.Expected > 0) {
			t.Errorf("%+v", c)
		}
	})
}
