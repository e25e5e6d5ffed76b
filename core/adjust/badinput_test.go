package adjust_test

import (
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/core/unit"
)

// bare is a length of any value, as a careless caller may hand in.
func bare(v float64) unit.Written { return unit.Written{Text: fmt.Sprint(v), Length: unit.Length(v)} }

// TestBadReadingsAreRefusedInWords puts one impossible reading after another
// into a good yard: it is named and left out, and the rest is solved.
func TestBadReadingsAreRefusedInWords(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	negative, zero, endless := unit.Length(-1), unit.Length(0), unit.Length(inf)
	badFix := unit.Angle(nan)
	none := bare(-3)
	steep := bare(nan)
	tie := func(v float64) site.Tie { return site.Tie{From: "F", To: "D-box", Read: bare(v)} }
	for name, r := range map[string]site.Reading{
		"zero":                 tie(0),
		"negative":             tie(-4),
		"not a number":         tie(nan),
		"endless":              tie(inf),
		"huge":                 tie(1e9),
		"negative sd":          site.Tie{From: "F", To: "D-box", Read: bare(9), SD: &negative},
		"zero sd":              site.Tie{From: "F", To: "D-box", Read: bare(9), SD: &zero},
		"endless sd":           site.Tie{From: "F", To: "D-box", Read: bare(9), SD: &endless},
		"negative correction":  site.Tie{From: "F", To: "D-box", Read: bare(9), Corrected: &none},
		"drop not a number":    site.Tie{From: "F", To: "D-box", Read: bare(9), Drop: &steep},
		"unknown point":        site.Tie{From: "F", To: "nowhere", Read: bare(9)},
		"without name":         site.Tie{From: "", To: "D-box", Read: bare(9)},
		"to itself":            site.Tie{From: "F", To: "F", Read: bare(9)},
		"offset of its end":    site.Offset{From: "E", To: "F", Point: "F", Station: bare(1), Right: bare(1)},
		"offset half bad":      site.Offset{From: "E", To: "F", Point: "D-box", Station: bare(3), Right: bare(nan)},
		"offset other half":    site.Offset{From: "E", To: "F", Point: "D-box", Station: bare(inf), Right: bare(2)},
		"offset from nowhere":  site.Offset{From: "nowhere", To: "F", Point: "D-box"},
		"bearing to itself":    site.Bearing{From: "F", To: "F"},
		"bearing not a number": site.Bearing{From: "F", To: "D-box", Read: unit.WrittenAngle{Angle: unit.Angle(nan)}},
		"fix not a number":     site.Fix{Point: "D-box", Latitude: badFix, Longitude: 1},
		"grid fix half bad":    site.Fix{Point: "D-box", Grid: true, East: 4, North: endless},
		"fix of nowhere":       site.Fix{Point: "nowhere"},
		"footage of no line":   site.Footage{Line: "none", To: "D-box", Read: bare(4)},
		"footage zero":         site.Footage{Line: "run", To: "bend 1", Read: bare(0)},
		"footage to the start": site.Footage{Line: "run", To: "D-box", Read: bare(4)},
	} {
		t.Run(name, func(t *testing.T) {
			y := demo(1, 0)
			y.job.Site.Lines = []site.Line{{Name: "run", Path: []site.Name{"D-box", "bend 1"}}}
			y.read(withID(r, "bad"))
			p := y.solve()
			got := readingOf(t, p, "bad")
			if got.Use != adjust.Unusable || got.Why == "" || got.Words == "" {
				t.Errorf("use %v, why %q", got.Use, got.Why)
			}
			reasons := strings.Join(p.Verdict.Reasons, "\n")
			if p.Verdict.Fill != adjust.FillNo || !strings.Contains(reasons, got.Why) {
				t.Errorf("verdict %v: %s", p.Verdict.Fill, reasons)
			}
			wantAt(t, y, p, "D-box", unit.Inch/2)
			if len(p.Search.Accused) != 0 {
				t.Errorf("accused %v", accusedFirst(p))
			}
		})
	}
}

// withID names a reading of any kind.
func withID(r site.Reading, id site.ReadingID) site.Reading {
	switch r := r.(type) {
	case site.Tie:
		r.ID = id
		return r
	case site.Offset:
		r.ID = id
		return r
	case site.Bearing:
		r.ID = id
		return r
	case site.Fix:
		r.ID = id
		return r
	case site.Footage:
		r.ID = id
		return r
	}
	return r
}

// A reading taken twice counts twice; one taken twice with different results is
// a disagreement.
func TestRepeatedReadings(t *testing.T) {
	y := demo(1, 0)
	y.read(site.Tie{Taken: named("again"), From: "D-box", To: "E", Read: readingIn(y, "tie E > D-box").Read})
	if p := y.solve(); len(p.Search.Accused) != 0 || p.Verdict.Fill != adjust.FillYes {
		t.Errorf("the same again: %+v", p.Verdict)
	}
	y.lengthen("again", ft(2))
	p := y.solve()
	if got := accusedFirst(p); len(got) != 1 || got[0] != "again" {
		t.Errorf("two feet apart: accused %v", got)
	}
}

// Ties too short to meet give a place between their marks, told as poor.
func TestCirclesThatDoNotMeet(t *testing.T) {
	for _, c := range [][2]float64{{15, 20}, {70, 20}, {2, 60}} {
		y := baseline(1)
		y.put("lid", site.RolePart, at(15, 5))
		y.tieRead("A", "lid", asRead(ft(c[0])), unit.Inch)
		y.tieRead("B", "lid", asRead(ft(c[1])), unit.Inch)
		p := y.solve()
		if p.Verdict.Fill != adjust.FillNo {
			t.Errorf("ties %v: verdict %+v, lid %+v", c, p.Verdict, find(t, p, "lid"))
		}
		if len(p.Verdict.Reasons) == 0 {
			t.Errorf("ties %v: no words", c)
		}
	}
}

func TestJobsOfNearlyNothing(t *testing.T) {
	one := site.Job{Site: site.Site{Points: []site.Point{{Name: "A"}}}}
	ghost := site.Job{Visit: site.Visit{Readings: []site.Reading{
		site.Tie{From: "X", To: "Y", Read: bare(3)}, site.Offset{}, site.Bearing{}, site.Fix{}, site.Footage{},
		site.Depth{}, site.Rod{}, nil}}}
	pair := site.Job{Site: site.Site{Points: []site.Point{{Name: "A", Role: site.RoleMark}, {Name: "B", Role: site.RolePart}}},
		Visit: site.Visit{Readings: []site.Reading{site.Tie{From: "A", To: "B", Read: bare(3)}}}}
	nameless := site.Job{Site: site.Site{Points: []site.Point{{}, {}, {}}},
		Visit: site.Visit{Readings: []site.Reading{site.Tie{Read: bare(3)}}}}
	twice := site.Job{Site: site.Site{Points: []site.Point{{Name: "A"}, {Name: "A"}, {Name: "B"}},
		Buildings: []site.Building{{Corners: []site.Name{"A", "B", "A", "B"}, Turns: []site.BuildingTurn{1, 1, 1, 1},
			Sides: []unit.Written{bare(3), bare(4)}}},
		Lines: []site.Line{{Name: "loop", Path: []site.Name{"A", "B", "A", "A"}}}},
		Visit: site.Visit{Readings: []site.Reading{site.Footage{Line: "loop", To: "B", Read: bare(3)}, site.Footage{Line: "loop", To: "A", Read: bare(3)}}}}
	for name, job := range map[string]*site.Job{"empty": {}, "one point": &one, "ghosts": &ghost, "pair": &pair,
		"nameless": &nameless, "names twice": &twice} {
		t.Run(name, func(t *testing.T) {
			p := adjust.Solve(job, adjust.Settings{})
			if p.Verdict.Fill == adjust.FillYes || p.Verdict.Words == "" {
				t.Errorf("verdict %+v", p.Verdict)
			}
			if len(p.Points) != len(job.Site.Points) {
				t.Errorf("%d points of %d", len(p.Points), len(job.Site.Points))
			}
		})
	}
}

func TestABuildingWithMissingSides(t *testing.T) {
	for name, change := range map[string]func(*site.Building){
		"two sides":        func(b *site.Building) { b.Sides[1], b.Sides[4] = unit.Written{}, unit.Written{} },
		"no sides":         func(b *site.Building) { b.Sides = nil },
		"one side":         func(b *site.Building) { b.Sides = b.Sides[:1] },
		"too many":         func(b *site.Building) { b.Sides = append(b.Sides, bare(3), bare(5)) },
		"negative":         func(b *site.Building) { b.Sides[2] = bare(-3) },
		"not a number":     func(b *site.Building) { b.Sides[2] = bare(math.NaN()) },
		"no turns":         func(b *site.Building) { b.Turns = nil },
		"two corners":      func(b *site.Building) { b.Corners, b.Turns = b.Corners[:2], b.Turns[:2] },
		"no corners":       func(b *site.Building) { b.Corners = nil },
		"does not close":   func(b *site.Building) { b.Sides[0] = bare(30) },
		"unknown corner":   func(b *site.Building) { b.Corners[2] = "nowhere" },
		"one corner twice": func(b *site.Building) { b.Corners[2] = b.Corners[0] },
	} {
		t.Run(name, func(t *testing.T) {
			y := demo(1, 0)
			b := &y.job.Site.Buildings[0]
			b.Corners = append([]site.Name(nil), b.Corners...)
			change(b)
			p := y.solve()
			if p.Verdict.Words == "" {
				t.Error("no words")
			}
			if name == "two sides" {
				wantAt(t, y, p, "D-box", unit.Inch)
			}
			if name == "does not close" && p.Verdict.Fill != adjust.FillNo {
				t.Errorf("verdict %+v", p.Verdict)
			}
		})
	}
}

// jobOf builds a job of any shape from bytes.
func jobOf(data []byte) *site.Job {
	next := func() int {
		if len(data) == 0 {
			return 0
		}
		v := int(data[0])
		data = data[1:]
		return v
	}
	value := func() float64 {
		switch k := next(); k % 16 {
		case 0:
			return math.NaN()
		case 1:
			return math.Inf(1 - k/128*2)
		case 2:
			var b [8]byte
			for i := range b {
				b[i] = byte(next())
			}
			return math.Float64frombits(binary.LittleEndian.Uint64(b[:]))
		case 3:
			return -float64(next())
		default:
			return float64(next()) / 8
		}
	}
	length := func() *unit.Length {
		if v := next(); v%3 == 0 {
			l := unit.Length(value())
			return &l
		}
		return nil
	}
	name := func() site.Name { return []site.Name{"a", "b", "c", "d", "e", "f", "g", ""}[next()%8] }
	written := func() unit.Written {
		v := value()
		return unit.Written{Text: fmt.Sprint(v), Length: unit.Length(v), Form: unit.Form(next() % 7)}
	}
	job := &site.Job{}
	for range next() % 9 {
		p := site.Point{Name: name(), Role: site.Role(next() % 6)}
		if next()%3 == 0 {
			p.Sides = []site.Side{{Kind: site.SideKind(next() % 3), From: name(), To: name()}}
		}
		if next()%4 == 0 {
			p.Rough = &site.Rough{From: name(), To: name(), Along: unit.Length(value()), Right: unit.Length(value())}
		}
		job.Site.Points = append(job.Site.Points, p)
	}
	if next()%3 == 0 {
		b := site.Building{Name: name(), SideSD: length()}
		for range next() % 7 {
			b.Corners = append(b.Corners, name())
			b.Turns = append(b.Turns, site.BuildingTurn(next()%3-1))
		}
		for range next() % 7 {
			b.Sides = append(b.Sides, written())
		}
		job.Site.Buildings = []site.Building{b}
	}
	if next()%3 == 0 {
		l := site.Line{Name: "l"}
		for range next() % 5 {
			l.Path = append(l.Path, name())
		}
		job.Site.Lines = []site.Line{l}
	}
	if next()%3 == 0 {
		o := &site.Outline{SizeSD: length(), ProbeSD: length()}
		for range next() % 7 {
			o.Hits = append(o.Hits, site.Hit{Point: name(), Edge: site.Edge(next() % 6)})
		}
		if next()%2 == 0 {
			w := written()
			o.Length = &w
		}
		job.Site.Parts = []site.Part{{Name: name(), Outline: o}}
	}
	if next()%3 == 0 {
		az := unit.Angle(value())
		job.Datum = site.Datum{Kind: site.DatumKind(next() % 4), Mark: name(), Toward: name(), East: unit.Length(value()), Azimuth: &az}
	}
	for len(data) > 0 && len(job.Visit.Readings) < 40 {
		taken := named(site.ReadingID(fmt.Sprint("r", len(job.Visit.Readings)%30)))
		if next()%8 == 0 {
			taken.SetAside = "why"
		}
		var r site.Reading
		switch k := next(); k % 10 {
		case 0:
			r = site.Offset{Taken: taken, From: name(), To: name(), Point: name(), Station: written(), Right: written(), SD: length()}
		case 1:
			r = site.Bearing{Taken: taken, From: name(), To: name(), Read: unit.WrittenAngle{Angle: unit.Angle(value())}, Magnetic: k > 128}
		case 2:
			r = site.Fix{Taken: taken, Point: name(), Grid: k > 128, Latitude: unit.Angle(value()), Longitude: unit.Angle(value()),
				East: unit.Length(value()), North: unit.Length(value()), SD: length()}
		case 3:
			r = site.Footage{Taken: taken, Line: "l", To: name(), Read: written(), SD: length()}
		case 4:
			r = site.Rod{Taken: taken, Setup: name(), Point: name(), On: site.OnGround, Read: written(), SD: length()}
		case 5:
			r = site.Depth{Taken: taken, Point: name(), Read: written(), SD: length()}
		default:
			t := site.Tie{Taken: taken, From: name(), To: name(), Read: written(), SD: length(), Held: site.Held(k / 64 % 3)}
			if next()%6 == 0 {
				w := written()
				t.Corrected = &w
			}
			if next()%6 == 0 {
				w := written()
				t.Drop = &w
			}
			r = t
		}
		job.Visit.Readings = append(job.Visit.Readings, r)
	}
	return job
}

// FuzzSolve holds Solve to its promise: any job gives a plan with a verdict in
// words, places are numbers, and what is called determined has an ellipse.
func FuzzSolve(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte("\x06 a lid between two marks, tied a few times over and over again, with offsets and fixes"))
	for seed := range uint64(40) {
		y := newYard(seed)
		b := make([]byte, 200)
		for i := range b {
			b[i] = byte(y.rand.UintN(256))
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p := adjust.Solve(jobOf(data), adjust.Settings{})
		if p.Verdict.Words == "" {
			t.Error("no verdict")
		}
		for _, q := range p.Points {
			if !q.Placed {
				if q.State == adjust.Determined || q.Why == "" {
					t.Errorf("point %q is not placed and nothing says why: %+v", q.Name, q)
				}
				continue
			}
			if v := float64(q.At.East + q.At.North + q.Ellipse.Radius); math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("point %q at %v within %v", q.Name, q.At, q.Ellipse.Radius)
			}
		}
		for _, r := range p.Readings {
			if r.Use != adjust.Used && r.Why == "" {
				t.Errorf("reading %q is not used and nothing says why", r.ID)
			}
		}
	})
}
