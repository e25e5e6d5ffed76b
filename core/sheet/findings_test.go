package sheet_test

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"undersod/core/planar"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

// along returns the place at a distance along a line of the yard.
func (y *yard) along(path []site.Name, l unit.Length) planar.Vec {
	for i := 1; i < len(path); i++ {
		a, b := y.at[path[i-1]], y.at[path[i]]
		d := b.Minus(a).Length()
		if l <= d || i == len(path)-1 {
			return a.Plus(b.Minus(a).Times(float64(l / d)))
		}
		l -= d
	}
	return y.at[path[0]]
}

// sight is a finding at a place of a line, or along it where to is beyond from.
func (y *yard) sight(line int, from, to float64, what string, g site.Grade) sheet.Finding {
	l := y.job.Site.Lines[line]
	f := sheet.Finding{Line: l.Name, Grade: g, Words: fmt.Sprintf("%.0f' %s", from, what)}
	f.Path = []planar.Vec{y.along(l.Path, unit.Length(from)*unit.Foot)}
	if to > from {
		f.Words = fmt.Sprintf("%.0f' to %.0f' %s", from, to, what)
		f.Path = append(f.Path, y.along(l.Path, unit.Length(to)*unit.Foot))
	}
	return f
}

// seenYard is a yard with findings of each grade, places and stretches.
func seenYard(seed uint64) (*yard, []sheet.Finding) {
	y := randomYard(seed)
	return y, []sheet.Finding{
		y.sight(2, 21, 0, "fine roots", site.Watch),
		y.sight(2, 34, 42, "standing water", site.Act),
		y.sight(3, 12, 0, "joint shifted", site.Note),
		y.sight(3, 18, 26, "sediment", site.Note),
		y.sight(3, 30, 0, "root mass", site.Act),
		y.sight(0, 6, 0, "cracked", site.Watch),
		y.sight(2, 10, 15, "flattened", site.Watch),
	}
}

func TestFindingsKeepClear(t *testing.T) {
	keyed := 0
	for seed := range uint64(60) {
		y, f := seenYard(seed)
		y.job.Show.Ties = seed%4 == 0
		s := draw(t, y, sheet.Options{Findings: f})
		for _, b := range checkSheet(s) {
			t.Errorf("yard %d: %s", seed, b)
		}
		keyed += numbers(s)
		for _, want := range f {
			if !strings.Contains(words(s), want.Words) && !strings.Contains(words(s), string(want.Line)+": "+want.Words) {
				t.Errorf("yard %d: the sheet does not say %q", seed, want.Words)
			}
		}
	}
	if keyed > 40 {
		t.Errorf("%d labels became numbers on 60 sheets; expected at most 40", keyed)
	}
}

func TestNoFindingsChangeNothing(t *testing.T) {
	y := randomYard(4)
	a, b := draw(t, y, sheet.Options{}), draw(t, y, sheet.Options{Findings: []sheet.Finding{}})
	if !reflect.DeepEqual(a, b) {
		t.Error("an empty list of findings changes the sheet")
	}
	if strings.Contains(words(a), "camera") {
		t.Error("the legend speaks of a camera that saw nothing")
	}
}

func TestFindingsLieWhereTheyWereSeen(t *testing.T) {
	y, f := seenYard(2)
	s := draw(t, y, sheet.Options{Findings: f})
	for _, want := range f {
		name := string(want.Line) + ": " + want.Words
		marks := pathsOf(s, "findings", name)
		if len(marks) == 0 {
			t.Errorf("%s is not drawn", name)
			continue
		}
		r := marks[0].Runs[0]
		got := r.Start
		if len(want.Path) == 1 {
			got = sheet.Pos{X: (r.Start.X + r.Pieces[0].To.X) / 2, Y: (r.Start.Y + r.Pieces[0].To.Y) / 2}
		}
		at := s.Mapping.Paper(want.Path[0])
		if hypot(float64(got.X-at.X), float64(got.Y-at.Y)) > 0.05 {
			t.Errorf("%s is drawn at %v, expected %v", name, got, at)
		}
	}
	for _, w := range []string{"found by camera: note", "found by camera: watch", "found by camera: act", "stretch found by camera: act"} {
		if !strings.Contains(strings.ReplaceAll(words(s), "  ", " "), w) {
			t.Errorf("the legend does not say %q", w)
		}
	}
}

// A print in grey must tell the grades apart: by how much of the mark is inked,
// and by how thick a stretch is.
func TestGradesWeighMoreWithoutColour(t *testing.T) {
	y := randomYard(2)
	var wide [3]sheet.MM
	for i, g := range []site.Grade{site.Note, site.Watch, site.Act} {
		f := y.sight(2, 10, 30, "sediment", g)
		s := draw(t, y, sheet.Options{Findings: []sheet.Finding{f}})
		wide[i] = pathsOf(s, "findings", string(f.Line)+": "+f.Words)[0].Stroke.Width
	}
	if !(wide[0] < wide[1] && wide[1] < wide[2]) {
		t.Errorf("stretches of note, watch and act are %v mm thick", wide)
	}
	filled := func(g site.Grade) (n int) {
		f := y.sight(2, 10, 0, "cracked", g)
		for _, p := range pathsOf(draw(t, y, sheet.Options{Findings: []sheet.Finding{f}}), "findings", string(f.Line)+": "+f.Words) {
			if p.Fill != nil {
				n += len(p.Runs[0].Pieces) // two for a whole disc, six for half a one
			}
		}
		return n
	}
	if a, b, c, d := filled(site.Note), filled(site.Watch), filled(site.Act), filled(site.GradeUnstated); a != 0 || b != 6 || c != 2 || d != 0 {
		t.Errorf("marks of note, watch, act and unstated are filled %d, %d, %d, %d", a, b, c, d)
	}
}

func TestFindingWithoutAPlaceIsListed(t *testing.T) {
	y := randomYard(2)
	nan := unit.Length(math.NaN())
	s := draw(t, y, sheet.Options{Findings: []sheet.Finding{
		{Line: "Line 1", Words: "30' blocked", Grade: site.Act},
		{Line: "Line 2", Words: "31' cracked", Path: []planar.Vec{{East: nan, North: nan}, {East: unit.Length(math.Inf(1))}}},
	}})
	for _, w := range []string{"Line 1: 30' blocked: seen, but its place is not known", "Line 2: 31' cracked: seen"} {
		if !strings.Contains(words(s), w) {
			t.Errorf("the sheet does not say %q", w)
		}
	}
}

func TestCrowdedFindingsBecomeNumbers(t *testing.T) {
	y := randomYard(3)
	var f []sheet.Finding
	for i := range 60 {
		f = append(f, y.sight(2, 5+float64(i)/2, 0, "joint shifted", site.Watch))
	}
	s := draw(t, y, sheet.Options{Findings: f})
	for _, b := range checkSheet(s) {
		t.Error(b)
	}
	text := words(s)
	if numbers(s) == 0 || !strings.Contains(text, "Numbers on the drawing") || !strings.Contains(text, "Line 1: ") {
		t.Errorf("%d numbers, and the list does not name the line", numbers(s))
	}
}

func TestThousandsOfFindingsAreDrawn(t *testing.T) {
	y := randomYard(3)
	var f []sheet.Finding
	for i := range 600 {
		f = append(f, y.sight(2+i%2, float64(i%500)/10, 0, strings.Repeat("long words ", i%9), site.Grade(i%256)))
	}
	s := draw(t, y, sheet.Options{Findings: f})
	for _, b := range checkSheet(s) {
		t.Fatal(b)
	}
}
