package photo

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"strings"
	"time"
)

// about is what a camera wrote of a picture.
type about struct {
	orientation int // 1 to 8, 1 where nothing is said
	taken       string
	location    string
}

// Tags of EXIF (CIPA DC-008-2019, Exif 2.32, sections 4.6.4 to 4.6.6).
const (
	tagOrientation = 0x0112
	tagExif        = 0x8769
	tagGPS         = 0x8825
	tagTaken       = 0x9003 // DateTimeOriginal
	tagDigitized   = 0x9004 // DateTimeDigitized
	tagNorthSouth  = 1
	tagLatitude    = 2
	tagEastWest    = 3
	tagLongitude   = 4
)

// Types of values (CIPA DC-008-2019, 4.6.2).
const (
	typeText  = 2
	typeShort = 3
	typeLong  = 4
	typeRatio = 5
)

// mostEntries keeps a directory that makes no sense from being searched for
// long; cameras write less than a hundred.
const mostEntries = 1000

// readExif reads EXIF data: a TIFF file of directories. It takes what makes
// sense and passes over the rest, for a picture with odd data is still a
// picture. It reads three directories and follows no chain, so that it ends.
func readExif(data []byte) about {
	out := about{orientation: 1}
	e, ok := openExif(data)
	if !ok {
		return out
	}
	root := e.directory(e.order.Uint32(data[4:]))
	if v, ok := e.number(root[tagOrientation], typeShort); ok && v >= 1 && v <= 8 {
		out.orientation = int(v)
	}
	if at, ok := e.number(root[tagExif], typeLong); ok {
		photo := e.directory(at)
		if out.taken = e.moment(photo[tagTaken]); out.taken == "" {
			out.taken = e.moment(photo[tagDigitized])
		}
	}
	if at, ok := e.number(root[tagGPS], typeLong); ok {
		out.location = e.location(e.directory(at))
	}
	return out
}

// exif is EXIF data and the order of their bytes.
type exif struct {
	data  []byte
	order binary.ByteOrder
}

func openExif(data []byte) (exif, bool) {
	if len(data) < 8 {
		return exif{}, false
	}
	switch string(data[:4]) {
	case "II*\x00":
		return exif{data, binary.LittleEndian}, true
	case "MM\x00*":
		return exif{data, binary.BigEndian}, true
	}
	return exif{}, false
}

// entry is the value of a tag; its bytes are as many as type and count say.
type entry struct {
	kind  uint16
	bytes []byte
}

// directory reads the directory at an offset, by tag. Of a tag that is there
// twice the first holds.
func (e exif) directory(at uint32) map[uint16]entry {
	out := map[uint16]entry{}
	rest, ok := e.from(at, 2)
	if !ok {
		return out
	}
	count := min(int(e.order.Uint16(rest)), mostEntries)
	rest = rest[2:]
	for ; count > 0 && len(rest) >= 12; count, rest = count-1, rest[12:] {
		tag := e.order.Uint16(rest)
		if _, known := out[tag]; known {
			continue
		}
		if v, ok := e.value(rest[:12]); ok {
			out[tag] = v
		}
	}
	return out
}

// value finds the bytes of an entry: in itself where four are enough, else at
// the offset that it holds.
func (e exif) value(raw []byte) (entry, bool) {
	kind := e.order.Uint16(raw[2:])
	size := map[uint16]uint64{typeText: 1, typeShort: 2, typeLong: 4, typeRatio: 8}[kind]
	total := size * uint64(e.order.Uint32(raw[4:]))
	if total == 0 {
		return entry{}, false
	}
	if total <= 4 {
		return entry{kind, raw[8 : 8+total]}, true
	}
	found, ok := e.from(e.order.Uint32(raw[8:]), total)
	if !ok {
		return entry{}, false
	}
	return entry{kind, found[:total]}, true
}

// from returns the data from an offset on, if there are at least so many.
func (e exif) from(at uint32, least uint64) ([]byte, bool) {
	if uint64(at)+least > uint64(len(e.data)) {
		return nil, false
	}
	return e.data[at:], true
}

// number returns a single whole number of the given type.
func (e exif) number(v entry, kind uint16) (uint32, bool) {
	switch {
	case v.kind != kind:
		return 0, false
	case kind == typeShort:
		return uint32(e.order.Uint16(v.bytes)), true
	}
	return e.order.Uint32(v.bytes), true
}

// moment returns a date and time as 2026-11-12 14:03:22, and nothing for what
// is no date, as the zeros of a clock that was never set.
func (e exif) moment(v entry) string {
	if v.kind != typeText {
		return ""
	}
	text, _, _ := bytes.Cut(v.bytes, []byte{0})
	t, err := time.Parse("2006:01:02 15:04:05", strings.TrimSpace(string(text)))
	if err != nil {
		return ""
	}
	return t.Format(time.DateTime)
}

// location returns latitude and longitude in degrees to five decimals, about a
// metre, and nothing where one is missing or out of range.
func (e exif) location(gps map[uint16]entry) string {
	north, ok := e.degrees(gps[tagLatitude], 90)
	if !ok {
		return ""
	}
	east, ok := e.degrees(gps[tagLongitude], 180)
	if !ok {
		return ""
	}
	ns, ew := letter(gps[tagNorthSouth], "NS"), letter(gps[tagEastWest], "EW")
	if ns == "" || ew == "" {
		return ""
	}
	return fmt.Sprintf("%.5f %s, %.5f %s", north, ns, east, ew)
}

// letter returns the first letter of a text if it is one of those allowed.
func letter(v entry, allowed string) string {
	if v.kind != typeText || !strings.Contains(allowed, string(v.bytes[:1])) {
		return ""
	}
	return string(v.bytes[:1])
}

// degrees reads three fractions: degrees, minutes and seconds.
func (e exif) degrees(v entry, most float64) (float64, bool) {
	if v.kind != typeRatio || len(v.bytes) < 24 {
		return 0, false
	}
	sum := 0.0
	for i, share := range []float64{1, 60, 3600} {
		over, under := e.order.Uint32(v.bytes[8*i:]), e.order.Uint32(v.bytes[8*i+4:])
		if under == 0 {
			return 0, false
		}
		sum += float64(over) / float64(under) / share
	}
	return sum, sum <= most
}
