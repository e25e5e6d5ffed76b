package render

import (
	"encoding/binary"
	"fmt"
	"sync"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"undersod/core/sheet"
)

// face is one font file, opened for measuring, drawing and embedding.
//
// Neither font has kerning or ligatures, so the width of a text is the sum of
// the advances of its letters in every format.
type face struct {
	postScript string // the font's own name for PostScript and PDF
	file       fontFile
	outlines   *sfnt.Font
	perEm      int      // font units per em
	advances   []uint16 // by glyph, in font units
	metric     faceMetric
}

// faceMetric holds the vertical measures of a face in font units.
type faceMetric struct {
	ascent, descent, capHeight int // from the baseline, all positive
	box                        [4]int
}

// fontFile is a TrueType file cut into its tables.
type fontFile map[string][]byte

var regularFace = sync.OnceValue(func() *face { return mustOpen("GoRegular", goregular.TTF) })
var boldFace = sync.OnceValue(func() *face { return mustOpen("Go-Bold", gobold.TTF) })

// faceOf returns the face of a weight; an unknown weight is drawn regular.
func faceOf(w sheet.Weight) *face {
	if w == sheet.Bold {
		return boldFace()
	}
	return regularFace()
}

// mustOpen opens a font that is compiled into the program. It panics if that
// font is broken, which no input can bring about.
func mustOpen(postScript string, ttf []byte) *face {
	f, err := openFace(postScript, ttf)
	if err != nil {
		panic(fmt.Sprintf("built-in font %s: %v", postScript, err))
	}
	return f
}

func openFace(postScript string, ttf []byte) (*face, error) {
	outlines, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, err
	}
	file, err := cutTables(ttf)
	if err != nil {
		return nil, err
	}
	f := &face{
		postScript: postScript,
		file:       file,
		outlines:   outlines,
		perEm:      int(outlines.UnitsPerEm()),
		metric:     file.metric(),
	}
	f.advances = file.advances(outlines.NumGlyphs())
	return f, nil
}

// tablesNeeded are the tables this package reads, each with the least size at
// which its fixed part can be read.
var tablesNeeded = map[string]int{
	"head": 54, "hhea": 36, "hmtx": 4, "maxp": 6, "loca": 4, "glyf": 1, "OS/2": 90, "name": 6,
}

// cutTables reads the table directory of a TrueType file (OpenType
// specification 1.9, "Organization of an OpenType Font").
func cutTables(ttf []byte) (fontFile, error) {
	if len(ttf) < 12 {
		return nil, fmt.Errorf("a font of %d bytes is too short for its header", len(ttf))
	}
	file := fontFile{}
	n := int(binary.BigEndian.Uint16(ttf[4:]))
	if len(ttf) < 12+16*n {
		return nil, fmt.Errorf("a font of %d bytes is too short for its %d tables", len(ttf), n)
	}
	for i := range n {
		entry := ttf[12+16*i:]
		at, size := uint64(binary.BigEndian.Uint32(entry[8:])), uint64(binary.BigEndian.Uint32(entry[12:]))
		if at+size > uint64(len(ttf)) {
			return nil, fmt.Errorf("table %q lies outside the font file", entry[:4])
		}
		file[string(entry[:4])] = ttf[at : at+size]
	}
	for name, least := range tablesNeeded {
		if len(file[name]) < least {
			return nil, fmt.Errorf("table %q is missing or short", name)
		}
	}
	return file, nil
}

// metric reads ascent and descent from the hhea table, the height of capitals
// from OS/2 and the box around all glyphs from head.
func (file fontFile) metric() faceMetric {
	signed := func(table string, at int) int { return int(int16(binary.BigEndian.Uint16(file[table][at:]))) }
	m := faceMetric{
		ascent:    signed("hhea", 4),
		descent:   -signed("hhea", 6),
		capHeight: signed("OS/2", 88),
	}
	for i := range m.box {
		m.box[i] = signed("head", 36+2*i)
	}
	return m
}

// advances reads the hmtx table, whose last advance holds for all glyphs
// after it.
func (file fontFile) advances(glyphs int) []uint16 {
	long := int(binary.BigEndian.Uint16(file["hhea"][34:]))
	out := make([]uint16, glyphs)
	for g := range out {
		out[g] = binary.BigEndian.Uint16(file["hmtx"][4*min(g, long-1):])
	}
	return out
}

// glyph returns the number of the glyph for a letter, or 0 where the font has
// none.
func (f *face) glyph(r rune) uint16 {
	g, err := f.outlines.GlyphIndex(nil, r)
	if err != nil {
		return 0
	}
	return uint16(g)
}

// advance returns how far the pen moves over a glyph, in ems.
func (f *face) advance(glyph uint16) float64 {
	return float64(f.advances[glyph]) / float64(f.perEm)
}

// Metrics returns the measures of the fonts that all formats of this package
// draw with. It may be used by several goroutines at once.
func Metrics() sheet.Metrics { return metrics{} }

type metrics struct{}

// Advance returns the width in millimetres of text as it will be drawn: after
// letters that the font lacks have been replaced.
func (metrics) Advance(text string, w sheet.Weight, size sheet.MM) sheet.MM {
	var ems float64
	f := faceOf(w)
	for _, l := range f.letters(text) {
		ems += f.advance(l.glyph)
	}
	return size * sheet.MM(ems)
}

// Ascent returns how far the tallest letters reach above the baseline.
func (metrics) Ascent(w sheet.Weight, size sheet.MM) sheet.MM {
	f := faceOf(w)
	return size * sheet.MM(f.metric.ascent) / sheet.MM(f.perEm)
}

// Descent returns how far the deepest letters reach below the baseline.
func (metrics) Descent(w sheet.Weight, size sheet.MM) sheet.MM {
	f := faceOf(w)
	return size * sheet.MM(f.metric.descent) / sheet.MM(f.perEm)
}
