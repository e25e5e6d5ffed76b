package render_test

import (
	"bytes"
	"fmt"
	"os/exec"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"undersod/core/sheet"
	"undersod/internal/render"
)

func bookOf(t testing.TB, pages ...sheet.Scene) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := render.Book(&b, pages); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// page is a scene with a title, one line of text, and images.
func page(title, text string, width, height sheet.MM, images ...sheet.Image) sheet.Scene {
	shapes := []sheet.Shape{sheet.Text{At: sheet.Pos{X: 10, Y: 10}, Text: text, Size: 4}}
	for _, v := range images {
		shapes = append(shapes, v)
	}
	return sheet.Scene{Title: title, Date: "2026-11-12", Width: width, Height: height, Layers: []sheet.Layer{{Name: "page", Shapes: shapes}}}
}

func run(t *testing.T, program, packageName string, args ...string) string {
	t.Helper()
	out, err := exec.Command(tool(t, program, packageName), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", program, err, out)
	}
	return string(out)
}

func TestABookOfOnePageIsTheSheet(t *testing.T) {
	for name, s := range map[string]sheet.Scene{"drawing": demoScene(), "blank": {Width: 10, Height: 10}} {
		if !bytes.Equal(bookOf(t, s), pdfOf(t, s)) {
			t.Errorf("%s: the bytes differ", name)
		}
	}
}

func TestABookHasItsPagesInOrderAndSize(t *testing.T) {
	file := kept(t, "book.pdf", bookOf(t,
		page("What was found", "first page", 215.9, 279.4),
		page("What was found", "second ½ page", 215.9, 279.4),
		demoScene(),
		page("Tie card", "fourth page", 127, 76.2)))
	run(t, "qpdf", "qpdf", "--check", file)
	info := run(t, "pdfinfo", "poppler-utils", "-l", "9", file)
	for _, want := range []string{
		`Title: +What was found`, `Pages: +4`, `Page +1 size: +612 x 792 pts`, `Page +2 size: +612 x 792 pts`,
		`Page +3 size: +792 x 612 pts`, `Page +4 size: +360 x 216 pts`,
	} {
		if !regexp.MustCompile(want).MatchString(info) {
			t.Errorf("%q is not in:\n%s", want, info)
		}
	}
	text := strings.Split(run(t, "pdftotext", "poppler-utils", file, "-"), "\f")
	for i, want := range []string{"first page", "second ½ page", "House 44′ × 28′", "fourth page"} {
		if !strings.Contains(text[i], want) {
			t.Errorf("page %d does not hold %q but %q", i+1, want, text[i])
		}
	}
	if n := strings.Count(run(t, "pdffonts", "poppler-utils", file), "yes yes yes"); n != 2 {
		t.Errorf("%d fonts are embedded, want 2 for all pages together", n)
	}
}

func TestABookHasABookmarkForEachTitle(t *testing.T) {
	for _, c := range []struct {
		titles, marks string
	}{
		{"a b", "a b"}, {"a a b b a", "a b a"}, {"a a a", ""}, {"a", ""},
	} {
		var pages []sheet.Scene
		for _, title := range strings.Fields(c.titles) {
			pages = append(pages, page(title, title, 50, 50))
		}
		file := kept(t, "book.pdf", bookOf(t, pages...))
		run(t, "qpdf", "qpdf", "--check", file)
		out := run(t, "qpdf", "qpdf", "--json", "--json-key=outlines", file)
		var got []string
		for _, m := range regexp.MustCompile(`"title": "([^"]*)"`).FindAllStringSubmatch(out, -1) {
			got = append(got, m[1])
		}
		if strings.Join(got, " ") != c.marks {
			t.Errorf("pages %s have the bookmarks %q, want %s", c.titles, got, c.marks)
		}
	}
}

func TestABookSharesLayersOfTheSameName(t *testing.T) {
	two := sheet.Scene{Width: 10, Height: 10, Layers: []sheet.Layer{{Name: "page"}, {Name: "page"}, {Name: "photos"}}}
	pdf := bookOf(t, page("a", "a", 50, 50), two, page("b", "b", 50, 50))
	if n := bytes.Count(pdf, []byte("/Type /OCG")); n != 3 {
		t.Errorf("%d layers, want page, its second one of the second page, and photos", n)
	}
	run(t, "qpdf", "qpdf", "--check", kept(t, "book.pdf", pdf))
}

func TestABookSaysWhichPageIsAtFault(t *testing.T) {
	var b bytes.Buffer
	err := render.Book(&b, []sheet.Scene{demoScene(), {Width: 10}})
	if err == nil || !strings.Contains(err.Error(), "page 2: the height of the sheet is 0 mm") || b.Len() > 0 {
		t.Errorf("error %v after %d bytes", err, b.Len())
	}
	if err := render.Book(&b, nil); err == nil || !strings.Contains(err.Error(), "at least one") {
		t.Errorf("no pages: error %v", err)
	}
	if err := render.Book(brokenWriter{}, []sheet.Scene{demoScene()}); err == nil {
		t.Error("the error of the writer is lost")
	}
}

// TestABookHoldsNoPictureTwice writes four large pictures and looks at what
// that allocates: far less than the pictures themselves. They are few, because
// each page may need a packer of most of a megabyte.
func TestABookHoldsNoPictureTwice(t *testing.T) {
	const pictures, size = 4, 10_000_000
	var pages []sheet.Scene
	filler := make([]byte, size) // behind the end of the picture, where readers do not look
	for i := range pictures {
		p := picture(t, 64, 48, false)
		p.JPEG = append(p.JPEG, filler...)
		pages = append(pages, page(fmt.Sprintf("photo %d", i), "photo", 215.9, 279.4,
			sheet.Image{At: sheet.Pos{X: 20, Y: 20}, Width: 80, Height: 60, Picture: p}))
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	var written counter
	if err := render.Book(&written, pages); err != nil {
		t.Fatal(err)
	}
	runtime.ReadMemStats(&after)
	if written < pictures*size {
		t.Errorf("%d bytes were written", written)
	}
	if used := after.TotalAlloc - before.TotalAlloc; used > pictures*size/2 {
		t.Errorf("%d bytes were allocated to write %d", used, written)
	}
}

type counter int

func (c *counter) Write(p []byte) (int, error) {
	*c += counter(len(p))
	return len(p), nil
}
