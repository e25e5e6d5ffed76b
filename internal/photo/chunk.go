package photo

import (
	"bytes"
	"encoding/binary"
)

// pngExif finds the chunk eXIf of a PNG (W3C, Portable Network Graphics, 3rd
// edition, 2025, 11.3.4.4).
func pngExif(data []byte) []byte {
	return chunk(data, 8, "eXIf", binary.BigEndian, true, 4)
}

// webpExif finds the chunk EXIF of a WebP (RFC 9649, 2024, 2.7.1.5). Some
// programs write it as in a JPEG.
func webpExif(data []byte) []byte {
	return bytes.TrimPrefix(chunk(data, 12, "EXIF", binary.LittleEndian, false, 0), []byte(exifStart))
}

// chunk finds the first chunk of a name in a file of chunks from an offset on.
// Each has a size, a name, in either order, content and a tail; in the
// containers where the name comes first the content is filled to an even size.
func chunk(data []byte, at int, name string, order binary.ByteOrder, sizeFirst bool, tail int) []byte {
	for len(data)-at >= 8 {
		size, found := data[at+4:at+8], string(data[at:at+4])
		if sizeFirst {
			size, found = data[at:at+4], string(data[at+4:at+8])
		}
		n := int64(order.Uint32(size))
		at += 8
		if n > int64(len(data)-at) {
			return nil
		}
		if found == name {
			return data[at : at+int(n)]
		}
		if at += int(n) + tail; !sizeFirst {
			at += int(n) & 1
		}
	}
	return nil
}

// pngPerDot reads the head of a PNG for how its reader keeps a dot (W3C,
// Portable Network Graphics, 3rd edition, 2025, 11.2.1): one channel as it is,
// others as four, all twice where the rows are interlaced.
func pngPerDot(data []byte) (float64, error) {
	const bitDepth, colourType, interlace, end = 24, 25, 28, 29
	if len(data) < end {
		return 16, nil
	}
	perDot := 4.0
	if data[colourType] == 0 || data[colourType] == 3 {
		perDot = 1
	}
	if data[bitDepth] == 16 {
		perDot *= 2
	}
	if data[interlace] != 0 {
		perDot *= 2
	}
	return perDot, nil
}
