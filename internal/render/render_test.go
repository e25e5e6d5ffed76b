package render_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"undersod/core/sheet"
	"undersod/core/unit"
	"undersod/internal/render"
)

// formats are all formats with the first bytes of their files.
var formats = map[string]string{"a.pdf": "%PDF-1.5", "b.SVG": "<?xml", "c.png": "\x89PNG\r\n", "d.dxf": "  0\nSECTION"}

func TestByNameChoosesTheFormat(t *testing.T) {
	for name, start := range formats {
		write, ok := render.ByName("yard/" + name)
		if !ok {
			t.Errorf("%s has no format", name)
			continue
		}
		var b bytes.Buffer
		if err := write(&b, demoScene()); err != nil || !strings.HasPrefix(b.String(), start) {
			t.Errorf("%s begins %.12q, error %v", name, b.String(), err)
		}
	}
	for _, name := range []string{"", "sheet", "sheet.pdf.txt", ".", "sheet."} {
		if _, ok := render.ByName(name); ok {
			t.Errorf("%q has a format", name)
		}
	}
}

func TestTheSameSceneGivesTheSameBytes(t *testing.T) {
	for name := range formats {
		write, _ := render.ByName(name)
		var first bytes.Buffer
		if err := write(&first, demoScene()); err != nil {
			t.Fatal(err)
		}
		for range 2 {
			var again bytes.Buffer
			if err := write(&again, demoScene()); err != nil || !bytes.Equal(first.Bytes(), again.Bytes()) {
				t.Errorf("%s: a second file differs, error %v", name, err)
			}
		}
	}
}

func TestWhatCannotBeDrawnIsSaidInWords(t *testing.T) {
	nan, inf := sheet.MM(math.NaN()), sheet.MM(math.Inf(1))
	stroke := &sheet.Stroke{Width: 0.3}
	path := func(r sheet.Run) sheet.Shape { return sheet.Path{Name: "tank", Stroke: stroke, Runs: []sheet.Run{r}} }
	lined := func(s sheet.Stroke) sheet.Shape {
		return sheet.Path{Name: "tank", Stroke: &s, Runs: []sheet.Run{box(1, 1, 2, 2)}}
	}
	for name, c := range map[string]struct {
		shape sheet.Shape
		words string
	}{
		"start":         {path(sheet.Run{Start: sheet.Pos{X: nan}}), `layer "yard", shape 1 ("tank"): run 1: its start is at NaN, 0 mm`},
		"end":           {path(sheet.Run{Pieces: []sheet.Piece{{To: sheet.Pos{Y: inf}}}}), "the end of piece 1 is at 0, +Inf mm"},
		"far away":      {path(sheet.Run{Start: sheet.Pos{X: 1e300}}), "within 100000 mm"},
		"arc centre":    {path(sheet.Run{Pieces: []sheet.Piece{{Arc: true, Centre: sheet.Pos{X: nan}}}}), "the centre of the arc is at NaN"},
		"arc ends":      {path(sheet.Run{Pieces: []sheet.Piece{{To: sheet.Pos{X: 9}, Arc: true, Centre: sheet.Pos{X: 3}}}}), "3.00 mm from its start but 6.00 mm from its end"},
		"no width":      {lined(sheet.Stroke{}), "its line is 0 mm wide"},
		"width":         {lined(sheet.Stroke{Width: nan}), "its line is NaN mm wide"},
		"dash":          {lined(sheet.Stroke{Width: 1, Dash: []sheet.MM{1, -1}}), "its dashes are [1 -1] mm"},
		"endless dash":  {lined(sheet.Stroke{Width: 1, Dash: []sheet.MM{0, 0}}), "the shortest that can be drawn"},
		"text place":    {sheet.Text{At: sheet.Pos{X: inf}, Text: "lid", Size: 2}, `("lid"): its place is at +Inf`},
		"text size":     {sheet.Text{Text: "lid"}, "its size is 0 mm"},
		"text turn":     {sheet.Text{Text: "lid", Size: 2, Turn: unit.Angle(math.NaN())}, "its turn is NaN"},
		"missing shape": {nil, "neither a sheet.Path nor a sheet.Text"},
	} {
		s := demoScene()
		s.Layers = []sheet.Layer{{Name: "yard", Shapes: []sheet.Shape{c.shape}}}
		refused(t, name, s, c.words)
	}
	refused(t, "no paper", sheet.Scene{Height: 10}, "the width of the sheet is 0 mm")
	refused(t, "endless paper", sheet.Scene{Width: 10, Height: inf}, "the height of the sheet is +Inf mm")
}

func refused(t *testing.T, name string, s sheet.Scene, words string) {
	t.Helper()
	for file := range formats {
		write, _ := render.ByName(file)
		var b bytes.Buffer
		if err := write(&b, s); err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("%s, %s: error %v, want %q", name, file, err, words)
		}
		if b.Len() > 0 {
			t.Errorf("%s, %s: %d bytes were written before the error", name, file, b.Len())
		}
	}
}

func TestDXFRefusesAMappingThatMapsNothing(t *testing.T) {
	for name, change := range map[string]func(*sheet.Mapping){
		"no scale":     func(m *sheet.Mapping) { m.MMPerMetre = 0 },
		"scale":        func(m *sheet.Mapping) { m.MMPerMetre = math.NaN() },
		"turn":         func(m *sheet.Mapping) { m.Turn = unit.Angle(math.Inf(1)) },
		"origin":       func(m *sheet.Mapping) { m.Origin.X = sheet.MM(math.NaN()) },
		"centre":       func(m *sheet.Mapping) { m.Centre.East = unit.Length(math.NaN()) },
		"far off site": func(m *sheet.Mapping) { m.Centre.North = 1e12 },
	} {
		s := demoScene()
		change(&s.Mapping)
		if err := render.DXF(&bytes.Buffer{}, s); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

type brokenWriter struct{}

var errBroken = errors.New("the disk is full")

func (brokenWriter) Write([]byte) (int, error) { return 0, errBroken }

func TestTheErrorOfTheWriterIsGivenBack(t *testing.T) {
	for name := range formats {
		write, _ := render.ByName(name)
		if err := write(brokenWriter{}, demoScene()); !errors.Is(err, errBroken) {
			t.Errorf("%s: error %v", name, err)
		}
	}
}

// FuzzAnyText draws any text, as title, layer, name and label: the files stay
// well formed.
func FuzzAnyText(f *testing.F) {
	for _, seed := range []string{"", "23′ 4½″", "a\nb\r\n\x00\x1b[31m", "שלום عربي \u202e", "<&>\"']]>", "%%c %%u \\U+0041 ^J \\P{}", "\xff\xfe", "\U0001F333\uFFFF", ") Tj ET (", "e\u0301\u0301"} {
		f.Add(seed, 0.3)
	}
	f.Fuzz(func(t *testing.T, text string, turn float64) {
		s := demoScene()
		s.Title, s.Date = text, text
		s.Layers = []sheet.Layer{{Name: text, Shapes: []sheet.Shape{
			sheet.Text{At: sheet.Pos{X: 50, Y: 50}, Text: text, Size: 3, Name: text, Turn: unit.Angle(turn), Align: sheet.AlignMiddle},
			sheet.Path{Name: text, Stroke: &sheet.Stroke{Width: 1}, Runs: []sheet.Run{box(1, 1, 5, 5)}},
		}}}
		if math.IsNaN(turn) || math.IsInf(turn, 0) {
			refused(t, "turn", s, "its turn is")
			return
		}
		wellFormed(t, s)
	})
}

func wellFormed(t *testing.T, s sheet.Scene) {
	t.Helper()
	var svg bytes.Buffer
	if err := render.SVG(&svg, s); err != nil {
		t.Fatal(err)
	}
	for d := xml.NewDecoder(&svg); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("SVG: %v", err)
		}
	}
	pdf := pdfOf(t, s)
	pdfStreams(t, pdf)
	for i, c := range pdf[:bytes.Index(pdf, []byte("stream"))] {
		if c > '~' && i > 20 {
			t.Fatalf("PDF: byte %x outside a stream", c)
		}
	}
	for _, e := range dxfEntities(t, dxfOf(t, s)) {
		for _, g := range e {
			if len(g.value) > 4096 && g.code != 1 || strings.ContainsRune(g.value, '\r') {
				t.Fatalf("DXF: group %d holds %q", g.code, g.value)
			}
		}
	}
	if err := render.PNG(io.Discard, s, 20); err != nil {
		t.Fatal(err)
	}
}

func BenchmarkFormats(b *testing.B) {
	s := demoScene()
	for _, name := range []string{"sheet.pdf", "sheet.svg", "sheet.dxf", "sheet.png"} {
		write, _ := render.ByName(name)
		b.Run(name[6:], func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := write(io.Discard, s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
