package absorb_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"undersod/core/absorb"
	"undersod/core/rules"
	"undersod/core/unit"
)

// line is a trench with 0.2 ft of uncertainty in its length and 0.1 ft in its
// width.
func line(name string, length, width float64) absorb.Trench {
	return absorb.Trench{Name: name, Length: feet(length), LengthSD: feet(0.2), Width: feet(width), WidthSD: feet(0.1), StoneBelow: 6 * unit.Inch}
}

func holds(t *testing.T, text string, words ...string) {
	t.Helper()
	for _, w := range words {
		if !strings.Contains(text, w) {
			t.Errorf("%q lacks %q", text, w)
		}
	}
}

func TestFieldVerdicts(t *testing.T) {
	p := pack(t, "federal") // 3 bedrooms at 15 min/in want 570 sq ft
	q := absorb.Question{Bedrooms: 3, Percolation: perc(15)}
	unknown := absorb.Trench{Name: "Line 9", Length: feet(50), StoneBelow: 6 * unit.Inch}
	shut := line("Line 3", 60, 3)
	shut.OutOfUse = true
	for _, test := range []struct {
		name     string
		trenches []absorb.Trench
		verdict  absorb.Verdict
		words    []string
	}{
		{"enough", []absorb.Trench{line("Line 1", 120, 3), line("Line 2", 120, 3)}, absorb.Enough,
			[]string{"Enough: 720 sq ft (±47 sq ft, 95 %) of trench bottom counts and 570 sq ft is required, 150 sq ft to spare.",
				"Method: area per bedroom by percolation time; 3 bedrooms at 190 sq ft each for 15 min/in.",
				"Source: Sewage code of Wayne County, Indiana, Table IV, 1967 and later (read in a copy)", absorb.Decides}},
		{"short", []absorb.Trench{line("Line 1", 60, 3), line("Line 2", 60, 3), line("Line 4", 54.75, 3)}, absorb.Short, []string{"Short by 46 sq ft: 524 sq ft", "which is 92 %"}},
		{"a little short", []absorb.Trench{line("Line 1", 93, 3), line("Line 2", 93, 3)}, absorb.TooCloseToCall, []string{"12 sq ft short, within the measurement's own uncertainty"}},
		{"a little over", []absorb.Trench{line("Line 1", 97, 3), line("Line 2", 97, 3)}, absorb.TooCloseToCall, []string{"12 sq ft to spare, within the measurement's own uncertainty"}},
		{"one out of use", []absorb.Trench{line("Line 1", 120, 3), shut}, absorb.Short, []string{"360 sq ft"}},
		{"all out of use", []absorb.Trench{shut}, absorb.Short, []string{"every trench is out of use"}},
		{"none", nil, absorb.CannotTell, []string{"no trench was entered"}},
		{"one width unknown", []absorb.Trench{line("Line 1", 120, 3), unknown}, absorb.CannotTell, []string{"the area of Line 9 is not known", "360 sq ft", "without it"}},
		{"enough without it", []absorb.Trench{line("Line 1", 240, 3), unknown}, absorb.Enough, []string{"without Line 9, whose area is not known"}},
	} {
		q.Trenches = test.trenches
		c := absorb.Judge(q, p)
		if c.Field != test.verdict || c.Pack != "federal" {
			t.Errorf("%s: %s: %s", test.name, c.Field, c.FieldWords)
		}
		holds(t, c.FieldWords, test.words...)
	}
}

// Without uncertainty the limit itself is enough, and a hair below is short.
func TestVerdictAtTheLimit(t *testing.T) {
	p := pack(t, "federal")
	for length, want := range map[float64]absorb.Verdict{190: absorb.Enough, 189.99: absorb.Short, 190.01: absorb.Enough} {
		q := absorb.Question{Bedrooms: 3, Percolation: perc(15), Trenches: []absorb.Trench{{Name: "Line 1", Length: feet(length), Width: feet(3)}}}
		if c := absorb.Judge(q, p); c.Field != want {
			t.Errorf("%g ft: %s", length, c.FieldWords)
		}
	}
}

// The standard deviation of the area, against simulated tapes: lengths each off
// by themselves, widths all together.
func TestPresentUncertaintyAgainstSimulation(t *testing.T) {
	for _, name := range []string{"federal", "texas"} {
		p := pack(t, name)
		q := absorb.Question{Trenches: []absorb.Trench{line("Line 1", 60, 3), line("Line 2", 54.75, 3), line("Line 3", 60, 2)}}
		for i := range q.Trenches {
			q.Trenches[i].LengthSD = feet(1.5)
		}
		want := absorb.Judge(q, p)
		rnd := rand.New(rand.NewPCG(3, 4))
		const runs = 20000
		var sum, squares float64
		for range runs {
			off := q
			off.Trenches = append([]absorb.Trench(nil), q.Trenches...)
			together := rnd.NormFloat64()
			for i := range off.Trenches {
				off.Trenches[i].Length += feet(1.5 * rnd.NormFloat64())
				off.Trenches[i].Width += feet(0.1 * together)
			}
			a := sqft(absorb.Judge(off, p).Present)
			sum += a
			squares += a * a
		}
		mean := sum / runs
		sd := math.Sqrt(squares/runs - mean*mean)
		if got := sqft(want.PresentSD); math.Abs(got/sd-1) > 0.03 {
			t.Errorf("%s: standard deviation %g sq ft, simulated %g", name, got, sd)
		}
	}
}

func TestMissingSaysWhatToEnter(t *testing.T) {
	bare := []absorb.Trench{{Name: "Line 1", Length: feet(60)}}
	for _, test := range []struct {
		pack string
		q    absorb.Question
		want []string
	}{
		{"federal", absorb.Question{}, []string{"household: {bedrooms: 3}", "household: {persons: 4}", "soil: {percolation: 18 min/in}", `capacity: "1,000 gal"`, "lines: {Line 1"}},
		{"federal", absorb.Question{Trenches: bare}, []string{"trench width: 3 ft to Line 1 under lines"}},
		{"texas", absorb.Question{Trenches: bare}, []string{"soil: {texture: sandy loam}"}},
		{"texas", absorb.Question{Texture: "class II", Bedrooms: 3}, []string{"household: {daily flow: 300 gpd}", "record: {daily flow: 450 gpd}"}},
		{"minnesota", absorb.Question{Trenches: []absorb.Trench{{Name: "Line 2", Length: 1, Width: 1}}}, []string{"stone below: 12 in to Line 2 under lines"}},
		{"washington", absorb.Question{Texture: "silt loam"}, []string{"soil: {structure: blocky, strength: moderate}"}},
		{"own", absorb.Question{}, []string{"soil: {loading: 0.6 gpd/ft2}"}},
		{"federal", absorb.Question{Trenches: []absorb.Trench{{Name: "Line 3", Width: 1, StoneBelow: 1}}}, []string{"the length of Line 3", "footages: {Line 3"}},
	} {
		c := absorb.Judge(test.q, pack(t, test.pack))
		holds(t, strings.Join(c.Missing, "\n"), test.want...)
		seen := map[string]bool{}
		for _, m := range c.Missing {
			if seen[m] {
				t.Errorf("%s: %q is asked twice", test.pack, m)
			}
			seen[m] = true
		}
	}
	full := absorb.Question{Bedrooms: 3, Persons: 4, Percolation: perc(15), Tank: gal(1000), Trenches: []absorb.Trench{line("Line 1", 60, 3)}}
	if c := absorb.Judge(full, pack(t, "federal")); len(c.Missing) != 0 {
		t.Errorf("all is known and %q is asked for", c.Missing)
	}
}

func TestPermitWins(t *testing.T) {
	q := absorb.Question{Bedrooms: 3, Percolation: perc(15), Loading: rate(0.6), Trenches: []absorb.Trench{line("Line 1", 300, 3)}}
	q.Trenches[0].StoneBelow = feet(2)
	c := absorb.Judge(q, pack(t, "federal")) // 450 gpd / 0.6
	if c.Required.Method != absorb.PermitLoading || math.Abs(sqft(c.Required.Area)-750) > 1e-6 || c.Required.Source.Status != rules.TheUser {
		t.Errorf("required %+v", c.Required)
	}
	if c.Trenches[0].Share != 1 || math.Abs(sqft(c.Present)-900) > 1e-6 {
		t.Errorf("the allowance of a table by bedrooms was mixed with the permit's rate: %+v", c.Trenches[0])
	}
	holds(t, c.FieldWords, "the permit's 0.6 gpd/sq ft", "Source: the permit (as entered)", "3 bedrooms: 450 gpd", "common practice, no source")

	// The permit's own flow holds for its own bedrooms.
	q.Permitted, q.PermittedBedrooms = gpd(360), 3
	if c = absorb.Judge(q, pack(t, "federal")); math.Abs(sqft(c.Required.Area)-600) > 1e-6 || c.Flow.Basis != absorb.ByPermit {
		t.Errorf("3 bedrooms as permitted: %+v", c.Required)
	}
	q.Bedrooms = 4
	if c = absorb.Judge(q, pack(t, "federal")); math.Abs(sqft(c.Required.Area)-1000) > 1e-6 || c.Flow.Basis != absorb.ByBedrooms {
		t.Errorf("4 bedrooms, 3 permitted: %+v", c.Required)
	}
	// Beside a table by bedrooms a permit's flow enters nothing.
	q.Loading = 0
	if c = absorb.Judge(q, pack(t, "federal")); math.Abs(sqft(c.Required.Area)-760) > 1e-6 {
		t.Errorf("by bedrooms: %+v", c.Required)
	}
	// In the neutral pack the permit's own numbers are all there is.
	own := absorb.Judge(absorb.Question{Bedrooms: 3, Loading: rate(0.5), Permitted: gpd(400), Trenches: []absorb.Trench{line("Line 1", 300, 3)}}, pack(t, "own"))
	if own.Field != absorb.Enough || math.Abs(sqft(own.Required.Area)-800) > 1e-6 || own.Tank.Verdict != absorb.CannotTell {
		t.Errorf("own: %+v", own)
	}
}

func TestMeasuredFlowStandsBeside(t *testing.T) {
	q := absorb.Question{Bedrooms: 3, Measured: gpd(280), Texture: "loam"}
	c := absorb.Judge(q, pack(t, "washington"))
	if c.Flow.Basis != absorb.ByBedrooms || c.Flow.Daily != gpd(360) || c.Flow.Measured != gpd(280) {
		t.Errorf("flow %+v", c.Flow)
	}
	holds(t, c.Flow.Words, "3 bedrooms: 360 gpd", "measured 280 gpd", "78 % of it", "the design flow is used")
	holds(t, c.FieldWords, "from memory, not read in its source")

	q.Measured = gpd(500)
	holds(t, absorb.Judge(q, pack(t, "washington")).Flow.Words, "139 % of it, more than it was designed for")
	q.Measured = gpd(360)
	holds(t, absorb.Judge(q, pack(t, "washington")).Flow.Words, "which is the same")

	q = absorb.Question{Measured: gpd(300), Texture: "class III"}
	c = absorb.Judge(q, pack(t, "texas"))
	if c.Flow.Basis != absorb.ByMeter || math.Abs(sqft(c.Required.Area)-1500) > 1e-6 {
		t.Errorf("flow %+v, required %+v", c.Flow, c.Required)
	}
	holds(t, c.Flow.Words, "The measured flow of 300 gpd is used")

	holds(t, strings.Join(c.Missing, "\n"), "the design flow, as only a measured one is known: write record: {daily flow: 450 gpd}")

	c = absorb.Judge(absorb.Question{Loading: rate(0.6), Measured: gpd(300)}, pack(t, "federal"))
	holds(t, strings.Join(c.Missing, "\n"), "household: {bedrooms: 3}")
	c = absorb.Judge(absorb.Question{Persons: 4, Loading: rate(0.6)}, pack(t, "federal"))
	if c.Flow.Basis != absorb.ByPersons || math.Abs(float64(c.Flow.Daily/unit.GallonPerDay)-300) > 1e-9 {
		t.Errorf("by persons %+v", c.Flow)
	}
	c = absorb.Judge(absorb.Question{Bedrooms: 3, Percolation: perc(15), Measured: gpd(200), Trenches: []absorb.Trench{line("Line 1", 9, 3)}}, pack(t, "federal"))
	holds(t, c.FieldWords, "the measured flow changes nothing in it")
}

func TestNoRule(t *testing.T) {
	for _, p := range []*rules.Pack{nil, pack(t, "own")} {
		c := absorb.Judge(absorb.Question{Bedrooms: 3, Tank: gal(1000), Trenches: []absorb.Trench{line("Line 1", 60, 3)}}, p)
		if c.Field != absorb.CannotTell || c.Tank.Verdict != absorb.CannotTell || c.Required.Known || c.Flow.Known {
			t.Errorf("%+v", c)
		}
		holds(t, c.FieldWords, "no rule for the field in this pack", absorb.Decides)
		holds(t, c.Tank.Words, "no rule for the tank in this pack", absorb.Decides)
		if math.Abs(sqft(c.Present)-180) > 1e-6 {
			t.Errorf("present %g sq ft", sqft(c.Present))
		}
	}
	unsuited := absorb.Judge(absorb.Question{Bedrooms: 3, Percolation: perc(75)}, pack(t, "federal"))
	holds(t, unsuited.FieldWords, "Cannot tell: by this rule no trench is suitable above 60 min/in", "75 min/in", "no area would do")
	unknown := absorb.Judge(absorb.Question{Texture: "peat", Bedrooms: 3}, pack(t, "washington"))
	holds(t, unknown.FieldWords, "no rate for the soil “peat”", "sandy loam")
}

func TestTankWords(t *testing.T) {
	for _, test := range []struct {
		pack    string
		q       absorb.Question
		verdict absorb.Verdict
		words   []string
	}{
		{"federal", absorb.Question{Bedrooms: 3, Tank: gal(1000)}, absorb.Enough, []string{"holds 1,000 gal and 900 gal is required for 3 bedrooms", "from memory, not read in its source"}},
		{"new-york", absorb.Question{Bedrooms: 4, Tank: gal(1000)}, absorb.Short, []string{"Short by 250 gal", "1,250 gal"}},
		{"new-york", absorb.Question{Bedrooms: 3, Tank: 3785 * unit.Litre, Say: unit.Style{Form: unit.Metres}}, absorb.Enough, []string{"3,785 L"}},
		{"new-york", absorb.Question{Bedrooms: 3}, absorb.CannotTell, []string{"1,000 gal is required", "capacity is not known"}},
		{"new-york", absorb.Question{Tank: gal(1000)}, absorb.CannotTell, []string{"number of bedrooms is not known"}},
		{"missouri-county", absorb.Question{Bedrooms: 6, Tank: gal(2000)}, absorb.CannotTell, []string{"no tank size for 6 bedrooms"}},
		{"pennsylvania", absorb.Question{Bedrooms: 3, Tank: gal(800)}, absorb.Short, []string{"no tank may hold less than 900 gal"}},
		{"pennsylvania", absorb.Question{Bedrooms: 3, Tank: gal(1000)}, absorb.CannotTell, []string{"not less than the 900 gal of any tank"}},
	} {
		tank := absorb.Judge(test.q, pack(t, test.pack)).Tank
		if tank.Verdict != test.verdict {
			t.Errorf("%s %+v: %+v", test.pack, test.q, tank)
		}
		holds(t, tank.Words, append(test.words, absorb.Decides)...)
	}
}

func TestDeepStoneIsAllowedForAndSaid(t *testing.T) {
	deep := line("Line 1", 100, 3)
	deep.StoneBelow = feet(1)
	q := absorb.Question{Bedrooms: 3, Percolation: perc(15), Trenches: []absorb.Trench{deep}}
	c := absorb.Judge(q, pack(t, "federal")) // 300 sq ft / (5/6)
	if math.Abs(sqft(c.Present)-360) > 1e-6 {
		t.Errorf("present %g sq ft", sqft(c.Present))
	}
	holds(t, c.Trenches[0].Words, "1' 0\" of stone below the pipe 83 % of the standard length is enough")
	holds(t, c.FieldWords, "Deeper stone counts for more by a formula", "from memory, not read in its source")
	q.Trenches[0].StoneBelow = 0
	c = absorb.Judge(q, pack(t, "federal"))
	holds(t, c.Trenches[0].Words, "no allowance is taken")
}

// A pack of the user's own that counts the sidewall alone.
func TestSidewallAlone(t *testing.T) {
	p, err := rules.Parse("x", []byte(`{"name": "x", "place": "x", "field": {"method": "loading rate by soil texture", "counts": "sidewall",
		"textures": [{"texture": "any", "loading": "1 gpd/ft2"}], "source": {"title": "x", "status": "the user's own"}}}`))
	if err != nil {
		t.Fatal(err)
	}
	q := absorb.Question{Texture: "sand", Permitted: gpd(100), Trenches: []absorb.Trench{{Name: "Line 1", Length: feet(50), StoneBelow: feet(1)}}}
	c := absorb.Judge(q, p)
	if c.Field != absorb.Enough || math.Abs(sqft(c.Present)-100) > 1e-6 {
		t.Errorf("%g sq ft: %s", sqft(c.Present), c.FieldWords)
	}
	holds(t, c.FieldWords, "100 sq ft of sidewall counts")
	q.Trenches[0].StoneBelow = 0
	if c = absorb.Judge(q, p); c.Field != absorb.CannotTell {
		t.Errorf("no height known: %s", c.FieldWords)
	}
}

func TestAddedBedrooms(t *testing.T) {
	say := unit.Style{}
	both := func(name string, q absorb.Question, rooms int) string {
		now := absorb.Judge(q, pack(t, name))
		q.Bedrooms += rooms
		return absorb.AddedBedrooms(now, absorb.Judge(q, pack(t, name)), rooms, say)
	}
	q := absorb.Question{Bedrooms: 3, Percolation: perc(15), Tank: gal(900), Trenches: []absorb.Trench{line("Line 1", 120, 3), line("Line 2", 120, 3)}}
	holds(t, both("federal", q, 2), "With 2 more bedrooms the area required goes from 570 sq ft to 950 sq ft and 720 sq ft counts.",
		"The field, enough now, would be short by 230 sq ft.", "The tank would be short: 1,250 gal is required and it holds 900 gal.", absorb.Decides)
	q = absorb.Question{Bedrooms: 3, Percolation: perc(10), Tank: gal(1250), Trenches: []absorb.Trench{line("Line 1", 120, 3), line("Line 2", 120, 3)}}
	holds(t, both("new-york", q, 1), "With 1 more bedroom the design flow goes from 390 gpd to 520 gpd; the area required goes from 433 sq ft to 578 sq ft",
		"The field: enough, as now.", "The tank: enough, as now.")
	holds(t, both("texas", absorb.Question{Bedrooms: 3, Measured: gpd(200), Texture: "class II"}, 1), "only the measured flow of today is known")
	holds(t, both("federal", absorb.Question{Bedrooms: 3, Percolation: perc(15), Trenches: []absorb.Trench{line("Line 1", 120, 3)}}, 1), "The field, short by 210 sq ft now, would be short by 400 sq ft.")
	holds(t, both("own", absorb.Question{Bedrooms: 3}, 1), "the area required is not known", "cannot tell, as now")
	holds(t, both("minnesota", absorb.Question{Bedrooms: 3, Permitted: gpd(450), Percolation: perc(10)}, 1), "the design flow stays at 450 gpd")
	holds(t, both("pennsylvania", absorb.Question{Bedrooms: 2, Tank: gal(900)}, 1), "the design flow is not known")
}

// Whatever is asked, an answer comes, its words are whole and its areas are
// numbers.
func FuzzJudge(f *testing.F) {
	f.Add(3, 4, 450.0, 15.0, 0.6, 60.0, 3.0, 0.5, 1000.0, "loam", uint8(0))
	f.Add(-1, 99, math.NaN(), math.Inf(1), -1.0, 1e300, 0.0, -5.0, 1e-300, "\xff", uint8(7))
	names := append(rules.Names(), "")
	packs := make([]*rules.Pack, len(names))
	for i, n := range names {
		packs[i], _ = rules.ByName(n)
	}
	f.Fuzz(func(t *testing.T, rooms, persons int, flow, time, loading, length, width, stone, tank float64, texture string, which uint8) {
		q := absorb.Question{
			Bedrooms: rooms, Persons: persons, Measured: gpd(flow), Permitted: gpd(flow / 2), Percolation: perc(time), Loading: rate(loading),
			Texture: texture, Structure: texture, Strength: "strong", Tank: gal(tank), Grinder: rooms%2 == 0,
			Trenches: []absorb.Trench{
				{Name: "a", Length: feet(length), Width: feet(width), StoneBelow: feet(stone), LengthSD: feet(width), WidthSD: feet(stone)},
				{Name: "b", Length: feet(width), Width: feet(length), OutOfUse: rooms%3 == 0},
			},
		}
		c := absorb.Judge(q, packs[int(which)%len(packs)])
		for _, v := range []float64{float64(c.Present), float64(c.PresentSD), float64(c.Required.Area), c.Pumping.Years, float64(c.Flow.Daily)} {
			if !(v >= 0) || math.IsInf(v, 0) {
				t.Fatalf("%+v gives %g", q, v)
			}
		}
		if c.Field == "" || c.Tank.Verdict == "" || !strings.HasSuffix(c.FieldWords, absorb.Decides) || c.Tank.Words == "" || c.Pumping.Words == "" || c.Flow.Words == "" {
			t.Fatalf("%+v: incomplete %+v", q, c)
		}
		if absorb.AddedBedrooms(c, c, 1, q.Say) == "" {
			t.Fatal("no words for an added bedroom")
		}
	})
}
