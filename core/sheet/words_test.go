package sheet_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

func TestTableOfTies(t *testing.T) {
	y := newYard(3)
	y.house(40, 28)
	y.part("Lid", site.Lid, feet(10, -20), "")
	y.job.Visit.Readings = nil
	y.point("Box", site.RolePart, feet(20, -40))
	y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: "Box", Kind: site.DistributionBox})
	add := func(r site.Reading, flagged bool) {
		y.job.Visit.Readings = append(y.job.Visit.Readings, r)
		y.plan.Readings = append(y.plan.Readings, adjust.Reading{ID: r.Common().ID, Flagged: flagged})
	}
	y.plan.Readings = nil
	corrected := unit.Written{Text: "31.75 ft", Length: 31.75 * unit.Foot, Form: unit.DecimalFeet}
	add(site.Tie{Taken: site.Taken{ID: "1"}, From: "A", To: "Lid", Read: unit.Written{Text: "6.5", Length: 6.5, Form: unit.Metres}}, false)
	add(site.Tie{Taken: site.Taken{ID: "2"}, From: "Lid", To: "B", Read: unit.Written{Text: "31.9 ft", Length: 31.9 * unit.Foot, Form: unit.DecimalFeet}, Corrected: &corrected}, false)
	add(site.Tie{Taken: site.Taken{ID: "3"}, From: "C", To: "Lid", Read: unit.Written{Text: "99 ft", Length: 99 * unit.Foot, Form: unit.DecimalFeet}}, true)
	add(site.Offset{Taken: site.Taken{ID: "4"}, From: "A", To: "B", Point: "Box", Station: written(20 * unit.Foot), Right: written(40 * unit.Foot)}, false)
	add(site.Depth{Taken: site.Taken{ID: "5"}, Point: "Box", Read: unit.Written{Text: `22"`, Length: 22 * unit.Inch, Form: unit.Inches}}, false)
	text := words(draw(t, y, sheet.Options{}))
	tests := []string{
		"A 6.50 m",   // the unit that the job file left out
		"B 31.75 ft", // as the person corrected it
		"C 99 ft*",   // as written though it disagrees: hypot(30, 48) ft is 56' 7 1/4"
		"* as written; it disagrees with the others",
		`A–B 20' 0", 40' 0" right`, // an offset in one entry
		`22" deep`,
	}
	for _, w := range tests {
		if !strings.Contains(text, w) {
			t.Errorf("the table does not say %q:\n%s", w, text)
		}
	}
}

func TestNoTieIsDroppedInSilence(t *testing.T) {
	y := newYard(3)
	y.house(40, 28)
	y.point("W", site.RoleMark, feet(60, 5))
	y.point("Box", site.RolePart, feet(20, -40))
	y.point("End", site.RolePart, feet(20, -80))
	for _, n := range []site.Name{"Box", "End"} {
		y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: n, Kind: site.DistributionBox})
	}
	add := func(r site.Reading, flagged bool) {
		y.job.Visit.Readings = append(y.job.Visit.Readings, r)
		y.plan.Readings = append(y.plan.Readings, adjust.Reading{ID: r.Common().ID, Flagged: flagged})
	}
	for i, from := range []site.Name{"A", "B", "C", "D", "W", "A"} {
		read := unit.Written{Text: fmt.Sprintf("%d ft", 40+i), Length: unit.Length(40+i) * unit.Foot, Form: unit.DecimalFeet}
		add(site.Tie{Taken: site.Taken{ID: site.ReadingID(fmt.Sprint(i))}, From: from, To: "Box", Read: read}, from == "W")
	}
	add(site.Offset{Taken: site.Taken{ID: "o"}, From: "A", To: "B", Point: "Box", Station: written(20 * unit.Foot), Right: written(40 * unit.Foot)}, false)
	add(site.Tie{Taken: site.Taken{ID: "s", SetAside: "tape caught"}, From: "C", To: "End", Read: written(90 * unit.Foot)}, false)
	add(site.Bearing{Taken: site.Taken{ID: "b"}, From: "Box", To: "End", Read: unit.WrittenAngle{Text: "S 0°30' E", Form: unit.Quadrant}}, false)
	add(site.Bearing{Taken: site.Taken{ID: "m"}, From: "End", To: "A", Read: unit.WrittenAngle{Text: "345.5", Form: unit.Azimuth}, Magnetic: true}, true)
	text := words(draw(t, y, sheet.Options{}))
	for _, w := range []string{
		"A 40 ft", "D 43 ft",
		"W 44 ft*",   // the fifth, shown because it disagrees
		"and 2 more", // the offset and the second tie from A
		"bearing from Box S 0°30' E",
		"bearing to A 345.5° magnetic*",
		"1 set aside",
	} {
		if !strings.Contains(text, w) {
			t.Errorf("the table does not say %q:\n%s", w, text)
		}
	}
}

func TestProbedTankIsFoundAgain(t *testing.T) {
	y := newYard(3)
	y.house(40, 28)
	y.tank(feet(12, -16), 90*unit.Degree)
	y.plan.Outlines[0].Hits[1].Point = y.point("h2", site.RoleHit, feet(12, -14))
	tests := []struct {
		name string
		make func()
		says []string
	}{
		// hypot(12, 16) is 20 ft, hypot(28, 16) is 32 ft 3 in; 1.96 in < 95 % radius < 2.45 in
		{"fitted", func() {}, []string{"outline from 5 probe hits", `8' 6" x 5' 0"`, "centre, computed:", `A 20' 0"`, `B 32' 3"`, "2.1\""}},
		{"no spare hit", func() { y.plan.Outlines[0].Freedom = 0 }, []string{"2.1\"†"}},
		{"hit moved", func() { y.find("h2").Doubt = unit.Foot }, []string{"in doubt†"}},
		{"not fitted", func() {
			y.plan.Outlines[0].Fitted, y.plan.Outlines[0].Why = false, "no hit on its right edge"
		}, []string{"Not located or in doubt", "Tank: its outline is not fitted: no hit on its right edge"}},
	}
	for _, tt := range tests {
		tt.make()
		text := words(draw(t, y, sheet.Options{}))
		for _, w := range tt.says {
			if !strings.Contains(text, w) {
				t.Errorf("%s: the sheet does not say %q:\n%s", tt.name, w, text)
			}
		}
	}
}

func TestUncheckedPlacesAreMarked(t *testing.T) {
	y := randomYard(2)
	text := words(draw(t, y, sheet.Options{}))
	if strings.Contains(text, "†") || strings.Contains(text, "Not everything") {
		t.Errorf("a checked plan is marked: %s", text)
	}
	y.plan.Verdict = adjust.Verdict{Fill: adjust.FillUnsure, Words: "Measure more."}
	p := y.find("D-box")
	p.Hidden, p.Ellipse.Radius = unit.Length(math.Inf(1)), 2*unit.Inch
	text = words(draw(t, y, sheet.Options{}))
	for _, w := range []string{"Not everything is checked: see the check.", "2.0\"†", "† nothing checks this place"} {
		if !strings.Contains(text, w) {
			t.Errorf("the sheet does not say %q:\n%s", w, text)
		}
	}
	if n := strings.Count(text, "†"); n != 2 {
		t.Errorf("%d daggers, expected one at the place and one at the footnote", n)
	}
}

func TestPartInDoubtHasNoRadius(t *testing.T) {
	tests := []struct {
		radius, doubt unit.Length
		says          bool
	}{
		{unit.Inch, 0, false},
		{unit.Inch / 4, unit.Inch / 2, false}, // no more than half an inch
		{2 * unit.Inch, 1.9 * unit.Inch, false},
		{2 * unit.Inch, 2.1 * unit.Inch, true},
		{2 * unit.Inch, unit.Length(math.Inf(1)), true},
	}
	for _, tt := range tests {
		y := randomYard(2)
		p := y.find("D-box")
		p.Ellipse.Radius, p.Ellipse.Major, p.Doubt = tt.radius, 4*unit.Foot, tt.doubt
		s := draw(t, y, sheet.Options{})
		text := words(s)
		if n := strings.Count(text, "in doubt"); tt.says != (n >= 2) {
			t.Errorf("radius %v, doubt %v: the sheet says in doubt %d times:\n%s", tt.radius, tt.doubt, n, text)
		}
		if tt.says != strings.Contains(strings.ReplaceAll(text, "  ", " "), "except where") {
			t.Errorf("radius %v, doubt %v: the 95 %% note does not fit the table", tt.radius, tt.doubt)
		}
		if rings := pathsOf(s, "uncertainty", "D-box"); tt.says != (len(rings) == 0) {
			t.Errorf("radius %v, doubt %v: %d rings", tt.radius, tt.doubt, len(rings))
		}
	}
}

func TestThingsAtOnePlaceAreAllNamed(t *testing.T) {
	y := newYard(4)
	y.house(40, 28)
	y.part("D-box", site.DistributionBox, feet(20, -40), "")
	y.part("D-box lid", site.Lid, feet(20, -40), "")
	y.job.Site.Features = append(y.job.Site.Features, site.Feature{
		Name: "Drilled well", Kind: site.Well, Points: []site.Name{y.point("W", site.RoleMark, feet(60, 10))},
	})
	s := draw(t, y, sheet.Options{})
	if n := numbers(s); n > 0 {
		t.Errorf("%d labels became numbers", n)
	}
	text := words(s)
	for _, w := range []string{"D-box ", "D-box lid", "Drilled well (W)"} {
		if !strings.Contains(text, w) {
			t.Errorf("the sheet does not name %q", w)
		}
	}
	for _, b := range checkSheet(s) {
		t.Error(b)
	}
}

func TestNorthIsSaid(t *testing.T) {
	tests := []struct {
		frame adjust.Frame
		says  string
	}{
		{adjust.Frame{North: adjust.NorthGiven}, "True north, as given"},
		{adjust.Frame{North: adjust.NorthMeasured, NorthSD: unit.Degree}, "within 2.0° (95 %)"},
		{adjust.Frame{North: adjust.NorthMagnetic}, "Magnetic north"},
		{adjust.Frame{Mark: "A", Toward: "B"}, "North was not measured: up is square to A–B"},
	}
	for _, tt := range tests {
		y := randomYard(1)
		y.plan.Frame = tt.frame
		if text := words(draw(t, y, sheet.Options{Paper: sheet.Tabloid})); !strings.Contains(text, tt.says) {
			t.Errorf("the sheet does not say %q", tt.says)
		}
	}
}

func TestAccuracyNamesWhoMissesIt(t *testing.T) {
	y := randomYard(2)
	y.find("D-box").Ellipse.Radius = unit.Foot
	y.find("L1 end").Doubt = unit.Foot
	text := words(draw(t, y, sheet.Options{}))
	if !strings.Contains(text, "not shown to") || !strings.Contains(text, "D-box") || strings.Contains(text, "located parts meet it") {
		t.Errorf("a part of 1 ft is said to meet 6 in: %s", text)
	}
}
