package render

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"slices"
	"sync"
)

// keptNames are the entries of a name table that a subset keeps: copyright,
// family, style, full name and PostScript name.
var keptNames = []uint16{0, 1, 2, 4, 6}

// shortNames returns the name table with the kept English entries for Windows,
// the only ones that browsers read.
func (file fontFile) shortNames() []byte {
	name := file["name"]
	count, storage := int(binary.BigEndian.Uint16(name[2:])), int(binary.BigEndian.Uint16(name[4:]))
	var records, strings []byte
	kept := 0
	for i := range count {
		r := name[6+12*i:][:12]
		platform, language := binary.BigEndian.Uint16(r), binary.BigEndian.Uint16(r[4:])
		if platform != 3 || language != 0x409 || !slices.Contains(keptNames, binary.BigEndian.Uint16(r[6:])) {
			continue
		}
		size, from := int(binary.BigEndian.Uint16(r[8:])), storage+int(binary.BigEndian.Uint16(r[10:]))
		records = append(records, r[:10]...)
		records = binary.BigEndian.AppendUint16(records, uint16(len(strings)))
		strings = append(strings, name[from:from+size]...)
		kept++
	}
	out := binary.BigEndian.AppendUint16(nil, 0)
	out = binary.BigEndian.AppendUint16(out, uint16(kept))
	out = binary.BigEndian.AppendUint16(out, uint16(6+12*kept))
	return append(append(out, records...), strings...)
}

// headAdjust is the offset in the head table of the number that makes the sum
// over the whole file come out, and headMagic that sum (OpenType
// specification 1.9, "head").
const (
	headAdjust = 8
	headMagic  = 0xB1B0AFBA
)

// checksum returns the sum of a table's big-endian words.
func checksum(data []byte) uint32 {
	var sum uint32
	for len(data) >= 4 {
		sum += binary.BigEndian.Uint32(data)
		data = data[4:]
	}
	var last [4]byte
	copy(last[:], data)
	return sum + binary.BigEndian.Uint32(last[:])
}

// trueType joins tables, sorted by tag, to a TrueType file, and sets the
// adjustment in head.
func trueType(tables []table) []byte {
	n := len(tables)
	search, log := 1, 0
	for search*2 <= n {
		search, log = search*2, log+1
	}
	out := binary.BigEndian.AppendUint32(nil, 0x00010000)
	for _, v := range []int{n, 16 * search, log, 16 * (n - search)} {
		out = binary.BigEndian.AppendUint16(out, uint16(v))
	}
	at, headAt := 12+16*n, 0
	for _, t := range tables {
		if t.tag == "head" {
			headAt = at
		}
		out = append(out, t.tag...)
		for _, v := range []uint32{checksum(t.data), uint32(at), uint32(len(t.data))} {
			out = binary.BigEndian.AppendUint32(out, v)
		}
		at += (len(t.data) + 3) &^ 3
	}
	for _, t := range tables {
		out = append(out, t.data...)
		out = append(out, make([]byte, -len(t.data)&3)...)
	}
	binary.BigEndian.PutUint32(out[headAt+headAdjust:], headMagic-checksum(out))
	return out
}

// woff packs tables as a WOFF 1.0 file (W3C Recommendation, 13 December 2012).
func woff(tables []table) []byte {
	whole := trueType(tables)
	const header, entry = 44, 20
	at := header + entry*len(tables)
	var directory, body []byte
	for _, t := range tables {
		data := t.data
		if t.tag == "head" {
			data = bytes.Clone(data)
			copy(data[headAdjust:headAdjust+4], headOf(whole)[headAdjust:])
		}
		packed := deflated(data)
		if len(packed) >= len(data) {
			packed = data
		}
		directory = append(directory, t.tag...)
		for _, v := range []uint32{uint32(at), uint32(len(packed)), uint32(len(data)), checksum(t.data)} {
			directory = binary.BigEndian.AppendUint32(directory, v)
		}
		body = append(body, packed...)
		body = append(body, make([]byte, -len(packed)&3)...)
		at += (len(packed) + 3) &^ 3
	}
	out := []byte("wOFF\x00\x01\x00\x00")
	out = binary.BigEndian.AppendUint32(out, uint32(at))
	out = binary.BigEndian.AppendUint16(out, uint16(len(tables)))
	out = binary.BigEndian.AppendUint16(out, 0)
	out = binary.BigEndian.AppendUint32(out, uint32(len(whole)))
	out = append(out, 0, 1, 0, 0)           // version of the font
	out = append(out, make([]byte, 5*4)...) // no metadata, no private data
	return append(append(out, directory...), body...)
}

// headOf returns the head table of a TrueType file that trueType has made.
func headOf(ttf []byte) []byte {
	for at := 12; ; at += 16 {
		if string(ttf[at:at+4]) == "head" {
			return ttf[binary.BigEndian.Uint32(ttf[at+8:]):]
		}
	}
}

// deflaters keeps packers for reuse, because each takes most of a megabyte.
var deflaters = sync.Pool{New: func() any { return zlib.NewWriter(nil) }}

// deflated returns data in the zlib format.
func deflated(data []byte) []byte {
	var out bytes.Buffer
	z := deflaters.Get().(*zlib.Writer)
	defer deflaters.Put(z)
	z.Reset(&out)
	z.Write(data) // a bytes.Buffer takes every write
	z.Close()
	return out.Bytes()
}
