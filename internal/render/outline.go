package render

import "encoding/binary"

// Flags of a component of a composite glyph (OpenType specification 1.9,
// "glyf").
const (
	argsAreWords     = 0x0001
	hasScale         = 0x0008
	moreComponents   = 0x0020
	hasTwoScales     = 0x0040
	hasMatrix        = 0x0080
	hasInstructions  = 0x0100
	componentHeader  = 10 // bytes before the first component
	simpleCountStart = 10 // bytes before the ends of the contours
)

// outlines returns the glyf and loca tables of the subset. Glyphs that others
// are composed of are appended to the subset.
func (s *subset) outlines() (glyf, loca []byte) {
	placed := map[uint16]uint16{}
	s.glyphs = s.glyphs[:len(s.chars)+1]
	for i := 0; i < len(s.glyphs); i++ {
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
		data := unhinted(s.face.file.outline(s.glyphs[i]))
		s.renumber(data, placed)
		glyf = append(glyf, data...)
		for len(glyf)%4 != 0 {
			glyf = append(glyf, 0)
		}
	}
	return glyf, binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
}

// outline returns the bytes of a glyph in the glyf table, none for a blank.
func (file fontFile) outline(glyph uint16) []byte {
	loca, g := file["loca"], int(glyph)
	var from, to int
	if binary.BigEndian.Uint16(file["head"][50:]) == 0 {
		from = 2 * int(binary.BigEndian.Uint16(loca[2*g:]))
		to = 2 * int(binary.BigEndian.Uint16(loca[2*g+2:]))
	} else {
		from = int(binary.BigEndian.Uint32(loca[4*g:]))
		to = int(binary.BigEndian.Uint32(loca[4*g+4:]))
	}
	return file["glyf"][from:to]
}

// unhinted returns a copy of a glyph without its hinting program.
func unhinted(data []byte) []byte {
	if len(data) == 0 {
		return nil
	}
	contours := int(int16(binary.BigEndian.Uint16(data)))
	if contours < 0 {
		return unhintedComposite(data)
	}
	count := simpleCountStart + 2*contours
	skip := count + 2 + int(binary.BigEndian.Uint16(data[count:]))
	out := append([]byte{}, data[:count]...)
	out = append(out, 0, 0)
	return append(out, data[skip:]...)
}

func unhintedComposite(data []byte) []byte {
	out := append([]byte{}, data...)
	end := len(out)
	eachComponent(out, func(flags, _ []byte, next int) {
		f := binary.BigEndian.Uint16(flags)
		binary.BigEndian.PutUint16(flags, f&^hasInstructions)
		end = next
	})
	return out[:end]
}

// renumber points the components of a composite glyph to glyphs of the
// subset, which grows by those it lacks.
func (s *subset) renumber(data []byte, placed map[uint16]uint16) {
	if len(data) == 0 || int16(binary.BigEndian.Uint16(data)) >= 0 {
		return
	}
	eachComponent(data, func(_, index []byte, _ int) {
		old := binary.BigEndian.Uint16(index)
		id, ok := placed[old]
		if !ok {
			id = uint16(len(s.glyphs))
			placed[old] = id
			s.glyphs = append(s.glyphs, old)
		}
		binary.BigEndian.PutUint16(index, id)
	})
}

// eachComponent calls visit with the flags and the glyph index of each
// component of a composite glyph, both to be changed in place, and with the
// offset of what follows it.
func eachComponent(data []byte, visit func(flags, index []byte, next int)) {
	for at := componentHeader; at+4 <= len(data); {
		flags := binary.BigEndian.Uint16(data[at:])
		next := at + 4 + componentSize(flags)
		visit(data[at:at+2], data[at+2:at+4], next)
		if flags&moreComponents == 0 {
			return
		}
		at = next
	}
}

// componentSize returns how many bytes follow flags and glyph index.
func componentSize(flags uint16) int {
	size := 2
	if flags&argsAreWords != 0 {
		size = 4
	}
	switch {
	case flags&hasScale != 0:
		size += 2
	case flags&hasTwoScales != 0:
		size += 4
	case flags&hasMatrix != 0:
		size += 8
	}
	return size
}
