package report_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"undersod/core/absorb"
	"undersod/core/adjust"
	"undersod/core/calendar"
	"undersod/core/card"
	"undersod/core/hydraulic"
	"undersod/core/judge"
	"undersod/core/level"
	"undersod/core/look"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/storage"
	"undersod/core/unit"
	"undersod/internal/jobfile"
	"undersod/internal/photo"
	"undersod/internal/render"
	"undersod/internal/report"
)

// yard reads one of the example jobs and solves it.
func yard(t testing.TB, name string) (*site.Job, *adjust.Plan) {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "examples", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r, err := jobfile.Read(name, f)
	if err != nil {
		t.Fatal(err)
	}
	return &r.Job, adjust.Solve(&r.Job, adjust.Settings{})
}

// rich is a report of the demonstration job with everything in it, its
// judgement made by hand.
func rich(t testing.TB) report.Input {
	t.Helper()
	job, plan := yard(t, "quarry-hollow.yaml")
	in := report.Input{Job: job, Plan: plan, Metrics: render.Metrics(), Photos: map[string]photo.Prepared{}, Unreadable: map[string]string{}}
	j := &judge.Judgement{Pack: "washington", AddedRooms: 1}
	in.Judgement = j
	roots, water := findings(plan)
	j.Runs = []look.Run{
		{Run: site.Run{ID: "camera Line 2", Line: "Line 2", Ended: site.ReachedEnd}, Findings: []look.Finding{roots}, Length: 60 * unit.Foot, LengthSD: unit.Inch, Known: true, Seen: [2]unit.Length{0, 60 * unit.Foot}, Words: "seen from the box to its end"},
		{Run: site.Run{ID: "camera Line 3", Line: "Line 3", Ended: site.StoppedWater}, Findings: []look.Finding{water}, Length: 54.75 * unit.Foot, LengthSD: unit.Inch, Known: true, Seen: [2]unit.Length{0, 50 * unit.Foot}, Words: "seen to 50', where water hid the pipe"},
	}
	j.Parts = []look.Finding{{Finding: site.Finding{What: site.Cracked, Photos: []site.Photo{{File: "lid.jpg"}}}, Grade: site.Act, Part: "Tank inlet lid", Words: "the inlet lid is cracked across"}}
	job.Visit.Photos = []site.Photo{{File: "yard.jpg", Words: "The yard from the north, with the box opened"}, {File: "missing.heic", Words: "The well"}}
	for _, p := range []struct {
		name       string
		wide, high int
	}{{"roots.jpg", 64, 48}, {"water.jpg", 48, 64}, {"lid.jpg", 64, 48}, {"yard.jpg", 90, 30}} {
		in.Photos[p.name] = photo.Prepared{File: p.name, Picture: picture(t, p.wide, p.high)}
	}
	in.Unreadable["missing.heic"] = "this kind of picture cannot be read; save it as JPEG"
	j.Boxes = []judge.Box{box()}
	job.Visit.Boxes = []site.Box{opened(t)}
	j.Levels = levels()
	j.Storage = field()
	j.Capacity, j.Added = capacities()
	told(j)
	return in
}

// seen places a finding on a line of the plan.
func findings(plan *adjust.Plan) (roots, water look.Finding) {
	at := map[site.Name]planar.Vec{}
	for _, p := range plan.Points {
		at[p.Name] = p.At
	}
	along := func(a, b site.Name, share float64) planar.Vec {
		d := at[b].Minus(at[a])
		return at[a].Plus(planar.Vec{East: d.East * unit.Length(share), North: d.North * unit.Length(share)})
	}
	spot := func(station unit.Length, v planar.Vec) look.Spot {
		return look.Spot{Station: station, StationSD: 3 * unit.Inch, At: v, Known: true, Radius: 9 * unit.Inch}
	}
	r := along("L2 bend", "L2 end", 0.66)
	roots = look.Finding{Finding: site.Finding{What: site.FineRoots, At: &unit.Written{Text: "41'"}, Photos: []site.Photo{{File: "roots.jpg", Words: "Fine roots at 41 feet of Line 2"}}},
		Grade: site.Watch, Why: "fine roots by themselves pass water", Line: "Line 2", From: spot(41*unit.Foot, r), Path: []planar.Vec{r},
		Near:  []look.Near{{Feature: "Maple", Kind: site.Tree, Distance: 11 * unit.Foot, Over: true, Explains: true, Words: "11' from the trunk of Maple, under its crown: its roots may explain this"}},
		Words: "fine roots at 41' of Line 2, within 9\" of the place shown"}
	a, b := along("L3 bend", "L3 end", 0.8), along("L3 bend", "L3 end", 1)
	to := spot(54.75*unit.Foot, b)
	water = look.Finding{Finding: site.Finding{What: site.StandingWater, At: &unit.Written{Text: "46' 9\""}, To: &unit.Written{Text: "54' 9\""}, Photos: []site.Photo{{File: "water.jpg"}}},
		Grade: site.Act, Line: "Line 3", From: spot(46.75*unit.Foot, a), To: &to, Stretch: 8 * unit.Foot, Path: []planar.Vec{a, b},
		Words: "standing water over the last 8' of Line 3"}
	return roots, water
}

func picture(t testing.TB, wide, high int) *sheet.Picture {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, wide, high))
	for y := range high {
		for x := range wide {
			m.Set(x, y, color.RGBA{uint8(90 + 100*x/wide), uint8(80 + 90*y/high), uint8(60 + (x/8+y/8)%2*30), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return &sheet.Picture{Wide: wide, High: high, JPEG: b.Bytes()}
}

func written(t testing.TB, text string) *unit.Written {
	t.Helper()
	w, err := unit.ParseLength(text, unit.FeetInches)
	if err != nil {
		t.Fatal(err)
	}
	return &w
}

func opened(t testing.TB) site.Box {
	return site.Box{Part: "D-box", Length: written(t, `1' 8"`), Width: written(t, `1' 8"`), Floor: written(t, `6 in`), Lid: written(t, `-8 in`),
		Inlet: &site.Opening{Line: "Tank pipe", Bore: 4 * unit.Inch, Down: written(t, `0 in`), Wall: site.EdgeNear},
		Outlets: []site.Opening{
			{Line: "Line 1", Bore: 4 * unit.Inch, Down: written(t, `1 in`), Wall: site.EdgeLeft},
			{Line: "Line 2", Bore: 4 * unit.Inch, Down: written(t, `1 in`), Wall: site.EdgeFar},
			{Line: "Line 3", Bore: 4 * unit.Inch, Down: written(t, `1 1/4 in`), Wall: site.EdgeRight},
		}}
}

func box() judge.Box {
	q := unit.Inch / 4
	floor, lid := -4.75*unit.Inch, 9.25*unit.Inch
	b := judge.Box{Box: level.Box{Part: "D-box", Spread: q, Floor: &floor, Lid: &lid, Inlet: &level.Outlet{Line: "Tank pipe", Known: true, At: 1.25 * unit.Inch, SD: unit.Inch / 16},
		Outlets: []level.Outlet{{Line: "Line 1", Known: true, At: q, SD: unit.Inch / 16}, {Line: "Line 2", Known: true, At: q, SD: unit.Inch / 16}, {Line: "Line 3", Known: true}},
		Tilt:    level.Tilt{Known: true, By: "outlets", Slope: 0.0125, Words: "falls 1/4\" across the box toward the right wall"}}}
	for _, n := range []string{"Line 1", "Line 2", "Line 3"} {
		o := hydraulic.Opening{Name: n, Bore: 4 * unit.Inch, Invert: q, Wanted: 1}
		if n == "Line 3" {
			o.Invert = 0
		}
		b.Openings = append(b.Openings, o)
	}
	shares := func(in unit.Flow, a, c float64) hydraulic.Split {
		s := hydraulic.Split{Inflow: in, Water: unit.Inch / 2}
		for i, v := range []float64{a, a, c} {
			s.Shares = append(s.Shares, hydraulic.Share{Name: b.Openings[i].Name, Head: unit.Inch / 3, Depth: unit.Inch / 4, Flow: in * unit.Flow(v), Share: v, Wanted: 1.0 / 3, Regime: hydraulic.Brink})
		}
		return s
	}
	b.Splits = []judge.NamedSplit{{Name: "surge", Words: "a washing machine, 5 gpm, common practice", Split: shares(5*unit.GallonPerMinute, 0.24, 0.52)}, {Name: "daily average", Words: "450 gpd over a day", Split: shares(450*unit.GallonPerDay, 0.02, 0.96)}}
	b.Correction = &hydraulic.Correction{Turns: []hydraulic.Turn{{Name: "Line 3", By: q}}, Worst: 0.19, After: 0.01, Within: true, Tolerance: 0.05, Step: unit.Inch / 16, Split: shares(5*unit.GallonPerMinute, 0.333, 0.334)}
	b.SpreadWords = "The outlets of D-box differ by 1/4\". At 5.0 gpm (surge) the shares run from 24 % to 52 %. Published rules ask for equal levels and state no tolerance in inches."
	return b
}

func levels() judge.Levels {
	return judge.Levels{
		Heights:  []level.Height{{Key: level.Key{Point: "Sewer exit", On: site.OnInvert}}, {Key: level.Key{Point: "D-box", On: site.OnInvert}, At: -1.1 * unit.Foot, SD: unit.Inch / 8}},
		Falls:    []level.Fall{{Line: "Tank pipe", From: "Tank outlet lid", To: "D-box", Drop: 3.25 * unit.Inch, DropSD: unit.Inch / 8, Run: 22 * unit.Foot, RunKnown: true, Slope: 0.0123, Way: "falls", Words: "falls 3 1/4\" in 22' (0.15 in/ft, 1.2 %)"}},
		Closures: []level.Closure{{Through: []site.Name{"S1", "S2"}, Misclosed: unit.Inch / 8, Allowed: unit.Inch / 4, Closes: true, Words: "The loop S1, S2 closes within 1/8\", less than the 1/4\" that the readings allow"}},
	}
}

func field() *judge.Storage {
	s := &judge.Storage{Assumptions: []string{"a porosity of 35 % for the stone, common practice, no source", "the hours of a household by the default pattern"},
		Words: []string{"Line 3 ponds to its top on day 2 at 20:10", "With Line 1 out of use: Line 3 ponds to its top on day 1"}}
	const steps = 144
	s.Run = storage.Run{Daily: 450 * unit.Gallon, Hours: make([]float64, 24), Days: 1, Step: 600}
	for i := range s.Run.Hours {
		s.Run.Hours[i] = float64(1 + i%5)
	}
	course := func(name string, top float64) storage.Course {
		c := storage.Course{Name: name, Inflow: 150 * unit.Gallon, Soaked: 120 * unit.Gallon, End: 30 * unit.Gallon, Highest: unit.Length(top) * unit.Inch, HighestAt: 72600}
		for i := range steps {
			c.Level = append(c.Level, unit.Length(top*float64(i)/steps)*unit.Inch)
		}
		return c
	}
	for _, n := range []string{"Line 1", "Line 2", "Line 3"} {
		s.Run.Trenches = append(s.Run.Trenches, storage.Trench{Name: n, Length: 60 * unit.Foot, Width: 3 * unit.Foot, Height: unit.Foot, Porosity: 0.35, Bottom: true})
	}
	full := course("Line 3", 12)
	full.Full, full.FullAt, full.FullFor = true, 70200, 9000
	s.Now = storage.Result{Step: 600, Steps: steps, Inflow: 450 * unit.Gallon, Courses: []storage.Course{course("Line 1", 4), course("Line 2", 5), full}}
	without := s.Now
	without.Backed, without.BackAt = 35*unit.Gallon, 75000
	s.Without = []judge.Without{{Line: "Line 1", Result: without}}
	return s
}

func capacities() (absorb.Capacity, *absorb.Capacity) {
	src := rules.Source{Title: "An invented county code", Section: "Table 4", Year: "2020", Status: rules.FromMemory}
	c := absorb.Capacity{Pack: "washington", Flow: absorb.Flow{Daily: 450 * unit.GallonPerDay, Words: "3 bedrooms at 150 gal a day", Source: src, Known: true},
		Present: 524 * unit.SquareFoot, PresentSD: 4 * unit.SquareFoot, Field: absorb.Short, FieldWords: "The field counts 524 sq ft; the rule wants 560 sq ft for 3 bedrooms: short by 36 sq ft",
		Required: absorb.Required{Area: 560 * unit.SquareFoot, Known: true, Method: rules.LoadingByTexture, Words: "450 gpd at 0.8 gpd per sq ft", Source: src},
		Tank:     absorb.Tank{Present: 1000 * unit.Gallon, Required: 1000 * unit.Gallon, Verdict: absorb.Enough, Words: "The tank holds 1,000 gal, as the rule wants for 3 bedrooms", Source: src},
		Pumping:  absorb.Pumping{Known: true, Years: 3.7, Words: "For 4 people have the tank pumped about every 4 years", Source: src}}
	for i, n := range []string{"Line 1", "Line 2", "Line 3"} {
		a := unit.Area(180-5*i) * unit.SquareFoot
		c.Trenches = append(c.Trenches, absorb.TrenchArea{Name: n, Bottom: a, Side: a / 3, Share: 1, Counted: a, CountedSD: 2 * unit.SquareFoot, Known: true, Words: "length times width"})
	}
	more := c
	more.FieldWords, more.Required.Area = "The rule would want 750 sq ft: short by 226 sq ft", 750*unit.SquareFoot
	return c, &more
}

// told is what the owner is told.
func told(j *judge.Judgement) {
	day := func(y, m, d int) calendar.Date { return calendar.Date{Year: y, Month: m, Day: d} }
	j.Actions = []judge.Action{
		{Urgency: judge.Now, What: "Replace the cracked inlet lid, and keep children away until it is done", Why: "A cracked lid can give way under a child.", By: day(2026, 5, 21), About: []site.Name{"Tank inlet lid"}},
		{Urgency: judge.Soon, What: "Have the outlets of the distribution box set level", Why: "Line 3 gets half of the water and drowns; the other two could take more.", By: day(2026, 8, 14), About: []site.Name{"D-box"}},
		{Urgency: judge.CanWait, What: "Look again at the fine roots in Line 2", Why: "They pass water today. The maple stands 11 feet away.", By: day(2027, 5, 14), About: []site.Name{"Line 2"}},
	}
	j.Fine = []string{"Line 1 was seen over its whole length and is sound", "The pipe from the tank to the box falls as it should", "The tank is large enough"}
	j.Reminders = []judge.Reminder{
		{Key: "pump-tank", On: day(2028, 5, 14), Words: "Have the tank pumped", Why: "About every 4 years for 4 people; last pumped in May 2024"},
		{Key: "look-box", On: day(2027, 5, 14), Words: "Look at the distribution box, and at the roots", Why: "Every 12 months (common practice, no source)"},
	}
	j.Lives = []judge.Life{{What: "Tank", Kind: "concrete tank", Installed: "1996", Years: 30, Least: 40, Most: 60, Words: "The concrete tank is about 30 years old; 40 to 60 years are usual"}}
	j.Permit = []judge.Comparison{
		{What: "length of Line 3", Claimed: "60 ft", Measured: `54' 9"`, Off: `-5' 3"`, Within: `±3.1"`, Answer: judge.Differs, Words: `Line 3 is 5' 3" shorter than permitted`},
		{What: "length of Line 1", Claimed: "60 ft", Measured: `59' 10"`, Off: `-2"`, Within: `±3.1"`, Answer: judge.Agrees},
		{What: "depth of the trenches", Claimed: "30 in", Answer: judge.CannotTell, Words: "not measured"},
	}
	j.Old = &judge.OldDrawing{Scale: 4, Misfit: 8 * unit.Inch, Words: "The old drawing is laid over the plan by 4 marks.", Points: []judge.OldPoint{
		{Name: "D-box", At: planar.Vec{East: 12, North: -9}, Off: 4 * unit.Foot, Radius: 5 * unit.Foot, Answer: judge.Agrees, Words: "D-box lies 4' from where the old drawing has it"}}}
	j.Missing = []string{"Whether the sewer from the house falls: enter rod readings at both of its ends"}
	j.Problems = []site.Problem{{Subject: "camera Line 3", Found: "57'", Expected: "at most the line's length of 54' 9\"", Advice: "look at the counter's zero"}}
}

// aCard is how to find the box again.
func aCard(plan *adjust.Plan) card.Card {
	depth := 22 * unit.Inch
	c := card.Card{Part: "D-box", Kind: "distribution box", Depth: &depth, Expected: 1.6 * unit.Inch, Side: "on the lawn side of E-F",
		Ties:  []card.Tie{{From: "D", Words: "house corner D", Distance: 20.125 * unit.Foot, Within: 0.3 * unit.Inch}, {From: "F", Words: "house corner F", Distance: 39.333 * unit.Foot, Within: 0.4 * unit.Inch}, {From: "Pole", Words: "utility pole Pole", Distance: 52.3125 * unit.Foot, Within: 0.5 * unit.Inch}},
		Words: []string{"Hold one tape at D and pull 20' 1 1/2\"; hold another at F and pull 39' 4\".", "Where they cross on the lawn side of E-F, dig 22\".", "The tape from Pole must then read 52' 3 3/4\"."},
		Text:  "D-BOX, 18 Quarry Hollow Lane. D 20' 1 1/2\"; F 39' 4\"; Pole 52' 3 3/4\". On the lawn side of E-F. Depth 22\". Within 1.6\" (95 %). Measured 2026-05-14 by M. Aldous, TC-0318."}
	return c
}
