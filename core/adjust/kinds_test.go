package adjust_test

import (
	"math"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

func (y *yard) bearing(from, to site.Name, turn unit.Angle, magnetic bool) {
	a := (y.truth[to].Minus(y.truth[from]).Azimuth() + turn).Turn()
	y.read(site.Bearing{Taken: named("bearing " + site.ReadingID(from+" > "+to)), From: from, To: to,
		Read: unit.WrittenAngle{Angle: a}, Magnetic: magnetic})
}

// A bend with one tie and an end with two, joined by a footage: neither can be
// placed from its ties alone, both can together.
func TestABendAndAnEndAreSolvedTogether(t *testing.T) {
	y := demo(1, 0)
	y.put("elbow", site.RoleBend, at(-5, -30), lawn)
	y.put("far end", site.RolePart, at(-30, -15), lawn)
	y.perfect("F", "elbow")
	y.perfect("F", "far end")
	y.perfect("E", "far end")
	y.job.Site.Lines = []site.Line{{Name: "L", Path: []site.Name{"D-box", "elbow", "far end"}}}
	length := y.apart("D-box", "elbow") + y.apart("elbow", "far end")
	sd := unit.Inch
	y.read(site.Footage{Taken: named("footage"), Line: "L", To: "far end", Read: asRead(length), SD: &sd})
	y.job.Site.Points[len(y.job.Site.Points)-2].Rough = &site.Rough{From: "F", To: "E", Along: ft(-4), Right: ft(28)}
	p := y.solve()
	wantAt(t, y, p, "elbow", unit.Inch*3) // the box itself is good to half an inch
	wantAt(t, y, p, "far end", unit.Inch)
	if l := p.Footages[0]; !l.Known || (l.Length-length).Abs() > unit.Inch || l.SD <= 0 || len(l.Segments) != 2 {
		t.Fatalf("line %+v", l)
	}
	if math.Abs(float64(p.Footages[0].Segments[0]+p.Footages[0].Segments[1]-p.Footages[0].Length)) > 1e-9 {
		t.Error("the segments do not make the line")
	}
}

// An elbow and an end tied once each, with the tape between them and one
// footage: only all four numbers together place them, and rough positions
// choose among the answers.
func TestTwoPointsOfOneTieEachAreSolvedTogether(t *testing.T) {
	y := demo(1, 0)
	y.put("elbow", site.RoleBend, at(-5, -30), lawn)
	y.put("far end", site.RolePart, at(-30, -15), lawn)
	y.perfect("F", "elbow")
	y.perfect("E", "far end")
	y.perfect("elbow", "far end")
	y.job.Site.Lines = []site.Line{{Name: "L", Path: []site.Name{"D-box", "elbow", "far end"}}}
	sd := unit.Inch
	y.read(site.Footage{Taken: named("footage"), Line: "L", To: "far end", SD: &sd,
		Read: asRead(y.apart("D-box", "elbow") + y.apart("elbow", "far end"))})
	n := len(y.job.Site.Points)
	y.job.Site.Points[n-2].Rough = &site.Rough{From: "F", To: "E", Along: ft(-3), Right: ft(27)}
	y.job.Site.Points[n-1].Rough = &site.Rough{From: "F", To: "E", Along: ft(-27), Right: ft(13)}
	p := y.solve()
	wantAt(t, y, p, "elbow", unit.Inch*3)
	wantAt(t, y, p, "far end", unit.Inch*3)
}

func TestOffsetsPlacePointsOnBothSides(t *testing.T) {
	y := baseline(1)
	y.put("left", site.RolePart, at(12, 9))
	y.put("right", site.RolePart, at(33, -7))
	y.put("behind", site.RolePart, at(-4, -3))
	y.offsetOf("A", "B", "left", 12, -9)
	y.offsetOf("A", "B", "right", 33, 7)
	y.offsetOf("A", "B", "behind", -4, 3)
	// A baseline whose ends are parts themselves.
	y.put("squared off parts", site.RolePart, at(0, 0))
	u, _ := y.truth["right"].Minus(y.truth["left"]).Unit()
	y.truth["squared off parts"] = y.truth["left"].Plus(u.Times(float64(ft(10)))).Plus(u.Right().Times(float64(ft(4))))
	y.offsetOf("left", "right", "squared off parts", 10, 4)
	p := y.solve()
	for _, name := range []site.Name{"left", "right", "behind", "squared off parts"} {
		wantAt(t, y, p, name, 1e-6)
	}
	s := find(t, p, "left").Sigma
	want := math.Hypot(float64(adjust.OffsetDeviation), 0.001*float64(ft(9)))
	wantNear(t, "sd across", float64(s.North), want, 1e-4)
}

func (y *yard) offsetOf(from, to, point site.Name, station, right float64) {
	y.read(site.Offset{Taken: named("offset of " + site.ReadingID(point)), From: from, To: to, Point: point,
		Station: asRead(ft(station)), Right: asRead(ft(right))})
}

func TestBearingsTurnThePlan(t *testing.T) {
	declination := unit.Angle(-0.2)
	for _, c := range []struct {
		name        string
		magnetic    bool
		declination *unit.Angle
		north       adjust.North
		turn        float64 // plan's north against the truth's, expected
	}{
		{"true", false, nil, adjust.NorthMeasured, 0.5},
		{"magnetic with declination", true, &declination, adjust.NorthMeasured, 0.5 - 0.2},
		{"magnetic without", true, nil, adjust.NorthMagnetic, 0.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			y := demo(1, 0)
			y.job.Visit.Declination = c.declination
			y.bearing("F", "D-box", 0.5, c.magnetic)
			y.bearing("E", "end 1", 0.5, c.magnetic)
			p := y.solve()
			if p.Frame.North != c.north {
				t.Errorf("north %v", p.Frame.North)
			}
			was := y.truth["B"].Minus(y.truth["A"]).Azimuth()
			wantNear(t, "turn", float64((p.Frame.Azimuth - was).HalfTurn()), c.turn, 1e-3)
			if p.Frame.NorthSD <= 0 || p.Frame.NorthSD > 3*unit.Degree {
				t.Errorf("sd of north %v", p.Frame.NorthSD.Degrees())
			}
			for name := range y.truth {
				wantAt(t, y, p, name, unit.Inch/2)
			}
		})
	}
}

// A datum's mark at a given place and its given azimuth give exactly those.
func TestTheDatumIsKept(t *testing.T) {
	y := demo(1, 0)
	az := unit.Angle(1.234)
	y.job.Datum = site.Datum{Kind: site.DatumBaseline, Mark: "Pole", East: 5000, North: 3000, Toward: "F", Azimuth: &az}
	p := y.solve()
	if q := find(t, p, "Pole"); q.At != (planar.Vec{East: 5000, North: 3000}) || q.Sigma.East != 0 {
		t.Errorf("Pole at %v, sd %v", q.At, q.Sigma)
	}
	d := find(t, p, "F").At.Minus(find(t, p, "Pole").At)
	wantNear(t, "azimuth", float64(d.Azimuth()), 1.234, 1e-12)
	if p.Frame.North != adjust.NorthGiven || p.Frame.NorthSD != 0 {
		t.Errorf("frame %+v", p.Frame)
	}
	for name, v := range y.truth {
		want := y.aligned(p.Frame, v).Plus(planar.Vec{East: 5000, North: 3000})
		if e := find(t, p, name).At.Minus(want).Length(); e > unit.Inch/2 {
			t.Errorf("%s %v from its place", name, e)
		}
	}
}

// metresPerRadian of latitude and longitude on WGS 84 at a latitude, by the
// formulas of the radii of curvature (Snyder, USGS Professional Paper 1395,
// 1987, p. 24, from memory), written apart from the program.
func metresPerRadian(lat float64) (north, east float64) {
	const a, f = 6378137.0, 1 / 298.257223563
	e2 := f * (2 - f)
	w := math.Sqrt(1 - e2*math.Pow(math.Sin(lat), 2))
	return a * (1 - e2) / (w * w * w), a / w * math.Cos(lat)
}

func (y *yard) satellite(point site.Name, lat0, lon0, turn float64, sd unit.Length) {
	n, e := metresPerRadian(lat0)
	v := y.truth[point].Clockwise(unit.Angle(turn))
	y.read(site.Fix{Taken: named("fix of " + site.ReadingID(point)), Point: point,
		Latitude:  unit.Angle(lat0 + float64(v.North)/n),
		Longitude: unit.Angle(lon0 + float64(v.East)/e), SD: &sd, Text: "fix"})
}

// Fixes on two marks and a part turn the plan to true north and decide a
// mirror that two ties leave.
func TestFixesTurnThePlanAndDecideAMirror(t *testing.T) {
	const lat, lon, turn = 0.82, -2.1, 0.7
	y := twoTies()
	for _, name := range []site.Name{"A", "B", "lid"} {
		y.satellite(name, lat, lon, turn, 0.05)
	}
	p := y.solve()
	wantAt(t, y, p, "lid", 1e-4)
	wantNear(t, "azimuth", float64(p.Frame.Azimuth), math.Pi/2+turn, 1e-5)
	if p.Frame.Latitude == nil || p.Frame.Longitude == nil {
		t.Fatal("the datum has no latitude and longitude")
	}
	// A millimetre is 1.6e-10 rad.
	wantNear(t, "latitude of A", float64(*p.Frame.Latitude), lat, 1.6e-10)
	wantNear(t, "longitude of A", float64(*p.Frame.Longitude), lon, 2.5e-10)
}

func TestGridFixesAgreeWithTheDatum(t *testing.T) {
	y := twoTies()
	az := unit.Angle(2.0)
	y.job.Datum = site.Datum{Kind: site.DatumBaseline, Mark: "A", East: 1000, North: 500, Toward: "B", Azimuth: &az}
	v := y.truth["lid"].Clockwise(az - math.Pi/2).Plus(vec(1000, 500))
	y.read(site.Fix{Taken: named("fix"), Point: "lid", Grid: true, East: v.East, North: v.North, Text: "grid"})
	p := y.solve()
	if q := find(t, p, "lid"); q.State != adjust.Determined || q.At.Minus(v).Length() > 1e-6 {
		t.Errorf("lid %v %v, want %v", q.State, q.At, v)
	}
}

// One grid fix away from a datum of known place measures the plan's turn.
func TestOneGridFixTurnsAPlanOfKnownPlace(t *testing.T) {
	y := twoTies(site.Side{Kind: site.LeftOf, From: "A", To: "B"})
	y.job.Datum = site.Datum{Kind: site.DatumBaseline, Mark: "A", East: 1000, North: 500, Toward: "B"}
	v := y.truth["B"].Clockwise(0.4).Plus(vec(1000, 500))
	y.read(site.Fix{Taken: named("fix"), Point: "B", Grid: true, East: v.East, North: v.North, Text: "grid"})
	p := y.solve()
	wantNear(t, "azimuth", float64(p.Frame.Azimuth), math.Pi/2+0.4, 1e-6)
	if p.Frame.North != adjust.NorthMeasured || readingOf(t, p, "fix").Use != adjust.Used {
		t.Errorf("frame %+v, fix %+v", p.Frame, readingOf(t, p, "fix"))
	}
}

// trace sums the variances of the marks.
func trace(t *testing.T, p *adjust.Plan) float64 {
	s := 0.0
	for _, q := range p.Points {
		if q.Role == site.RoleMark || q.Role == site.RoleCorner {
			s += float64(q.Sigma.East*q.Sigma.East + q.Sigma.North*q.Sigma.North)
		}
	}
	return s
}

// The free datum changes only what the ellipses are relative to, and has the
// smallest trace of all minimal datums.
func TestTheFreeDatumHasTheSmallestTrace(t *testing.T) {
	y := demo(2, 1)
	y.job.Datum = site.Datum{Kind: site.DatumFree}
	free := y.solve()
	least := trace(t, free)
	for _, pair := range [][2]site.Name{{"A", "B"}, {"F", "E"}, {"Pole", "A"}, {"C", "F"}} {
		y.job.Datum = site.Datum{Kind: site.DatumBaseline, Mark: pair[0], Toward: pair[1]}
		p := y.solve()
		if s := trace(t, p); s < least*(1-1e-9) {
			t.Errorf("datum %v: trace %v below the free one %v", pair, s, least)
		}
		for i, r := range p.Readings {
			for k, c := range r.Components {
				f := free.Readings[i].Components[k]
				wantNear(t, string(r.ID)+" residual", c.Residual, f.Residual, 1e-7)
				wantNear(t, string(r.ID)+" share", c.Redundancy, f.Redundancy, 1e-6)
			}
		}
	}
	// Going back to the free datum from another one changes nothing: it does not
	// depend on which baseline the solver held.
	if least <= 0 {
		t.Fatal("no spread")
	}
	if len(free.Next) > 0 {
		most := unit.Length(0)
		for _, q := range free.Points {
			if q.Role == site.RolePart && q.Ellipse.Radius > most {
				most = q.Ellipse.Radius
			}
		}
		wantNear(t, "largest radius before the next reading", float64(free.Next[0].Before), float64(most), 1e-9)
	}
}

// A 3-4-5 triangle: everything is known in whole numbers.
func TestThreeFourFive(t *testing.T) {
	y := newYard(1)
	y.put("A", site.RoleMark, at(0, 0))
	y.put("B", site.RoleMark, at(40, 0))
	y.put("lid", site.RolePart, at(0, 30), site.Side{Kind: site.LeftOf, From: "A", To: "B"})
	for _, s := range []struct {
		from, to site.Name
		text     string
	}{{"A", "B", "40'"}, {"A", "lid", "30 ft"}, {"B", "lid", "50' 0\""}} {
		y.tieRead(s.from, s.to, mustLength(s.text), unit.Inch/2)
	}
	p := y.solve()
	q := find(t, p, "lid")
	wantNear(t, "east", q.At.East.Feet(), 0, 1e-9)
	wantNear(t, "north", q.At.North.Feet(), 30, 1e-9)
	if p.Global.Freedom != 0 || p.Global.Statistic > 1e-15 {
		t.Errorf("global %+v", p.Global)
	}
	// The slopes at lid: from A (0, 1), from B (-4/5, 3/5); B itself moves along
	// east with its own tie. north = tie A; east = (3/5 tie A - tie B) 5/4 + ...
	sd := float64(unit.Inch / 2)
	wantNear(t, "sd north", float64(q.Sigma.North), sd, 1e-9)
	wantNear(t, "sd east", float64(q.Sigma.East), sd*math.Sqrt(0.75*0.75+1.25*1.25+1), 1e-9)
	wantNear(t, "correlation", q.Sigma.Correlation, 0.75/math.Sqrt(0.75*0.75+1.25*1.25+1), 1e-9)
}

// A magnetic bearing without a declination must not bend a north that survey
// fixes measure, and phone fixes must not overrule a compass.
func TestMagneticBearingsBesideFixes(t *testing.T) {
	for _, c := range []struct {
		sd    unit.Length
		north adjust.North
		use   adjust.Use
		turn  float64
	}{{0.05, adjust.NorthMeasured, adjust.Unusable, 0.7}, {5, adjust.NorthMagnetic, adjust.Used, 0.7 + 0.25}} {
		y := twoTies(site.Side{Kind: site.LeftOf, From: "A", To: "B"})
		for _, name := range []site.Name{"A", "B"} {
			y.satellite(name, 0.82, -2.1, 0.7, c.sd)
		}
		y.bearing("A", "lid", 0.7+0.25, true)
		p := y.solve()
		r := readingOf(t, p, "bearing A > lid")
		if p.Frame.North != c.north || r.Use != c.use {
			t.Errorf("sd %v: north %v, bearing %v %q", c.sd, p.Frame.North, r.Use, r.Why)
		}
		wantNear(t, "turn", float64(p.Frame.Azimuth)-math.Pi/2, c.turn, 0.05)
		wantAt(t, y, p, "lid", 1e-3)
	}
}

// The free datum does not depend on which two marks the solver happened to hold.
func TestTheFreeDatumForgetsTheBaseline(t *testing.T) {
	for seed := uint64(1); seed < 12; seed += 2 {
		y := randomNetwork(seed)
		y.job.Datum = site.Datum{Kind: site.DatumFree}
		p := y.solve()
		pts := append([]site.Point(nil), y.job.Site.Points...)
		pts[0], pts[2] = pts[2], pts[0]
		pts[1], pts[3] = pts[3], pts[1]
		y.job.Site.Points = pts
		q := y.solve()
		if p.Frame.Mark == q.Frame.Mark {
			t.Fatal("the same baseline is held")
		}
		for _, a := range p.Points {
			b := find(t, q, a.Name)
			wantNear(t, string(a.Name)+" major", float64(b.Ellipse.Major), float64(a.Ellipse.Major), 1e-7)
			wantNear(t, string(a.Name)+" minor", float64(b.Ellipse.Minor), float64(a.Ellipse.Minor), 1e-7)
			turned := float64(b.Ellipse.Azimuth - a.Ellipse.Azimuth)
			frame := float64(find(t, q, "B").At.Minus(find(t, q, "A").At).Azimuth() - find(t, p, "B").At.Minus(find(t, p, "A").At).Azimuth())
			wantNear(t, string(a.Name)+" azimuth", math.Remainder(turned-frame, math.Pi), 0, 1e-4)
		}
	}
}
