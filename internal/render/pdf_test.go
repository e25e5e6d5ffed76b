package render_test

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"undersod/core/sheet"
	"undersod/internal/render"
)

func pdfOf(t testing.TB, s sheet.Scene) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := render.PDF(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

var streamStart = regexp.MustCompile(`<< /Length (\d+) /Filter /FlateDecode [^\n]*>>\nstream\n`)

// pdfStreams returns the unpacked streams of a PDF.
func pdfStreams(t testing.TB, pdf []byte) []string {
	t.Helper()
	var out []string
	for _, m := range streamStart.FindAllSubmatchIndex(pdf, -1) {
		size, _ := strconv.Atoi(string(pdf[m[2]:m[3]]))
		z, err := zlib.NewReader(bytes.NewReader(pdf[m[1] : m[1]+size]))
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, string(data))
	}
	return out
}

// pdfPage draws the content of a page with a pen of its own and returns the
// runs in millimetres from the upper left corner.
func pdfPage(t *testing.T, content string, height float64) [][]sheet.Pos {
	t.Helper()
	var stack []float64
	matrix := [6]float64{1, 0, 0, 1, 0, 0}
	var runs [][]sheet.Pos
	onPaper := func(x, y float64) sheet.Pos {
		px := matrix[0]*x + matrix[2]*y + matrix[4]
		py := matrix[1]*x + matrix[3]*y + matrix[5]
		return sheet.Pos{X: sheet.MM(px * 25.4 / 72), Y: sheet.MM(height - py*25.4/72)}
	}
	var at [2]float64
	for _, word := range strings.Fields(content) {
		if v, err := strconv.ParseFloat(word, 64); err == nil {
			stack = append(stack, v)
			continue
		}
		n := len(stack)
		switch word {
		case "cm":
			copy(matrix[:], stack[n-6:])
		case "m":
			at = [2]float64{stack[n-2], stack[n-1]}
			runs = append(runs, []sheet.Pos{onPaper(at[0], at[1])})
		case "l":
			at = [2]float64{stack[n-2], stack[n-1]}
			runs[len(runs)-1] = append(runs[len(runs)-1], onPaper(at[0], at[1]))
		case "c":
			c := stack[n-6:]
			for i := 1; i <= 16; i++ {
				s := float64(i) / 16
				b := [4]float64{(1 - s) * (1 - s) * (1 - s), 3 * s * (1 - s) * (1 - s), 3 * s * s * (1 - s), s * s * s}
				runs[len(runs)-1] = append(runs[len(runs)-1],
					onPaper(b[0]*at[0]+b[1]*c[0]+b[2]*c[2]+b[3]*c[4], b[0]*at[1]+b[1]*c[1]+b[2]*c[3]+b[3]*c[5]))
			}
			at = [2]float64{c[4], c[5]}
		case "h":
			last := runs[len(runs)-1]
			runs[len(runs)-1] = append(last, last[0])
		}
		stack = stack[:0]
	}
	return runs
}

func TestPDFDrawsTheScenesLines(t *testing.T) {
	s := demoScene()
	var content string
	for _, stream := range pdfStreams(t, pdfOf(t, s)) {
		if strings.Contains(stream, " cm ") {
			content = stream
		}
	}
	sameRuns(t, pdfPage(t, content, float64(s.Height)), sceneRuns(s))
	if !strings.Contains(content, "[3 1 0.5 1] 0 d") {
		t.Error("the dash pattern of the driveway is not in the file")
	}
	if !strings.Contains(content, "B*") {
		t.Error("no shape is filled by the even-odd rule")
	}
}

func TestPDFIsAsLargeAsTheSheet(t *testing.T) {
	for _, c := range []struct {
		w, h sheet.MM
		want string
	}{
		{279.4, 215.9, "[0 0 792 612]"}, // US letter, 11 x 8.5 inches
		{297, 210, "[0 0 841.8898 595.2756]"},
	} {
		pdf := pdfOf(t, sheet.Scene{Width: c.w, Height: c.h})
		if !bytes.Contains(pdf, []byte("/MediaBox "+c.want)) {
			t.Errorf("a sheet of %v x %v mm has not the page %s points", c.w, c.h, c.want)
		}
	}
}

func TestPDFCarriesNoDateButTheFieldworks(t *testing.T) {
	dated := pdfOf(t, sheet.Scene{Width: 100, Height: 100, Date: "2026-11-12"})
	if !bytes.Contains(dated, []byte("/CreationDate (D:20261112) /ModDate (D:20261112)")) {
		t.Error("the date of the fieldwork is missing")
	}
	if undated := pdfOf(t, sheet.Scene{Width: 100, Height: 100, Date: "last fall"}); bytes.Contains(undated, []byte("Date")) {
		t.Error("a date was made up")
	}
}

func TestPDFPassesQpdf(t *testing.T) {
	qpdf := tool(t, "qpdf", "qpdf")
	out, err := exec.Command(qpdf, "--check", kept(t, "sheet.pdf", pdfOf(t, demoScene()))).CombinedOutput()
	if err != nil {
		t.Errorf("qpdf: %v\n%s", err, out)
	}
}

var wordBox = regexp.MustCompile(`<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)</word>`)

// TestPDFTextLiesWhereItWasMeasured reads the boxes of words back with
// poppler and compares them with the metrics that the layout uses.
func TestPDFTextLiesWhereItWasMeasured(t *testing.T) {
	pdftotext := tool(t, "pdftotext", "poppler-utils")
	texts := []sheet.Text{
		{At: sheet.Pos{X: 30, Y: 40}, Text: "23′4½″±0.1′", Size: 4},
		{At: sheet.Pos{X: 100, Y: 60}, Text: "Middle×Ø", Size: 5, Weight: sheet.Bold, Align: sheet.AlignMiddle},
		{At: sheet.Pos{X: 150, Y: 80}, Text: "“right”–°", Size: 3, Align: sheet.AlignRight},
	}
	s := sheet.Scene{Width: 200, Height: 100, Layers: []sheet.Layer{{}}}
	for _, v := range texts {
		s.Layers[0].Shapes = append(s.Layers[0].Shapes, v)
	}
	out, err := exec.Command(pdftotext, "-bbox", kept(t, "sheet.pdf", pdfOf(t, s)), "-").CombinedOutput()
	if err != nil {
		t.Fatalf("pdftotext: %v\n%s", err, out)
	}
	words := wordBox.FindAllStringSubmatch(string(out), -1)
	if len(words) != len(texts) {
		t.Fatalf("%d words were read back, want %d:\n%s", len(words), len(texts), out)
	}
	for i, v := range texts {
		if words[i][5] != v.Text {
			t.Errorf("%q was read back as %q", v.Text, words[i][5])
		}
		width := float64(render.Metrics().Advance(v.Text, v.Weight, v.Size))
		left := float64(v.At.X) - width*map[sheet.Align]float64{sheet.AlignMiddle: 0.5, sheet.AlignRight: 1}[v.Align]
		for k, want := range map[int]float64{1: left, 3: left + width} {
			got, _ := strconv.ParseFloat(words[i][k], 64)
			if math.Abs(got*25.4/72-want) > within {
				t.Errorf("%q: an edge was read back at %.3f mm, measured at %.3f mm", v.Text, got*25.4/72, want)
			}
		}
	}
}

func TestPDFEmbedsSubsetsThatGiveTheCharactersBack(t *testing.T) {
	pdffonts := tool(t, "pdffonts", "poppler-utils")
	out, err := exec.Command(pdffonts, kept(t, "sheet.pdf", pdfOf(t, demoScene()))).CombinedOutput()
	if err != nil {
		t.Fatalf("pdffonts: %v\n%s", err, out)
	}
	if n := strings.Count(string(out), "yes yes yes"); n != 2 {
		t.Errorf("%d fonts are embedded, subset and mapped to Unicode, want 2:\n%s", n, out)
	}
}

func TestPDFTurnsTextClockwise(t *testing.T) {
	s := sheet.Scene{Width: 100, Height: 100, Layers: []sheet.Layer{{Shapes: []sheet.Shape{
		sheet.Text{At: sheet.Pos{X: 50, Y: 20}, Text: "down", Size: 4, Turn: math.Pi / 2},
	}}}}
	// In a page whose Y grows downward, a text that runs down has its own
	// right along (0, 1) and its own up along (1, 0).
	want := "/F0 4 Tf 0 1 1 0 50 20 Tm"
	if got := fmt.Sprint(pdfStreams(t, pdfOf(t, s))); !strings.Contains(got, want) {
		t.Errorf("%q is not in the page: %.300s", want, got)
	}
}
