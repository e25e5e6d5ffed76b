package sheet_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/sheet"
	"undersod/core/unit"
	"undersod/examples"
	"undersod/internal/jobfile"
	"undersod/internal/render"
)

// What moved is told by its words and in the legend; what cannot be drawn does
// no harm.
func TestShiftsAreDrawn(t *testing.T) {
	text, err := examples.Files.ReadFile("two-corners.yaml")
	if err != nil {
		t.Fatal(err)
	}
	r, err := jobfile.Read("two-corners.yaml", bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	plan := adjust.Solve(&r.Job, adjust.Settings{})
	at := plan.Points[0].At
	to := at.Plus(planar.Vec{East: unit.Foot, North: unit.Foot})
	nan := planar.Vec{East: unit.Length(math.NaN())}
	clear := &sheet.Clear{Shifts: []sheet.Shift{
		{From: at, To: to, Words: "Box moved 1' 5\" toward N 45° E", Before: []planar.Path{{at, to}, {at}, nil, {nan, nan}}},
		{From: at, To: at, Words: "Lid moved 0\"", Before: []planar.Path{{at, to, nan, at}}, Closed: true},
		{From: nan, To: at, Words: "nowhere"},
	}}
	scene, err := sheet.Draw(r.Job, *plan, render.Metrics(), sheet.Options{Clear: clear})
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, l := range scene.Layers {
		for _, s := range l.Shapes {
			if s, ok := s.(sheet.Text); ok {
				all = append(all, s.Text)
			}
		}
	}
	said := strings.Join(all, "\n")
	for _, want := range []string{"Box moved 1' 5\" toward N 45° E", "Lid moved 0\"", "where it lay before", "how it lay before"} {
		if !strings.Contains(said, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
	if strings.Contains(said, "nowhere") {
		t.Error("what has no place is drawn")
	}
}
