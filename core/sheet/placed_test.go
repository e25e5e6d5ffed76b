package sheet_test

import (
	"math"
	"reflect"
	"testing"

	"undersod/core/sheet"
	"undersod/core/unit"
)

func TestPlacedMovesEverything(t *testing.T) {
	red := sheet.Colour{R: 200}
	picture := &sheet.Picture{Wide: 4, High: 3}
	s := sheet.Scene{Width: 20, Height: 10, Layers: []sheet.Layer{{Name: "all", Plan: true, Shapes: []sheet.Shape{
		sheet.Path{Name: "p", Fill: &red, Stroke: &sheet.Stroke{Width: 1, Dash: []sheet.MM{2, 1}}, Runs: []sheet.Run{{
			Start: sheet.Pos{X: 1, Y: 2}, Closed: true,
			Pieces: []sheet.Piece{{To: sheet.Pos{X: 3, Y: 2}, Arc: true, Clockwise: true, Centre: sheet.Pos{X: 2, Y: 2}}},
		}}},
		sheet.Text{At: sheet.Pos{X: 5, Y: 6}, Text: "t", Size: 3, Turn: unit.Degree},
		sheet.Image{At: sheet.Pos{X: 7, Y: 8}, Width: 4, Height: 3, Picture: picture, Name: "i"},
	}}}}
	want := []sheet.Layer{{Name: "all", Shapes: []sheet.Shape{
		sheet.Path{Name: "p", Fill: &red, Stroke: &sheet.Stroke{Width: 2, Dash: []sheet.MM{4, 2}}, Runs: []sheet.Run{{
			Start: sheet.Pos{X: 102, Y: 54}, Closed: true,
			Pieces: []sheet.Piece{{To: sheet.Pos{X: 106, Y: 54}, Arc: true, Clockwise: true, Centre: sheet.Pos{X: 104, Y: 54}}},
		}}},
		sheet.Text{At: sheet.Pos{X: 110, Y: 62}, Text: "t", Size: 6, Turn: unit.Degree},
		sheet.Image{At: sheet.Pos{X: 114, Y: 66}, Width: 8, Height: 6, Picture: picture, Name: "i"},
	}}}
	before := s.Layers[0].Shapes[0].(sheet.Path)
	if got := sheet.Placed(s, sheet.Pos{X: 100, Y: 50}, 2); !reflect.DeepEqual(got, want) {
		t.Errorf("placed as %+v, expected %+v", got, want)
	}
	if before.Stroke.Width != 1 || before.Stroke.Dash[0] != 2 || before.Runs[0].Start.X != 1 {
		t.Error("placing a scene changed it")
	}
}

func TestPlacedRefusesWhatIsNoPlace(t *testing.T) {
	s := sheet.Scene{Layers: []sheet.Layer{{Name: "a"}}}
	for _, k := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if got := sheet.Placed(s, sheet.Pos{}, k); got != nil {
			t.Errorf("scale %v places %v", k, got)
		}
	}
	if got := sheet.Placed(s, sheet.Pos{X: sheet.MM(math.NaN())}, 1); got != nil {
		t.Errorf("a place that is no number places %v", got)
	}
}

// A plan placed on a page keeps its promises there.
func TestPlacedSheetKeepsItsLabelsApart(t *testing.T) {
	y, f := seenYard(5)
	s := draw(t, y, sheet.Options{Findings: f})
	texts := 0
	for _, l := range sheet.Placed(s, sheet.Pos{X: 10, Y: 10}, 1.5) {
		for _, shape := range l.Shapes {
			if v, ok := shape.(sheet.Text); ok {
				texts++
				if v.Size < 1.5*2.3-1e-9 {
					t.Errorf("%q is %v high", v.Text, v.Size)
				}
			}
		}
	}
	if texts == 0 {
		t.Error("no text is placed")
	}
}
