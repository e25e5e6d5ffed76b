package render_test

import (
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"undersod/core/sheet"
	"undersod/internal/render"
)

// TestSubsetHasTheSameGlyphs opens the embedded font with an independent
// reader and compares each outline and advance with the whole font's,
// composed letters among them.
func TestSubsetHasTheSameGlyphs(t *testing.T) {
	const text = "Septic tank 23′ 4½″ ±0.1 éÅñÇ µ Ω ×"
	for w, ttf := range map[sheet.Weight][]byte{sheet.Regular: goregular.TTF, sheet.Bold: gobold.TTF} {
		whole, err := sfnt.Parse(ttf)
		if err != nil {
			t.Fatal(err)
		}
		file := render.SubsetFont(text, w)
		part, err := sfnt.Parse(file)
		if err != nil {
			t.Fatal(err)
		}
		if len(file)*4 > len(ttf) {
			t.Errorf("the subset has %d bytes, the whole font %d", len(file), len(ttf))
		}
		for _, r := range text {
			sameGlyph(t, whole, part, r)
		}
		if g, _ := part.GlyphIndex(nil, 'Q'); g != 0 {
			t.Error("a character that the text lacks is in the subset")
		}
	}
}

func sameGlyph(t *testing.T, whole, part *sfnt.Font, r rune) {
	t.Helper()
	read := func(f *sfnt.Font) (sfnt.Segments, fixed.Int26_6) {
		var b sfnt.Buffer
		g, err := f.GlyphIndex(&b, r)
		if err != nil || g == 0 {
			t.Fatalf("no glyph for %q: %v", r, err)
		}
		advance, err := f.GlyphAdvance(&b, g, fixed.I(2048), font.HintingNone)
		if err != nil {
			t.Fatal(err)
		}
		segments, err := f.LoadGlyph(&b, g, fixed.I(2048), nil)
		if err != nil {
			t.Fatal(err)
		}
		return segments, advance
	}
	a, wantAdvance := read(whole)
	b, gotAdvance := read(part)
	if gotAdvance != wantAdvance || len(a) != len(b) {
		t.Fatalf("%q: advance %v and %d segments, want %v and %d", r, gotAdvance, len(b), wantAdvance, len(a))
	}
	for i := range a {
		if a[i] != b[i] {
			t.Fatalf("%q: segment %d is %v, want %v", r, i, b[i], a[i])
		}
	}
}
