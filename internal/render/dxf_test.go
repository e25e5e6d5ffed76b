package render_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"undersod/core/planar"
	"undersod/core/sheet"
	"undersod/core/unit"
	"undersod/internal/render"
)

func dxfOf(t testing.TB, s sheet.Scene, in ...render.GroundUnit) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := render.DXF(&b, s, in...); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// group is a code and its value.
type group struct {
	code  int
	value string
}

// entity is the groups of one entity, in order.
type entity []group

func (e entity) first(code int) string {
	for _, g := range e {
		if g.code == code {
			return g.value
		}
	}
	return ""
}

func (e entity) number(code int) float64 {
	v, err := strconv.ParseFloat(e.first(code), 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// dxfEntities splits a file into groups and returns those of its ENTITIES.
func dxfEntities(t testing.TB, file []byte) []entity {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(file), "\n"), "\n")
	if len(lines)%2 != 0 {
		t.Fatalf("the file has %d lines, which are not pairs of code and value", len(lines))
	}
	var out []entity
	inside := false
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		if err != nil {
			t.Fatalf("line %d: %q is no group code", i+1, lines[i])
		}
		g := group{code, lines[i+1]}
		switch {
		case code == 2 && g.value == "ENTITIES" && lines[i-1] == "SECTION":
			inside = true
		case code == 0 && g.value == "ENDSEC":
			inside = false
		case inside && code == 0:
			out = append(out, entity{g})
		case inside:
			out[len(out)-1] = append(out[len(out)-1], g)
		}
	}
	if len(lines) < 2 || lines[len(lines)-1] != "EOF" {
		t.Fatal("the file does not end with EOF")
	}
	return out
}

// paperOf returns where a place of the drawing, in feet, lies on the sheet.
func paperOf(m sheet.Mapping, x, y float64) sheet.Pos {
	return m.Paper(planar.Vec{East: unit.Length(x) * unit.Foot, North: unit.Length(y) * unit.Foot})
}

// dxfRun returns a line of the drawing as points on the sheet.
func dxfRun(t *testing.T, m sheet.Mapping, e entity) []sheet.Pos {
	t.Helper()
	switch e[0].value {
	case "LINE":
		return []sheet.Pos{paperOf(m, e.number(10), e.number(20)), paperOf(m, e.number(11), e.number(21))}
	case "CIRCLE":
		return around(m, e, 0, 2*math.Pi)
	case "ARC":
		from, to := e.number(50)*math.Pi/180, e.number(51)*math.Pi/180
		if to < from {
			to += 2 * math.Pi
		}
		return around(m, e, from, to)
	case "LWPOLYLINE":
		return bulged(m, e)
	}
	t.Fatalf("unexpected entity %v", e[0])
	return nil
}

// around returns points of a circle, counter-clockwise on the ground.
func around(m sheet.Mapping, e entity, from, to float64) []sheet.Pos {
	var out []sheet.Pos
	for i := range 49 {
		s, c := math.Sincos(from + (to-from)*float64(i)/48)
		out = append(out, paperOf(m, e.number(10)+e.number(40)*c, e.number(20)+e.number(40)*s))
	}
	return out
}

// bulged follows a polyline: a bulge is the tangent of a quarter of the angle
// of its arc, which lies right of the chord when positive (counter-clockwise).
func bulged(m sheet.Mapping, e entity) []sheet.Pos {
	type corner struct{ x, y, bulge float64 }
	var corners []corner
	closed := false
	for _, g := range e {
		v, _ := strconv.ParseFloat(g.value, 64)
		switch g.code {
		case 70:
			closed = int(v)&1 == 1
		case 10:
			corners = append(corners, corner{x: v})
		case 20:
			corners[len(corners)-1].y = v
		case 42:
			corners[len(corners)-1].bulge = v
		}
	}
	if closed {
		corners = append(corners, corners[0])
	}
	var out []sheet.Pos
	for i, c := range corners {
		out = append(out, paperOf(m, c.x, c.y))
		if i+1 == len(corners) || c.bulge == 0 {
			continue
		}
		// The middle of the arc lies bulge half chords right of the chord; the
		// rest of its points follow from the three.
		d := corners[i+1]
		angle := 4 * math.Atan(c.bulge)
		hx, hy := (d.x-c.x)/2, (d.y-c.y)/2
		cx, cy := c.x+hx-hy/math.Tan(angle/2), c.y+hy+hx/math.Tan(angle/2)
		for k := 1; k < 24; k++ {
			s, co := math.Sincos(angle * float64(k) / 24)
			out = append(out, paperOf(m, cx+(c.x-cx)*co-(c.y-cy)*s, cy+(c.x-cx)*s+(c.y-cy)*co))
		}
	}
	return out
}

func TestDXFDrawsTheScenesLines(t *testing.T) {
	s := demoScene()
	var got [][]sheet.Pos
	for _, e := range dxfEntities(t, dxfOf(t, s)) {
		if kind := e[0].value; kind != "TEXT" && kind != "HATCH" {
			got = append(got, dxfRun(t, s.Mapping, e))
		}
	}
	sameRuns(t, got, sceneRuns(s))
}

func TestDXFKeepsLoneArcsOfBothDirections(t *testing.T) {
	at := sheet.Pos{X: 50, Y: 50}
	s := demoScene()
	s.Layers = []sheet.Layer{{Name: "arcs"}}
	for _, clockwise := range []bool{true, false} {
		for _, end := range []sheet.Pos{{X: 50, Y: 60}, {X: 40, Y: 50}, {X: 50, Y: 40}} {
			s.Layers[0].Shapes = append(s.Layers[0].Shapes, sheet.Path{Stroke: &sheet.Stroke{Width: 0.5}, Runs: []sheet.Run{{
				Start: sheet.Pos{X: 60, Y: 50}, Pieces: []sheet.Piece{{To: end, Arc: true, Centre: at, Clockwise: clockwise}},
			}}})
		}
	}
	var got [][]sheet.Pos
	for _, e := range dxfEntities(t, dxfOf(t, s)) {
		if e[0].value != "ARC" {
			t.Fatalf("a lone arc is written as %s", e[0].value)
		}
		got = append(got, dxfRun(t, s.Mapping, e))
	}
	sameRuns(t, got, sceneRuns(s))
}

func TestDXFIsInTheUnitOfTheGround(t *testing.T) {
	s := sheet.Scene{Width: 100, Height: 100,
		Mapping: sheet.Mapping{Origin: sheet.Pos{X: 50, Y: 50}, MMPerMetre: 10},
		Layers: []sheet.Layer{{Shapes: []sheet.Shape{
			sheet.Path{Stroke: &sheet.Stroke{Width: 0.35}, Runs: []sheet.Run{{Start: sheet.Pos{X: 50, Y: 50}, Pieces: []sheet.Piece{{To: sheet.Pos{X: 60, Y: 30}}}}}},
		}}}}
	for _, c := range []struct {
		in   []render.GroundUnit
		x, y float64
		code string
	}{
		{nil, 1 / 0.3048, 2 / 0.3048, "2"}, // 1 m east and 2 m north, in feet
		{[]render.GroundUnit{render.Metres}, 1, 2, "6"},
	} {
		file := dxfOf(t, s, c.in...)
		e := dxfEntities(t, file)[0]
		if x, y := e.number(11), e.number(21); math.Abs(x-c.x) > 1e-5 || math.Abs(y-c.y) > 1e-5 {
			t.Errorf("the line ends at %v, %v, want %v, %v", x, y, c.x, c.y)
		}
		if !strings.Contains(string(file), "$INSUNITS\n 70\n"+c.code+"\n") {
			t.Errorf("the header does not give %s as its unit", c.code)
		}
	}
}

// readBack is run by Debian's Python, which sees the package ezdxf.
const readBack = `
import sys, json, collections
try:
    import ezdxf
except ImportError:
    sys.exit(77)
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
space = doc.modelspace()
print(json.dumps({
    "faults": [e.message for e in audit.errors] + [e.message for e in audit.fixes],
    "kinds": collections.Counter(e.dxftype() for e in space),
    "layers": [l.dxf.name for l in doc.layers],
    "texts": [e.plain_text() for e in space.query("TEXT")],
    "lines": sorted({e.dxf.linetype for e in space.query("LINE")}),
}))
`

func TestDXFPassesAnIndependentAudit(t *testing.T) {
	python := tool(t, "/usr/bin/python3", "python3")
	cmd := exec.Command(python, "-c", readBack, kept(t, "sheet.dxf", dxfOf(t, demoScene())))
	var faults bytes.Buffer
	cmd.Stderr = &faults
	out, err := cmd.Output()
	if cmd.ProcessState != nil && cmd.ProcessState.ExitCode() == 77 {
		missing(t, "ezdxf", "python3-ezdxf")
	}
	if err != nil {
		t.Fatalf("ezdxf does not read the file: %v\n%s", err, faults.String())
	}
	var got struct {
		Faults, Layers, Texts, Lines []string
		Kinds                        map[string]int
	}
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Faults) > 0 {
		t.Errorf("the audit finds %q", got.Faults)
	}
	want := map[string]int{"LINE": 170, "CIRCLE": 25, "LWPOLYLINE": 5, "HATCH": 27, "TEXT": 100}
	for kind, n := range want {
		if got.Kinds[kind] != n {
			t.Errorf("%d of %s were read back, want %d", got.Kinds[kind], kind, n)
		}
	}
	if layers := strings.Join(got.Layers, "|"); !strings.Contains(layers, "buildings|drain lines|labels|frame & title") {
		t.Errorf("layers are %q", layers)
	}
	if len(got.Texts) != 100 || got.Texts[0] != "House 44' × 28'" {
		t.Errorf("texts are %q", got.Texts)
	}
	if len(got.Lines) != 1 || got.Lines[0] != "DASHED" {
		t.Errorf("the drain lines are drawn %q", got.Lines)
	}
}

func TestDXFGivesEachLayerANameOfItsOwn(t *testing.T) {
	s := demoScene()
	s.Layers = nil
	for _, name := range []string{"", "0", "Well", "well", "a/b:c", strings.Repeat("x", 300)} {
		s.Layers = append(s.Layers, sheet.Layer{Name: name, Shapes: []sheet.Shape{
			sheet.Text{At: sheet.Pos{X: 5, Y: 5}, Text: "t", Size: 2},
		}})
	}
	seen := map[string]bool{"0": true}
	for _, e := range dxfEntities(t, dxfOf(t, s)) {
		name := strings.ToLower(e.first(8))
		if name == "" || len(name) > 255 || seen[name] || strings.ContainsAny(name, "/:") {
			t.Errorf("layer name %q", name)
		}
		seen[name] = true
	}
}

func TestDXFKeepsClearOfColoursThatProgramsSwap(t *testing.T) {
	s := demoScene()
	s.Layers = []sheet.Layer{{Name: "fills"}}
	for _, c := range []sheet.Colour{{R: 1}, {}, {R: 255, G: 255, B: 255}, {R: 255}} {
		s.Layers[0].Shapes = append(s.Layers[0].Shapes, sheet.Path{Fill: &c, Runs: []sheet.Run{box(1, 1, 2, 2)}})
	}
	// No line gives the layer its colour, so that it is black.
	want := []string{"65536", "", "16711422", "16711680"}
	for i, e := range dxfEntities(t, dxfOf(t, s)) {
		if got := e.first(420); got != want[i] {
			t.Errorf("fill %d has the true colour %q, want %q", i+1, got, want[i])
		}
		if i == 3 && e.first(62) != "10" { // red of the index, from memory
			t.Errorf("red has the index %s", e.first(62))
		}
	}
}

func TestDXFTextIsTurnedWithThePlanAndAsHighAsItsCapitals(t *testing.T) {
	s := demoScene() // the plan is turned 15° clockwise on the paper
	s.Layers = []sheet.Layer{{Shapes: []sheet.Shape{
		sheet.Text{At: sheet.Pos{X: 50, Y: 50}, Text: "50%%c", Size: 10, Turn: 40 * unit.Degree, Align: sheet.AlignMiddle, Weight: sheet.Bold, Name: "n"},
	}}}
	e := dxfEntities(t, dxfOf(t, s))[0]
	if got := e.number(50); math.Abs(got-335) > 1e-6 { // 15 - 40 + 360
		t.Errorf("the text is turned %v°, want 335°", got)
	}
	// Capitals reach 0.7 to 0.75 of the em, as in most sans-serif faces.
	if mm := e.number(40) * 0.3048 * s.Mapping.MMPerMetre; mm < 7 || mm > 7.5 {
		t.Errorf("capitals are %.2f mm high on paper", mm)
	}
	if p := paperOf(s.Mapping, e.number(11), e.number(21)); away(p, []sheet.Pos{{X: 50, Y: 50}}) > within {
		t.Errorf("the text is aligned at %v", p)
	}
	if e.first(1) != "50%%037%c" || e.first(72) != "1" || e.first(7) != "BOLD" || e.first(1000) != "n" {
		t.Errorf("the text is written %v", e)
	}
}
