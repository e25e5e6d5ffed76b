package render_test

import (
	"fmt"

	"undersod/core/planar"
	"undersod/core/sheet"
	"undersod/core/unit"
)

var (
	soil  = sheet.Colour{R: 112, G: 72, B: 40}
	grass = sheet.Colour{R: 214, G: 230, B: 196}
	clay  = sheet.Colour{R: 178, G: 84, B: 48}
	black = sheet.Colour{}
)

// demoScene is an invented letter sheet at 1 inch = 20 ft with about 200 paths
// and 100 texts: fills with holes, dashes, arcs of both directions, circles,
// turned texts of both weights.
func demoScene() sheet.Scene {
	return sheet.Scene{
		Title: "As-built: 18 Quarry Hollow Lane", Date: "2026-11-12", Width: 279.4, Height: 215.9,
		Mapping: sheet.Mapping{
			Centre:     planar.Vec{East: 10, North: 20},
			Origin:     sheet.Pos{X: 120, Y: 100},
			MMPerMetre: 1000.0 / 240,
			Turn:       15 * unit.Degree,
		},
		Layers: []sheet.Layer{
			{Name: "buildings", Plan: true, Shapes: buildings()},
			{Name: "drain lines", Plan: true, Shapes: drains()},
			{Name: "labels", Plan: true, Shapes: labels()},
			{Name: "frame & title", Shapes: furniture()},
		},
	}
}

func buildings() []sheet.Shape {
	house := sheet.Path{
		Name: "house", Fill: &grass, Stroke: &sheet.Stroke{Width: 0.5, Colour: black},
		Runs: []sheet.Run{box(60, 40, 50, 34), box(70, 50, 12, 10)},
	}
	tank := sheet.Path{
		Name: "septic tank", Stroke: &sheet.Stroke{Width: 0.35, Colour: soil}, Fill: &sheet.Colour{R: 240, G: 232, B: 220},
		Runs: []sheet.Run{roundedBox(130, 60, 24, 14, 4)},
	}
	drive := sheet.Path{
		Name: "driveway", Stroke: &sheet.Stroke{Width: 0.25, Colour: clay, Dash: []sheet.MM{3, 1, 0.5, 1}},
		Runs: []sheet.Run{{
			Start: sheet.Pos{X: 20, Y: 40},
			Pieces: []sheet.Piece{
				{To: sheet.Pos{X: 40, Y: 40}},
				{To: sheet.Pos{X: 50, Y: 50}, Arc: true, Centre: sheet.Pos{X: 40, Y: 50}, Clockwise: true},
				{To: sheet.Pos{X: 60, Y: 60}, Arc: true, Centre: sheet.Pos{X: 60, Y: 50}},
			},
		}},
	}
	return []sheet.Shape{house, tank, drive}
}

func drains() []sheet.Shape {
	var out []sheet.Shape
	for i := range 170 {
		x, y := sheet.MM(20+i%17*12), sheet.MM(110+i/17*7)
		stroke := &sheet.Stroke{Width: 0.35, Colour: clay, Dash: []sheet.MM{2, 1}}
		out = append(out, sheet.Path{Name: "line", Stroke: stroke, Runs: []sheet.Run{{
			Start: sheet.Pos{X: x, Y: y}, Pieces: []sheet.Piece{{To: sheet.Pos{X: x + 9, Y: y + 3}}},
		}}})
	}
	for i := range 25 {
		out = append(out, sheet.Path{
			Name: "mark", Stroke: &sheet.Stroke{Width: 0.18, Colour: black}, Fill: &sheet.Colour{R: 255, G: 255, B: 255},
			Runs: []sheet.Run{circle(sheet.Pos{X: sheet.MM(20 + i*8), Y: 104}, 1.5, i%2 == 0)},
		})
	}
	return out
}

func labels() []sheet.Shape {
	out := []sheet.Shape{
		sheet.Text{At: sheet.Pos{X: 85, Y: 60}, Text: "House 44′ × 28′", Size: 4, Weight: sheet.Bold, Align: sheet.AlignMiddle, Name: "house"},
		sheet.Text{At: sheet.Pos{X: 142, Y: 68}, Text: "1,000 gal", Size: 3, Align: sheet.AlignMiddle, Colour: soil},
		sheet.Text{At: sheet.Pos{X: 200, Y: 60}, Text: "turned a quarter ½", Size: 3, Turn: 90 * unit.Degree},
		sheet.Text{At: sheet.Pos{X: 230, Y: 60}, Text: "turned −30° right", Size: 3, Turn: -30 * unit.Degree, Align: sheet.AlignRight},
		sheet.Text{At: sheet.Pos{X: 230, Y: 90}, Text: "turned 30° middle", Size: 3, Weight: sheet.Bold, Turn: 30 * unit.Degree, Align: sheet.AlignMiddle},
	}
	for i := range 93 {
		out = append(out, sheet.Text{
			At: sheet.Pos{X: sheet.MM(20 + i%12*18), Y: sheet.MM(113 + i/12*9)}, Size: 2.2,
			Text: fmt.Sprintf("T-%d %d′ %d½″", i, 10+i, i%12), Colour: black,
		})
	}
	return out
}

func furniture() []sheet.Shape {
	return []sheet.Shape{
		sheet.Path{Name: "frame", Stroke: &sheet.Stroke{Width: 0.7, Colour: black}, Runs: []sheet.Run{box(10, 10, 259.4, 195.9)}},
		sheet.Text{At: sheet.Pos{X: 15, Y: 202}, Text: "A & B <“18 Quarry Hollow Lane”> 50% ^ \\U+0041 %%d", Size: 3.5, Weight: sheet.Bold},
		sheet.Text{At: sheet.Pos{X: 264, Y: 202}, Text: "1″ = 20′", Size: 3.5, Align: sheet.AlignRight},
	}
}

func box(x, y, w, h sheet.MM) sheet.Run {
	return sheet.Run{Start: sheet.Pos{X: x, Y: y}, Closed: true, Pieces: []sheet.Piece{
		{To: sheet.Pos{X: x + w, Y: y}}, {To: sheet.Pos{X: x + w, Y: y + h}}, {To: sheet.Pos{X: x, Y: y + h}},
	}}
}

func roundedBox(x, y, w, h, r sheet.MM) sheet.Run {
	corner := func(tx, ty, cx, cy sheet.MM) sheet.Piece {
		return sheet.Piece{To: sheet.Pos{X: tx, Y: ty}, Arc: true, Centre: sheet.Pos{X: cx, Y: cy}, Clockwise: true}
	}
	return sheet.Run{Start: sheet.Pos{X: x + r, Y: y}, Closed: true, Pieces: []sheet.Piece{
		{To: sheet.Pos{X: x + w - r, Y: y}}, corner(x+w, y+r, x+w-r, y+r),
		{To: sheet.Pos{X: x + w, Y: y + h - r}}, corner(x+w-r, y+h, x+w-r, y+h-r),
		{To: sheet.Pos{X: x + r, Y: y + h}}, corner(x, y+h-r, x+r, y+h-r),
		{To: sheet.Pos{X: x, Y: y + r}}, corner(x+r, y, x+r, y+r),
	}}
}

func circle(c sheet.Pos, r sheet.MM, clockwise bool) sheet.Run {
	at := sheet.Pos{X: c.X + r, Y: c.Y}
	return sheet.Run{Start: at, Closed: true, Pieces: []sheet.Piece{{To: at, Arc: true, Centre: c, Clockwise: clockwise}}}
}
