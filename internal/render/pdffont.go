package render

import (
	"fmt"
	"strings"
	"unicode/utf16"

	"undersod/core/sheet"
)

// fonts adds the fonts and returns the entries for the page's resources.
func (d *pdfDocument) fonts(fonts map[sheet.Weight]*subset) string {
	var entries strings.Builder
	for _, w := range weights {
		if s := fonts[w]; s != nil {
			fmt.Fprintf(&entries, "/F%d %s ", w, d.font(s))
		}
	}
	return entries.String()
}

// font adds a subset as a composite font whose codes are the subset's glyph
// numbers (ISO 32000-1:2008, 9.7), with a map back to characters.
func (d *pdfDocument) font(s *subset) pdfRef {
	name := "/" + s.tag() + "+" + s.face.postScript
	ttf := trueType(s.tables())
	file := d.stream(fmt.Sprintf("/Length1 %d ", len(ttf)), ttf)
	m := s.face.metric
	descriptor := d.add(fmt.Sprintf("<< /Type /FontDescriptor /FontName %s /Flags 4 /FontBBox [%s %s %s %s] /ItalicAngle 0"+
		" /Ascent %s /Descent %s /CapHeight %s /StemV %d /FontFile2 %s >>",
		name, s.mille(m.box[0]), s.mille(m.box[1]), s.mille(m.box[2]), s.mille(m.box[3]),
		s.mille(m.ascent), s.mille(-m.descent), s.mille(m.capHeight), stemWidth(s), file))
	cid := d.add(fmt.Sprintf("<< /Type /Font /Subtype /CIDFontType2 /BaseFont %s /FontDescriptor %s"+
		" /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /CIDToGIDMap /Identity /W [0 [%s]] >>",
		name, descriptor, s.widths()))
	toUnicode := d.stream("", []byte(s.characterMap()))
	return d.add(fmt.Sprintf("<< /Type /Font /Subtype /Type0 /BaseFont %s /Encoding /Identity-H /DescendantFonts [%s] /ToUnicode %s >>",
		name, cid, toUnicode))
}

// stemWidth returns a usual thickness of upright strokes in thousandths of an
// em; viewers use it only where they must replace the font.
func stemWidth(s *subset) int {
	if s.face == boldFace() {
		return 140
	}
	return 80
}

// mille writes font units as thousandths of an em.
func (s *subset) mille(units int) string {
	return decimal(float64(units)*1000/float64(s.face.perEm), 2)
}

func (s *subset) widths() string {
	var b strings.Builder
	for _, g := range s.glyphs[:len(s.chars)+1] {
		b.WriteString(s.mille(int(s.face.advances[g])) + " ")
	}
	return b.String()
}

// mapBlock is the most entries that one block of a character map may have
// (Adobe Technical Note 5411, 2003).
const mapBlock = 100

// characterMap returns the map from glyph numbers to characters.
func (s *subset) characterMap() string {
	var b strings.Builder
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	for from := 0; from < len(s.chars); from += mapBlock {
		block := s.chars[from:min(from+mapBlock, len(s.chars))]
		fmt.Fprintf(&b, "%d beginbfchar\n", len(block))
		for _, r := range block {
			fmt.Fprintf(&b, "<%04X> <", s.id[r])
			for _, u := range utf16.Encode([]rune{r}) {
				fmt.Fprintf(&b, "%04X", u)
			}
			b.WriteString(">\n")
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return b.String()
}
