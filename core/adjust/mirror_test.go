package adjust_test

import (
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/core/unit"
)

// twoTies is a lid with nothing but ties from A and B: the worked example of
// docs/method.md.
func twoTies(sides ...site.Side) *yard {
	y := baseline(1)
	y.put("lid", site.RolePart, at(20, 22), sides...)
	y.perfect("A", "lid")
	y.perfect("B", "lid")
	return y
}

func TestTwoTiesHaveTwoAnswers(t *testing.T) {
	y := twoTies()
	p := y.solve()
	q := find(t, p, "lid")
	if q.State != adjust.TwoAnswers || q.Other == nil {
		t.Fatalf("state %v, other %v", q.State, q.Other)
	}
	a, b := find(t, p, "A").At, find(t, p, "B").At
	u, _ := b.Minus(a).Unit()
	// The mirror over A-B keeps what lies along it and turns what lies across.
	d, o := q.At.Minus(a), q.Other.Minus(a)
	wantNear(t, "along", float64(o.Dot(u)), float64(d.Dot(u)), 1e-9)
	wantNear(t, "across", float64(u.Cross(o)), -float64(u.Cross(d)), 1e-9)
	if p.Verdict.Fill != adjust.FillNo {
		t.Errorf("two answers may be filled: %+v", p.Verdict)
	}
	if q.Cure == nil || !strings.Contains(q.CureWords, "side") || !strings.Contains(q.CureWords, "lid") {
		t.Errorf("cure %+v %q", q.Cure, q.CureWords)
	}
}

func TestEachHintDecidesAMirror(t *testing.T) {
	for name, decide := range map[string]func(y *yard){
		"side left": func(y *yard) {
			y.job.Site.Points[2].Sides = []site.Side{{Kind: site.LeftOf, From: "A", To: "B"}}
		},
		"side right, ends exchanged": func(y *yard) {
			y.job.Site.Points[2].Sides = []site.Side{{Kind: site.RightOf, From: "B", To: "A"}}
		},
		"rough": func(y *yard) {
			y.job.Site.Points[2].Rough = &site.Rough{From: "A", To: "B", Along: ft(5), Right: ft(-9)}
		},
		"rough on the datum": func(y *yard) {
			y.job.Site.Points[2].Rough = &site.Rough{Along: ft(25), Right: ft(-20)}
		},
		"two bearings": func(y *yard) {
			for _, to := range []site.Name{"B", "lid"} {
				y.read(site.Bearing{Taken: named("bearing A > " + site.ReadingID(to)), From: "A", To: to,
					Read: unit.WrittenAngle{Angle: y.truth[to].Azimuth()}})
			}
		},
		"third tie": func(y *yard) {
			y.put("Pole", site.RoleMark, at(50, 30), site.Side{Kind: site.LeftOf, From: "A", To: "B"})
			y.perfect("A", "Pole")
			y.perfect("B", "Pole")
			y.perfect("Pole", "lid")
		},
	} {
		t.Run(name, func(t *testing.T) {
			y := twoTies()
			decide(y)
			wantAt(t, y, y.solve(), "lid", 1e-6)
		})
	}
}

// A side hint carries no weight: a third tie that can tell the sides apart
// wins over it.
func TestAThirdTieBeatsAWrongSide(t *testing.T) {
	y := newYard(2)
	y.house(0)
	y.put("lid", site.RolePart, at(20, -20), site.Side{Kind: site.LeftOf, From: "E", To: "F"}) // it lies left going west: true
	y.truth["lid"] = at(20, -20)
	for _, m := range []site.Name{"D", "E", "F"} {
		y.perfect(m, "lid")
	}
	y.job.Site.Points[6].Sides[0].Kind = site.RightOf
	p := y.solve()
	wantAt(t, y, p, "lid", unit.Inch/4)
	if len(p.Search.Accused) != 0 {
		t.Errorf("accused %+v", p.Search.Accused)
	}
}

// Points tied among themselves alone: the whole plan has its mirror.
func TestMarksAloneHaveTwoAnswers(t *testing.T) {
	y := baseline(3)
	y.put("C", site.RoleMark, at(38, 25))
	y.put("D", site.RoleMark, at(3, 30))
	for _, pair := range []string{"AC", "BC", "AD", "BD", "CD"} {
		y.perfect(site.Name(pair[:1]), site.Name(pair[1:]))
	}
	p := y.solve()
	c, d := find(t, p, "C"), find(t, p, "D")
	if c.State != adjust.TwoAnswers || d.State != adjust.TwoAnswers {
		t.Fatalf("states %v %v", c.State, d.State)
	}
	wantNear(t, "C mirrored", float64(c.Other.North), -float64(c.At.North), 1e-6)
	wantNear(t, "D mirrored", float64(d.Other.North), -float64(d.At.North), 1e-6)
	y.job.Site.Points[2].Sides = []site.Side{{Kind: site.LeftOf, From: "A", To: "B"}}
	p = y.solve()
	wantAt(t, y, p, "C", 1e-5)
	wantAt(t, y, p, "D", 1e-5) // one hint decides both
}

// A building walked clockwise has no mirror of its own, and neither has what
// is tied to three of its corners.
func TestABuildingDecidesItsOwnMirror(t *testing.T) {
	y := newYard(4)
	y.house(0)
	y.put("lid", site.RolePart, at(60, -20))
	for _, m := range []site.Name{"B", "C", "D"} {
		y.perfect(m, "lid")
	}
	p := y.solve()
	for name := range y.truth {
		wantAt(t, y, p, name, unit.Inch/2)
	}
}

// A second house on a farm is tied from the first by four ties.
func TestASecondHouseIsTiedFromTheFirst(t *testing.T) {
	y := newYard(5)
	y.house(0)
	barn := []site.Name{"K", "L", "M", "N"}
	for i, v := range []struct{ e, n float64 }{{60, -30}, {84, -23}, {79.333, -7}, {55.333, -14}} {
		y.put(barn[i], site.RoleCorner, at(v.e, v.n))
	}
	y.job.Site.Buildings = append(y.job.Site.Buildings, site.Building{Name: "Barn",
		Corners: []site.Name{"K", "N", "M", "L"}, Turns: []site.BuildingTurn{1, 1, 1, 1},
		Sides: []unit.Written{asRead(y.apart("K", "N")), asRead(y.apart("N", "M"))}})
	for _, pair := range [][2]site.Name{{"B", "K"}, {"C", "K"}, {"B", "N"}, {"C", "N"}} {
		y.perfect(pair[0], pair[1])
	}
	y.job.Site.Points[9].Sides = []site.Side{{Kind: site.Outside, From: "B", To: "C"}}
	y.job.Site.Points[6].Sides = []site.Side{{Kind: site.Outside, From: "B", To: "C"}}
	p := y.solve()
	for _, c := range barn {
		wantAt(t, y, p, c, unit.Inch*2)
	}
}

// A point close to its baseline has mirrors close together: it is either told
// as two answers or as one with an ellipse that says how poor it is.
func TestAPointNearItsBaselineIsNotSure(t *testing.T) {
	for _, off := range []float64{0.02, 0.1, 0.5, 1, 2} {
		y := baseline(6)
		y.put("lid", site.RolePart, at(17, off))
		y.perfect("A", "lid")
		y.perfect("B", "lid")
		q := find(t, y.solve(), "lid")
		if q.State == adjust.Determined && q.Ellipse.Radius < ft(off) {
			t.Errorf("%v ft off the baseline: determined within %.3f ft", off, q.Ellipse.Radius.Feet())
		}
		if q.State == adjust.Determined && q.Ellipse.Radius > ft(40) {
			t.Errorf("%v ft off the baseline: called determined within %.0f ft", off, q.Ellipse.Radius.Feet())
		}
	}
}
