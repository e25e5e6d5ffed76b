package jobfile_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile"
)

func TestWhatIsProposedMeansWhatIsWritten(t *testing.T) {
	s := read(t, looked).Job.Site
	if len(s.Proposed) != 3 {
		t.Fatalf("%d things", len(s.Proposed))
	}
	shop, green, well := s.Proposed[0], s.Proposed[1], s.Proposed[2]
	if shop.Name != "Workshop" || shop.Kind != site.Structure || shop.Class != "slab foundation" || !near(shop.Length.Length, 24*unit.Foot) ||
		!near(shop.Width.Length, 16*unit.Foot) || *shop.Along != [2]site.Name{"A", "B"} || shop.Turn != nil || shop.Near != "Maple" ||
		!near(shop.FromLot.Length, 10*unit.Foot) || shop.Bedrooms != 1 || shop.Place.Line != 100 {
		t.Errorf("%+v", shop)
	}
	if at := shop.At; at.From != "A" || at.To != "B" || at.Point != "" || !near(at.Station.Length, 30*unit.Foot) || !near(at.Right.Length, -60*unit.Foot) {
		t.Errorf("%+v", at)
	}
	if green.At.Point != "D-box" || green.Turn.Degrees() < 84.999 || green.Turn.Degrees() > 85.001 || len(green.Outline) != 4 ||
		!near(green.Outline[2].Along, 16*unit.Foot) || !near(green.Outline[2].Right, 12*unit.Foot) || green.Length != nil || green.FromLot != nil {
		t.Errorf("%+v", green)
	}
	if well.Kind != site.Well || well.At != nil || well.Outline != nil {
		t.Errorf("%+v", well)
	}
	if got := s.PlannedBedrooms(); got != 2 { // one in the house and one in the workshop
		t.Errorf("%d bedrooms are planned", got)
	}
	if s.Features[0].Class != "old" {
		t.Errorf("%+v", s.Features[0])
	}
	rows := s.Setbacks.Rows
	if s.Setbacks.Source != "permit T-1996-0412" || len(rows) != 2 || rows[0].From != "well" || rows[0].Class != "private" || rows[1].Class != "" ||
		rows[0].Note != "from the casing" || len(rows[0].Distances) != 6 || !near(rows[0].Distances["distribution box"].Length, 51*unit.Foot) {
		t.Errorf("%+v", s.Setbacks)
	}
}

func TestClassOfABuilding(t *testing.T) {
	s := read(t, "undersod: 1\nbuildings: {House: {corners: [A, B, C, D], class: basement}}\n").Job.Site
	if s.Buildings[0].Class != "basement" {
		t.Errorf("%+v", s.Buildings[0])
	}
}

// TestMistakesInWhatIsPlanned spoils one thing at a time in a job that has every
// key of it.
func TestMistakesInWhatIsPlanned(t *testing.T) {
	for _, c := range []struct {
		was, is      string
		line, column int
		words        string
		left         int // things proposed that are left
	}{
		{"kind: structure, class", "kind: structrue, class", 100, 20, `Did you mean "structure"`, 2},
		{"kind: structure, class", "kind: shed, class", 100, 20, `Did you mean "structure"`, 2},
		{"kind: structure, class", "kind: structure, clas", 100, 31, `Did you mean "class"`, 3},
		{"New well: well", "New well: wel", 103, 13, `Did you mean "well"`, 2},
		{"New well: well", "New well: {kind: well, size: 3' x 3'}", 103, 3, "it is a point", 3},
		{"New well: well", "New well: {kind: well, bedrooms: 1}", 103, 3, "structure only", 3},
		{"New well: well", "New well: {kind: pool}", 103, 3, "no size", 2},
		{"size: 24' x 16'", "size: 24'", 100, 61, "44' x 28'", 2},
		{"size: 24' x 16'", "size: 0' x 16'", 100, 3, "above zero", 2},
		{"size: 24' x 16'", "size: 24' x 30 km", 100, 70, "30 km", 2},
		{"baseline: A-B, station", "baseline: A-H, station", 100, 87, `"H"`, 3},
		{"station: 30', left", "station: 30', lest", 100, 106, `Did you mean "left"`, 3},
		{"station: 30', left: 60'", "station: 30'", 100, 76, "one of right and left", 3},
		{"along: A-B, near", "along: A-A, near", 100, 3, "two different points", 3},
		{"along: A-B, near", "along: A-Q, near", 101, 12, `"Q"`, 3},
		{"along: A-B, near", "along: A-B, turn: 85°, near", 100, 3, "along is used", 3},
		{"near: Maple", "near: Mapel", 101, 23, `Did you mean "Maple"`, 3},
		{"from property line: 10'", "from property line: -10'", 100, 3, "zero or more", 3},
		{"bedrooms: 1}\n  Green", "bedrooms: some}\n  Green", 101, 65, "whole number", 3},
		{"[0', 0'], [20', 0'], [16', 12'], [4', 12']]", "[0', 0'], [20', 0']]", 102, 3, "three corners", 2},
		{"[16', 12']", "[16']", 102, 64, "a step along and a step to the right", 2},
		{"[16', 12']", "[16', twelve]", 102, 70, "number", 2},
		{"outline: [[0'", "size: 3' x 4', outline: [[0'", 102, 3, "the outline is used", 3},
		{"turn: 85°", "turn: 385°", 102, 94, "360", 3},
		{"at: D-box}\n  New", "at: D-bix}\n  New", 102, 103, `Did you mean "D-box"`, 3},
		{"source: permit T-1996-0412\n  rows", "sourse: permit\n  rows", 105, 3, `Did you mean "source"`, 3},
		{"- {from: well, class", "- {from: wel, class", 107, 14, `Did you mean "well"`, 3},
		{"- {from: well, class", "- {from: creek, class", 107, 14, `Did you mean "surface water"`, 3},
		{"- {from: well, class", "- {class", 107, 7, "from: well", 3},
		{"tank: 50'", "tank: -50'", 107, 7, "zero or more", 3},
		{"tank: 50'", "tank: fifty", 107, 42, "number", 3},
		{"from: well, field: 150'", "from: well, class: private, field: 150'", 109, 7, "the same row twice", 3},
		{"from: well, field: 150'", "from: well", 109, 7, "no distance", 3},
	} {
		t.Run(c.is, func(t *testing.T) {
			text := strings.Replace(looked, c.was, c.is, 1)
			if text == looked {
				t.Fatalf("%q is not in the job", c.was)
			}
			res := read(t, text)
			if len(res.Problems) == 0 {
				t.Fatal("nothing is told")
			}
			if !slices.ContainsFunc(res.Problems, func(p site.Problem) bool {
				return p.Place.Line == c.line && p.Place.Column == c.column && strings.Contains(p.Error(), c.words)
			}) {
				t.Errorf("want %d:%d and %q, got\n%s", c.line, c.column, c.words, res.Show(res.Problems[0]))
			}
			if left := len(res.Job.Site.Proposed); left != c.left {
				t.Errorf("%d things are left, want %d", left, c.left)
			}
			if left := len(res.Job.Site.Setbacks.Rows); left == 0 {
				t.Error("no row is left")
			}
		})
	}
}

// TestWhatIsPlannedMakesNoPoint: something proposed may stand near an outlined
// tank, which stays without a point of its own that nothing would locate. No
// place can be counted from it, which is told.
func TestWhatIsPlannedMakesNoPoint(t *testing.T) {
	const job = `undersod: 1
buildings: {House: {corners: [A, B, C, D], size: 44' x 28'}}
parts: {Tank: {kind: septic tank, outline: {hits: [h1, h2, h3]}}}
proposed:
  Shed: {kind: structure, size: 8' x 6', at: h1, along: h1-A, near: House}
  Pool: {kind: pool, size: 8' x 6', at: {baseline: [A, Tank], station: 3', right: 2'}, along: Tank-A, near: Tank}
  New well: {kind: well, near: Nowhere, at: Nothing, along: A-Nobody}
  Barn: {kind: structure, size: 8' x 6', at: Tank}
`
	r, err := jobfile.Read("job.yaml", strings.NewReader(job))
	if err != nil || len(r.Problems) != 6 {
		t.Fatalf("%v, %v", err, r.Problems)
	}
	for _, p := range r.Job.Site.Points {
		switch p.Name {
		case "Tank", "Nowhere", "Nothing", "Nobody", "House":
			t.Errorf("%s became a point", p.Name)
		}
	}
	outlined := 0
	for _, p := range r.Problems {
		if strings.Contains(p.Error(), "known by its outline") && p.Found == "Tank" {
			outlined++
		}
	}
	if outlined != 3 {
		t.Errorf("problems %v", r.Problems)
	}
	shed, pool, well := r.Job.Site.Proposed[0], r.Job.Site.Proposed[1], r.Job.Site.Proposed[2]
	if shed.At.Point != "h1" || shed.Along[0] != "h1" || shed.Near != "House" || pool.At != nil || pool.Along != nil || pool.Near != "Tank" {
		t.Errorf("something was lost: %+v, %+v", shed, pool)
	}
	if !reflect.DeepEqual(well, site.Proposed{Name: "New well", Kind: site.Well, Place: well.Place}) {
		t.Errorf("something of what cannot be was kept: %+v", well)
	}
}

// TestAPlaceCountedFromATankThatWasTaped: a tie makes a point of it, wherever
// the tie stands in the file.
func TestAPlaceCountedFromATankThatWasTaped(t *testing.T) {
	res := read(t, `undersod: 1
proposed: {Shed: {kind: structure, size: 8' x 6', at: Tank, along: A-Tank}}
buildings: {House: {corners: [A, B, C, D], size: 44' x 28'}}
parts: {Tank: {kind: septic tank, outline: {hits: [h1, h2, h3]}}}
ties: {Tank: {A: 20', B: 30'}}
`)
	if p := res.Job.Site.Proposed; len(res.Problems) > 0 || len(p) != 1 || p[0].At.Point != "Tank" || p[0].Along[1] != "Tank" {
		t.Errorf("%v, %+v", res.Problems, p)
	}
}

// A file full of what is planned is cut at its limit, in words.
func TestManyThingsPlanned(t *testing.T) {
	corners := strings.Repeat("[1 ft, 2 ft], ", 30_000)
	rows := strings.Repeat("{from: well, field: 3 ft}, ", 30_000)
	var b strings.Builder
	fmt.Fprintf(&b, "undersod: 1\nproposed:\n  Big: {kind: structure, outline: [%s]}\n", corners)
	for i := range 20_000 {
		fmt.Fprintf(&b, "  w%d: well\n", i)
	}
	fmt.Fprintf(&b, "setbacks: {rows: [%s]}\n", rows)
	res := read(t, b.String())
	if len(res.Job.Site.Proposed) > 10_000 || len(res.Problems) == 0 || len(res.Problems) > 1_001 {
		t.Errorf("%d things, %d problems", len(res.Job.Site.Proposed), len(res.Problems))
	}
}

// TestThingsAndColumnsAreThoseOfTheRulePacks: the permit's distances win over a
// pack's, thing by thing and column by column.
func TestThingsAndColumnsAreThoseOfTheRulePacks(t *testing.T) {
	var want []string
	for _, c := range rules.Columns() {
		want = append(want, string(c))
	}
	if !slices.Equal(site.SetbackColumns(), want) {
		t.Errorf("%v, the packs have %v", site.SetbackColumns(), want)
	}
	if !slices.Equal(site.SetbackThings(), rules.Things()) {
		t.Errorf("%v, the packs have %v", site.SetbackThings(), rules.Things())
	}
}
