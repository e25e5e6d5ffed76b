package plans_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"undersod/core/absorb"
	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/report/flow"
	"undersod/internal/report/plans"
)

// even is a font whose letters are all half as wide as high.
type even struct{}

func (even) Advance(text string, _ sheet.Weight, size sheet.MM) sheet.MM {
	return sheet.MM(len([]rune(text))) * size / 2
}
func (even) Ascent(_ sheet.Weight, size sheet.MM) sheet.MM  { return 0.8 * size }
func (even) Descent(_ sheet.Weight, size sheet.MM) sheet.MM { return 0.2 * size }

var paper = flow.Format{Width: 216, Height: 280, Side: 19, Top: 16, Bottom: 19}

func begin() *plans.Book {
	f := &flow.Flow{M: flow.NewMeasure(even{}), Width: paper.Inner(), Room: paper.Room(), Text: flow.Type(3, sheet.Regular, flow.Ink),
		Small: flow.Type(2.5, sheet.Regular, flow.Stone), Cell: flow.Type(2.6, sheet.Regular, flow.Ink)}
	return &plans.Book{Flow: f, Say: unit.Style{Form: unit.FeetInches, Denominator: 4}}
}

// pages are the texts of each page, in the order that they are written.
func pages(t *testing.T, b *plans.Book) []string {
	t.Helper()
	var out []string
	for _, p := range flow.Paginate(paper, b.Items) {
		var words []string
		for _, s := range p.Shapes {
			x, is := s.(sheet.Text)
			if !is {
				continue
			}
			words = append(words, x.Text)
			if left := x.At.X; x.Align == sheet.AlignLeft && left+(even{}).Advance(x.Text, x.Weight, x.Size) > paper.Width-paper.Side+1e-6 {
				t.Errorf("%q leaves the page", x.Text)
			}
		}
		out = append(out, strings.Join(words, " "))
	}
	return out
}

func text(t *testing.T, b *plans.Book) string { return strings.Join(pages(t, b), " ") }

// inOrder tells whether all of want stand in a text, one after the other.
func inOrder(t *testing.T, text string, want ...string) {
	t.Helper()
	from := 0
	for _, w := range want {
		i := strings.Index(text[from:], w)
		if i < 0 {
			t.Errorf("%q does not stand where it should, in: %s", w, text)
			return
		}
		from += i + len(w)
	}
}

var (
	code   = rules.Source{Title: "Invented code", Section: "4.2", Year: "2001", Status: rules.Read, Note: "for new systems"}
	permit = rules.Source{Title: "permit T-1", Status: rules.TheUser}
)

// table has one row of each verdict, one of them the permit's, one not located.
func table() *setback.Table {
	row := func(part, from, kind string, required, measured, within unit.Length, v setback.Verdict) setback.Row {
		return setback.Row{Part: setback.Thing{Name: site.Name(part), Kind: "septic tank"}, From: setback.Thing{Name: site.Name(from), Kind: kind},
			Column: rules.ToTank, Required: required, Measured: measured, Known: true, Margin: measured - required, Within: within, Verdict: v,
			Words: part + " against " + from + " in words.", Source: code}
	}
	short := row("Tank", "House", "building", 10*unit.Foot, 7*unit.Foot, unit.Inch, setback.Short)
	short.Source, short.Permit, short.Note = permit, true, "from the foundation"
	lost := row("Box", "Spring", "surface water", 50*unit.Foot, 0, 0, setback.TooClose)
	lost.Known = false
	clear := row("Tank", "Well", "well", 50*unit.Foot, 90*unit.Foot, 2*unit.Inch, setback.Clear)
	clear.From.Class, clear.Assumed = "private", "Well is taken as a private well"
	shed := row("Tank", "Shed", "structure", 5*unit.Foot, 45*unit.Foot, 2*unit.Inch, setback.Clear)
	shed.Proposed = true
	return &setback.Table{Pack: "invented", Place: "an invented county", Rows: []setback.Row{short, lost, clear, shed},
		Limits: []setback.LimitRow{
			{What: "trench width of Line 1", On: rules.OnTrenchWidth, Most: 3 * unit.Foot, Measured: 4 * unit.Foot, Known: true, Verdict: setback.Short, Source: code},
			{What: "trench width of Line 2", On: rules.OnTrenchWidth, Most: 3 * unit.Foot, Measured: 2 * unit.Foot, Known: true, Verdict: setback.Clear, Source: code},
			{What: "trench width of Line 3", On: rules.OnTrenchWidth, Most: 3 * unit.Foot, Measured: 2 * unit.Foot, Known: true, Verdict: setback.Clear, Source: code},
			{What: "trench width of Line 4", On: rules.OnTrenchWidth, Most: 3 * unit.Foot, Words: "The width of Line 4 is not known", Source: code}},
		NoRule: []string{"no rule in this pack for a tank from a tree"}, Missing: []string{"the size of Box: add length and width"}}
}

func TestSetbacksTellTheWorstFirstWithSources(t *testing.T) {
	b := begin()
	b.Setbacks(table())
	all := text(t, b)
	inOrder(t, all, "Setbacks", "1 distance is short.", "Of 4 distances 2 are clear, 1 short and 1 too close to call.",
		"House (building)", `10' 0"`, `7' 0"`, `-3' 0"`, `1"`, "short", "permit [1]",
		"Spring (surface water)", "not located", "too close to call", "[2]",
		"Well (private well)", `+40' 0"`, "clear", "[2]", "Shed (proposed)",
		"Tank against House in words.", "Box against Spring in words.",
		"Trench width of Line 1", `at most 3' 0"`, `4' 0"`, "not within", "kept by 2", "within", "The width of Line 4 is not known.",
		"What was assumed", "Well is taken as a private well.", "Tank from building: from the foundation.",
		"No rule in this pack for a tank from a tree.", "The size of Box: add length and width.",
		"Rule pack invented: an invented county.", "[1] The permit's own distance: permit T-1.", "[2] Invented code, 4.2, 2001 (read in a copy); for new systems.", absorb.Decides)
	if strings.Contains(all, "Tank against Well") {
		t.Error("a distance that is clear is told in words as well")
	}
}

func TestATableOfSetbacksKeepsItsHeadOnEveryPage(t *testing.T) {
	long := table()
	for i := range 150 {
		r := long.Rows[2]
		r.Part.Name = site.Name(fmt.Sprintf("Part%03d", i))
		long.Rows = append(long.Rows, r)
	}
	b := begin()
	b.Setbacks(long)
	seen := 0
	for i, p := range pages(t, b) {
		rows := strings.Count(p, "Part0") + strings.Count(p, "Part1")
		seen += rows
		if rows > 0 && !strings.Contains(p, "Required") {
			t.Errorf("page %d has rows and no titles", i+1)
		}
	}
	if seen != 150 {
		t.Errorf("%d of 150 rows are set", seen)
	}
}

func TestNothingIsSetOfNothing(t *testing.T) {
	b := begin()
	b.Setbacks(nil)
	b.Checklist(nil, nil)
	b.Proposals(nil, nil, nil, nil)
	b.Owner(nil, nil, nil, nil)
	if len(b.Items) > 0 {
		t.Errorf("%d items are set of nothing", len(b.Items))
	}
	b.Setbacks(&setback.Table{})
	inOrder(t, text(t, b), "No distance was judged.", "No rule pack.", absorb.Decides)
}

func TestTheChecklistHasItsThreeAnswers(t *testing.T) {
	other := rules.Source{Title: "Another list"}
	checks := []setback.Check{
		{What: rules.WantTank, Words: "by two distances", Answer: setback.OnSheet, Why: "Tank.", Source: code},
		{What: rules.WantNorth, Words: string(rules.WantNorth), Answer: setback.Missing, Why: "Enter a bearing.", Source: code},
		{What: rules.WantOther, Words: "the gate", Answer: setback.NotApplicable, Why: "There is none.", Source: code},
	}
	b := begin()
	b.Checklist(checks, table())
	all := text(t, b)
	inOrder(t, all, "What the authority wants on the drawing", "Of 3 items 1 is on the sheet, 1 missing and 1 not applicable.", "Answer",
		"Tank place", "by two distances", "on the sheet", "Tank.", "North arrow", "missing", "Enter a bearing.", "The gate", "not applicable", "There is none.",
		"Rule pack invented: an invented county.", "[1] Invented code", absorb.Decides)
	if strings.Contains(all, "Source") {
		t.Error("a column of sources is set though all items have the same")
	}
	checks[2].Source = other
	b = begin()
	b.Checklist(checks, nil)
	inOrder(t, text(t, b), "Source", "[1]", "[2]", "[2] Another list.")
}

// fit is a workshop that keeps 5 ft more than asked.
func fit() *setback.Fit {
	square := planar.Ring{{}, {East: 30 * unit.Metre}, {East: 30 * unit.Metre, North: 30 * unit.Metre}, {North: 30 * unit.Metre}}
	foot, err := clearance.Rectangle(6*unit.Metre, 4*unit.Metre)
	if err != nil {
		panic(err)
	}
	f := &setback.Fit{Question: setback.Question{Name: "Workshop", Kind: site.Structure, Size: "20' x 13'", Footprint: foot}, Ground: clearance.Ground{Lot: square},
		Best: clearance.Found{Fits: true}, Verdict: setback.Clear, Words: []string{"The answer in words.", absorb.Decides}, Missing: []string{"the size of Box"}}
	for i := range 12 {
		l := setback.Limiting{Thing: setback.Thing{Name: site.Name(fmt.Sprintf("Thing%02d", i)), Kind: "drain line"}, Required: 10 * unit.Foot,
			Margin: unit.Length(5+i) * unit.Foot, Within: unit.Inch, Verdict: setback.Clear, Source: code}
		l.Measured = l.Required + l.Margin
		f.Limits = append(f.Limits, l)
	}
	return f
}

// A proposal that no rule speaks of is not called fine.
func TestAProposalByNoRule(t *testing.T) {
	b, f := begin(), fit()
	for i := range f.Limits {
		f.Limits[i].Required = 0
	}
	b.Proposals([]*setback.Fit{f}, nil, nil, func(*setback.Fit) {})
	inOrder(t, text(t, b), "Cannot be judged: it fits on the ground alone.", "But no rule here asks for a distance", "no overlap", absorb.Decides)
}

// Overlap, touching and outside are told as such.
func TestNoDistanceIsToldInWords(t *testing.T) {
	b, f := begin(), fit()
	f.Limits[0].Measured, f.Limits[1].Measured, f.Limits[2].Measured, f.Limits[2].Lot = -2*unit.Foot, 0, -3*unit.Foot, true
	b.Proposals([]*setback.Fit{f}, nil, nil, func(*setback.Fit) {})
	inOrder(t, text(t, b), "Thing00", `2' 0" overlap`, "Thing01", "touches", "Thing02", `3' 0" outside`)
}

func capacity() *setback.Capacity {
	c := &setback.Capacity{Rooms: 2, ReserveArea: 100, ReserveNeeded: 150, Reserve: absorb.Short, Words: []string{"With 2 more bedrooms. " + absorb.Decides}}
	c.Then.Field, c.Then.Required.Area, c.Then.Present = absorb.Short, 60, 40
	c.Now.Field, c.Now.Present = absorb.Enough, 40
	c.Then.Tank.Verdict, c.Now.Tank.Verdict = absorb.Enough, absorb.Enough
	return c
}

func TestAProposalTellsTheAnswerThenWhatLimitsIt(t *testing.T) {
	b := begin()
	drawn := 0
	b.Proposals([]*setback.Fit{fit(), nil}, []string{"job.yaml:3: Pool has no size"}, capacity(), func(*setback.Fit) { drawn++ })
	all := text(t, b)
	inOrder(t, all, "Planned: Workshop, 20' x 13'", "It fits.", "The answer in words.", "What limits it at that place", "Thing00 (drain line)", `+5' 0"`, "clear", "[1]",
		"Thing07", "And 4 more, all clear by more than these.", "What is not known", "[1] Invented code", absorb.Decides,
		"Planned, and not judged", "Pool has no size", absorb.Decides, "bedrooms that are planned", "With 2 more bedrooms", "Reserve area", "short", absorb.Decides)
	if drawn != 1 || strings.Contains(all, "Thing08") || strings.Count(all, absorb.Decides) != 3 {
		t.Errorf("%d drawings, expected 1; or too much is told: %s", drawn, all)
	}
}

func TestTheOwnerIsToldPlainly(t *testing.T) {
	stated := clearance.Placement{}
	tests := []struct {
		name   string
		change func(*setback.Fit)
		want   []string
	}{
		{"free", func(*setback.Fit) {}, []string{"It fits", `At its freest place it keeps 5' 0" more than asked from everything; Thing00 comes nearest.`}},
		{"two alike", func(f *setback.Fit) { f.Limits[1].Margin = f.Limits[0].Margin }, []string{"Thing00 and Thing01 come nearest."}},
		{"where it is wanted", func(f *setback.Fit) { f.Question.Stated, f.Stated = &stated, f.Limits }, []string{"It fits where you want it", `It keeps 5' 0" more`}},
		{"nowhere", func(f *setback.Fit) {
			f.Best.Fits, f.Limits[0].Verdict, f.Limits[0].Margin = false, setback.Short, -2*unit.Foot
		}, []string{"It does not fit", `At its best place it is still too near to Thing00, by up to 2' 0".`}},
		{"elsewhere", func(f *setback.Fit) {
			f.Question.Stated, f.Stated, f.Verdict = &stated, f.Limits, setback.Short
			f.Stated[0].Verdict, f.Stated[0].Margin = setback.Short, -2*unit.Foot
			f.Cure = &clearance.Found{Placement: clearance.Placement{At: planar.Vec{East: 3 * unit.Foot}}}
			f.Sure = &clearance.Found{Placement: clearance.Placement{At: planar.Vec{East: 4 * unit.Foot}}}
		}, []string{"It does not fit where you want it, but elsewhere", `too near to Thing00, by up to 2' 0"; moving it 3' 0" would cure that, and 4' 0" makes it sure.`}},
		{"too close", func(f *setback.Fit) {
			f.Question.Stated, f.Stated, f.Verdict, f.Limits[0].Verdict = &stated, f.Limits, setback.TooClose, setback.TooClose
		}, []string{"Too close to call", "cannot tell whether it keeps its distance from Thing00."}},
		{"near", func(f *setback.Fit) {
			f.Question.Near, f.Question.NearWords, f.Verdict = &planar.Vec{}, "House", setback.TooClose
			f.Limits[0].Verdict, f.Limits[0].Margin = setback.TooClose, 0
		}, []string{"It fits", `nearest to House keeps just what is asked; Thing00 limits it. Stay 1" farther off to be sure.`}},
		{"no rule", func(f *setback.Fit) {
			for i := range f.Limits {
				f.Limits[i].Required = 0
			}
		}, []string{"It cannot be judged", "On the ground alone there is room for it.", "But no rule here asks for a distance from any part of the system."}},
		{"not located", func(f *setback.Fit) { f.LeftOut, f.Verdict = []string{"Well"}, setback.TooClose }, []string{"Not answered yet", "not located is Well."}},
		{"no lot", func(f *setback.Fit) { f.Ground.Lot = nil }, []string{"Too close to call", "No property line was measured"}},
		{"nothing near", func(f *setback.Fit) { f.Limits = nil }, []string{"It fits", "Nothing is known that it must keep away from."}},
	}
	for _, tt := range tests {
		b, f := begin(), fit()
		tt.change(f)
		b.Owner([]*setback.Fit{f}, nil, capacity(), func(s string) string { return s })
		all := text(t, b)
		want := append([]string{"What you plan", "Workshop, 20' x 13'"}, tt.want...)
		want = append(want, "What it asks of the system", "With 2 more bedrooms", "The field would be too small by 215 sq ft, and the tank is large enough.",
			"The ground kept for a new field is too small by 538 sq ft.", absorb.Decides)
		t.Run(tt.name, func(t *testing.T) { inOrder(t, all, want...) })
	}
}

// Whatever a job and a pack say, nothing leaves the page and nothing panics.
func TestHostileWordsAndNumbers(t *testing.T) {
	long := strings.Repeat("W", 500) + " \x00\u202e\xff"
	nan := unit.Length(math.NaN())
	bad := table()
	for i := range bad.Rows {
		r := &bad.Rows[i]
		r.Part.Name, r.From.Name, r.From.Class, r.Words, r.Note, r.Assumed = site.Name(long), site.Name(long), long, long, long, long
		r.Required, r.Measured, r.Margin, r.Within, r.Source = nan, unit.Length(math.Inf(1)), nan, nan, rules.Source{Title: long, Note: long}
	}
	for i := range bad.Limits {
		bad.Limits[i].What, bad.Limits[i].Words, bad.Limits[i].Measured = long, long, nan
	}
	bad.NoRule, bad.Missing, bad.Place = []string{long, ""}, []string{long}, long
	f := fit()
	f.Question.Name, f.Question.Size, f.Words = long, long, []string{long, "", absorb.Decides}
	f.Limits[0].Thing.Name, f.Limits[0].Margin = site.Name(long), nan
	c := capacity()
	c.ReserveNeeded, c.Then.Present, c.Words = unit.Area(math.NaN()), unit.Area(math.Inf(-1)), []string{long}
	b := begin()
	b.Setbacks(bad)
	b.Checklist([]setback.Check{{What: rules.WantOther, Words: long, Answer: setback.Answer(long), Why: long, Source: rules.Source{Title: long}}, {}}, bad)
	b.Proposals([]*setback.Fit{f, {}}, []string{long}, c, func(*setback.Fit) {})
	b.Owner([]*setback.Fit{f, {}}, []string{long}, c, func(s string) string { return s })
	if len(pages(t, b)) < 2 {
		t.Error("almost nothing is set")
	}
}
