package overlay_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/clearance"
	"undersod/core/overlay"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

func ft(v float64) unit.Length { return unit.Length(v) * unit.Foot }

func at(east, north float64) planar.Vec { return planar.Vec{East: ft(east), North: ft(north)} }

func row(v setback.Verdict, measured, required float64, known bool) setback.Row {
	return setback.Row{Verdict: v, Known: known, Measured: ft(measured), Required: ft(required),
		Gap: clearance.Gap{Distance: ft(measured), From: clearance.Spot{At: at(0, 0)}, To: clearance.Spot{At: at(measured, 0)}}}
}

// Everything short or too close gets a dimension, of what is clear the tightest
// few that do not lie upon another, and of what is not located none.
func TestDimensionsOfATable(t *testing.T) {
	table := &setback.Table{Rows: []setback.Row{
		row(setback.Short, -2, 10, true), row(setback.Short, 0, 10, true), row(setback.Short, 8, 10, true),
		row(setback.TooClose, 10, 10, true), row(setback.TooClose, 0, 10, false),
		row(setback.Clear, 21.25, 20, true), row(setback.Clear, 22, 20, true),
		row(setback.Clear, 25, 20, true), row(setback.Clear, 28, 20, true), row(setback.Clear, 31, 20, true),
	}}
	c := overlay.OfTable(&site.Job{}, table)
	want := []struct {
		words string
		grade site.Grade
	}{
		{`2' 0" too far, 10' 0" required`, site.Act}, {`touches, 10' 0" required`, site.Act}, {`8' 0", 10' 0" required`, site.Act},
		{`10' 0", 10' 0" required`, site.Watch},
		{`21' 3", 20' 0" required`, site.Note}, {`25' 0", 20' 0" required`, site.Note}, {`28' 0", 20' 0" required`, site.Note},
	}
	if len(c.Distances) != len(want) {
		t.Fatalf("%d dimensions, want %d", len(c.Distances), len(want))
	}
	for i, w := range want {
		if d := c.Distances[i]; d.Words != w.words || d.Grade != w.grade {
			t.Errorf("%d: %q %s, want %q %s", i, d.Words, d.Grade, w.words, w.grade)
		}
	}
	table.Kept = []setback.Kept{
		{Part: setback.Thing{Name: "Tank", Kind: "septic tank"}, Shape: clearance.Shape{Points: []planar.Vec{at(0, 0)}, Radius: ft(4)}, By: ft(5)},
		{Part: setback.Thing{Name: "Line 1", Kind: "drain line"}, Shape: clearance.Shape{Points: []planar.Vec{at(0, 0), at(50, 0)}, HalfWidth: ft(1.5)}, By: ft(10)},
		{Part: setback.Thing{Name: "Line 2", Kind: "drain line"}, Shape: clearance.Shape{Points: []planar.Vec{at(0, 90), at(50, 90)}, HalfWidth: ft(1.5)}, By: ft(10)},
	}
	var words []string
	for _, b := range overlay.OfTable(nil, table).Bands {
		words = append(words, b.Words)
	}
	if got := strings.Join(words, "|"); got != `5' 0" from Tank|10' 0" from the drain lines|10' 0" from the drain lines` {
		t.Error(got)
	}
	if c := overlay.OfTable(nil, nil); c == nil || len(c.Distances) != 0 {
		t.Error("nothing has dimensions")
	}
}

// shed is a shed of 10 ft by 10 ft with its middle at (20, 30) on a lot of 100 ft
// by 80 ft, whose west side has a pin in the middle, beside one trench.
func shed() (*site.Job, *setback.Fit) {
	job := &site.Job{Site: site.Site{Lines: []site.Line{{Name: "Line 1", Kind: site.DrainLine}, {Name: "Line 2", Kind: site.DrainLine}}}}
	f, _ := clearance.Rectangle(ft(10), ft(10))
	ground := clearance.Ground{
		Lot: []planar.Vec{at(0, 0), at(100, 0), at(100, 80), at(0, 80), at(0, 40)}, Setback: ft(5),
		Obstacles: []clearance.Obstacle{
			{Name: "Line 1", Shape: clearance.Shape{Points: []planar.Vec{at(50, 20), at(50, 60)}, HalfWidth: ft(1.5)}, Setback: ft(10)},
			{Name: "Line 2", Shape: clearance.Shape{Points: []planar.Vec{at(59, 20), at(59, 60)}, HalfWidth: ft(1.5)}, Setback: ft(10)},
			{Name: "House", Shape: clearance.Shape{Points: []planar.Vec{at(70, 5), at(90, 5), at(90, 15)}, Closed: true}},
		},
	}
	place := clearance.Placement{At: at(20, 30)}
	limit := func(name site.Name, v setback.Verdict, lot bool, measured, required float64) setback.Limiting {
		gap := clearance.Gap{From: clearance.Spot{At: at(25, 30)}, To: clearance.Spot{At: at(25+measured, 30)}}
		return setback.Limiting{Gap: gap, Thing: setback.Thing{Name: name}, Verdict: v, Lot: lot, Measured: ft(measured), Required: ft(required), Margin: ft(measured - required)}
	}
	region := clearance.Region{Pieces: []clearance.Piece{{Outer: planar.Ring{at(10, 10), at(20, 10), at(20, 20)}}}, Area: unit.Area(ft(50))}
	return job, &setback.Fit{
		Question: setback.Question{Name: "Shed", Size: "10' x 10'", Footprint: f, Stated: &place}, Ground: ground, Region: region,
		Stated: []setback.Limiting{
			limit("Lot", setback.Clear, true, 15, 5), limit("Line 1", setback.Clear, false, 23.5, 10),
			limit("Line 2", setback.Clear, false, 32.5, 10), limit("House", setback.Clear, false, 50, 0),
		},
	}
}

func TestWhatAFitShows(t *testing.T) {
	job, f := shed()
	c := overlay.OfFit(job, f)
	if len(c.Allowed) != 1 || c.AllowedAs != "where the middle of Shed may lie" {
		t.Errorf("%d patches, %q", len(c.Allowed), c.AllowedAs)
	}
	if len(c.Proposed) != 1 || c.Proposed[0].Name != "Shed" || strings.Join(c.Proposed[0].Words, "|") != "Shed|10' x 10'" || len(c.Proposed[0].Outline) != 4 {
		t.Errorf("%+v", c.Proposed)
	}
	// The two trenches lie 6 ft apart, so that their bands are one: 29 ft wide.
	if len(c.Bands) != 2 || c.Bands[1].Words != `5' 0" inside Lot` || c.Bands[0].Words != `10' 0" from the drain lines` {
		t.Fatalf("%+v", c.Bands)
	}
	// The edge of the setback lies 5 ft inside the lot all round.
	for _, v := range c.Bands[1].Area.Outer {
		if d := planar.Ring(f.Ground.Lot).Edge().Distance(v); math.Abs((d - ft(5)).Feet()) > 0.1 {
			t.Errorf("%v ft inside the lot", d.Feet())
		}
	}
	west, east := unit.Length(math.Inf(1)), unit.Length(math.Inf(-1))
	for _, v := range c.Bands[0].Area.Outer {
		west, east = min(west, v.East), max(east, v.East)
	}
	if math.Abs((west-ft(38.5)).Feet()) > 0.1 || math.Abs((east-ft(70.5)).Feet()) > 0.1 {
		t.Errorf("the band reaches from %v to %v ft", west.Feet(), east.Feet())
	}
	var words []string
	for _, d := range c.Distances {
		words = append(words, d.Words)
		if d.Grade != site.Note {
			t.Errorf("%q is %s", d.Words, d.Grade)
		}
	}
	// West at 15 ft and south at 25 ft, the pin's other half of the west side left
	// out; then the parts, and not the house.
	want := `15' 0", 5' 0" required|25' 0", 5' 0" required|23' 6", 10' 0" required|32' 6", 10' 0" required`
	if got := strings.Join(words, "|"); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	f.Stated[3].Verdict, f.Stated[3].Measured, f.Stated[3].Margin = setback.Short, ft(-1), ft(-1)
	if last := overlay.OfFit(job, f).Distances[4]; last.Grade != site.Act || last.Words != `1' 0" too far` {
		t.Errorf("%+v", last)
	}
}

// The three smallest margins have a dimension, to whatever they are, and what else
// is proposed has its outline.
func TestWhatLimitsHasADimensionWhateverItIs(t *testing.T) {
	job, f := shed()
	f.Stated[3].Measured, f.Stated[3].Margin = ft(1), ft(1)
	f.Stated[1], f.Stated[3] = f.Stated[3], f.Stated[1]
	f.Others = []setback.Stands{{Thing: setback.Thing{Name: "Barn"}, Size: "9' x 8'", Outline: []planar.Vec{at(0, 0), at(9, 0), at(9, 8)}}}
	c := overlay.OfFit(job, f)
	if len(c.Distances) < 3 || c.Distances[2].Words != `1' 0"` {
		t.Errorf("%+v", c.Distances)
	}
	if len(c.Proposed) != 2 || strings.Join(c.Proposed[1].Words, "|") != "Barn|9' x 8'" || len(c.Proposed[1].Outline) != 3 {
		t.Errorf("%+v", c.Proposed)
	}
	if c := overlay.OfTable(job, &setback.Table{Proposed: f.Others}); len(c.Proposed) != 1 {
		t.Errorf("a table draws %+v", c.Proposed)
	}
}

func TestNothingToShow(t *testing.T) {
	for _, f := range []*setback.Fit{nil, {}, {Ground: clearance.Ground{Lot: []planar.Vec{{}}}}} {
		if c := overlay.OfFit(nil, f); c == nil || len(c.Proposed) != 0 {
			t.Errorf("%+v", c)
		}
	}
}

// Every source of a distance that is required is named once.
func TestSourcesAreNamed(t *testing.T) {
	code := rules.Source{Title: "An invented code", Section: "table 1", Year: "2020", Status: rules.Read}
	permit := rules.Source{Title: "permit 12", Status: rules.TheUser}
	table := &setback.Table{Rows: []setback.Row{row(setback.Short, 8, 10, true), row(setback.Clear, 30, 10, true), row(setback.Clear, 40, 10, true)}}
	table.Rows[0].Source, table.Rows[1].Source, table.Rows[2].Source = code, permit, code
	if got := overlay.OfTable(nil, table).Sources; len(got) != 2 || got[0] != code.Words() || got[1] != permit.Words() {
		t.Errorf("the sources are %q", got)
	}
	square, err := clearance.Rectangle(ft(10), ft(10))
	if err != nil {
		t.Fatal(err)
	}
	f := &setback.Fit{Question: setback.Question{Name: "Shed", Kind: site.Structure, Footprint: square},
		Limits: []setback.Limiting{{Required: ft(10), Source: code}, {Source: permit}}}
	if got := overlay.OfFit(nil, f).Sources; len(got) != 1 || got[0] != code.Words() {
		t.Errorf("the sources of a fit are %q: what asks for nothing has none", got)
	}
}

// What is not built is never drawn under the title of a record.
func TestWhatIsProposedHasATitleOfItsOwn(t *testing.T) {
	square, err := clearance.Rectangle(ft(10), ft(10))
	if err != nil {
		t.Fatal(err)
	}
	f := &setback.Fit{Question: setback.Question{Name: "Shed", Size: "10' x 10'", Kind: site.Structure, Footprint: square}}
	if got := overlay.OfFit(nil, f).Title; got != "Planned: Shed, 10' x 10'" {
		t.Errorf("a fit is titled %q", got)
	}
	if got := overlay.OfTable(nil, &setback.Table{}).Title; got != "" {
		t.Errorf("a table with nothing proposed is titled %q", got)
	}
}
