package render_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"undersod/core/sheet"
	"undersod/core/unit"
	"undersod/internal/render"
)

// element is one element of an SVG with the text right inside it.
type element struct {
	name string
	attr map[string]string
	text string
}

// svgOf renders a scene and reads it back; ill-formed XML fails the test.
func svgOf(t testing.TB, s sheet.Scene) []element {
	t.Helper()
	var b bytes.Buffer
	if err := render.SVG(&b, s); err != nil {
		t.Fatal(err)
	}
	var out []element
	var open []int
	for d := xml.NewDecoder(&b); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("the SVG is not well formed: %v", err)
		}
		switch v := token.(type) {
		case xml.StartElement:
			e := element{name: v.Name.Local, attr: map[string]string{}}
			for _, a := range v.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			open = append(open, len(out))
			out = append(out, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].text += string(v)
			}
		}
	}
}

var pathWord = regexp.MustCompile(`[MLAZ]|-?[\d.]+`)

// svgRuns follows the d attribute of a path.
func svgRuns(t *testing.T, d string) [][]sheet.Pos {
	t.Helper()
	words := pathWord.FindAllString(d, -1)
	value := func(i int) float64 {
		v, err := strconv.ParseFloat(words[i], 64)
		if err != nil {
			t.Fatalf("%q in path data: %v", words[i], err)
		}
		return v
	}
	pos := func(i int) sheet.Pos { return sheet.Pos{X: sheet.MM(value(i)), Y: sheet.MM(value(i + 1))} }
	var runs [][]sheet.Pos
	for i := 0; i < len(words); {
		last := len(runs) - 1
		switch words[i] {
		case "M":
			runs = append(runs, []sheet.Pos{pos(i + 1)})
			i += 3
		case "L":
			runs[last] = append(runs[last], pos(i+1))
			i += 3
		case "A":
			from := runs[last][len(runs[last])-1]
			runs[last] = append(runs[last], svgArcPoints(from, pos(i+6), value(i+1), words[i+4] == "1", words[i+5] == "1")...)
			i += 8
		case "Z":
			runs[last] = append(runs[last], runs[last][0])
			i++
		default:
			t.Fatalf("unexpected %q in path data %q", words[i], d)
		}
	}
	return runs
}

// svgArcPoints finds the centre from the ends as the SVG 1.1 recommendation,
// appendix F.6.5, does, for equal radii.
func svgArcPoints(from, to sheet.Pos, radius float64, large, sweep bool) []sheet.Pos {
	dx, dy := float64(to.X-from.X)/2, float64(to.Y-from.Y)/2
	half := math.Hypot(dx, dy)
	off := math.Sqrt(max(radius*radius-half*half, 0)) / half
	if large == sweep {
		off = -off
	}
	centre := sheet.Pos{X: from.X + sheet.MM(dx-off*dy), Y: from.Y + sheet.MM(dy+off*dx)}
	return append(turned(from, to, centre, sweep), to)
}

func TestSVGDrawsTheScenesLines(t *testing.T) {
	s := demoScene()
	var got [][]sheet.Pos
	for _, e := range svgOf(t, s) {
		if e.name == "path" {
			got = append(got, svgRuns(t, e.attr["d"])...)
		}
	}
	sameRuns(t, got, sceneRuns(s))
}

func TestSVGHasTheSheetsSizeLayersAndNames(t *testing.T) {
	elements := svgOf(t, demoScene())
	root := elements[0]
	if root.attr["width"] != "279.4mm" || root.attr["height"] != "215.9mm" || root.attr["viewBox"] != "0 0 279.4 215.9" {
		t.Errorf("the sheet measures %v", root.attr)
	}
	var layers, names []string
	for _, e := range elements {
		if v, ok := e.attr["data-layer"]; ok {
			layers = append(layers, e.attr["id"]+" "+v)
		}
		if v, ok := e.attr["data-name"]; ok && e.name == "path" {
			names = append(names, v)
		}
	}
	if got, want := strings.Join(layers, "|"), "layer-1 buildings|layer-2 drain lines|layer-3 labels|layer-4 frame & title"; got != want {
		t.Errorf("layers are %q, want %q", got, want)
	}
	if len(names) != 199 || names[1] != "septic tank" {
		t.Errorf("%d paths are named, the second %q", len(names), names[1])
	}
}

func TestSVGTextIsTextAtItsPlace(t *testing.T) {
	s := sheet.Scene{Title: "A & <B>", Width: 100, Height: 50, Layers: []sheet.Layer{{Name: `"q"`, Shapes: []sheet.Shape{
		sheet.Text{At: sheet.Pos{X: 10, Y: 20}, Text: "  6″ < 1′ & “x”", Size: 3, Align: sheet.AlignRight, Weight: sheet.Bold, Turn: -30 * unit.Degree, Name: "<n>"},
	}}}}
	for _, e := range svgOf(t, s) {
		if e.name != "text" {
			continue
		}
		want := map[string]string{
			"x": "10", "y": "20", "font-size": "3", "text-anchor": "end", "font-weight": "700",
			"transform": "rotate(-30 10 20)", "data-name": "<n>", "fill": "#000000",
		}
		for k, v := range want {
			if e.attr[k] != v {
				t.Errorf("%s is %q, want %q", k, e.attr[k], v)
			}
		}
		if e.text != "  6″ < 1′ & “x”" {
			t.Errorf("the text is %q", e.text)
		}
		return
	}
	t.Error("there is no text element")
}

func TestSVGEmbedsAFontForEachWeightUsed(t *testing.T) {
	for _, e := range svgOf(t, demoScene()) {
		if e.name == "style" && strings.Count(e.text, "@font-face") == 2 && strings.Count(e.text, "base64,d09GR") == 2 { // "wOFF"
			return
		}
	}
	t.Error("the two fonts are not embedded as WOFF")
}
