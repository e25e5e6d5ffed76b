package adjust_test

import (
	"fmt"
	"testing"

	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/core/unit"
)

// A chain of points, each tied to the two before it and to nothing else,
// doubles its mirrored answers with every link. The search for them is bounded:
// it ends, and calls nothing certain that is not.
func TestAChainOfMirrorsEnds(t *testing.T) {
	y := baseline(1)
	before := []site.Name{"A", "B"}
	for i := range 24 {
		name := site.Name(fmt.Sprint("p", i))
		y.put(name, site.RolePart, at(20+8*float64(i%2)+3*float64(i%5), 12*float64(i+1)))
		y.perfect(before[len(before)-2], name)
		y.perfect(before[len(before)-1], name)
		before = append(before, name)
	}
	p := y.solve()
	for _, q := range p.Points[2:] {
		if q.State == adjust.Determined {
			t.Errorf("%s is called determined", q.Name)
		}
	}
}

// Sixty parts with two answers each stay sixty choices of two.
func TestManySeparateMirrors(t *testing.T) {
	y := baseline(1)
	for i := range 60 {
		name := site.Name(fmt.Sprint("p", i))
		y.put(name, site.RolePart, at(float64(i), 10+float64(i%7)))
		y.perfect("A", name)
		y.perfect("B", name)
	}
	p := y.solve()
	for _, q := range p.Points[2:] {
		if q.State != adjust.TwoAnswers || q.Other == nil {
			t.Errorf("%s: %v", q.Name, q.State)
			continue
		}
		wantNear(t, string(q.Name), float64(q.Other.North), -float64(q.At.North), 1e-6)
	}
}

// A chain is decided by one tie at its far end.
func TestAFarTieDecidesAChain(t *testing.T) {
	y := baseline(1)
	y.put("C", site.RoleMark, at(60, 70))
	y.perfect("A", "C")
	y.perfect("B", "C")
	y.job.Site.Points[2].Sides = []site.Side{{Kind: site.LeftOf, From: "A", To: "B"}}
	before := []site.Name{"A", "B"}
	for i := range 5 {
		name := site.Name(fmt.Sprint("p", i))
		y.put(name, site.RolePart, at(20+9*float64(i%2)+2*float64(i*i%5), 11*float64(i+1)))
		y.perfect(before[len(before)-2], name)
		y.perfect(before[len(before)-1], name)
		before = append(before, name)
	}
	y.perfect("C", "p4")
	y.perfect("C", "p3")
	p := y.solve()
	for _, q := range y.job.Site.Points {
		wantAt(t, y, p, q.Name, unit.Millimetre)
	}
}

// Starting near an earlier plan saves time and changes no answer, whatever was
// changed in the job since: what decided a mirror may be gone.
func TestStartingNearChangesNoAnswer(t *testing.T) {
	third := func() *yard {
		y := demo(1, 0)
		y.put("lid 2", site.RolePart, at(60, -20))
		for _, m := range []site.Name{"B", "C", "D"} {
			y.perfect(m, "lid 2")
		}
		return y
	}
	for name, change := range map[string]func(y *yard){
		"nothing":       func(*yard) {},
		"one more":      func(y *yard) { y.perfect("Pole", "lid 2") },
		"tie set aside": func(y *yard) { y.change("tie D > lid 2", func(t *site.Tie) { t.SetAside = "doubtful" }) },
		"tie removed": func(y *yard) {
			n := len(y.job.Visit.Readings)
			y.job.Visit.Readings = y.job.Visit.Readings[:n-1]
		},
		"value changed": func(y *yard) { y.lengthen("tie D > lid 2", ft(3)) },
		"hint removed": func(y *yard) {
			for i := range y.job.Site.Points {
				y.job.Site.Points[i].Sides = nil
			}
		},
	} {
		t.Run(name, func(t *testing.T) {
			y := third()
			// A part that only its hint decides.
			y.put("hinted", site.RolePart, at(5, -20), lawn)
			y.perfect("F", "hinted")
			y.perfect("E", "hinted")
			last := y.job.Visit.Readings
			n := len(last)
			last[n-3], last[n-1] = last[n-1], last[n-3] // the tie from D comes last
			before := y.solve()
			change(y)
			fresh, near := y.solve(), adjust.Solve(&y.job, adjust.Settings{Near: before})
			for i, q := range fresh.Points {
				r := near.Points[i]
				if q.State != r.State {
					t.Errorf("%s: fresh %v, near %v", q.Name, q.State, r.State)
				}
				if d := q.At.Minus(r.At).Length(); d > 1e-6 && q.State == adjust.Determined {
					t.Errorf("%s: %v m between the fresh and the near plan", q.Name, d)
				}
			}
		})
	}
}
