package photo_test

import (
	"bytes"
	"encoding/binary"
	"testing"

	"undersod/internal/photo"
)

func text(s string) []byte { return append([]byte(s), 0) }

func ratios(order binary.AppendByteOrder, v ...uint32) []byte {
	var out []byte
	for _, n := range v {
		out = order.AppendUint32(out, n)
	}
	return out
}

func TestExifTakesWhatMakesSense(t *testing.T) {
	le := binary.LittleEndian
	north, west := field{1, 2, 2, text("N")}, field{3, 2, 2, text("W")}
	at := func(tag uint16, v ...uint32) field { return field{tag, 5, 3, ratios(le, v...)} }
	date := func(tag uint16, s string) field { return field{tag, 2, len(s) + 1, text(s)} }
	for name, c := range map[string]struct {
		root, camera, gps []field
		orientation       int
		taken, location   string
	}{
		"nothing":          {orientation: 1},
		"orientation 0":    {root: []field{{0x112, 3, 1, []byte{0, 0}}}, orientation: 1},
		"orientation 9":    {root: []field{{0x112, 3, 1, []byte{9, 0}}}, orientation: 1},
		"as another type":  {root: []field{{0x112, 4, 1, []byte{6, 0, 0, 0}}}, orientation: 1},
		"twice, first":     {root: []field{{0x112, 3, 1, []byte{6, 0}}, {0x112, 3, 1, []byte{3, 0}}}, orientation: 6},
		"digitized":        {camera: []field{date(0x9004, "2026:01:02 03:04:05")}, orientation: 1, taken: "2026-01-02 03:04:05"},
		"taken first":      {camera: []field{date(0x9004, "2026:01:02 03:04:05"), date(0x9003, "2025:12:31 23:59:59")}, orientation: 1, taken: "2025-12-31 23:59:59"},
		"clock not set":    {camera: []field{date(0x9003, "0000:00:00 00:00:00")}, orientation: 1},
		"no such day":      {camera: []field{date(0x9003, "2026:02:30 10:00:00")}, orientation: 1},
		"blank":            {camera: []field{date(0x9003, "    :  :     :  :  ")}, orientation: 1},
		"file date":        {root: []field{date(0x0132, "2026:01:02 03:04:05")}, orientation: 1},
		"place":            {gps: []field{north, at(2, 12, 1, 30, 1, 0, 1), west, at(4, 98, 1, 0, 1, 36, 1)}, orientation: 1, location: "12.50000 N, 98.01000 W"},
		"decimal minutes":  {gps: []field{north, at(2, 12, 1, 3075, 100, 0, 1), west, at(4, 98, 1, 0, 1, 0, 1)}, orientation: 1, location: "12.51250 N, 98.00000 W"},
		"no side":          {gps: []field{at(2, 12, 1, 0, 1, 0, 1), west, at(4, 98, 1, 0, 1, 0, 1)}, orientation: 1},
		"no longitude":     {gps: []field{north, at(2, 12, 1, 0, 1, 0, 1), west}, orientation: 1},
		"over nothing":     {gps: []field{north, at(2, 12, 0, 0, 0, 0, 0), west, at(4, 98, 1, 0, 1, 0, 1)}, orientation: 1},
		"beyond the pole":  {gps: []field{north, at(2, 91, 1, 0, 1, 0, 1), west, at(4, 98, 1, 0, 1, 0, 1)}, orientation: 1},
		"one fraction":     {gps: []field{north, {2, 5, 1, ratios(le, 12, 1)}, west, at(4, 98, 1, 0, 1, 0, 1)}, orientation: 1},
		"unknown type":     {root: []field{{0x112, 77, 1, []byte{6, 0}}}, orientation: 1},
		"longer than data": {camera: []field{{0x9003, 2, 1 << 30, text("2026:01:02 03:04:05")}}, orientation: 1},
	} {
		orientation, taken, location := photo.ReadExif(exifData(le, c.root, c.camera, c.gps))
		if orientation != c.orientation || taken != c.taken || location != c.location {
			t.Errorf("%s: orientation %d, taken %q at %q; want %d, %q, %q", name, orientation, taken, location, c.orientation, c.taken, c.location)
		}
	}
}

// TestExifOfAnyLengthIsRead cuts and spoils whole data at every byte.
func TestExifOfAnyLengthIsRead(t *testing.T) {
	for _, order := range orders {
		data := fullExif(order, 6)
		for n := range len(data) {
			photo.ReadExif(data[:n])
			for _, v := range []byte{0, 1, 0x7F, 0xFF} {
				spoiled := bytes.Clone(data)
				spoiled[n] = v
				if o, _, _ := photo.ReadExif(spoiled); o < 1 || o > 8 {
					t.Fatalf("orientation %d with byte %d as %x", o, n, v)
				}
			}
		}
	}
}
