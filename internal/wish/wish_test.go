package wish_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/wish"
)

// job has points whose names hold blanks and hyphens.
func job(form unit.Form) *site.Job {
	j := &site.Job{Show: site.Show{Form: form}}
	for _, n := range []site.Name{"A", "B", "Pin 1", "Pin 2", "D-box"} {
		j.Site.Points = append(j.Site.Points, site.Point{Name: n})
	}
	j.Site.Parts = []site.Part{{Name: "Tank"}}
	j.Site.Buildings = []site.Building{{Name: "House"}}
	j.Site.Features = []site.Feature{{Name: "Maple"}}
	return j
}

func none() wish.Flags { return wish.Flags{Bedrooms: wish.NotTyped} }

func near(l unit.Length, want unit.Length) bool { return math.Abs(float64(l-want)) < 1e-9 }

func TestSizes(t *testing.T) {
	for _, c := range []struct {
		text          string
		form          unit.Form
		length, width unit.Length
	}{
		{"24x16", unit.FeetInches, 24 * unit.Foot, 16 * unit.Foot},
		{"24x16", unit.DecimalFeet, 24 * unit.Foot, 16 * unit.Foot},
		{"7.5x5", unit.Metres, 7.5, 5},
		{"24' x 16'", unit.Metres, 24 * unit.Foot, 16 * unit.Foot},
		{`24' 6" X 16'`, unit.FeetInches, 24.5 * unit.Foot, 16 * unit.Foot},
		{"7.5m×5m", unit.FeetInches, 7.5, 5},
	} {
		f := none()
		f.Size = c.text
		p := site.Proposed{Kind: site.Structure, Outline: []site.Stake{{}}}
		if err := wish.Apply(f, job(c.form), &p); err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if strings.Trim(p.Length.Text, "0123456789.") == "" {
			t.Errorf("%s is told without a unit: %s", c.text, p.Length.Text)
		}
		if !near(p.Length.Length, c.length) || !near(p.Width.Length, c.width) || p.Outline != nil {
			t.Errorf("%s: %+v", c.text, p)
		}
	}
}

func TestOutlines(t *testing.T) {
	for _, text := range []string{"0,0; 24',0; 24',16'; 0,16'", "[[0', 0'], [24', 0'], [24', 16'], [0', 16']]", "0,0;24,0;24,16;0,16;"} {
		f := none()
		f.Outline = text
		p := site.Proposed{Kind: site.Structure, Length: &unit.Written{Length: 1}}
		if err := wish.Apply(f, job(0), &p); err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		want := []site.Stake{{}, {Along: 24 * unit.Foot}, {Along: 24 * unit.Foot, Right: 16 * unit.Foot}, {Right: 16 * unit.Foot}}
		if len(p.Outline) != len(want) || p.Length != nil {
			t.Fatalf("%s: %+v", text, p)
		}
		for i, s := range p.Outline {
			if !near(s.Along, want[i].Along) || !near(s.Right, want[i].Right) {
				t.Errorf("%s: corner %d is %+v", text, i, s)
			}
		}
	}
}

func TestPlaces(t *testing.T) {
	for _, c := range []struct {
		at   string
		want site.Stand
	}{
		{"D-box", site.Stand{Point: "D-box"}},
		{"Tank", site.Stand{Point: "Tank"}},
		{"A-B 30' right 60'", stand("A", "B", 30, 60)},
		{"A-B 30 right 60", stand("A", "B", 30, 60)},
		{`A-B 30' 6" left 60'`, stand("A", "B", 30.5, -60)},
		{"Pin 1-Pin 2 30' right 60'", stand("Pin 1", "Pin 2", 30, 60)},
		{"A-D-box 30' left 6'", stand("A", "D-box", 30, -6)},
		{"D-box-A 30' left 6'", stand("D-box", "A", 30, -6)},
	} {
		f := none()
		f.At = c.at
		p := site.Proposed{Kind: site.Structure, Near: "Maple"}
		if err := wish.Apply(f, job(0), &p); err != nil {
			t.Errorf("%s: %v", c.at, err)
			continue
		}
		got := *p.At
		if got.Point != c.want.Point || got.From != c.want.From || got.To != c.want.To || p.Near != "" ||
			!near(got.Station.Length, c.want.Station.Length) || !near(got.Right.Length, c.want.Right.Length) {
			t.Errorf("%s: %+v", c.at, got)
		}
	}
}

func stand(from, to site.Name, station, right unit.Length) site.Stand {
	return site.Stand{From: from, To: to, Station: unit.Written{Length: station * unit.Foot}, Right: unit.Written{Length: right * unit.Foot}}
}

// TestFlagsChangeWhatTheJobSays and leave the rest of it.
func TestFlagsChangeWhatTheJobSays(t *testing.T) {
	turn := 10 * unit.Degree
	p := site.Proposed{Name: "Shed", Kind: site.Structure, Class: "occupied", Bedrooms: 2, Turn: &turn, At: &site.Stand{Point: "A"}}
	if err := wish.Apply(none(), job(0), &p); err != nil || p.Bedrooms != 2 || p.Turn != &turn || p.At == nil || p.Class != "occupied" {
		t.Fatalf("nothing typed changes %+v: %v", p, err)
	}
	f := wish.Flags{Turn: "any", Near: "Maple", FromLot: "10", Bedrooms: 0, Class: "basement"}
	if err := wish.Apply(f, job(0), &p); err != nil {
		t.Fatal(err)
	}
	if p.Turn != nil || p.At != nil || p.Near != "Maple" || p.Bedrooms != 0 || p.Class != "basement" || !near(p.FromLot.Length, 10*unit.Foot) {
		t.Errorf("%+v", p)
	}
	f = wish.Flags{Along: "Pin 1-Pin 2", Kind: "well", Bedrooms: wish.NotTyped}
	p.Length = &unit.Written{Length: 1}
	if err := wish.Apply(f, job(0), &p); err != nil || p.Along == nil || *p.Along != [2]site.Name{"Pin 1", "Pin 2"} || p.Kind != site.Well || p.Length != nil {
		t.Errorf("%+v: %v", p, err)
	}
	f = wish.Flags{Turn: "N 45 E", Bedrooms: wish.NotTyped}
	if err := wish.Apply(f, job(0), &p); err != nil || p.Along != nil || math.Abs(p.Turn.Degrees()-45) > 1e-9 {
		t.Errorf("%+v: %v", p, err)
	}
}

func TestWrongFlagsAreTold(t *testing.T) {
	for _, c := range []struct {
		flags wish.Flags
		words string
	}{
		{wish.Flags{Size: "24"}, "--size 24 is not understood"},
		{wish.Flags{Size: "24x16x8"}, "is not understood"},
		{wish.Flags{Size: "0x16"}, "longer than nothing"},
		{wish.Flags{Size: "-4x16"}, "longer than nothing"},
		{wish.Flags{Size: "24xbig"}, "--size big"},
		{wish.Flags{Size: "24x16", Outline: "0,0"}, "say the same twice"},
		{wish.Flags{Size: "24x16", Kind: "well"}, "a well has no size"},
		{wish.Flags{Outline: "0,0; 1,1"}, "--outline has 2 corners"},
		{wish.Flags{Outline: "0,0; 1; 2,2"}, "corner 2"},
		{wish.Flags{Outline: "0,0; 1,a; 2,2"}, "--outline a"},
		{wish.Flags{Kind: "castle"}, "structure, pool, well and driveway"},
		{wish.Flags{Turn: "round"}, "--turn round"},
		{wish.Flags{Turn: "85", Along: "A-B"}, "keep one of them"},
		{wish.Flags{Along: "A-Q"}, "--along A-Q is not understood"},
		{wish.Flags{Along: "A-A"}, "--along A-A is not understood"},
		{wish.Flags{Near: "Mapel"}, `did you mean "Maple"?`},
		{wish.Flags{Near: "Maple", At: "A"}, "keep one of them"},
		{wish.Flags{At: "D-bx"}, `did you mean "D-box"?`},
		{wish.Flags{At: "A-Q 30' right 60'"}, "is not understood"},
		{wish.Flags{At: "A-B 30' right far"}, "is not understood"},
		{wish.Flags{FromLot: "far"}, "--from-property-line far"},
		{wish.Flags{Bedrooms: -2}, "from 0 to 99"},
		{wish.Flags{Bedrooms: -1}, "--bedrooms -1: write how many"},
		{wish.Flags{Bedrooms: 100}, "from 0 to 99"},
		{wish.Flags{Bedrooms: 1, Kind: "pool"}, "a pool has none"},
	} {
		if c.flags.Bedrooms == 0 {
			c.flags.Bedrooms = wish.NotTyped
		}
		p := site.Proposed{Kind: site.Structure}
		err := wish.Apply(c.flags, job(0), &p)
		if err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%+v: %v, want %q", c.flags, err, c.words)
		}
	}
}

func TestSteps(t *testing.T) {
	if a, err := wish.Step("5"); err != nil || math.Abs(a.Degrees()-5) > 1e-12 {
		t.Errorf("5: %v, %v", a, err)
	}
	for _, bad := range []string{"", "0", "-5", "0.01", "91", "often"} {
		if _, err := wish.Step(bad); err == nil {
			t.Errorf("step %q is taken", bad)
		}
	}
}

// FuzzFlags: whatever is typed, there is no panic, and what is taken is finite.
func FuzzFlags(f *testing.F) {
	f.Add("24x16", "0,0; 1,0; 1,1", "A-B 3 right 4", "A-B", "85")
	f.Add("7.5m×5m", "[[0', 0'], [24', 0'], [24', 16']]", "Pin 1-Pin 2 30' left 60'", "D-box-A", "any")
	f.Add("x", ";,;", " right ", "-", "")
	f.Fuzz(func(t *testing.T, size, outline, at, along, turn string) {
		for _, flags := range []wish.Flags{{Size: size, At: at, Turn: turn}, {Outline: outline, Along: along, Near: at}} {
			p := site.Proposed{Kind: site.Structure}
			if wish.Apply(flags, job(0), &p) != nil {
				continue
			}
			if p.Length != nil && !(p.Length.Length > 0 && p.Width.Length > 0) {
				t.Errorf("size %q gives %v by %v", size, p.Length, p.Width)
			}
			if flags.Outline != "" && len(p.Outline) < 3 {
				t.Errorf("outline %q gives %v", outline, p.Outline)
			}
		}
	})
}
