package render

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"slices"

	"undersod/core/sheet"
)

// subset is the part of a face that a scene needs. It has one glyph per
// character, also where the face draws two characters alike, so that text
// read back from a file is the text that was written.
type subset struct {
	face   *face
	chars  []rune // sorted
	id     map[rune]uint16
	glyphs []uint16 // of the face, by glyph of the subset; the first is the missing glyph
}

// subsets returns the subset of each weight that the scenes use.
func subsets(scenes ...sheet.Scene) map[sheet.Weight]*subset {
	used := map[sheet.Weight]map[rune]uint16{sheet.Regular: {}, sheet.Bold: {}}
	for _, s := range scenes {
		for _, l := range s.Layers {
			for _, shape := range l.Shapes {
				if t, ok := shape.(sheet.Text); ok {
					w := knownWeight(t.Weight)
					for _, l := range faceOf(w).letters(t.Text) {
						used[w][l.char] = l.glyph
					}
				}
			}
		}
	}
	out := map[sheet.Weight]*subset{}
	for w, letters := range used {
		if len(letters) > 0 {
			out[w] = newSubset(faceOf(w), letters)
		}
	}
	return out
}

// weights lists the weights in the order in which files name them.
var weights = []sheet.Weight{sheet.Regular, sheet.Bold}

func knownWeight(w sheet.Weight) sheet.Weight {
	if w == sheet.Bold {
		return sheet.Bold
	}
	return sheet.Regular
}

func newSubset(f *face, letters map[rune]uint16) *subset {
	s := &subset{face: f, id: map[rune]uint16{}, glyphs: []uint16{0}}
	for r := range letters {
		s.chars = append(s.chars, r)
	}
	slices.Sort(s.chars)
	for _, r := range s.chars {
		s.id[r] = uint16(len(s.glyphs))
		s.glyphs = append(s.glyphs, letters[r])
	}
	return s
}

// tag returns six capital letters that depend on the characters alone, as PDF
// wants before the name of a font subset (ISO 32000-1:2008, 9.6.4).
func (s *subset) tag() string {
	h := fnv.New64a()
	fmt.Fprint(h, s.face.postScript, string(s.chars))
	n := h.Sum64()
	tag := make([]byte, 6)
	for i := range tag {
		tag[i] = 'A' + byte(n%26)
		n /= 26
	}
	return string(tag)
}

// table is one table of a font file.
type table struct {
	tag  string
	data []byte
}

// tables returns the subset as the tables of a TrueType file, sorted by tag.
// Hints are left out: at the sizes of a printed sheet they do nothing.
func (s *subset) tables() []table {
	glyf, loca := s.outlines()
	file := s.face.file
	n := len(s.glyphs)

	head := bytes.Clone(file["head"])
	binary.BigEndian.PutUint32(head[8:], 0)
	binary.BigEndian.PutUint16(head[50:], 1) // long offsets in loca
	hhea := bytes.Clone(file["hhea"])
	binary.BigEndian.PutUint16(hhea[34:], uint16(n))
	maxp := bytes.Clone(file["maxp"])
	binary.BigEndian.PutUint16(maxp[4:], uint16(n))
	post := make([]byte, 32)
	binary.BigEndian.PutUint32(post, 0x00030000) // no glyph names

	return []table{
		{"OS/2", file["OS/2"]},
		{"cmap", s.cmap()},
		{"glyf", glyf},
		{"head", head},
		{"hhea", hhea},
		{"hmtx", s.hmtx()},
		{"loca", loca},
		{"maxp", maxp},
		{"name", file.shortNames()},
		{"post", post},
	}
}

// hmtx returns advance and left side bearing of each glyph.
func (s *subset) hmtx() []byte {
	var out []byte
	for _, g := range s.glyphs {
		out = binary.BigEndian.AppendUint16(out, s.face.advances[g])
		out = binary.BigEndian.AppendUint16(out, uint16(s.face.file.bearing(g)))
	}
	return out
}

// bearing returns the left side bearing of a glyph in font units.
func (file fontFile) bearing(glyph uint16) int16 {
	long := int(binary.BigEndian.Uint16(file["hhea"][34:]))
	at := 4*int(glyph) + 2
	if int(glyph) >= long {
		at = 4*long + 2*(int(glyph)-long)
	}
	if at+2 > len(file["hmtx"]) {
		return 0
	}
	return int16(binary.BigEndian.Uint16(file["hmtx"][at:]))
}

// cmap returns a character map of format 4, one segment for each stretch of
// neighbouring characters (OpenType specification 1.9, "cmap").
func (s *subset) cmap() []byte {
	type segment struct{ first, last, id uint16 }
	var segments []segment
	for _, r := range s.chars {
		if n := len(segments); n > 0 && rune(segments[n-1].last)+1 == r {
			segments[n-1].last++
			continue
		}
		segments = append(segments, segment{uint16(r), uint16(r), s.id[r]})
	}
	segments = append(segments, segment{0xFFFF, 0xFFFF, 0})
	n := len(segments)
	var ends, starts, deltas []uint16
	for _, g := range segments {
		ends = append(ends, g.last)
		starts = append(starts, g.first)
		deltas = append(deltas, g.id-g.first)
	}
	search := 1
	log := 0
	for search*2 <= n {
		search *= 2
		log++
	}
	words := []uint16{
		0, 1, 3, 1, 0, 12, // version, one map: Windows, Unicode BMP, at 12
		4, uint16(16 + 8*n), 0, uint16(2 * n), uint16(2 * search), uint16(log), uint16(2 * (n - search)),
	}
	words = append(append(words, ends...), 0)
	words = append(append(words, starts...), deltas...)
	words = append(words, make([]uint16, n)...)
	var out []byte
	for _, w := range words {
		out = binary.BigEndian.AppendUint16(out, w)
	}
	return out
}
